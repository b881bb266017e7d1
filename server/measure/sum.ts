/**
 * How sure the sum of several units' capacities is. Errors that units share (the pressure, what the
 * probes of one check have in common, the instrument that their airflows were measured with) move all of
 * them the same way and add up as they are; all others add up by their squares (JCGM 100:2008, 5.1.2
 * and F.1.2.3).
 */
import { coverageFactor95 } from './gum.ts';
import type { SharedPart, TotalErrors } from './uncertainty.ts';

/** One unit of a sum. */
export interface UnitErrors {
  errors: TotalErrors;
  /** Names the error of its airflow: units with the same name share it. */
  flow: string;
}

/** Half-width of the 95 % interval of the sum, W. */
export function sumU95(units: Iterable<UnitErrors>): number {
  let square = 0;
  let fourth = 0;
  const together: SharedPart[] = [];
  for (const { errors, flow } of units) {
    square += errors.square;
    fourth += errors.fourth;
    for (const { kind, of: whose, w, shape } of errors.shared) {
      const of = kind === 'airflow' ? (whose ?? flow) : whose;
      const same = together.find((part) => part.kind === kind && part.of === of);
      if (same === undefined) {
        together.push({ kind, of, w, shape });
        continue;
      }
      // (a + b)² for a² + b², and likewise its fourth power.
      square += 2 * same.w * w;
      fourth += shape * ((same.w + w) ** 4 - same.w ** 4 - w ** 4);
      same.w += w;
    }
  }
  return square > 0 ? coverageFactor95(fourth / (square * square)) * Math.sqrt(square) : 0;
}
