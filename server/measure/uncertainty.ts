/** How sure a capacity is: its budget (budget.ts) added up to 95 % intervals (gum.ts). */
import type { BudgetItem } from './budget.ts';
import type { Capacity } from './capacity.ts';
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
