/** How sure a capacity is: its budget (budget.ts) added up to 95 % intervals (gum.ts). */
import { type AirModel, REAL_AIR } from './air-model.ts';
import { type BudgetInputs, type BudgetItem, eachError } from './budget.ts';
import type { Capacity } from './capacity.ts';
import { ErrorList } from './error-list.ts';
import { coverageFactor95 } from './gum.ts';

export * from './budget.ts';

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
  /** What uneven air alone makes of the total at return and supply, standard uncertainties. */
  uReturnSpreadW: number;
  uSupplySpreadW: number;
  /** Of the total, as the sum of several units needs it. */
  total: TotalErrors;
}

/** The errors of a total, and their Σu² and Σκu⁴, as the sum of several units needs them. */
export interface TotalErrors {
  square: number;
  fourth: number;
  list: ErrorList;
}

/**
 * The uncertainty of a capacity; `result` is `capacity(...)` of the same inputs.
 * @param errors is emptied and filled with its budget
 */
export function capacityUncertainty(
  result: Capacity,
  x: BudgetInputs,
  model: AirModel = REAL_AIR,
  errors = new ErrorList(),
): CapacityUncertainty {
  errors.clear();
  eachError(result, x, errors, model);
  return addedUp(errors, result);
}

/** Adds a budget up. `result` is the capacity that it belongs to. */
export function combine(budget: readonly BudgetItem[], result: Capacity): CapacityUncertainty {
  return addedUp(ErrorList.from(budget), result);
}

/** Σu² and Σκu⁴ of total, sensible, latent and the sensible heat ratio, and what follows from them. */
function addedUp(list: ErrorList, { totalW, sensibleHeatRatio }: Capacity): CapacityUncertainty {
  const ratio = sensibleHeatRatio ?? 0;
  let t2 = 0;
  let s2 = 0;
  let l2 = 0;
  let r2 = 0;
  let t4 = 0;
  let s4 = 0;
  let l4 = 0;
  let r4 = 0;
  let uReturnSpreadW = 0;
  let uSupplySpreadW = 0;
  for (let i = 0; i < list.n; i++) {
    const uTotalW = list.totalW[i] ?? NaN;
    const uSensibleW = list.sensibleW[i] ?? NaN;
    const uLatentW = list.latentW[i] ?? NaN;
    const shape = list.shape[i] ?? NaN;
    const t = uTotalW * uTotalW;
    const s = uSensibleW * uSensibleW;
    const l = uLatentW * uLatentW;
    const r = (uSensibleW - ratio * uTotalW) ** 2;
    t2 += t;
    s2 += s;
    l2 += l;
    r2 += r;
    t4 += shape * t * t;
    s4 += shape * s * s;
    l4 += shape * l * l;
    r4 += shape * r * r;
    if (list.kind[i] !== 'spread') continue;
    if (list.of[i] === 'return') uReturnSpreadW = Math.abs(uTotalW);
    else uSupplySpreadW = Math.abs(uTotalW);
  }
  const totalU95W = half(t2, t4);
  // First order in 1/total: good while the total is known to a third.
  const known = sensibleHeatRatio !== null && totalU95W < totalW / 3;
  return {
    uTotalW: Math.sqrt(t2),
    uSensibleW: Math.sqrt(s2),
    uLatentW: Math.sqrt(l2),
    totalU95W,
    sensibleU95W: half(s2, s4),
    latentU95W: half(l2, l4),
    sensibleHeatRatioU95: known ? half(r2, r4) / totalW : null,
    uReturnSpreadW,
    uSupplySpreadW,
    total: { square: t2, fourth: t4, list },
  };
}

/** Half-width of 95 % from Σu² and Σκu⁴. */
function half(square: number, fourth: number): number {
  return square === 0 ? 0 : coverageFactor95(fourth / (square * square)) * Math.sqrt(square);
}
