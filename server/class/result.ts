/** What a trainee found, beside what was true. Pure. */
import type { TruthMean } from '../../simulator/truth-series.ts';
import type { State } from '../protocol.ts';
import type { Found, FoundCapture, Result } from '../protocol/class.ts';
import type { Decision } from './decisions.ts';
import { UNIT } from './site.ts';

export interface Judged {
  /** What was true from one time to another, ms; null where nobody knows. */
  truth: (fromT: number, toT: number) => TruthMean | null;
  decision: { cause: Decision; t: number } | null;
  right: readonly Decision[];
  /** From when on their time counts, ms. */
  sinceT: number;
}

/** @param state the trainee's visit */
export function resultOf(
  { captures, airflows }: Pick<State, 'captures' | 'airflows'>,
  { truth, decision, right, sinceT }: Judged,
): Result {
  const own = captures.filter(({ unit, struck }) => unit === UNIT && struck === undefined);
  const [first] = own;
  const seconds = (t: number | undefined): number | null =>
    t === undefined ? null : Math.max(0, (t - sinceT) / 1000);
  return {
    captures: own.map((capture): FoundCapture => {
      const { from, to, totalW, totalU95W, sensibleW, sensibleU95W, latentW, latentU95W } = capture;
      const is = truth(from, to);
      return {
        ...{ from, to },
        total: found(totalW, totalU95W, is?.totalW),
        sensible: found(sensibleW, sensibleU95W, is?.sensibleW),
        latent: latentW === null ? null : found(latentW, latentU95W, is?.latentW),
      };
    }),
    airflow: airflowFound(airflows, truth),
    decision,
    right: decision === null ? null : right.includes(decision.cause),
    decidedS: seconds(decision?.t),
    capturedS: seconds(first?.to),
  };
}

/** The one that was measured last, of those at the supply: the truth is that of the air that leaves. */
function airflowFound(airflows: State['airflows'], truth: Judged['truth']): Found | null {
  const last = airflows.filter(({ unit, plane }) => unit === UNIT && plane === 'supply').at(-1);
  if (last === undefined) return null;
  return found(last.flowM3s, last.u95M3s, truth(last.from, last.t)?.flowM3s);
}

function found(value: number, u95: number | null, is: number | undefined): Found {
  const truth = is ?? null;
  const inside = truth === null || u95 === null ? null : Math.abs(value - truth) <= u95;
  return { value, u95, truth, inside };
}
