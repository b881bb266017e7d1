/**
 * The interval of a difference against Monte Carlo (JCGM 101:2008): the errors of probes, airflow and
 * pressure are drawn once and applied to both states, as they are in a visit; where another airflow
 * was told between the two, its error is drawn for each. 200,000 seeded draws give a standard
 * deviation within about 0.2 %.
 */
import { describe, expect, it } from 'vitest';
import { type Capacity, capacity, type Flow, type Mode } from '../../server/measure/capacity.ts';
import {
  contributions,
  differenceUncertainty,
  MeanContributions,
} from '../../server/measure/difference.ts';
import { RECTANGULAR, statement } from '../../server/measure/gum.ts';
import { humidityRatio } from '../../server/measure/moist-air.ts';
import { ErrorList } from '../../server/measure/error-list.ts';
import { capacityBudget, combine } from '../../server/measure/uncertainty.ts';
import { randomStream } from '../../simulator/random.ts';
import { placeProbe } from '../measure/place-probe.ts';
import { expectWithin } from './near.ts';

const DRAWS = 200_000;
const P = 98_300;
/** Half-widths: probes, airflow (relative), pressure. */
const LIMITS = { tC: 0.5, rhPct: 2.5, flow: 0.06, pPa: 200 };
const OUTPUTS = ['totalW', 'sensibleW', 'latentW'] as const;

interface Reading {
  tC: number;
  rhPct: number;
}
interface State {
  ret: Reading;
  supply: Reading;
  flowM3s: number;
}
interface Case {
  name: string;
  mode: Mode;
  before: State;
  after: State;
}

const CASES: Case[] = [
  {
    name: 'cooling, a higher setpoint',
    mode: 'cooling',
    before: { ret: { tC: 26.7, rhPct: 51 }, supply: { tC: 12, rhPct: 94 }, flowM3s: 0.2 },
    after: { ret: { tC: 26.2, rhPct: 52 }, supply: { tC: 17, rhPct: 82 }, flowM3s: 0.2 },
  },
  {
    name: 'cooling, another fan speed',
    mode: 'cooling',
    before: { ret: { tC: 26.7, rhPct: 51 }, supply: { tC: 12, rhPct: 94 }, flowM3s: 0.2 },
    after: { ret: { tC: 26.5, rhPct: 50 }, supply: { tC: 10, rhPct: 96 }, flowM3s: 0.14 },
  },
  {
    name: 'heating, a lower setpoint',
    mode: 'heating',
    before: { ret: { tC: 20, rhPct: 42 }, supply: { tC: 45, rhPct: 11 }, flowM3s: 0.2 },
    after: { ret: { tC: 20.5, rhPct: 42 }, supply: { tC: 33, rhPct: 21 }, flowM3s: 0.2 },
  },
];

function delivered(
  mode: Mode,
  { ret, supply, flowM3s }: State,
  off: { ret: Reading; supply: Reading; flow: number; pPa: number },
): Capacity {
  const pPa = P + off.pPa;
  const point = (a: Reading, e: Reading) => ({
    temperatureC: a.tC + e.tC,
    humidityRatio: humidityRatio(a.tC + e.tC, a.rhPct + e.rhPct, pPa),
  });
  const flow: Flow = { flowM3s: flowM3s * (1 + off.flow), basis: 'actual', plane: 'supply' };
  return capacity(mode, point(ret, off.ret), point(supply, off.supply), flow, pPa);
}
const RIGHT = { ret: { tC: 0, rhPct: 0 }, supply: { tC: 0, rhPct: 0 }, flow: 0, pPa: 0 };

/** The budget of a state as the product makes it, and the half-widths of its own interval. */
function budgetOf(mode: Mode, state: State) {
  const probe = ({ tC, rhPct }: Reading, id: string) =>
    placeProbe({
      ...{ tC, rhPct, pPa: P, id, shape: RECTANGULAR },
      ...{ uT: statement(LIMITS.tC).u, uRh: statement(LIMITS.rhPct).u },
    });
  const point = ({ tC, rhPct }: Reading) => ({
    temperatureC: tC,
    humidityRatio: humidityRatio(tC, rhPct, P),
  });
  const result = delivered(mode, state, RIGHT);
  const budget = capacityBudget(result, {
    ...{ mode, pPa: P, shared: [] },
    ...{ ret: point(state.ret), supply: point(state.supply) },
    flow: { flowM3s: state.flowM3s, basis: 'actual', plane: 'supply' },
    ...{ retProbes: [probe(state.ret, 'r')], supplyProbes: [probe(state.supply, 's')] },
    ...{ flowRelative: statement(LIMITS.flow), pressurePa: statement(LIMITS.pPa) },
  });
  const errors = new MeanContributions();
  errors.add(contributions(ErrorList.from(budget), String(state.flowM3s)));
  return { errors, alone: combine(budget, result) };
}

function differences({ mode, before, after }: Case): Record<(typeof OUTPUTS)[number], number[]> {
  const random = randomStream(7, 'difference');
  const drawn: Record<(typeof OUTPUTS)[number], number[]> = {
    totalW: [],
    sensibleW: [],
    latentW: [],
  };
  const within = (limit: number): number => random.between(-limit, limit);
  const reading = (): Reading => ({ tC: within(LIMITS.tC), rhPct: within(LIMITS.rhPct) });
  for (let i = 0; i < DRAWS; i++) {
    const off = {
      ...{ ret: reading(), supply: reading() },
      ...{ flow: within(LIMITS.flow), pPa: within(LIMITS.pPa) },
    };
    const flow = before.flowM3s === after.flowM3s ? off.flow : within(LIMITS.flow);
    const a = delivered(mode, before, off);
    const b = delivered(mode, after, { ...off, flow });
    for (const output of OUTPUTS) drawn[output].push(b[output] - a[output]);
  }
  return drawn;
}

describe(`the interval of a difference against ${DRAWS} draws, within 3 %`, () => {
  it.each(CASES)('$name', (condition) => {
    const { mode } = condition;
    const before = budgetOf(mode, condition.before);
    const after = budgetOf(mode, condition.after);
    const drawn = differences(condition);
    const right = (output: (typeof OUTPUTS)[number]): number =>
      delivered(mode, condition.after, RIGHT)[output] -
      delivered(mode, condition.before, RIGHT)[output];
    for (const output of OUTPUTS) {
      // In heating there is no latent part, by definition.
      if (mode === 'heating' && output === 'latentW') continue;
      const u = differenceUncertainty(before.errors, after.errors, output);
      expect(u).not.toBeNull();
      const offs = drawn[output].map((x) => x - right(output));
      const mean = offs.reduce((sum, x) => sum + x, 0) / DRAWS;
      const sd = Math.sqrt(offs.reduce((sum, x) => sum + (x - mean) ** 2, 0) / DRAWS);
      expectWithin(u?.uW ?? NaN, sd, 0.03, output);
      const held = offs.filter((x) => Math.abs(x) <= (u?.u95W ?? NaN)).length / DRAWS;
      expect(held, output).toBeGreaterThan(0.94);
      expect(held, output).toBeLessThan(0.965);
    }
  });

  it('shared errors cancel: the difference is known far better than its two figures', () => {
    const [setpoint] = CASES;
    if (setpoint === undefined) throw new Error('no case');
    const before = budgetOf('cooling', setpoint.before);
    const after = budgetOf('cooling', setpoint.after);
    const u = differenceUncertainty(before.errors, after.errors, 'totalW');
    const apart = Math.hypot(before.alone.totalU95W, after.alone.totalU95W);
    expect(u?.u95W).toBeLessThan(0.5 * apart);
    expect(u?.u95W).toBeGreaterThan(0.1 * apart);
  });
});
