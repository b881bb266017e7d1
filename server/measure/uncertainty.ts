/**
 * How sure a capacity is: the budget of independent errors, each with what it does to total, sensible
 * and latent, by first-order propagation with sensitivities in closed form (JCGM 100:2008, 5.1).
 *
 * Each error of a probe is one input, so that the correlation of temperature and humidity ratio (which
 * come from the same readings) needs no matrix. Errors that several probes share (what a side-by-side
 * check cannot see) are one input that moves them all. Intervals: see gum.ts.
 */
import { type AirModel, moistHeat, REAL_AIR, VOLUME_RATIO } from './air-model.ts';
import { type AirPoint, type Capacity, effectiveSupply, type Flow, type Mode } from './capacity.ts';
import { coverageFactor95, NORMAL, type Uncertain } from './gum.ts';
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
  /** The probe, or for a spread the place. */
  of: string | null;
  totalW: number;
  sensibleW: number;
  latentW: number;
  /** Excess kurtosis of its distribution. */
  shape: number;
}

/** ∂y/∂t and ∂y/∂W at both places, and the output itself. */
interface Gradient {
  y: number;
  t1: number;
  w1: number;
  t2: number;
  w2: number;
}

/** The budget of a capacity; `result` is `capacity(...)` of the same inputs. */
export function capacityBudget(
  result: Capacity,
  x: BudgetInputs,
  model: AirModel = REAL_AIR,
): BudgetItem[] {
  const g = gradients(result, x, model);
  const items: BudgetItem[] = [];
  const shared = x.shared.map((errors) => ({ errors, t: new Three(), h: new Three() }));
  place(g, 1, 'return', x.retProbes, items, shared);
  place(g, 2, 'supply', x.supplyProbes, items, shared);
  for (const { errors, t, h } of shared) {
    items.push(t.item('common-temperature', errors.temperature));
    items.push(h.item('common-humidity', errors.humidity));
  }
  items.push(
    new Three().add(g.total.y, g.sensible.y, g.latent.y, 1).item('airflow', x.flowRelative),
  );
  items.push(pressure(g, x).item('pressure', x.pressurePa));
  return items;
}

/** A change of total, sensible and latent that is summed up. */
class Three {
  total = 0;
  sensible = 0;
  latent = 0;

  add(total: number, sensible: number, latent: number, factor: number): this {
    this.total += total * factor;
    this.sensible += sensible * factor;
    this.latent += latent * factor;
    return this;
  }

  item(kind: BudgetKind, { u, shape }: Uncertain, of: string | null = null): BudgetItem {
    return {
      kind,
      of,
      totalW: this.total * u,
      sensibleW: this.sensible * u,
      latentW: this.latent * u,
      shape,
    };
  }
}

function gradients(
  result: Capacity,
  { mode, ret, supply, flow }: BudgetInputs,
  model: AirModel,
): { total: Gradient; sensible: Gradient; latent: Gradient } {
  const sup = effectiveSupply(mode, ret, supply);
  const heating = mode === 'heating';
  const m = heating ? -result.dryAirKgs : result.dryAirKgs;
  const atReturn = flow.plane === 'return';
  const at = atReturn ? ret : sup;
  // An actual flow makes ṁ = Q/v: relative sensitivity of 1/v to t and W of its plane.
  const actual = flow.basis === 'actual';
  const perK = actual ? -1 / (at.temperatureC + ZERO_CELSIUS_K) : 0;
  const perW = actual ? -VOLUME_RATIO / (1 + VOLUME_RATIO * at.humidityRatio) : 0;
  /** y = ṁ (g1 − g2), given ∂g/∂t and ∂g/∂W on both sides. */
  const gradient = (y: number, t1: number, w1: number, t2: number, w2: number): Gradient => {
    const g = { y, t1: m * t1, w1: m * w1, t2: -m * t2, w2: -m * w2 };
    if (atReturn) {
      g.t1 += y * perK;
      g.w1 += y * perW;
    } else {
      g.t2 += y * perK;
      g.w2 += y * perW;
    }
    if (heating) {
      g.w1 += g.w2; // the supply's humidity is the return's
      g.w2 = 0;
    }
    return g;
  };
  const c1 = moistHeat(ret.humidityRatio, model);
  const c2 = moistHeat(sup.humidityRatio, model);
  const v1 = model.vapourHeat * ret.temperatureC;
  const v2 = model.vapourHeat * sup.temperatureC;
  const h = model.vapourEnthalpy;
  return {
    total: gradient(result.totalW, c1, h + v1, c2, h + v2),
    sensible: gradient(result.sensibleW, c1, v1, c2, v2),
    latent: heating ? { y: 0, t1: 0, w1: 0, t2: 0, w2: 0 } : gradient(result.latentW, 0, h, 0, h),
  };
}

type Gradients = ReturnType<typeof gradients>;

/** The errors of one place's probes, and what they differ by beyond those errors. */
function place(
  g: Gradients,
  side: 1 | 2,
  name: string,
  probes: readonly PlaceProbe[],
  items: BudgetItem[],
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
  const t = side === 1 ? 't1' : 't2';
  const w = side === 1 ? 'w1' : 'w2';
  let explained = 0;
  const spread = { total: 0, sensible: 0, latent: 0 };
  for (const p of probes) {
    const wet = p.humidityRatio !== null;
    const perW = wet ? 1 / nW : 0;
    const byT = new Three()
      .add(g.total[t], g.sensible[t], g.latent[t], 1 / n)
      .add(g.total[w], g.sensible[w], g.latent[w], perW * p.wPerK);
    items.push(byT.item('temperature', p.temperature, p.id));
    explained += (byT.total * p.temperature.u) ** 2;
    shared[p.shared]?.t.add(byT.total, byT.sensible, byT.latent, 1);
    if (wet) {
      const byH = new Three().add(g.total[w], g.sensible[w], g.latent[w], perW * p.wPerHumidity);
      items.push(byH.item('humidity', p.humidity, p.id));
      explained += (byH.total * p.humidity.u) ** 2;
      if (p.sharesHumidity) shared[p.shared]?.h.add(byH.total, byH.sensible, byH.latent, 1);
    }
    const dT = p.temperatureC - meanT;
    const dW = p.humidityRatio === null ? 0 : p.humidityRatio - meanW;
    for (const y of OUTPUTS) spread[y] += (g[y][t] * dT + g[y][w] * dW) ** 2;
  }
  // s²/n of the probes among themselves (4.2.3), less what their own errors make of it: the rest is
  // that the air is not the same all over the place.
  const square = n === 1 ? 0 : spread.total / (n - 1) / n;
  if (square <= explained) return;
  const share = Math.sqrt((1 - explained / square) / (n - 1) / n);
  items.push({
    kind: 'spread',
    of: name,
    totalW: share * Math.sqrt(spread.total),
    sensibleW: share * Math.sqrt(spread.sensible),
    latentW: share * Math.sqrt(spread.latent),
    shape: NORMAL,
  });
}
const OUTPUTS = ['total', 'sensible', 'latent'] as const;

/** Pressure moves ṁ of an actual flow (∝ p), and W of probes that tell relative humidity. */
function pressure(g: Gradients, x: BudgetInputs): Three {
  const c = new Three();
  if (x.flow.basis === 'actual') c.add(g.total.y, g.sensible.y, g.latent.y, 1 / x.pPa);
  const meanPerPa = (probes: readonly PlaceProbe[]): number => {
    let sum = 0;
    let n = 0;
    for (const p of probes) {
      if (p.humidityRatio === null) continue;
      sum += p.wPerPa;
      n++;
    }
    return n === 0 ? 0 : sum / n;
  };
  c.add(g.total.w1, g.sensible.w1, g.latent.w1, meanPerPa(x.retProbes));
  return c.add(g.total.w2, g.sensible.w2, g.latent.w2, meanPerPa(x.supplyProbes));
}

/** Standard uncertainties and half-widths of 95 % intervals, W (the ratio: 1). */
export interface CapacityUncertainty {
  uTotalW: number;
  uSensibleW: number;
  uLatentW: number;
  totalU95W: number;
  sensibleU95W: number;
  latentU95W: number;
  /** Null where the total is so doubtful that a ratio to it means nothing. */
  sensibleHeatRatioU95: number | null;
}

/** Adds a budget up. `result` is the capacity that it belongs to. */
export function combine(budget: readonly BudgetItem[], result: Capacity): CapacityUncertainty {
  const ratio = result.sensibleHeatRatio ?? 0;
  let t2 = 0;
  let s2 = 0;
  let l2 = 0;
  let r2 = 0;
  let t4 = 0;
  let s4 = 0;
  let l4 = 0;
  let r4 = 0;
  for (const { totalW, sensibleW, latentW, shape } of budget) {
    const t = totalW * totalW;
    const s = sensibleW * sensibleW;
    const l = latentW * latentW;
    const r = (sensibleW - ratio * totalW) ** 2;
    t2 += t;
    s2 += s;
    l2 += l;
    r2 += r;
    t4 += shape * t * t;
    s4 += shape * s * s;
    l4 += shape * l * l;
    r4 += shape * r * r;
  }
  const total = half(t2, t4);
  // First order in 1/total: good while the total is known to a third.
  const known = result.sensibleHeatRatio !== null && total < result.totalW / 3;
  return {
    uTotalW: Math.sqrt(t2),
    uSensibleW: Math.sqrt(s2),
    uLatentW: Math.sqrt(l2),
    totalU95W: total,
    sensibleU95W: half(s2, s4),
    latentU95W: half(l2, l4),
    sensibleHeatRatioU95: known ? half(r2, r4) / result.totalW : null,
  };
}

/** Half-width of 95 % from Σu² and Σκu⁴. */
function half(square: number, fourth: number): number {
  return square === 0 ? 0 : coverageFactor95(fourth / (square * square)) * Math.sqrt(square);
}
