/** What a visit is called, when it was, and at which outdoor unit. */
import type { VisitItem, VisitSetup } from '../protocol.ts';
import { withSign } from './figures.ts';
import type { Scales } from './scales.ts';
import { clockMinutes } from './times.ts';
import { locale, t } from './language.ts';

const DAY = new Intl.DateTimeFormat(locale(), { month: 'short', day: 'numeric', year: 'numeric' });
/** "May 4, 2026" */
export const day = (t: number): string => DAY.format(t);

/** "Yard, model X, serial 7, lines 7.5 m, 3 m above" */
export function linesWords(system: VisitSetup['systems'][string], { length }: Scales): string {
  const { name, model, serial, lineLengthM, lineHeightM } = system;
  const far = (m: number): string => withSign(m, length);
  const parts = [name, model, serial && t`serial ${serial}`];
  if (lineLengthM !== undefined) parts.push(t`lines ${far(lineLengthM)} one way`);
  if (lineHeightM !== undefined && lineHeightM !== 0) {
    const height = far(Math.abs(lineHeightM));
    parts.push(lineHeightM > 0 ? t`${height} above the head` : t`${height} below the head`);
  }
  return parts.filter(Boolean).join(', ');
}

type Named = Pick<VisitItem, 'title' | 'address' | 'units'>;

/** What it is called: its title, else where it was, else what was measured. */
export const visitName = ({ title, address, units }: Named): string =>
  title || address || units.join(', ') || t`Untitled visit`;

/** "May 4, 2026, 14:02 to 16:40" */
export function whenWords({ begunT, lastT }: Pick<VisitItem, 'begunT' | 'lastT'>): string {
  if (begunT === null) return t`nothing read yet`;
  const from = `${day(begunT)}, ${clockMinutes(begunT)}`;
  if (lastT === null || clockMinutes(lastT) === clockMinutes(begunT)) return from;
  const sameDay = day(begunT) === day(lastT);
  return t`${from} to ${sameDay ? '' : `${day(lastT)}, `}${clockMinutes(lastT)}`;
}
