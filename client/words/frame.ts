/** What the frame around every place says: the bar, the way, the large figure, the replay's controls. */

export const APP_NAME = 'Plateau';
export const UNTITLED_VISIT = 'Untitled visit';
export const NOT_KEPT = 'Quick look, not recorded';
export const NEXT = 'Next:';
export const WAY_LABEL = 'The way through this visit';

/** The mark of what is not real air, or not of now: short, and what more there is room for. */
export function tagOf(
  simulated: boolean,
  replayed: boolean,
): { short: string; more: string } | null {
  if (replayed) {
    return simulated
      ? { short: 'Replay, simulated', more: '' }
      : { short: 'Replay', more: ': recorded before, not live' };
  }
  return simulated ? { short: 'Simulated', more: ': no real air is measured here' } : null;
}

/** The button that shows the figure alone: "Large figure", or "Large" where there is no room. */
export const LARGE = { short: 'Large', more: 'figure' };
export const LARGE_LABEL = 'Large figure';
export const CLOSE = 'Close';
export const NO_DATA = 'No data';

export const REPLAY_LABEL = 'Replay';
export const SPEED_LABEL = 'Speed';
export const REPLAY_TIME_LABEL = 'Time in the replay';
export const PLAY = 'Play';
export const PAUSE = 'Pause';
export const PLAY_AGAIN = 'Play again';
/** @param clock "14:02:10", where a jump ends */
export const jumpingWords = (clock: string): string => `Working out what comes before ${clock}.`;

export const CONNECTION_LABEL = 'Connection';
/** @param clock of the last data, null before the first */
export const reconnectingWords = (clock: string | null): string =>
  `Reconnecting: ${clock === null ? 'no data yet' : `last data ${clock}`}`;
export const CONNECTING = 'Connecting to the server.';
export const NO_SERVER_YET =
  'The computer that runs Plateau cannot be reached. Is Plateau running there, and is this device in the ' +
  'same network? This page tries again by itself.';
export const NO_READINGS_YET = 'No readings yet.';
/** @param since the sentence that says since when there is no data */
export const lostWords = (since: string): string => `Connection lost. ${since}`;
/** The title of the browser's tab. */
export const tabTitle = (title: string): string =>
  title === '' ? APP_NAME : `${title} · ${APP_NAME}`;
