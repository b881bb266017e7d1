/** How sure a capacity is: its budget (budget.ts) added up to 95 % intervals (gum.ts). */
import { type AirModel, REAL_AIR } from './air-model.ts';
import {
  type BudgetInputs,
  type BudgetItem,
  type BudgetKind,
  eachError,
  type ErrorSink,
} from './budget.ts';
import type { Capacity } from './capacity.ts';
import { coverageFactor95, type Uncertain } from './gum.ts';

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

/** An error that other units may share: what one standard uncertainty of it does to the total, W. */
export interface SharedPart {
  kind: BudgetKind;
  /** Whose it is, see `BudgetItem`. */
  of: string | null;
  w: number;
  shape: number;
}

/** Σu² and Σκu⁴ of a total's errors, and those among them that other units may share. */
export interface TotalErrors {
  square: number;
  fourth: number;
  shared: readonly SharedPart[];
}

/** The uncertainty of a capacity; `result` is `capacity(...)` of the same inputs. */
export function capacityUncertainty(
  result: Capacity,
  x: BudgetInputs,
  model: AirModel = REAL_AIR,
): CapacityUncertainty {
  const sums = new Sums(result);
  eachError(result, x, sums, model);
  return sums.uncertainty();
}

/** Adds a budget up. `result` is the capacity that it belongs to. */
export function combine(budget: readonly BudgetItem[], result: Capacity): CapacityUncertainty {
  const sums = new Sums(result);
  for (const { totalW, sensibleW, latentW, shape } of budget) {
    sums.addPart(totalW, sensibleW, latentW, shape);
  }
  return sums.uncertainty();
}

/** Σu² and Σκu⁴ of total, sensible, latent and the sensible heat ratio. */
class Sums implements ErrorSink {
  readonly #result: Capacity;
  readonly #ratio: number;
  #t2 = 0;
  #s2 = 0;
  #l2 = 0;
  #r2 = 0;
  #t4 = 0;
  #s4 = 0;
  #l4 = 0;
  #r4 = 0;
  #returnSpread = 0;
  #supplySpread = 0;
  readonly #shared: SharedPart[] = [];

  constructor(result: Capacity) {
    this.#result = result;
    this.#ratio = result.sensibleHeatRatio ?? 0;
  }

  add(
    kind: BudgetKind,
    of: string | null,
    { u, shape }: Uncertain,
    total: number,
    sensible: number,
    latent: number,
  ): void {
    if (kind === 'spread') {
      if (of === 'return') this.#returnSpread = Math.abs(total * u);
      else this.#supplySpread = Math.abs(total * u);
    } else if (kind !== 'temperature' && kind !== 'humidity') {
      this.#shared.push({ kind, of, w: total * u, shape });
    }
    this.addPart(total * u, sensible * u, latent * u, shape);
  }

  /** What one standard uncertainty does to each, W. */
  addPart(totalW: number, sensibleW: number, latentW: number, shape: number): void {
    const t = totalW * totalW;
    const s = sensibleW * sensibleW;
    const l = latentW * latentW;
    const r = (sensibleW - this.#ratio * totalW) ** 2;
    this.#t2 += t;
    this.#s2 += s;
    this.#l2 += l;
    this.#r2 += r;
    this.#t4 += shape * t * t;
    this.#s4 += shape * s * s;
    this.#l4 += shape * l * l;
    this.#r4 += shape * r * r;
  }

  uncertainty(): CapacityUncertainty {
    const { totalW, sensibleHeatRatio } = this.#result;
    const total = half(this.#t2, this.#t4);
    // First order in 1/total: good while the total is known to a third.
    const known = sensibleHeatRatio !== null && total < totalW / 3;
    return {
      uTotalW: Math.sqrt(this.#t2),
      uSensibleW: Math.sqrt(this.#s2),
      uLatentW: Math.sqrt(this.#l2),
      totalU95W: total,
      sensibleU95W: half(this.#s2, this.#s4),
      latentU95W: half(this.#l2, this.#l4),
      sensibleHeatRatioU95: known ? half(this.#r2, this.#r4) / totalW : null,
      uReturnSpreadW: this.#returnSpread,
      uSupplySpreadW: this.#supplySpread,
      total: { square: this.#t2, fourth: this.#t4, shared: this.#shared },
    };
  }
}

/** Half-width of 95 % from Σu² and Σκu⁴. */
function half(square: number, fourth: number): number {
  return square === 0 ? 0 : coverageFactor95(fourth / (square * square)) * Math.sqrt(square);
}
