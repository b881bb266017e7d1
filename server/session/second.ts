/** One second of a unit as captures take it, and the last ones, kept. */
import type { Airflow, Mode } from '../../adapters/contract.ts';
import type { BudgetItem } from '../measure/budget.ts';
import { type Contribution, contributions } from '../measure/difference.ts';
import type { CapacitySnapshot } from '../protocol.ts';

export interface Second {
  t: number;
  figures: CapacitySnapshot;
  mode: Mode | null;
  simulated: boolean;
  /** The errors of the figures; null in seconds of which they are not kept. */
  errors: readonly Contribution[] | null;
}

/** What errors do changes as slowly as the air: it is kept of one second in ten, ms. */
const ERRORS_EVERY_MS = 10_000;

/** The errors of the second that ends at `t`; null in seconds of which they are not kept. */
export function errorsOf(
  t: number,
  budget: readonly BudgetItem[],
  airflow: Airflow | null,
): Second['errors'] {
  if (t % ERRORS_EVERY_MS !== 0 || airflow === null) return null;
  const { source, flowM3s, basis, plane, limitPct, limitK } = airflow;
  // The same line told again is the same airflow, with the same error.
  return contributions(budget, [source, flowM3s, basis, plane, limitPct, limitK].join(' '));
}

/** A span may begin before it was called steady: by the strict test 30 min before. */
const KEPT = 2400;

/** The last seconds, in a ring. */
export class RecentSeconds {
  readonly #ring: Second[] = [];
  /** How many were added. */
  #n = 0;

  add(second: Second): void {
    this.#ring[this.#n % KEPT] = second;
    this.#n++;
  }

  /** Those from `from` to `to`, oldest first; looks at no others than these and later ones. */
  between(from: number, to: number): Second[] {
    const found: Second[] = [];
    for (let i = this.#n - 1; i >= 0 && i >= this.#n - KEPT; i--) {
      const second = this.#ring[i % KEPT];
      if (second === undefined || second.t < from) break;
      if (second.t <= to) found.push(second);
    }
    return found.reverse();
  }
}
