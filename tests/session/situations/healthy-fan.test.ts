/** Healthy units, and two laboratories' machines: nothing is said of a fan or a louvre. */
import { describe, expect, it } from 'vitest';
import { Session } from '../../../server/session.ts';
import { scenario, SCENARIO_NAMES } from '../../../simulator/scenarios.ts';
import { LAB_DAYS, readRows, visitLog } from '../../reference/lab/convert.ts';
import { type Act, play } from './simulated.ts';

const SITUATIONS = ['fan-auto', 'louvre-swings', 'velocity-lost'];
/** What each of these is for is not healthy. */
const CASES = ['auto-fan', 'outlet-velocity', 'louvre-swings'];

describe('a start, a setpoint pushed and taken back, fan speeds as they are told', () => {
  it.each(SCENARIO_NAMES.filter((name) => !CASES.includes(name)))('%s', (name) => {
    const parameters = scenario(name);
    const cooling = parameters.mode === 'cooling';
    const acts: Act[] = [
      { atS: 900, setpointC: cooling ? 17 : 29 },
      { atS: 2100, fan: 'quiet' },
      { atS: 2900, fan: 'high' },
      { atS: 3700, setpointC: cooling ? 24.5 : 20 },
    ];
    if (parameters.units.length > 1) acts.push({ atS: 4400, unit: 'u2', setpointC: 18 });
    const said = new Set<string>();
    play(parameters, 1, 5400, acts, (s, { doubts }, id) => {
      for (const { code } of doubts) if (SITUATIONS.includes(code)) said.add(`${id} ${s} ${code}`);
    });
    expect([...said]).toEqual([]);
  });
});

it.each(['plain', 'small-unit', 'high-altitude', 'two-heads', 'slow', 'fouled'])(
  '%s: a compressor that is pushed and nobody tells is not taken for the fan',
  (name) => {
    const said = new Set<string>();
    const acts: Act[] = [
      { atS: 1500, setpointC: 17, untold: true },
      { atS: 2700, setpointC: 24.5, untold: true },
    ];
    play(scenario(name), 1, 3600, acts, (s, { doubts }, id) => {
      if (doubts.some(({ code }) => code === 'fan-auto')) said.add(`${id} ${s}`);
    });
    expect([...said]).toEqual([]);
  },
);

it.each(LAB_DAYS)(
  '$file',
  (day) => {
    const said = new Set<string>();
    const session = new Session({
      snapshot: ({ t, units }) => {
        for (const { doubts } of Object.values(units)) {
          for (const { code } of doubts) if (SITUATIONS.includes(code)) said.add(`${t} ${code}`);
        }
      },
      capture: () => {},
      check: () => {},
      walk: () => {},
      event: () => {},
      probe: () => {},
      setup: () => {},
    });
    for (const line of visitLog(day, readRows(day))) {
      session.apply(line, { adapter: 'laboratory', simulated: false });
    }
    session.finish();
    expect([...said].slice(0, 3)).toEqual([]);
  },
  120_000,
);
