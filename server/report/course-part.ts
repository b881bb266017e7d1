/** The figure over the whole visit, with its captures and what was done meanwhile. */
import { toldEvents } from '../words/events.ts';
import type { Scales } from '../words/scales.ts';
import { clockMinutes } from '../words/times.ts';
import type { Block } from './content.ts';
import type { ReportCapture, ReportVisit } from './visit.ts';
import { t } from '../words/language.ts';

/** More words than this would not stand beside each other. */
const MOST_MARKS = 8;
const MARKED = new Set(['setpoint', 'fan', 'defrost', 'airflow', 'note']);

/** Null where there never was a figure. */
export function courseBlock(
  visit: ReportVisit,
  id: string,
  result: ReportCapture | null,
  scales: Scales,
): Block | null {
  const { history, events, probes } = visit;
  const columns = history.units[id];
  const [from] = history.t;
  const to = history.t.at(-1);
  if (columns === undefined || from === undefined || to === undefined) return null;
  if (columns.totalW.every((w) => w === null)) return null;
  const { power } = scales;
  const shown = (w: number | null): number | null => (w === null ? null : power.show(w));
  const captures = visit.units[id]?.captures ?? [];
  const spans = captures
    .map(({ capture }, i) => ({ capture, name: String(i + 1) }))
    .filter(({ capture }) => capture.struck === undefined)
    .map(({ capture, name }) => ({
      ...{ from: capture.from, to: capture.to, name },
      isResult: capture === result?.capture,
    }));
  const told = toldEvents(events, id, { scales, flowM3s: null, probes }).filter(
    ({ kind, t }) => MARKED.has(kind) && t >= from && t <= to,
  );
  const first = history.t.findIndex((_, i) => columns.totalW[i] !== null);
  return {
    kind: 'course',
    alt:
      t`Total capacity in ${power.sign} from ${clockMinutes(history.t[first] ?? from)} to ${clockMinutes(to)}, with its 95\u202f% interval. ` +
      (spans.length === 0 ? t`No captures.` : t`Captures are marked 1 to ${captures.length}.`),
    course: {
      axis: power.sign,
      t: history.t,
      value: columns.totalW.map(shown),
      half: columns.totalU95W.map(shown),
      spans,
      marks: told.slice(-MOST_MARKS).map(({ t, short }) => ({ t, text: short })),
    },
  };
}
