/** The probe book in words: when each was checked and calibrated, and whether it drifts. */
import type { BookProbe, ProbeHistory } from '../../server/protocol/archive.ts';
import { t } from '../../server/words/language.ts';
import { signed } from './figures.ts';
import type { Scale } from './scales.ts';
import { day } from './visits.ts';

export const BOOK = {
  title: t`Probe book`,
  all: t`All probes`,
  what: t`Each probe over all side-by-side checks, in whichever van. A calibration is due after a year.`,
  none: t`No van has sent a probe yet.`,
  due: t`Calibration due`,
  temperature: t`Temperature`,
  humidity: t`Relative humidity`,
  temperatureChart: t`Temperature offset from the others over the years, with 95 % intervals`,
  humidityChart: t`Humidity offset from the others over the years, with 95 % intervals`,
  offset: t`Offset`,
  check: t`Check`,
  beside: t`Beside`,
  noOffsets: t`No check has found an offset yet.`,
  sameMean: t`no offset`,
};

/** What a probe is called. */
export const probeName = ({ name, probe }: Pick<BookProbe, 'name' | 'probe'>): string =>
  name || probe;

/** "serial 4471" */
export const serialWords = ({ serial }: Pick<BookProbe, 'serial'>): string =>
  serial === '' ? '' : t`serial ${serial}`;

/** "5 checks, the last on May 4, 2026: it agreed" */
export function checkedWords({ checks, checkedT, agreed }: BookProbe): string {
  if (checks === 0 || checkedT === null) return t`Never checked.`;
  const count = checks === 1 ? t`1 check` : t`${checks} checks`;
  const last = day(checkedT);
  if (agreed === null) return t`${count}, the last on ${last}.`;
  return agreed
    ? t`${count}, the last on ${last}: it agreed.`
    : t`${count}, the last on ${last}: it did not agree.`;
}

/** Whether its calibration is due, at a time. @param now ms */
export const isDue = ({ dueT }: Pick<BookProbe, 'dueT'>, now: number): boolean =>
  dueT !== null && dueT <= now;

/** "Calibrated May 4, 2025. The next one is due May 4, 2026." */
export function calibratedWords({ calibratedT, dueT }: BookProbe, now: number): string {
  if (calibratedT === null || dueT === null) return t`Nobody has entered when it was calibrated.`;
  const [last, next] = [day(calibratedT), day(dueT)];
  return dueT <= now
    ? t`Calibrated ${last}. The next calibration was due ${next}.`
    : t`Calibrated ${last}. The next calibration is due ${next}.`;
}

/** Those first whose calibration is overdue, then those of which it is not known, then by the day it is due. */
export function byDue(probes: readonly BookProbe[], now: number): BookProbe[] {
  const rank = (probe: BookProbe): number => (isDue(probe, now) ? 0 : probe.dueT === null ? 1 : 2);
  return probes.toSorted(
    (a, b) =>
      rank(a) - rank(b) ||
      (a.dueT ?? 0) - (b.dueT ?? 0) ||
      probeName(a).localeCompare(probeName(b)),
  );
}

type Drift = ProbeHistory['temperature']['drift'];
/** Whether it drifts, and by how much, as sentences. */
export function driftWords(drift: Drift, scale: Scale): string[] {
  if (drift === null) return [t`Too few checks over too short a time to tell whether it drifts.`];
  const perYear = signed(drift.perYear, drift.u95PerYear, scale);
  const now = signed(drift.now, drift.u95Now, scale);
  return [
    drift.isClear
      ? t`It drifts: ${perYear} a year. That is clear.`
      : t`No clear drift: ${perYear} a year.`,
    t`Drawn on to today: ${now}.`,
  ];
}

/** "2 others" */
export const othersWords = (others: number): string =>
  others === 1 ? t`1 other` : t`${others} others`;
