/** A verdict in a word, and which of them counts. Pure. */
import {
  type Capture,
  captureKey,
  type State,
  type VerdictMessage,
} from '../../server/protocol.ts';
import { t } from '../../server/words/language.ts';

type Verdict = VerdictMessage['verdict'];

/** The verdict where there is little room. */
export const SHORT_WORDS: Record<Verdict, string> = {
  ...{ meets: t`meets`, 'falls-short': t`falls short` },
  ...{ 'cannot-tell': t`cannot tell`, 'not-asked': t`not asked` },
};

/** A shape for each, beside the word. */
export const VERDICT_MARKS: Record<Verdict, string> = {
  meets: '●',
  'falls-short': '▼',
  'cannot-tell': '◐',
  'not-asked': '○',
};

/** The newest verdict of a unit whose capture stands, with that capture; null: there is none. */
export function verdictOf(
  { verdicts, captures }: Pick<State, 'verdicts' | 'captures'>,
  unit: string | null,
): { verdict: VerdictMessage; capture: Capture } | null {
  for (const verdict of verdicts.toReversed()) {
    if (verdict.unit !== unit) continue;
    const key = captureKey(verdict);
    const capture = captures.find((each) => captureKey(each) === key);
    if (capture !== undefined && capture.struck === undefined) return { verdict, capture };
  }
  return null;
}
