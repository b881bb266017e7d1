/**
 * The budget of a capacity: its independent errors, each with what it does to total, sensible and
 * latent, by first-order propagation with sensitivities in closed form (JCGM 100:2008, 5.1).
 *
 * Each error of a probe is one input, so that the correlation of temperature and humidity ratio (which
 * come from the same readings) needs no matrix. Errors that several probes share (what a side-by-side
 * check cannot see) are one input that moves them all.
 */
import { type AirModel, REAL_AIR } from './air-model.ts';
import type { BudgetInputs, BudgetItem, PlaceProbe } from './budget-inputs.ts';
import type { Capacity } from './capacity.ts';
import { ErrorList } from './error-list.ts';
import { gradients, type Side } from './gradients.ts';
import { none, placeErrors, type Three, UNKNOWN } from './place-errors.ts';

export * from './budget-inputs.ts';

/** The budget of a capacity; `result` is `capacity(...)` of the same inputs. */
export function capacityBudget(
  result: Capacity,
  x: BudgetInputs,
  model: AirModel = REAL_AIR,
): BudgetItem[] {
  const errors = new ErrorList();
  eachError(result, x, errors, model);
  return errors.items();
}

/** What an error that probes share does by way of their temperatures and humidities. */
interface Shared {
  errors: BudgetInputs['shared'][number];
  t: Three;
  h: Three;
}
const NOT_SHARED: readonly Shared[] = [];

/** Adds the errors of a capacity to a list; `result` is `capacity(...)` of the same inputs. */
export function eachError(
  result: Capacity,
  x: BudgetInputs,
  list: ErrorList,
  model: AirModel = REAL_AIR,
): void {
  const { ret, sup } = gradients(result, x, model);
  const zero = x.zero === undefined ? null : { found: none(), common: none() };
  const shared =
    x.shared.length === 0 ? NOT_SHARED : x.shared.map((e) => ({ errors: e, t: none(), h: none() }));
  placeErrors(ret, 'return', x.retProbes, x.retEvenness ?? UNKNOWN, list, shared, zero);
  placeErrors(sup, 'supply', x.supplyProbes, x.supplyEvenness ?? UNKNOWN, list, shared, zero);
  for (const { errors, t, h } of shared) {
    const { of } = errors;
    list.add('common-temperature', of, errors.temperature, t.total, t.sensible, t.latent);
    list.add('common-humidity', of, errors.humidity, h.total, h.sensible, h.latent);
  }
  if (x.zero !== undefined && zero !== null) {
    const { of, found, common } = x.zero;
    list.add('zero', of, found, zero.found.total, zero.found.sensible, zero.found.latent);
    const { total, sensible, latent } = zero.common;
    list.add('common-temperature', of, common, total, sensible, latent);
  }
  list.add('airflow', null, x.flowRelative, result.totalW, result.sensibleW, result.latentW);
  if (x.spot !== undefined) {
    const { of, relative } = x.spot;
    list.add('airflow', of, relative, result.totalW, result.sensibleW, result.latentW);
  }
  pressure(result, ret, sup, x, list);
}

/** Pressure moves ṁ of an actual flow (∝ p), and W of probes that tell relative humidity. */
function pressure(result: Capacity, ret: Side, sup: Side, x: BudgetInputs, list: ErrorList): void {
  const flow = x.flow.basis === 'actual' ? 1 / x.pPa : 0;
  const w1 = meanPerPa(x.retProbes);
  const w2 = meanPerPa(x.supplyProbes);
  list.add(
    'pressure',
    null,
    x.pressurePa,
    result.totalW * flow + ret.totalW * w1 + sup.totalW * w2,
    result.sensibleW * flow + ret.sensibleW * w1 + sup.sensibleW * w2,
    result.latentW * flow + ret.latentW * w1 + sup.latentW * w2,
  );
}

/** ∂W/∂p of the mean over those that tell humidity, kg/kg a pascal. */
export function meanPerPa(probes: readonly PlaceProbe[]): number {
  let sum = 0;
  let weights = 0;
  for (const p of probes) {
    if (p.humidityRatio === null) continue;
    sum += p.flowShare * p.wPerPa;
    weights += p.flowShare;
  }
  return weights === 0 ? 0 : sum / weights;
}
