/** The airflows that were measured in a visit, so that one can be marked as the baseline of later ones. */
import type { AirflowResult } from '../../protocol.ts';
import { shiftedSpan } from '../clock-set.ts';
import { sent } from '../../words/sent.ts';

/** More than anybody measures in a visit. */
export const MOST_RESULTS = 200;

const isSame = (a: AirflowResult, b: AirflowResult): boolean =>
  a.unit === b.unit && a.t === b.t && a.method === b.method;

/** The list with a result at its end, or in the place of the same one, told anew; the newest 200. */
export function withAirflow(
  list: readonly AirflowResult[],
  result: AirflowResult,
): AirflowResult[] {
  const at = list.findIndex((held) => isSame(held, result));
  return at < 0 ? [...list, result].slice(-MOST_RESULTS) : list.with(at, result);
}

export class MeasuredAirflows {
  #all: readonly AirflowResult[] = [];

  tell(result: AirflowResult): void {
    this.#all = withAirflow(this.#all, result);
  }

  /** Marks the one that ended at `t`, ms, or takes that back. @returns it as it is now, or why not */
  baseline(unit: string, t: number, isOne: boolean): AirflowResult | string {
    const found = this.#all.findLast((held) => held.unit === unit && held.t === t);
    if (found === undefined) {
      return sent`airflowT: no airflow of "${unit}" was measured until ${t}: name one as it was told`;
    }
    const { baseline: _, ...result } = found;
    const marked = isOne ? { ...result, baseline: true as const } : result;
    this.tell(marked);
    return marked;
  }

  clockSet(shiftMs: number): void {
    this.#all = this.#all.map((result) => shiftedSpan(result, shiftMs));
  }
}
