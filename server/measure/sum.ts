/**
 * How sure the sum of several units' capacities is. Errors that units share (the pressure, what the
 * probes of one check have in common, the instrument that their airflows were measured with) move all of
 * them the same way and add up as they are; all others add up by their squares (JCGM 100:2008, 5.1.2
 * and F.1.2.3).
 */
import type { BudgetKind } from './budget-inputs.ts';
import { coverageFactor95 } from './gum.ts';
import type { TotalErrors } from './uncertainty.ts';

/** One unit of a sum. */
export interface UnitErrors {
  errors: TotalErrors;
  /** Names the error of its airflow: units with the same name share it. */
  flow: string;
}

/** An error that units may share: what one standard uncertainty of it does to the sum so far, W. */
interface SharedPart {
  kind: BudgetKind;
  of: string | null;
  w: number;
}

/** What hangs at one unit alone: its probes, and how they stand for its air. */
const isOwn = (kind: BudgetKind): boolean =>
  kind === 'temperature' || kind === 'humidity' || kind === 'spread' || kind === 'zero';

/** Half-width of the 95 % interval of the sum, W. */
export function sumU95(units: Iterable<UnitErrors>): number {
  let square = 0;
  let fourth = 0;
  const together: SharedPart[] = [];
  for (const { errors, flow } of units) {
    square += errors.square;
    fourth += errors.fourth;
    const { list } = errors;
    for (let i = 0; i < list.n; i++) {
      const kind = list.kind[i];
      if (kind === undefined || isOwn(kind)) continue;
      const of = list.of[i] ?? (kind === 'airflow' ? flow : null);
      const w = list.totalW[i] ?? NaN;
      const same = together.find((part) => part.kind === kind && part.of === of);
      if (same === undefined) {
        together.push({ kind, of, w });
        continue;
      }
      // (a + b)² for a² + b², and likewise its fourth power.
      square += 2 * same.w * w;
      fourth += (list.shape[i] ?? NaN) * ((same.w + w) ** 4 - same.w ** 4 - w ** 4);
      same.w += w;
    }
  }
  return square > 0 ? coverageFactor95(fourth / (square * square)) * Math.sqrt(square) : 0;
}
