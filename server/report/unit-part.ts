/** One unit in the report: the result first, then how it came about. */
import type { VerdictMessage } from '../protocol.ts';
import { budgetRows } from '../words/budget.ts';
import { howMade } from '../words/captures.ts';
import { ratio, withInterval, withSign } from '../words/figures.ts';
import type { Scales } from '../words/scales.ts';
import { figureText, shownParts } from '../words/shown.ts';
import { assumed, conditionsWords, VERDICT_WORDS, verdictSentence } from '../words/verdict.ts';
import { airBlocks } from './air-part.ts';
import { airflowBlocks } from './airflow-part.ts';
import type { Block, Fact } from './content.ts';
import { courseBlock } from './course-part.ts';
import { assumedBlock, capturesBlock, probesBlock } from './record-part.ts';
import { type ReportCapture, type ReportVisit, resultOf } from './visit.ts';
import { HEADINGS, NO_CAPTURE, NO_COURSE, NO_INTERVAL, NO_VERDICT, NO_WARNINGS } from './words.ts';
import { t, translated } from '../words/language.ts';

const heading = (text: string): Block => ({ kind: 'heading', level: 3, text });
const plain = (text: string): Block => ({ kind: 'text', text, tone: 'plain' });
const quiet = (text: string): Block => ({ kind: 'text', text, tone: 'quiet' });

export function unitBlocks(
  visit: ReportVisit,
  id: string,
  scales: Scales,
  newPage: boolean,
): Block[] {
  const setup = visit.setup.units[id];
  const unit = visit.units[id];
  if (setup === undefined || unit === undefined) return [];
  const result = resultOf(unit);
  const { form, model, serial, nominalW } = setup.details;
  const made = [form, model, serial && t`serial ${serial}`].filter(Boolean).join(', ');
  const nominal = nominalW === undefined ? '' : t`nominal ${withSign(nominalW, scales.power)}`;
  const about = [made, nominal].filter(Boolean).join('; ');
  const course = courseBlock(visit, id, result, scales);
  return [
    { kind: 'heading', level: 2, text: setup.name, newPage },
    ...(about === '' ? [] : [quiet(about)]),
    ...(result === null ? [plain(NO_CAPTURE)] : resultBlocks(result, setup.name, scales)),
    heading(HEADINGS.course),
    course ?? plain(NO_COURSE),
    ...airBlocks(visit, id, result, scales),
    ...airflowBlocks(visit, id, scales),
    ...budgetBlocks(visit, result, scales),
    heading(HEADINGS.probes),
    ...probesBlock(visit, id, scales),
    ...(unit.captures.length === 0
      ? []
      : [heading(HEADINGS.captures), capturesBlock(unit, scales)]),
    heading(HEADINGS.assumed),
    assumedBlock(visit, setup, scales),
    ...warningBlocks(result),
  ];
}

/** The figure with its parts, and the verdict on it. */
function resultBlocks(
  { capture, unit, verdict }: ReportCapture,
  name: string,
  scales: Scales,
): Block[] {
  const { power } = scales;
  const isHeating = capture.latentW === null;
  const shown = shownParts(capture, power);
  const parts: Fact[] = [];
  const add = (name: string, text: string | null): void => {
    if (text !== null) parts.push({ name, text });
  };
  // In heating the coil is dry: all of it is sensible.
  if (capture.latentW !== null) {
    add(t`Sensible`, figureText(shown.sensible, power));
    add(t`Latent`, figureText(shown.latent, power));
    add(t`Sensible heat ratio`, ratio(capture.sensibleW / capture.totalW));
    const now = unit?.capacity;
    // Water goes with the latent part.
    if (now?.condensateKgh && now.latentW) {
      const kgh = (now.condensateKgh * capture.latentW) / now.latentW;
      add(t`Condensate`, withSign(kgh, scales.condensate));
    }
  }
  return [
    {
      kind: 'figure',
      name: isHeating ? t`Total heating capacity` : t`Total cooling capacity`,
      text: figureText(shown.total, power) ?? '',
      parts,
    },
    quiet(
      t`Mean ${howMade(capture)}.` +
        (capture.note === undefined ? '' : t` Note: ${capture.note}`) +
        (capture.totalU95W === null ? ` ${NO_INTERVAL}` : ''),
    ),
    ...verdictBlocks(verdict, name, scales),
  ];
}

/** The likeliest: what to mind stands among the cautions. */
const MOST_CAUSES = 2;

function verdictBlocks(
  verdict: VerdictMessage | null,
  name: string,
  { temperature, power }: Scales,
): Block[] {
  if (verdict === null) return [quiet(NO_VERDICT)];
  const { expectedW, expectedU95W, causes } = verdict;
  return [
    heading(`${HEADINGS.verdict}: ${VERDICT_WORDS[verdict.verdict].toLowerCase()}`),
    plain(
      t`${verdictSentence(verdict, name)} Expected: ${withInterval(expectedW, expectedU95W, power)} at ${conditionsWords(verdict, temperature)}.`,
    ),
    ...assumed(verdict).map(quiet),
    ...(causes.length === 0
      ? []
      : [
          plain(
            `${HEADINGS.causes}: ${causes
              .slice(0, MOST_CAUSES)
              .map(({ name: what, look }) => `${translated(what)}. ${translated(look)}`)
              .join(' ')}`,
          ),
        ]),
  ];
}

function budgetBlocks(visit: ReportVisit, result: ReportCapture | null, scales: Scales): Block[] {
  const budget = result?.budget ?? null;
  if (budget === null) return [];
  const rows = budgetRows(
    { ...budget, totalU95W: result?.capture.totalU95W ?? budget.totalU95W },
    visit.probes,
    scales.power,
  );
  return [
    heading(HEADINGS.budget),
    {
      kind: 'bars',
      bars: rows.map(({ name, share, percent, alone }) => ({
        ...{ name, share },
        text: t`${percent}, alone ${alone}`,
      })),
    },
  ];
}

function warningBlocks(result: ReportCapture | null): Block[] {
  if (result === null) return [];
  const doubts = result.unit?.doubts ?? [];
  const items = doubts.map(({ text, effect, remedy }) =>
    [text, effect, remedy].filter(Boolean).map(translated).join(' '),
  );
  return [
    heading(HEADINGS.warnings),
    items.length === 0 ? plain(NO_WARNINGS) : { kind: 'list', items },
  ];
}
