/**
 * How sure the difference of two mean capacities of one unit is. An error that lies in both (the same
 * probe's, the same airflow's) moves both and cancels in part; the others add up. First order, as in
 * budget.ts: each error is one input, and of an input that both share the difference of its
 * contributions counts (JCGM 100:2008, 5.1.2 and F.1.2.3).
 */
import type { BudgetItem, BudgetKind } from './budget.ts';
import { halfWidth95, type Uncertain } from './gum.ts';

/** One error: what one standard uncertainty of it does to each output, W (signed). */
export interface Contribution {
  /** Together with `of` the same in two budgets for the same error. */
  kind: BudgetKind;
  /** The probe, the place, the airflow, or which check it is of. */
  of: string;
  totalW: number;
  sensibleW: number;
  latentW: number;
  /** Excess kurtosis of its distribution. */
  shape: number;
}

/** What is another error each time. What the air at a place differs by from spot to spot is not. */
const MOMENTARY: readonly BudgetKind[] = ['scatter'];

/**
 * A budget as contributions that can be told apart from those of another time.
 * @param flow names the airflow in use: another one has another error
 */
export function contributions(budget: readonly BudgetItem[], flow: string): Contribution[] {
  return budget.map(({ kind, of, totalW, sensibleW, latentW, shape }) => ({
    kind,
    // What one spot tells amiss of the whole flow is the spot's, whichever airflow was told.
    of: of ?? (kind === 'airflow' ? flow : ''),
    totalW,
    sensibleW,
    latentW,
    shape,
  }));
}

/** The contributions to a mean over time: an error that was there half of the time counts half. */
export class MeanContributions {
  readonly #sums: Contribution[] = [];
  #n = 0;
  #known = true;

  /** Takes those of one moment; none at all means that the interval was not known. */
  add(list: readonly Contribution[]): void {
    this.#n++;
    if (list.length === 0) this.#known = false;
    this.#sum(list);
  }

  /** Takes those of another stretch of time. */
  addAll(other: MeanContributions): void {
    this.#n += other.#n;
    this.#known &&= other.#known;
    this.#sum(other.#sums);
  }

  /** Whether there is an interval of it. */
  get known(): boolean {
    return this.#known && this.#n > 0;
  }

  /** The mean contributions, one of each error. */
  get means(): Contribution[] {
    const n = this.#n;
    return this.#sums.map((sum) => ({
      ...sum,
      totalW: sum.totalW / n,
      sensibleW: sum.sensibleW / n,
      latentW: sum.latentW / n,
    }));
  }

  #sum(list: readonly Contribution[]): void {
    list.forEach((part, i) => {
      // A budget mostly has the same errors in the same order.
      const sum = same(this.#sums[i], part) ?? find(this.#sums, part);
      if (sum === null) {
        const { kind, of, totalW, sensibleW, latentW, shape } = part;
        this.#sums.push({ kind, of, totalW, sensibleW, latentW, shape });
        return;
      }
      sum.totalW += part.totalW;
      sum.sensibleW += part.sensibleW;
      sum.latentW += part.latentW;
    });
  }
}

function same(a: Contribution | undefined, b: Contribution): Contribution | null {
  return a !== undefined && a.kind === b.kind && a.of === b.of ? a : null;
}

function find(list: readonly Contribution[], of: Contribution): Contribution | null {
  return list.find((each) => same(each, of) !== null) ?? null;
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
