/** That nothing comes from the server any more, in words. Times are the server's. */
import { clockSeconds } from './times.ts';

/** In place of the state. */
export const LATE = 'Late';

const since = (t: number | null): string => (t === null ? '' : ` since ${clockSeconds(t)}`);

/** Above the figure. @param t of the last data */
export const lateSentence = (name: string, t: number | null): string =>
  `${name}: late, nothing has come${since(t)}.`;

/** Beside the figure: what it is worth, and what to do. */
export const LATE_WORDS =
  'The figure is of then and may have changed. It goes if the server stays silent. Wait, and write nothing down.';

/** Above the place of the figure. */
export const goneOf = (name: string, t: number | null): string =>
  t === null ? `${name}: nothing live, the line is down.` : `${name}: no data${since(t)}.`;

/** In place of the figure, and over every view. */
export const goneSentence = (t: number | null): string =>
  t === null ? 'No data from the server.' : `No data${since(t)}.`;

/** What it may be, and what to do. */
export const GONE_WORDS =
  'The server does not answer. It comes back by itself; if not, look whether its computer is asleep or the network is down.';
