/**
 * How sure the difference of two mean capacities of one unit is. An error that lies in both (the same
 * probe's, the same airflow's) moves both and cancels in part; the others add up. First order, as in
 * budget.ts: each error is one input, and of an input that both share the difference of its
 * contributions counts (JCGM 100:2008, 5.1.2 and F.1.2.3).
 */
import type { BudgetItem } from './budget.ts';
import { halfWidth95, type Uncertain } from './gum.ts';

/** One error: what one standard uncertainty of it does to each output, W (signed). */
export interface Contribution {
  /** The same in two budgets for the same error. */
  key: string;
  /** False for what is another error each time, as what the air at a place differs by. */
  lasts: boolean;
  totalW: number;
  sensibleW: number;
  latentW: number;
  /** Excess kurtosis of its distribution. */
  shape: number;
}

/**
 * A budget as contributions that can be told apart from those of another time.
 * @param flow names the airflow in use: another one has another error
 */
export function contributions(budget: readonly BudgetItem[], flow: string): Contribution[] {
  let commons = 0;
  return budget.map(({ kind, of, totalW, sensibleW, latentW, shape }) => {
    let name = of ?? '';
    if (kind === 'airflow') name = flow;
    // A pair for each check, in the order of the checks.
    else if (kind === 'common-temperature') name = String(commons);
    else if (kind === 'common-humidity') name = String(commons++);
    const lasts = kind !== 'spread' && kind !== 'scatter';
    return { key: `${kind} ${name}`, lasts, totalW, sensibleW, latentW, shape };
  });
}

/** The contributions to a mean over time: an error that was there half of the time counts half. */
export class MeanContributions {
  readonly #sums = new Map<string, Contribution>();
  #n = 0;
  #known = true;

  /** Takes those of one moment; none at all means that the interval was not known. */
  add(list: readonly Contribution[]): void {
    this.#n++;
    if (list.length === 0) this.#known = false;
    for (const part of list) this.#sum(part);
  }

  /** Takes those of another stretch of time. */
  addAll(other: MeanContributions): void {
    this.#n += other.#n;
    this.#known &&= other.#known;
    for (const part of other.#sums.values()) this.#sum(part);
  }

  /** Whether there is an interval of it. */
  get known(): boolean {
    return this.#known && this.#n > 0;
  }

  /** The mean contribution of an error, 0 for one that it does not hold. */
  mean(key: string, output: Output): number {
    return (this.#sums.get(key)?.[output] ?? 0) / this.#n;
  }

  get errors(): Iterable<Contribution> {
    return this.#sums.values();
  }

  #sum(part: Contribution): void {
    const sum = this.#sums.get(part.key);
    if (sum === undefined) {
      this.#sums.set(part.key, { ...part });
      return;
    }
    sum.totalW += part.totalW;
    sum.sensibleW += part.sensibleW;
    sum.latentW += part.latentW;
  }
}

type Output = 'totalW' | 'sensibleW' | 'latentW';

/**
 * How sure after less before is in one output, by the errors of probes, airflow and pressure: standard
 * uncertainty and half-width of 95 %, W; null where the interval of one of them is not known. The
 * scatter of both means is not in it.
 */
export function differenceUncertainty(
  before: MeanContributions,
  after: MeanContributions,
  output: Output,
): { uW: number; u95W: number } | null {
  if (!before.known || !after.known) return null;
  const parts: Uncertain[] = [];
  for (const { key, lasts, shape } of before.errors) {
    const earlier = before.mean(key, output);
    const later = after.mean(key, output);
    if (lasts) parts.push({ u: Math.abs(later - earlier), shape });
    else parts.push({ u: Math.abs(earlier), shape }, { u: Math.abs(later), shape });
  }
  const shared = new Set(Array.from(before.errors, ({ key }) => key));
  for (const { key, shape } of after.errors) {
    if (!shared.has(key)) parts.push({ u: Math.abs(after.mean(key, output)), shape });
  }
  return { uW: Math.hypot(...parts.map(({ u }) => u)), u95W: halfWidth95(parts) };
}
