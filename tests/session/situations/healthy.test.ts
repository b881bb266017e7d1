/**
 * Over every healthy scenario, with setpoints pushed and fans changed, no situation is named that is not
 * there. What is there is known from the simulator's truth: a coil dries only while water leaves it.
 */
import { describe, expect, test } from 'vitest';
import { scenario, SCENARIO_NAMES } from '../../../simulator/scenarios.ts';
import type { SystemParameters } from '../../../simulator/system.ts';
import { play, type Act } from './play.ts';

const SITUATIONS = [
  ...['probes-differ', 'outlet-no-velocity', 'reheat', 'coil-drying'],
  ...['return-breathes-supply', 'heat-between', 'other-head'],
];
/** Scenarios that are one of the situations, each with a test of its own. */
const ARE_ONE = ['astray', 'reheat', 'short-circuit', 'recirculation', 'ducted'];
const HEALTHY = SCENARIO_NAMES.filter((name) => !ARE_ONE.includes(name));

function acts({ mode }: SystemParameters): Act[] {
  const [full, little] = mode === 'cooling' ? [17, 24] : [28, 21];
  return [
    { atS: 1200, setpointC: full },
    { atS: 2400, fan: 'high' },
    { atS: 3300, fan: 'quiet' },
    { atS: 4200, setpointC: little },
  ];
}

/** What is named without being there, by code: how often, and when first. */
function wrong(name: string, tellMode: boolean, seed: number): Record<string, string> {
  const parameters = scenario(name);
  const found: Record<string, string> = {};
  let evaporatesS = 0;
  play(parameters, 5400, {
    ...{ tellMode, seed, acts: acts(parameters) },
    each: ({ s, codes, truth }) => {
      evaporatesS = truth.latentW < 0 && parameters.mode === 'cooling' ? s : evaporatesS;
      for (const code of codes) {
        if (!SITUATIONS.includes(code)) continue;
        // Said until 20 s and the lag of the probes after the last of it.
        if (code === 'coil-drying' && s - evaporatesS < 60) continue;
        found[code] ??= `from ${s} s`;
      }
    },
  });
  return found;
}

describe('a healthy unit is in none of the situations', () => {
  test.each(HEALTHY)('%s', (name) => {
    expect(wrong(name, true, 1)).toEqual({});
    expect(wrong(name, false, 2)).toEqual({});
  });

  test('would be told if it were', () => {
    expect(wrong('short-circuit', true, 1)).toHaveProperty('return-breathes-supply');
  });
});
