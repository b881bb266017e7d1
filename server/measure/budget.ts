/**
 * The budget of a capacity: its independent errors, each with what it does to total, sensible and
 * latent, by first-order propagation with sensitivities in closed form (JCGM 100:2008, 5.1).
 *
 * Each error of a probe is one input, so that the correlation of temperature and humidity ratio (which
 * come from the same readings) needs no matrix. Errors that several probes share (what a side-by-side
 * check cannot see) are one input that moves them all.
 */
import { type AirModel, moistHeat, REAL_AIR, VOLUME_RATIO } from './air-model.ts';
import { type AirPoint, type Capacity, effectiveSupply, type Flow, type Mode } from './capacity.ts';
import { NORMAL, type Uncertain } from './gum.ts';
import { ZERO_CELSIUS_K } from './saturation.ts';

/** One probe of a place: what it reads, how W follows from it, and how far each may be off. */
export interface PlaceProbe {
  id: string;
  temperatureC: number;
  /** Null for a probe that tells no humidity. */
  humidityRatio: number | null;
  /** ∂W/∂t, ∂W/∂(humidity reading: % RH or K of dew point), ∂W/∂p. */
  wPerK: number;
  wPerHumidity: number;
  wPerPa: number;
  /** Its own errors: of the temperature, K, and of the humidity reading. */
  temperature: Uncertain;
  humidity: Uncertain;
  /** Which of the `shared` errors below moves its temperature too; −1: none. */
  shared: number;
  /** Whether that holds of its humidity as well: not of one whose humidity was not checked. */
  sharesHumidity: boolean;
}

/** What the budget is made of, beside the capacity itself. */
export interface BudgetInputs {
  mode: Mode;
  ret: AirPoint;
  supply: AirPoint;
  flow: Flow;
  pPa: number;
  retProbes: readonly PlaceProbe[];
  supplyProbes: readonly PlaceProbe[];
  /** Relative uncertainty of the flow. */
  flowRelative: Uncertain;
  /**
   * Where the flow follows the velocity of one spot: the probe there, and what one spot tells amiss of
   * the whole flow, signed (the flow is another than the one it was told as, this way or that).
   */
  spot?: { of: string; relative: Uncertain } | undefined;
  /** Uncertainty of the pressure, Pa. */
  pressurePa: Uncertain;
  /** Errors that probes share which were checked side by side, one for each such check: K, % RH. */
  shared: readonly { temperature: Uncertain; humidity: Uncertain }[];
}

export type BudgetKind =
  | 'temperature'
  | 'humidity'
  | 'spread'
  | 'airflow'
  | 'pressure'
  | 'common-temperature'
  | 'common-humidity'
  | 'scatter';

/** One independent error: what one standard uncertainty of it does to each output, W (signed). */
export interface BudgetItem {
  kind: BudgetKind;
  /** The probe, or for a spread the place; of an airflow the probe that it follows. */
  of: string | null;
  totalW: number;
  sensibleW: number;
  latentW: number;
  /** Excess kurtosis of its distribution. */
  shape: number;
}

/** What 1 K and 1 kg/kg at one place do to total, sensible and latent. */
interface Side {
  totalT: number;
  sensibleT: number;
  latentT: number;
  totalW: number;
  sensibleW: number;
  latentW: number;
}

/**
 * Takes the errors of a capacity one by one. They are summed up for each unit in each second, and
 * listed only now and then: so no list is made of them for the sums.
 */
export interface ErrorSink {
  /**
   * @param kind of the error, and whose it is: see `BudgetItem`
   * @param error its size
   * @param total what one unit of it does to the outputs, W
   */
  add(
    kind: BudgetKind,
    of: string | null,
    error: Uncertain,
    total: number,
    sensible: number,
    latent: number,
  ): void;
}

/** The budget of a capacity; `result` is `capacity(...)` of the same inputs. */
export function capacityBudget(
  result: Capacity,
  x: BudgetInputs,
  model: AirModel = REAL_AIR,
): BudgetItem[] {
  const items: BudgetItem[] = [];
  const list: ErrorSink = {
    add(kind, of, { u, shape }, total, sensible, latent) {
      items.push({
        kind,
        of,
        totalW: total * u,
        sensibleW: sensible * u,
        latentW: latent * u,
        shape,
      });
    },
  };
  eachError(result, x, list, model);
  return items;
}

/** Hands the errors of a capacity to `sink`; `result` is `capacity(...)` of the same inputs. */
export function eachError(
  result: Capacity,
  x: BudgetInputs,
  sink: ErrorSink,
  model: AirModel = REAL_AIR,
): void {
  const { ret, sup } = gradients(result, x, model);
  const shared =
    x.shared.length === 0 ? NOT_SHARED : x.shared.map((e) => ({ errors: e, t: none(), h: none() }));
  place(ret, 'return', x.retProbes, sink, shared);
  place(sup, 'supply', x.supplyProbes, sink, shared);
  for (const { errors, t, h } of shared) {
    sink.add('common-temperature', null, errors.temperature, t.total, t.sensible, t.latent);
    sink.add('common-humidity', null, errors.humidity, h.total, h.sensible, h.latent);
  }
  sink.add('airflow', null, x.flowRelative, result.totalW, result.sensibleW, result.latentW);
  if (x.spot !== undefined) {
    const { of, relative } = x.spot;
    sink.add('airflow', of, relative, result.totalW, result.sensibleW, result.latentW);
  }
  pressure(result, ret, sup, x, sink);
}

// Written out with plain numbers from here on: it runs for each unit in each second.

/** A change of the three outputs that is summed up over probes. */
interface Three {
  total: number;
  sensible: number;
  latent: number;
}
const none = (): Three => ({ total: 0, sensible: 0, latent: 0 });
/** What an error that probes share does by way of their temperatures and humidities. */
interface Shared {
  errors: BudgetInputs['shared'][number];
  t: Three;
  h: Three;
}
const NOT_SHARED: readonly Shared[] = [];

function gradients(
  result: Capacity,
  { mode, ret, supply, flow }: BudgetInputs,
  model: AirModel,
): { ret: Side; sup: Side } {
  const point = effectiveSupply(mode, ret, supply);
  const heating = mode === 'heating';
  const m = heating ? -result.dryAirKgs : result.dryAirKgs;
  const c1 = moistHeat(ret.humidityRatio, model);
  const c2 = moistHeat(point.humidityRatio, model);
  const v1 = model.vapourHeat * ret.temperatureC;
  const v2 = model.vapourHeat * point.temperatureC;
  const h = heating ? 0 : model.vapourEnthalpy;
  // y = ṁ (g1 − g2): total with ∂g/∂t = c_pa and ∂g/∂W = h_v0 + c_v t, sensible without h_v0, latent h_v0.
  const r: Side = {
    totalT: m * c1,
    sensibleT: m * c1,
    latentT: 0,
    totalW: m * (h + v1),
    sensibleW: m * v1,
    latentW: m * h,
  };
  const s: Side = {
    totalT: -m * c2,
    sensibleT: -m * c2,
    latentT: 0,
    totalW: -m * (h + v2),
    sensibleW: -m * v2,
    latentW: -m * h,
  };
  if (flow.basis === 'actual') {
    // ṁ = Q/v: relative sensitivity of 1/v to t and W of the flow's plane.
    const at = flow.plane === 'return' ? ret : point;
    const side = flow.plane === 'return' ? r : s;
    const perK = -1 / (at.temperatureC + ZERO_CELSIUS_K);
    const perW = -VOLUME_RATIO / (1 + VOLUME_RATIO * at.humidityRatio);
    side.totalT += result.totalW * perK;
    side.sensibleT += result.sensibleW * perK;
    side.latentT += result.latentW * perK;
    side.totalW += result.totalW * perW;
    side.sensibleW += result.sensibleW * perW;
    side.latentW += result.latentW * perW;
  }
  if (heating) {
    // The supply's humidity is the return's.
    r.totalW += s.totalW;
    r.sensibleW += s.sensibleW;
    s.totalW = 0;
    s.sensibleW = 0;
  }
  return { ret: r, sup: s };
}

/** The errors of one place's probes, and what they differ by beyond those errors. */
function place(
  g: Side,
  name: string,
  probes: readonly PlaceProbe[],
  sink: ErrorSink,
  shared: readonly { t: Three; h: Three }[],
): void {
  const n = probes.length;
  let nW = 0;
  let meanT = 0;
  let meanW = 0;
  for (const p of probes) {
    meanT += p.temperatureC / n;
    if (p.humidityRatio === null) continue;
    nW++;
    meanW += p.humidityRatio;
  }
  meanW /= nW;
  let explained = 0;
  const spread = none();
  for (const p of probes) {
    const perT = 1 / n;
    const perW = p.humidityRatio === null ? 0 : p.wPerK / nW;
    const total = g.totalT * perT + g.totalW * perW;
    const sensible = g.sensibleT * perT + g.sensibleW * perW;
    const latent = g.latentT * perT + g.latentW * perW;
    sink.add('temperature', p.id, p.temperature, total, sensible, latent);
    explained += (total * p.temperature.u) ** 2;
    const group = shared[p.shared];
    if (group !== undefined) add(group.t, total, sensible, latent);
    if (p.humidityRatio !== null) {
      const perH = p.wPerHumidity / nW;
      const t = g.totalW * perH;
      const s = g.sensibleW * perH;
      const l = g.latentW * perH;
      sink.add('humidity', p.id, p.humidity, t, s, l);
      explained += (t * p.humidity.u) ** 2;
      if (group !== undefined && p.sharesHumidity) add(group.h, t, s, l);
    }
    if (n === 1) continue;
    const dT = p.temperatureC - meanT;
    const dW = p.humidityRatio === null ? 0 : p.humidityRatio - meanW;
    spread.total += (g.totalT * dT + g.totalW * dW) ** 2;
    spread.sensible += (g.sensibleT * dT + g.sensibleW * dW) ** 2;
    spread.latent += (g.latentT * dT + g.latentW * dW) ** 2;
  }
  // s²/n of the probes among themselves (4.2.3), less what their own errors make of it: the rest is
  // that the air is not the same all over the place.
  const square = n === 1 ? 0 : spread.total / (n - 1) / n;
  if (square <= explained) return;
  const share = Math.sqrt((1 - explained / square) / (n - 1) / n);
  sink.add(
    'spread',
    name,
    { u: share, shape: NORMAL },
    Math.sqrt(spread.total),
    Math.sqrt(spread.sensible),
    Math.sqrt(spread.latent),
  );
}

function add(three: Three, total: number, sensible: number, latent: number): void {
  three.total += total;
  three.sensible += sensible;
  three.latent += latent;
}

/** Pressure moves ṁ of an actual flow (∝ p), and W of probes that tell relative humidity. */
function pressure(result: Capacity, ret: Side, sup: Side, x: BudgetInputs, sink: ErrorSink): void {
  const flow = x.flow.basis === 'actual' ? 1 / x.pPa : 0;
  const w1 = meanPerPa(x.retProbes);
  const w2 = meanPerPa(x.supplyProbes);
  sink.add(
    'pressure',
    null,
    x.pressurePa,
    result.totalW * flow + ret.totalW * w1 + sup.totalW * w2,
    result.sensibleW * flow + ret.sensibleW * w1 + sup.sensibleW * w2,
    result.latentW * flow + ret.latentW * w1 + sup.latentW * w2,
  );
}

/** ∂W/∂p of the mean over those that tell humidity. */
function meanPerPa(probes: readonly PlaceProbe[]): number {
  let sum = 0;
  let n = 0;
  for (const p of probes) {
    if (p.humidityRatio === null) continue;
    sum += p.wPerPa;
    n++;
  }
  return n === 0 ? 0 : sum / n;
}
