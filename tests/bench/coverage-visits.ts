/**
 * Visits of which the truth is known: what the recorded interval is held against. The air is as it
 * is, and differs from spot to spot along outlet and intake where that is asked for; probes, airflow and
 * barometer are wrong by what is drawn inside their limits.
 *
 * A probe's error is constant in half of the visits. In the other half it runs in a straight line
 * between two errors drawn by themselves for the two ends of its range, so that a check in one air
 * says less about another: about as much as the limits allow.
 */
import type { Line, Limits, Mode } from '../../adapters/contract.ts';
import { capacity } from '../../server/measure/capacity.ts';
import {
  humidityRatio,
  moistHeat,
  relativeHumidityPct,
  volumeM3kg,
} from '../../server/measure/moist-air.ts';
import type { AirflowResult, Capture, VerdictMessage } from '../../server/protocol.ts';
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
  {
    name: 'dehumidifying with reheat',
    mode: 'cooling',
    ret: { tC: 24, rhPct: 65 },
    supply: { tC: 26.5, rhPct: 40 },
  },
  {
    name: 'cooling, nearly saturated',
    mode: 'cooling',
    ret: { tC: 26.7, rhPct: 51 },
    supply: { tC: 12, rhPct: 98.5 },
  },
];

export const LIMITS = { temperatureC: 0.5, humidityPct: 2.5 } satisfies Limits;
const FLOW_M3S = 0.2;
const FLOW_LIMIT_PCT = 5;
export const PRESSURE_PA = 98_300;
const PRESSURE_LIMIT_PA = 200;
/** Scatter of one reading. */
const NOISE = { temperatureC: 0.03, humidityPct: 0.2 };
/** Between these a probe's error runs in a straight line, where it is not constant. */
const RANGE = { temperatureC: [10, 45], humidityPct: [10, 90] } as const;
export const T0 = 1_777_885_200_000;
const CHECK_S = 240;
const MEASURE_S = 200;
/** The probe that walks waits at the outlet's end, then goes there and back. */
const WAIT_S = 60;
const WALK_S = 60;
/** So many spots along a place, each with its own air and its part of the flow. */
const SPOTS = 12;

/** A zero in place: what the fan takes, W, what its watts are told to, as a part, and how long, s. */
const FAN_W = 30;
const FAN_LIMIT = 0.3;
const ZERO_S = 330;

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

/** A probe that follows the air by a first-order lag, with its errors. */
export class Sensors {
  readonly #errors: Record<Quantity, ErrorOf>;
  /** How much of a difference is left a second later. */
  readonly #left: number;
  readonly #random: Random;
  #at: Air;

  constructor(changes: boolean, random: Random) {
    this.#errors = {
      temperatureC: errorOf('temperatureC', changes, random),
      humidityPct: errorOf('humidityPct', changes, random),
    };
    this.#left = Math.exp(-1 / random.between(5, 25));
    this.#random = random;
    this.#at = { tC: random.between(18, 32), rhPct: random.between(35, 65) };
  }

  /** What it reads after a second in this air. */
  read(air: Air): { temperatureC: number; humidityPct: number } {
    const follow = (was: number, is: number): number => is + this.#left * (was - is);
    this.#at = { tC: follow(this.#at.tC, air.tC), rhPct: follow(this.#at.rhPct, air.rhPct) };
    const say = (quantity: Quantity, value: number): number =>
      value + this.#errors[quantity](value) + NOISE[quantity] * this.#random.normal();
    return {
      temperatureC: say('temperatureC', this.#at.tC),
      humidityPct: Math.min(100, say('humidityPct', this.#at.rhPct)),
    };
  }
}

/** A place as it really is: what its spots are off its mean, K (humidity along at constant RH). */
class Place {
  readonly #off: readonly number[];
  readonly #air: Air;
  readonly #random: Random;

  /** @param spotK standard deviation from spot to spot */
  constructor(air: Air, spotK: number, random: Random) {
    this.#air = air;
    this.#random = random;
    const flow = Array.from({ length: SPOTS }, () => random.between(0.8, 1.2));
    const off = flow.map(() => spotK * random.normal());
    const all = flow.reduce((sum, q) => sum + q, 0);
    const mean = off.reduce((sum, x, i) => sum + (x * (flow[i] ?? 0)) / all, 0);
    // As an infinite outlet's spots would differ: of a few, those that were drawn lie nearer their mean.
    this.#off = off.map((x) => (x - mean) * Math.sqrt(SPOTS / (SPOTS - 1)));
  }

  /** The air at a place between its ends, 0 to 1. */
  at(position: number): Air {
    const off = this.#off[Math.min(SPOTS - 1, Math.floor(position * SPOTS))] ?? 0;
    return { tC: this.#air.tC + off, rhPct: this.#air.rhPct };
  }

  /** So many spots, each anywhere: two may happen to be one. */
  spots(n: number): Air[] {
    return Array.from({ length: n }, () => this.at(this.#random.between(0, 1)));
  }
}

/** How a visit is made; what is left out is as it was before anybody thought of uneven air. */
export interface Making {
  checked: boolean;
  supplyProbes?: number;
  returnProbes?: number;
  /** What the air differs by from spot to spot, K. */
  supplySpotK?: number;
  returnSpotK?: number;
  /** A zero in place before it, its fan's watts told within their limits, or off by the whole limit. */
  zero?: 'told' | 'off';
  /** Whether a person says so, says nothing, or walks the outlet. */
  told?: 'rightly' | 'nothing' | 'walked';
}

export interface Outcome {
  /** Whether the probes' errors change with what they measure. */
  changes: boolean;
  trueW: number;
  capture: Capture;
}

/** One visit: a check first where wanted, then a steady span, recorded. */
export function visit(condition: Condition, making: Making, seed: number): Outcome {
  const { mode, ret, supply } = condition;
  const { supplyProbes = 1, returnProbes = 1, supplySpotK = 0, returnSpotK = 0 } = making;
  const { told = 'rightly', checked } = making;
  const random = randomStream(seed, `visit ${condition.name}`);
  const changes = seed % 2 === 1;
  const outlet = new Place(supply, supplySpotK, random);
  const intake = new Place(ret, returnSpotK, random);
  const hung = (n: number, name: string, place: Place): [string, Sensors, Air][] =>
    place.spots(n).map((air, i) => [`${name}${i + 1}`, new Sensors(changes, random), air]);
  const returns = hung(returnProbes, 'r', intake);
  const all = [...returns, ...hung(supplyProbes, 's', outlet)];
  const flowError = (random.between(-1, 1) * FLOW_LIMIT_PCT) / 100;
  const pressureError = random.between(-1, 1) * PRESSURE_LIMIT_PA;

  const { take, captures, session } = recorded();
  take({ type: 'visit', version: 1, mode, pressurePa: PRESSURE_PA + pressureError });
  const pct = (spotK: number): number => (100 * spotK) / Math.abs(ret.tC - supply.tC);
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
    // Who walks the outlet has looked at the intake.
    unevenPct:
      told === 'nothing'
        ? undefined
        : {
            return: pct(returnSpotK),
            supply: told === 'rightly' ? pct(supplySpotK) : undefined,
          },
  });
  for (const [id] of all) {
    const place = id.startsWith('r') ? 'return' : 'supply';
    take({ type: 'probe', id, unit: 'u1', place, limits: LIMITS });
  }

  let t = T0;
  const run = (seconds: number, airOf: (id: string, hangs: Air, s: number) => Air): void => {
    for (let s = 0; s < seconds; s++, t += 1000) {
      all.forEach(([id, sensors, hangs], i) => {
        const ms = Math.floor((700 * i) / all.length);
        take({ type: 'reading', t: t + ms, probe: id, ...sensors.read(airOf(id, hangs, s)) });
      });
    }
  };
  const there = (_id: string, hangs: Air): Air => hangs;
  if (checked) {
    const probes = all.map(([id]) => id);
    take({ type: 'event', t, kind: 'check', phase: 'start', probes });
    run(CHECK_S, () => ret);
    take({ type: 'event', t, kind: 'check', phase: 'end', probes });
  }
  if (making.zero !== undefined) {
    const fanOff = making.zero === 'off' ? Math.sign(flowError) : random.between(-1, 1);
    const alone = fanAlone(ret, FLOW_M3S);
    const fan = (id: string): Air => (id.startsWith('r') ? ret : alone);
    run(150, fan);
    const zero = { type: 'event', kind: 'zero', unit: 'u1' } as const;
    take({ ...zero, t, phase: 'start', fanW: FAN_W * (1 + FAN_LIMIT * fanOff) });
    run(ZERO_S, fan);
    take({ ...zero, t, phase: 'end' });
  }
  // Until the probes have come to their places' air.
  run(150, there);
  if (told === 'walked') {
    const walker = returns[0]?.[0] ?? '';
    const walk = {
      type: 'event',
      kind: 'walk',
      unit: 'u1',
      place: 'supply',
      probe: walker,
    } as const;
    const goes = (seconds: number, position: (s: number) => number): void =>
      run(seconds, (id, hangs, s) => (id === walker ? outlet.at(position(s)) : hangs));
    take({ ...walk, t, phase: 'start' });
    goes(WAIT_S, () => 0);
    take({ ...walk, t, phase: 'go' });
    goes(WALK_S, (s) => s / WALK_S);
    goes(WALK_S, (s) => 1 - (s + 1) / WALK_S);
    take({ ...walk, t, phase: 'end' });
    run(150, there);
  }
  take({ type: 'event', t, kind: 'fan', unit: 'u1', speed: 'high' });
  run(MEASURE_S, there);
  session.finish();

  const capture = captures.at(-1);
  if (capture === undefined) throw new Error(`no capture in ${condition.name}, seed ${seed}`);
  const flow = { flowM3s: FLOW_M3S, basis: 'actual', plane: 'supply' } as const;
  const truth = capacity(mode, point(ret), point(supply), flow, PRESSURE_PA);
  return { changes, trueW: truth.totalW, capture };
}

/** Supply air while the fan alone blows: a dry coil, and the fan's own heat. */
function fanAlone(ret: Air, flowM3s: number): Air {
  const { temperatureC, humidityRatio } = point(ret);
  const dryAirKgs = flowM3s / volumeM3kg(temperatureC, humidityRatio, PRESSURE_PA);
  const tC = temperatureC + FAN_W / (dryAirKgs * moistHeat(humidityRatio));
  return { tC, rhPct: relativeHumidityPct(tC, humidityRatio, PRESSURE_PA) };
}

/** The air of a place as capacity takes it. */
export const point = ({ tC, rhPct }: Air): { temperatureC: number; humidityRatio: number } => ({
  temperatureC: tC,
  humidityRatio: humidityRatio(tC, rhPct, PRESSURE_PA),
});

/** A session with what it has captured. */
export function recorded(): {
  take: (line: Line) => void;
  captures: Capture[];
  airflows: AirflowResult[];
  verdicts: VerdictMessage[];
  session: Session;
} {
  const captures: Capture[] = [];
  const airflows: AirflowResult[] = [];
  const verdicts: VerdictMessage[] = [];
  const nothing = (): void => undefined;
  const session = new Session({
    snapshot: nothing,
    capture: (capture) => captures.push(capture),
    check: nothing,
    walk: nothing,
    event: nothing,
    probe: nothing,
    setup: nothing,
    airflow: (result) => airflows.push(result),
    verdict: (verdict) => verdicts.push(verdict),
  });
  const source = { adapter: 'visit', simulated: true };
  const take = (line: Line): void => {
    const refusal = session.apply(line, source);
    if (refusal !== null) throw new Error(refusal);
  };
  return { take, captures, airflows, verdicts, session };
}

export interface Coverage {
  /** Share of visits whose interval holds the truth; of those with constant, with changing errors. */
  share: number;
  constant: number;
  changing: number;
  /** Median and mean half-width, as a share of the true capacity. */
  width: number;
  meanWidth: number;
}

/** So many visits of each of these conditions. */
export function coverage(
  conditions: readonly Condition[],
  making: Making,
  visits: number,
): Coverage {
  const held = { constant: 0, changing: 0 };
  const of = { constant: 0, changing: 0 };
  const widths: number[] = [];
  for (const condition of conditions) {
    for (let seed = 0; seed < visits; seed++) {
      const { changes, trueW, capture } = visit(condition, making, seed);
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
    meanWidth: widths.reduce((sum, w) => sum + w, 0) / widths.length,
  };
}
