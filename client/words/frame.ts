/** What the frame around every place says: the bar, the way, the large figure, the replay's controls. */
import { t } from '../../server/words/language.ts';

export const APP_NAME = 'Plateau';
export const UNTITLED_VISIT = t`Untitled visit`;
export const NOT_KEPT = t`Quick look, not recorded`;
export const NEXT = t`Next:`;
export const WAY_LABEL = t`The way through this visit`;

/** The mark of what is not real air, or not of now: short, and what more there is room for. */
export function tagOf(
  simulated: boolean,
  replayed: boolean,
): { short: string; more: string } | null {
  if (replayed) {
    return simulated
      ? { short: t`Replay, simulated`, more: '' }
      : { short: t`Replay`, more: t`: recorded before, not live` };
  }
  return simulated ? { short: t`Simulated`, more: t`: no real air is measured here` } : null;
}

/** The button that shows the figure alone: "Large figure", or "Large" where there is no room. */
export const LARGE = { short: t`Large`, more: t`figure` };
export const LARGE_LABEL = t`Large figure`;
export const CLOSE = t`Close`;
export const NO_DATA = t`No data`;

export const REPLAY_LABEL = t`Replay`;
export const SPEED_LABEL = t`Speed`;
export const REPLAY_TIME_LABEL = t`Time in the replay`;
export const PLAY = t`Play`;
export const PAUSE = t`Pause`;
export const PLAY_AGAIN = t`Play again`;
/** @param clock "14:02:10", where a jump ends */
export const jumpingWords = (clock: string): string => t`Working out what comes before ${clock}.`;

export const CONNECTION_LABEL = t`Connection`;
/** @param clock of the last data, null before the first */
export const reconnectingWords = (clock: string | null): string =>
  clock === null ? t`Reconnecting: no data yet` : t`Reconnecting: last data ${clock}`;
export const CONNECTING = t`Connecting to the server.`;
export const NO_SERVER_YET = t`The computer that runs Plateau cannot be reached. Is Plateau running there, and is this device in the same network? This page tries again by itself.`;
export const NO_READINGS_YET = t`No readings yet.`;
/** @param since the sentence that says since when there is no data */
export const lostWords = (since: string): string => t`Connection lost. ${since}`;
/** The title of the browser's tab. */
export const tabTitle = (title: string): string =>
  title === '' ? APP_NAME : `${title} · ${APP_NAME}`;
