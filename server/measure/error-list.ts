/** The errors of a capacity, one after the other. */
import type { BudgetItem, BudgetKind } from './budget-inputs.ts';
import type { Uncertain } from './gum.ts';

/**
 * What one standard uncertainty of each error does to total, sensible and latent, W (signed). A list is
 * filled for each unit in each second: so it is made of columns, which are written over, and no object
 * is made of an error until somebody asks for `items`. Only the first `n` rows count.
 */
export class ErrorList {
  n = 0;
  readonly kind: BudgetKind[] = [];
  /** Whose it is, see `BudgetItem`. */
  readonly of: (string | null)[] = [];
  readonly totalW: number[] = [];
  readonly sensibleW: number[] = [];
  readonly latentW: number[] = [];
  /** Excess kurtosis. */
  readonly shape: number[] = [];

  static from(items: Iterable<BudgetItem>): ErrorList {
    const list = new ErrorList();
    for (const { kind, of, totalW, sensibleW, latentW, shape } of items) {
      list.push(kind, of, totalW, sensibleW, latentW, shape);
    }
    return list;
  }

  clear(): void {
    this.n = 0;
  }

  /**
   * @param error its size
   * @param total what one unit of it does to the outputs, W
   */
  add(
    kind: BudgetKind,
    of: string | null,
    { u, shape }: Uncertain,
    total: number,
    sensible: number,
    latent: number,
  ): void {
    this.push(kind, of, total * u, sensible * u, latent * u, shape);
  }

  /** The same by what one standard uncertainty does, W. */
  push(
    kind: BudgetKind,
    of: string | null,
    totalW: number,
    sensibleW: number,
    latentW: number,
    shape: number,
  ): void {
    const i = this.n++;
    this.kind[i] = kind;
    this.of[i] = of;
    this.totalW[i] = totalW;
    this.sensibleW[i] = sensibleW;
    this.latentW[i] = latentW;
    this.shape[i] = shape;
  }

  /** Adds up what the same errors do here and there; those of `other` that are not here come behind. */
  gather(other: ErrorList): void {
    for (let i = 0; i < other.n; i++) {
      const kind = other.kind[i];
      if (kind === undefined) return;
      const of = other.of[i] ?? null;
      const totalW = other.totalW[i] ?? NaN;
      const sensibleW = other.sensibleW[i] ?? NaN;
      const latentW = other.latentW[i] ?? NaN;
      // A budget mostly has the same errors in the same order.
      const row = this.#is(i, kind, of) ? i : this.#rowOf(kind, of);
      if (row < 0) {
        this.push(kind, of, totalW, sensibleW, latentW, other.shape[i] ?? NaN);
        continue;
      }
      this.totalW[row] = (this.totalW[row] ?? NaN) + totalW;
      this.sensibleW[row] = (this.sensibleW[row] ?? NaN) + sensibleW;
      this.latentW[row] = (this.latentW[row] ?? NaN) + latentW;
    }
  }

  #is(row: number, kind: BudgetKind, of: string | null): boolean {
    return row < this.n && this.kind[row] === kind && this.of[row] === of;
  }

  #rowOf(kind: BudgetKind, of: string | null): number {
    for (let row = 0; row < this.n; row++) if (this.#is(row, kind, of)) return row;
    return -1;
  }

  items(): BudgetItem[] {
    return this.kind.slice(0, this.n).map((kind, i) => ({
      kind,
      of: this.of[i] ?? null,
      totalW: this.totalW[i] ?? NaN,
      sensibleW: this.sensibleW[i] ?? NaN,
      latentW: this.latentW[i] ?? NaN,
      shape: this.shape[i] ?? NaN,
    }));
  }
}
