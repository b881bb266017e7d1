/**
 * How sure the difference of two mean capacities of one unit is. An error that lies in both (the same
 * probe's, the same airflow's) moves both and cancels in part; the others add up. First order, as in
 * budget.ts: each error is one input, and of an input that both share the difference of its
 * contributions counts (JCGM 100:2008, 5.1.2 and F.1.2.3).
 */
import type { BudgetItem, BudgetKind } from './budget.ts';
import { ErrorList } from './error-list.ts';
import { halfWidth95, type Uncertain } from './gum.ts';

/** What is another error each time. What the air at a place differs by from spot to spot is not. */
const MOMENTARY: readonly BudgetKind[] = ['scatter'];

/**
 * A copy of a budget whose errors can be told apart from those of another time.
 * @param flow names the airflow in use: another one has another error
 */
export function contributions(budget: ErrorList, flow: string): ErrorList {
  const copy = new ErrorList();
  copy.gather(budget);
  for (let i = 0; i < copy.n; i++) {
    // What one spot tells amiss of the whole flow is the spot's, whichever airflow was told.
    copy.of[i] ??= copy.kind[i] === 'airflow' ? flow : '';
  }
  return copy;
}

/** The contributions to a mean over time: an error that was there half of the time counts half. */
export class MeanContributions {
  readonly #sums = new ErrorList();
  #n = 0;
  #known = true;

  /** Takes those of one moment; none at all means that the interval was not known. */
  add(list: ErrorList): void {
    this.#n++;
    if (list.n === 0) this.#known = false;
    this.#sums.gather(list);
  }

  /** Takes those of another stretch of time. */
  addAll(other: MeanContributions): void {
    this.#n += other.#n;
    this.#known &&= other.#known;
    this.#sums.gather(other.#sums);
  }

  /** Whether there is an interval of it. */
  get known(): boolean {
    return this.#known && this.#n > 0;
  }

  /** The mean contributions, one of each error. */
  get means(): BudgetItem[] {
    const n = this.#n;
    return this.#sums.items().map((sum) => ({
      ...sum,
      totalW: sum.totalW / n,
      sensibleW: sum.sensibleW / n,
      latentW: sum.latentW / n,
    }));
  }
}

const find = (list: readonly BudgetItem[], { kind, of }: BudgetItem): BudgetItem | null =>
  list.find((each) => each.kind === kind && each.of === of) ?? null;

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
  const later = after.means;
  const parts: Uncertain[] = [];
  for (const part of before.means) {
    const match = MOMENTARY.includes(part.kind) ? null : find(later, part);
    if (match !== null) later.splice(later.indexOf(match), 1);
    parts.push({ u: Math.abs((match?.[output] ?? 0) - part[output]), shape: part.shape });
  }
  for (const part of later) parts.push({ u: Math.abs(part[output]), shape: part.shape });
  return { uW: Math.hypot(...parts.map(({ u }) => u)), u95W: halfWidth95(parts) };
}
