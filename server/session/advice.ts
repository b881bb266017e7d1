/** The budget of a unit's interval as it is sent: shares, largest first, and where to begin. */
import type { BudgetItem } from '../measure/uncertainty.ts';
import type { Budget, BudgetLine } from '../protocol.ts';
import { sent } from '../words/sent.ts';

/** What a person has done already, and need not be advised to do. */
interface Known {
  checked: boolean;
  measured: boolean;
  walked: Readonly<Record<'return' | 'supply', boolean>>;
}

/** A source with less than this share is not worth the trouble. */
const WORTH_IT = 0.25;

/**
 * @param nameOf the name of a probe, by its id
 * @param known what has been done already: return and supply probes are of one check; the airflow was
 *   measured at this unit; a place was walked along
 */
export function budgetOf(
  unit: string,
  t: number,
  totalU95W: number,
  items: readonly BudgetItem[],
  nameOf: (id: string) => string,
  known: Known,
): Omit<Budget, 'regions'> {
  let square = 0;
  for (const { totalW } of items) square += totalW * totalW;
  const lines: BudgetLine[] = items
    .map(({ kind, of, totalW }) => ({ kind, of, totalW, share: (totalW * totalW) / square }))
    .sort((a, b) => b.share - a.share);
  return {
    type: 'budget',
    unit,
    t,
    totalU95W,
    items: lines,
    advice: advise(lines, nameOf, known),
  };
}

function advise(
  lines: readonly BudgetLine[],
  nameOf: (id: string) => string,
  { checked, measured, walked }: Known,
): string | null {
  const share = (kinds: readonly BudgetLine['kind'][]): number =>
    lines.reduce((sum, line) => (kinds.includes(line.kind) ? sum + line.share : sum), 0);
  // No number here: a sum of several bars reads as another figure for one of them.
  const much = (of: string, remedy: string): string =>
    sent`Much of the interval comes from ${of}: ${remedy}.`;
  const first = lines[0];
  if (first === undefined) return null;
  const probes = share(['temperature', 'humidity']);
  const airflow = share(['airflow']);
  const spread = share(['spread']);
  if (!checked && probes >= WORTH_IT && probes >= Math.max(airflow, spread)) {
    const which =
      first.of !== null && (first.kind === 'humidity' || first.kind === 'temperature')
        ? sent`${nameOf(first.of)}’s ${first.kind}`
        : sent`the probes’ own errors`;
    return much(which, sent`check the probes side by side`);
  }
  if (spread >= WORTH_IT && spread >= airflow) {
    const atReturn = lines.find(({ kind }) => kind === 'spread')?.of === 'return';
    const where = atReturn ? 'intake' : 'outlet';
    const isWalked = walked[atReturn ? 'return' : 'supply'];
    return much(
      sent`air that differs from spot to spot`,
      isWalked
        ? sent`hang more probes along the ${where}`
        : sent`walk the ${where}, or hang more probes along it`,
    );
  }
  if (airflow >= WORTH_IT) {
    return much(
      sent`the airflow`,
      measured ? sent`traverse it again with more points` : sent`measure the outlet by a traverse`,
    );
  }
  return share(['pressure']) >= WORTH_IT
    ? much(sent`the pressure`, sent`enter what a barometer reads`)
    : null;
}
