/** Heat that comes in between the probes of a ducted head: said with the fan alone, and from then on. */
import { describe, expect, test } from 'vitest';
import { scenario } from '../../../simulator/scenarios.ts';
import { play, type Second, spansOf } from './play.ts';

const CODE = 'heat-between';
const ACTS = [
  { atS: 600, setpointC: 30 },
  { atS: 3000, setpointC: 20 },
];
function played(name: string, tellMode = true): Second[] {
  const seconds: Second[] = [];
  play(scenario(name), 3900, { acts: ACTS, tellMode, each: (second) => seconds.push(second) });
  return seconds;
}

describe('a duct through a hot attic', () => {
  const seconds = played('ducted');
  const from = spansOf(seconds)[CODE]?.[0]?.[0] ?? NaN;

  test('is said once the coil is dry, and stays while the unit cools', () => {
    expect(from).toBeLessThan(2400);
    expect(spansOf(seconds)[CODE]).toEqual([[from, 3900]]);
    expect(seconds.at(-1)?.unit.settling.state).not.toBe('waiting');
  });

  test('with the heat that comes in', () => {
    const effect = seconds[2900]?.unit.doubts.find(({ code }) => code === CODE)?.effect ?? '';
    const saidW = 1000 * Number(/at least (\S+) kW, and/.exec(effect)?.[1]);
    // dry air × 1006 J/(kg·K) × what the duct adds. Two probes of ±0.3 K are 0.07 kW, the word rounds 0.05;
    // the coil, not quite dry yet, hides up to 0.1, and a fan's own heat is taken off.
    const { truth } = seconds[2900] ?? {};
    if (truth === undefined) throw new Error('no second');
    const gainW =
      truth.dryAirKgS * 1006 * (truth.register.temperatureC - truth.supply.temperatureC);
    expect(gainW).toBeGreaterThan(250);
    expect(saidW).toBeLessThan(gainW + 120);
    expect(saidW).toBeGreaterThan(0.3 * gainW);
  });

  test('nobody is told meanwhile that probes are in each other’s place', () => {
    for (const { codes } of seconds.slice(from, 3000)) expect(codes).not.toContain('supply-warmer');
  });
});

test('a head without a duct has none, with the fan alone for as long', () => {
  expect(Object.keys(spansOf(played('plain')))).not.toContain(CODE);
});

test('where nobody has told that it cools, the same air is heating', () => {
  const seconds = played('ducted', false);
  expect(Object.keys(spansOf(seconds))).not.toContain(CODE);
});
