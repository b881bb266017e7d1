/**
 * Visits of which the truth is known: what the recorded interval is held against. The air is as it
 * is; probes, airflow and barometer are wrong by what is drawn inside their limits.
 *
 * A probe's error is constant in half of the visits. In the other half it runs in a straight line
 * between two errors drawn by themselves for the two ends of its range, so that a check in one air
 * says less about another: about as much as the limits allow.
 */
import type { Line, Limits, Mode } from '../../adapters/contract.ts';
import { capacity } from '../../server/measure/capacity.ts';
import { humidityRatio } from '../../server/measure/moist-air.ts';
import type { Capture } from '../../server/protocol.ts';
import { Session } from '../../server/session.ts';
import { type Random, randomStream } from '../../simulator/random.ts';

export interface Air {
  tC: number;
  rhPct: number;
}
export interface Condition {
  name: string;
  mode: Mode;
  ret: Air;
  supply: Air;
}
export const CONDITIONS: readonly Condition[] = [
  {
    name: 'cooling',
    mode: 'cooling',
    ret: { tC: 26.7, rhPct: 51 },
    supply: { tC: 12, rhPct: 94 },
  },
  {
    name: 'cooling, mostly latent',
    mode: 'cooling',
    ret: { tC: 24, rhPct: 78 },
    supply: { tC: 15, rhPct: 94 },
  },
  {
    name: 'heating',
    mode: 'heating',
    ret: { tC: 20, rhPct: 42 },
    supply: { tC: 45, rhPct: 11 },
  },
];

const LIMITS = { temperatureC: 0.5, humidityPct: 2.5 } satisfies Limits;
const FLOW_M3S = 0.2;
const FLOW_LIMIT_PCT = 5;
const PRESSURE_PA = 98_300;
const PRESSURE_LIMIT_PA = 200;
/** Scatter of one reading. */
const NOISE = { temperatureC: 0.03, humidityPct: 0.2 };
/** Between these a probe's error runs in a straight line, where it is not constant. */
const RANGE = { temperatureC: [10, 45], humidityPct: [10, 90] } as const;
const T0 = 1_777_885_200_000;
const CHECK_S = 240;
const MEASURE_S = 200;

type Quantity = keyof typeof LIMITS;
/** A probe's error as a function of what it measures. */
type ErrorOf = (value: number) => number;

function errorOf(quantity: Quantity, changes: boolean, random: Random): ErrorOf {
  const limit = LIMITS[quantity];
  const [low, high] = RANGE[quantity];
  const atLow = random.between(-limit, limit);
  if (!changes) return () => atLow;
  const atHigh = random.between(-limit, limit);
  return (value) => {
    const share = Math.min(1, Math.max(0, (value - low) / (high - low)));
    return atLow + share * (atHigh - atLow);
  };
}

/** A probe on its way from one air to another: what it says at `s` seconds after it was moved. */
class Sensors {
  readonly #errors: Record<Quantity, ErrorOf>;
  readonly #lagS: number;
  readonly #random: Random;
  from: Air;

  constructor(changes: boolean, random: Random) {
    this.#errors = {
      temperatureC: errorOf('temperatureC', changes, random),
      humidityPct: errorOf('humidityPct', changes, random),
    };
    this.#lagS = random.between(5, 25);
    this.#random = random;
    this.from = { tC: random.between(18, 32), rhPct: random.between(35, 65) };
  }

  read(air: Air, s: number): { temperatureC: number; humidityPct: number } {
    const left = Math.exp(-s / this.#lagS);
    const say = (quantity: Quantity, was: number, is: number): number => {
      const value = is + left * (was - is);
      return value + this.#errors[quantity](value) + NOISE[quantity] * this.#random.normal();
    };
    return {
      temperatureC: say('temperatureC', this.from.tC, air.tC),
      humidityPct: Math.min(100, say('humidityPct', this.from.rhPct, air.rhPct)),
    };
  }
}

export interface Outcome {
  /** Whether the probes' errors change with what they measure. */
  changes: boolean;
  trueW: number;
  capture: Capture;
}

/** One visit: a check first where wanted, then a steady span, recorded. */
export function visit(condition: Condition, checked: boolean, seed: number): Outcome {
  const { mode, ret, supply } = condition;
  const random = randomStream(seed, `visit ${condition.name}`);
  const changes = seed % 2 === 1;
  const probes = { r: new Sensors(changes, random), s: new Sensors(changes, random) };
  const flowError = (random.between(-1, 1) * FLOW_LIMIT_PCT) / 100;
  const pressureError = random.between(-1, 1) * PRESSURE_LIMIT_PA;

  const captures: Capture[] = [];
  const nothing = (): void => undefined;
  const session = new Session({
    snapshot: nothing,
    capture: (capture) => captures.push(capture),
    check: nothing,
    event: nothing,
    probe: nothing,
    setup: nothing,
  });
  const source = { adapter: 'visit', simulated: true };
  const take = (line: Line): void => {
    const refusal = session.apply(line, source);
    if (refusal !== null) throw new Error(refusal);
  };
  take({ type: 'visit', version: 1, mode, pressurePa: PRESSURE_PA + pressureError });
  take({
    type: 'unit',
    id: 'u1',
    airflow: {
      source: 'grid',
      flowM3s: FLOW_M3S * (1 + flowError),
      basis: 'actual',
      plane: 'supply',
      limitPct: FLOW_LIMIT_PCT,
    },
  });
  take({ type: 'probe', id: 'r', unit: 'u1', place: 'return', limits: LIMITS });
  take({ type: 'probe', id: 's', unit: 'u1', place: 'supply', limits: LIMITS });

  let t = T0;
  const run = (seconds: number, at: { r: Air; s: Air }): void => {
    for (let s = 0; s < seconds; s++, t += 1000) {
      take({ type: 'reading', t, probe: 'r', ...probes.r.read(at.r, s) });
      take({ type: 'reading', t: t + 300, probe: 's', ...probes.s.read(at.s, s) });
    }
    probes.r.from = at.r;
    probes.s.from = at.s;
  };
  if (checked) {
    take({ type: 'event', t, kind: 'check', phase: 'start', probes: ['r', 's'] });
    run(CHECK_S, { r: ret, s: ret });
    take({ type: 'event', t, kind: 'check', phase: 'end', probes: ['r', 's'] });
  }
  // Until the probes have come to their places' air.
  run(150, { r: ret, s: supply });
  take({ type: 'event', t, kind: 'fan', unit: 'u1', speed: 'high' });
  run(MEASURE_S, { r: ret, s: supply });
  session.finish();

  const capture = captures.at(-1);
  if (capture === undefined) throw new Error(`no capture in ${condition.name}, seed ${seed}`);
  const point = ({ tC, rhPct }: Air): { temperatureC: number; humidityRatio: number } => ({
    temperatureC: tC,
    humidityRatio: humidityRatio(tC, rhPct, PRESSURE_PA),
  });
  const flow = { flowM3s: FLOW_M3S, basis: 'actual', plane: 'supply' } as const;
  const truth = capacity(mode, point(ret), point(supply), flow, PRESSURE_PA);
  return { changes, trueW: truth.totalW, capture };
}

export interface Coverage {
  /** Share of visits whose interval holds the truth; of those with constant, with changing errors. */
  share: number;
  constant: number;
  changing: number;
  /** Median half-width, as a share of the true capacity. */
  width: number;
}

/** So many visits of each of these conditions. */
export function coverage(
  conditions: readonly Condition[],
  checked: boolean,
  visits: number,
): Coverage {
  const held = { constant: 0, changing: 0 };
  const of = { constant: 0, changing: 0 };
  const widths: number[] = [];
  for (const condition of conditions) {
    for (let seed = 0; seed < visits; seed++) {
      const { changes, trueW, capture } = visit(condition, checked, seed);
      if (capture.totalU95W === null)
        throw new Error(`no interval in ${condition.name}, seed ${seed}`);
      const kind = changes ? 'changing' : 'constant';
      of[kind]++;
      widths.push(capture.totalU95W / trueW);
      if (Math.abs(capture.totalW - trueW) <= capture.totalU95W) held[kind]++;
    }
  }
  widths.sort((a, b) => a - b);
  return {
    share: (held.constant + held.changing) / widths.length,
    constant: held.constant / of.constant,
    changing: held.changing / of.changing,
    width: widths[widths.length >> 1] ?? NaN,
  };
}
