/** A visit as CSV, to look at a failure. */
import { at, type Visit } from './visit.ts';
import type { Watch } from './watch.ts';

const HEAD = 't,segment,trueW,plateauTrueW,measuredW,state,plateauW,plateauU95W,steadyInS,periodS';

/** A line a second; t in seconds since the visit began. What is not known is empty. */
export function csvOf(visit: Visit, seen: Watch): string {
  const lines = [HEAD];
  const cell = (values: Float64Array, i: number): string => {
    const value = at(values, i);
    return Number.isNaN(value) ? '' : value.toFixed(1);
  };
  for (let i = 0; i < visit.trueW.length; i++) {
    const segment = visit.segments.findIndex(({ from, to }) => from <= i && i <= to);
    lines.push(
      [
        ...[i, segment],
        ...[visit.trueW, visit.plateauW, seen.totalW].map((values) => cell(values, i)),
        seen.states[i],
        ...[seen.plateauW, seen.plateauU95W, seen.steadyInS, seen.periodS].map((v) => cell(v, i)),
      ].join(','),
    );
  }
  return lines.join('\n');
}
