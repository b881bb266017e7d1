/** One unit in the report: the result first, then how it came about. */
import type { VerdictMessage } from '../protocol.ts';
import { budgetRows } from '../words/budget.ts';
import { howMade } from '../words/captures.ts';
import { percent, ratio, withInterval, withSign } from '../words/figures.ts';
import type { Scales } from '../words/scales.ts';
import { figureText, shownParts } from '../words/shown.ts';
import { airBlocks } from './air-part.ts';
import { airflowBlocks } from './airflow-part.ts';
import type { Block, Fact } from './content.ts';
import { courseBlock } from './course-part.ts';
import { assumedBlock, capturesBlock, probesBlock } from './record-part.ts';
import { type ReportCapture, type ReportVisit, resultOf } from './visit.ts';
import {
  BY,
  HEADINGS,
  NO_CAPTURE,
  NO_COURSE,
  NO_INTERVAL,
  NO_VERDICT,
  NO_WARNINGS,
  VERDICT_MEANS,
  VERDICTS,
} from './words.ts';

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
  const made = [form, model, serial && `serial ${serial}`].filter(Boolean).join(', ');
  const nominal = nominalW === undefined ? '' : `nominal ${withSign(nominalW, scales.power)}`;
  const about = [made, nominal].filter(Boolean).join('; ');
  const course = courseBlock(visit, id, result, scales);
  return [
    { kind: 'heading', level: 2, text: setup.name, newPage },
    ...(about === '' ? [] : [quiet(about)]),
    ...(result === null ? [plain(NO_CAPTURE)] : resultBlocks(result, scales)),
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
function resultBlocks({ capture, unit, verdict }: ReportCapture, scales: Scales): Block[] {
  const { power } = scales;
  const isHeating = capture.latentW === null;
  const shown = shownParts(capture, power);
  const parts: Fact[] = [];
  const add = (name: string, text: string | null): void => {
    if (text !== null) parts.push({ name, text });
  };
  // In heating the coil is dry: all of it is sensible.
  if (capture.latentW !== null) {
    add('Sensible', figureText(shown.sensible, power));
    add('Latent', figureText(shown.latent, power));
    add('Sensible heat ratio', ratio(capture.sensibleW / capture.totalW));
    const now = unit?.capacity;
    // Water goes with the latent part.
    if (now?.condensateKgh && now.latentW) {
      const kgh = (now.condensateKgh * capture.latentW) / now.latentW;
      add('Condensate', withSign(kgh, scales.condensate));
    }
  }
  return [
    {
      kind: 'figure',
      name: isHeating ? 'Total heating capacity' : 'Total cooling capacity',
      text: figureText(shown.total, power) ?? '',
      parts,
    },
    quiet(
      `Mean ${howMade(capture)}.` +
        (capture.note === undefined ? '' : ` Note: ${capture.note}`) +
        (capture.totalU95W === null ? ` ${NO_INTERVAL}` : ''),
    ),
    ...verdictBlocks(verdict, isHeating, scales),
  ];
}

function verdictBlocks(
  verdict: VerdictMessage | null,
  isHeating: boolean,
  scales: Scales,
): Block[] {
  if (verdict === null) return [quiet(NO_VERDICT)];
  const { expectedW, expectedU95W, limit, probability, conditions, by } = verdict;
  const { temperature, power } = scales;
  const at = [
    `${withSign(conditions.outdoorC, temperature)} outdoors`,
    `${withSign(conditions.indoorC, temperature)} indoors`,
  ];
  if (conditions.indoorWetBulbC !== null && !isHeating) {
    at.push(`${withSign(conditions.indoorWetBulbC, temperature)} wet bulb`);
  }
  return [
    heading(`${HEADINGS.verdict}: ${VERDICTS[verdict.verdict]}`),
    plain(
      `${VERDICT_MEANS[verdict.verdict]} Expected: ${withInterval(expectedW, expectedU95W, power)} ` +
        `at ${at.join(', ')}, ${BY[by]}. To be reached: ${percent(100 * limit)} of it. ` +
        `Probability that it is: ${probabilityText(probability)}.`,
    ),
  ];
}

/** Never "0 %" or "100 %" of what is not certain. */
function probabilityText(probability: number): string {
  if (probability > 0.99) return 'over 99\u202f%';
  return probability < 0.01 ? 'under 1\u202f%' : percent(100 * probability);
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
        text: `${percent}, alone ${alone}`,
      })),
    },
  ];
}

function warningBlocks(result: ReportCapture | null): Block[] {
  if (result === null) return [];
  const doubts = result.unit?.doubts ?? [];
  const items = doubts.map(({ text, effect, remedy }) =>
    [text, effect, remedy].filter(Boolean).join(' '),
  );
  return [
    heading(HEADINGS.warnings),
    items.length === 0 ? plain(NO_WARNINGS) : { kind: 'list', items },
  ];
}
