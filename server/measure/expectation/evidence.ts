/**
 * What a visit shows of a unit's health, as ratios: what was measured over what a healthy unit would show in
 * the same air. Each with its standard uncertainty; what is not known is null.
 */
import { capacity, type Mode } from '../capacity.ts';
import { humidityRatio, volumeM3kg } from '../moist-air.ts';
import { type AirState, coilAir, contactFactor } from './coil-air.ts';

/** A figure with its standard uncertainty. */
export interface Item {
  value: number;
  u: number;
}

export const MEASURED_ITEMS = [
  'capacityRatio',
  'capacityChange',
  'airflowRatio',
  'differenceRatio',
  'sensibleExcess',
  'contactFactor',
  'powerRatio',
  'pushGain',
  'recirculation',
  'unevenness',
] as const;
export type MeasuredItem = (typeof MEASURED_ITEMS)[number];

/**
 * - `capacityRatio`: delivered over expected. `capacityChange`: delivered over that of the baseline.
 * - `airflowRatio`: measured over the fan table's or the baseline's.
 * - `differenceRatio`: temperature difference of return and supply over a healthy unit's.
 * - `sensibleExcess`: sensible heat ratio less a healthy unit's. `contactFactor`: the coil's, 0 to 1.
 * - `powerRatio`: electrical power over what goes with full demand.
 * - `pushGain`: what came on top when the setpoint was pushed, over the capacity.
 * - `recirculation`: the part of the return that is supply air.
 * - `unevenness`: standard deviation from spot to spot over the difference of return and supply.
 */
export type Measured = Readonly<Record<MeasuredItem, Item | null>>;

/** What a person or the session has seen; null: nobody knows. */
export interface Seen {
  fullDemand: 'shown' | 'not-shown' | null;
  otherHeads: 'running' | 'off' | null;
  cycling: 'yes' | 'no' | null;
  coil: 'wet' | 'dry' | null;
  /** Whether somebody has looked at the filter. */
  filter: 'clean' | 'loaded' | null;
  probes: 'checked' | 'unchecked' | null;
}

export interface Evidence {
  mode: Mode;
  measured: Measured;
  seen: Seen;
  /** Whether the airflow in the capacity was measured at this unit. Else it is what it should be. */
  isFlowMeasured: boolean;
}

interface Air {
  temperatureC: Item;
  humidityPct: Item | null;
}

/** What the evidence is made from: means over the span of a capture. */
export interface VisitFacts {
  mode: Mode;
  pressurePa: number;
  totalW: Item;
  expectedW: Item;
  /** Delivered over what was captured at an earlier visit in the same air. */
  capacityChange: Item | null;
  return: Air;
  supply: Air;
  /** Of the room's own probe, °C. */
  roomC: Item | null;
  /** Actual flow at the supply. */
  flowM3s: Item;
  isFlowMeasured: boolean;
  /** What the fan table, or the baseline, says for the speed; actual, at the supply. */
  wantedFlowM3s: Item | null;
  /** Electrical power, and what goes with full demand in this air. */
  powerW: Item | null;
  expectedPowerW: Item | null;
  /** What came on top when the setpoint was pushed, W. */
  pushGainW: Item | null;
  /** Standard deviation from spot to spot in the outlet, as a walk has found, K. */
  spotK: Item | null;
  seen: Seen;
}

/** Air of unknown humidity in heating, where it hardly matters, %. */
const HEATED_PCT = 40;
/** Of less room and supply tell no share, K. */
const STREAMS_K = 4;

/** The evidence of a visit. */
export function evidenceOf(facts: VisitFacts): Evidence {
  const { mode, totalW, expectedW, isFlowMeasured, seen } = facts;
  const { flowM3s, wantedFlowM3s, powerW, expectedPowerW, pushGainW } = facts;
  return {
    ...{ mode, seen, isFlowMeasured },
    measured: {
      capacityRatio: ratio(totalW, expectedW),
      capacityChange: facts.capacityChange,
      airflowRatio: isFlowMeasured && wantedFlowM3s !== null ? ratio(flowM3s, wantedFlowM3s) : null,
      ...coilItems(facts),
      powerRatio: powerW !== null && expectedPowerW !== null ? ratio(powerW, expectedPowerW) : null,
      pushGain:
        pushGainW === null
          ? null
          : { value: pushGainW.value / totalW.value, u: pushGainW.u / Math.abs(totalW.value) },
      recirculation: recirculation(facts),
      unevenness: unevenness(facts),
    },
  };
}

function ratio(a: Item, b: Item): Item {
  const value = a.value / b.value;
  return { value, u: Math.abs(value) * Math.hypot(a.u / a.value, b.u / b.value) };
}

/** What the air says of the coil, against a healthy unit that delivers what is expected. */
function coilItems(
  facts: VisitFacts,
): Pick<Measured, 'differenceRatio' | 'sensibleExcess' | 'contactFactor'> {
  const { mode, pressurePa, return: a, supply: b, expectedW } = facts;
  const flow = facts.wantedFlowM3s ?? facts.flowM3s;
  const cooling = mode === 'cooling';
  const unknown = { value: HEATED_PCT, u: 0 };
  if (cooling && (a.humidityPct === null || b.humidityPct === null))
    return { differenceRatio: null, sensibleExcess: null, contactFactor: null };
  const inputs = [
    ...[a.temperatureC, a.humidityPct ?? unknown, b.temperatureC, b.humidityPct ?? unknown],
    ...[expectedW, flow],
  ];
  const outcome = (x: readonly number[]): (number | null)[] => {
    const [tA = NaN, rhA = NaN, tB = NaN, rhB = NaN, wantedW = NaN, flowM3s = NaN] = x;
    const entering = { temperatureC: tA, humidityRatio: humidityRatio(tA, clamp(rhA), pressurePa) };
    const W = cooling ? humidityRatio(tB, clamp(rhB), pressurePa) : entering.humidityRatio;
    const leaving = { temperatureC: tB, humidityRatio: W };
    const dryAirKgs = flowM3s / volumeM3kg(tB, W, pressurePa);
    const healthy = coilAir(mode, entering, pressurePa, { totalW: wantedW, dryAirKgs });
    const differenceRatio = ((cooling ? 1 : -1) * (tA - tB)) / healthy.differenceK;
    if (!cooling) return [differenceRatio, null, null];
    const contact = contactFactor(entering, leaving, pressurePa);
    const shr = sensibleRatio(entering, leaving, pressurePa);
    const excess = shr === null ? null : shr - healthy.sensibleHeatRatio;
    return [differenceRatio, excess, contact];
  };
  const [differenceRatio = null, sensibleExcess = null, contact = null] = propagated(
    outcome,
    inputs,
  );
  return { differenceRatio, sensibleExcess, contactFactor: contact };
}

const clamp = (pct: number): number => Math.min(100, Math.max(1, pct));

/** The sensible heat ratio of two states: of any flow, since it cancels. */
function sensibleRatio(entering: AirState, leaving: AirState, pressurePa: number): number | null {
  const flow = { flowM3s: 1, basis: 'actual', plane: 'supply' } as const;
  return capacity('cooling', entering, leaving, flow, pressurePa).sensibleHeatRatio;
}

/** Each outcome with its uncertainty, by moving each input by its own; null where one is not known. */
function propagated(
  outcome: (x: readonly number[]) => (number | null)[],
  inputs: readonly Item[],
): (Item | null)[] {
  const x = inputs.map(({ value }) => value);
  const squares = outcome(x).map(() => 0);
  const middle = outcome(x);
  inputs.forEach(({ value, u }, i) => {
    if (u === 0) return;
    const [up, down] = [value + u, value - u].map((moved) => outcome(x.with(i, moved)));
    squares.forEach((square, k) => {
      const [high, low, own] = [up?.[k] ?? null, down?.[k] ?? null, middle[k] ?? null];
      // Where it is known on one side only, the step to that side counts.
      const sides = high === null || low === null ? 1 : 2;
      const step = ((high ?? own ?? 0) - (low ?? own ?? 0)) / sides;
      squares[k] = square + step ** 2;
    });
  });
  return middle.map((value, k) =>
    value === null ? null : { value, u: Math.sqrt(squares[k] ?? NaN) },
  );
}

/** Of two streams that mix, the part of the second is how far the mixture lies from the first. */
function recirculation({ roomC, return: a, supply: b }: VisitFacts): Item | null {
  if (roomC === null) return null;
  const streams = roomC.value - b.temperatureC.value;
  if (Math.abs(streams) < STREAMS_K) return null;
  const value = (roomC.value - a.temperatureC.value) / streams;
  return { value, u: Math.hypot(roomC.u, a.temperatureC.u) / Math.abs(streams) };
}

function unevenness({ spotK, return: a, supply: b }: VisitFacts): Item | null {
  const difference = Math.abs(a.temperatureC.value - b.temperatureC.value);
  if (spotK === null || difference === 0) return null;
  return { value: spotK.value / difference, u: spotK.u / difference };
}
