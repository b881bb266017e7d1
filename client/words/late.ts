/** That nothing comes from the server any more, in words. Times are the server's. */
import { clockSeconds } from './times.ts';
import { t as say } from '../../server/words/language.ts';

/** In place of the state. */
export const LATE = say`Late`;

const since = (t: number | null): string => (t === null ? '' : say` since ${clockSeconds(t)}`);

/** Above the figure. @param t of the last data */
export const lateSentence = (name: string, t: number | null): string =>
  say`${name}: late, no data${since(t)}.`;

/** Beside the figure: what it is worth, and what to do. */
export const LATE_WORDS = say`The figure is from then and may have changed. Do not write it down. Wait: it goes away if the server stays silent.`;

/** Above the place of the figure. */
export const goneOf = (name: string, t: number | null): string =>
  t === null ? say`${name}: connection lost, nothing is live.` : say`${name}: no data${since(t)}.`;

/** In place of the figure, and over every view. */
export const goneSentence = (t: number | null): string =>
  t === null ? say`No data from the server.` : say`No data${since(t)}.`;

/** What it may be, and what to do. */
export const GONE_WORDS = say`The server does not answer. The page reconnects on its own. If it does not, check that the computer is awake and the network is up.`;
