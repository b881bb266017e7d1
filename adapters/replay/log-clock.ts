/**
 * The times of a recording by one clock: where the computer's clock was set while it was recorded, its
 * times leap, but no time went by. All of it is told by the clock of its beginning.
 */
import type { Line } from '../contract.ts';

/** A line of a recording, with what was recorded beside it where it came out of its turn. */
export type LogLine = Line & { after?: number };

export class LogClock {
  #shiftMs = 0;

  /** The line's time by the clock of the beginning, ms; undefined where it has none. */
  timeOf(line: Line): number | undefined {
    const t = 't' in line ? line.t : undefined;
    return t === undefined ? undefined : t - this.#shiftMs - shiftOf(line);
  }

  /** To be told of each line, once it is over. */
  passed(line: Line): void {
    this.#shiftMs += shiftOf(line);
  }

  /** A moment by the clock of the beginning, by the clock that rules at this place of the recording. */
  there(t: number): number {
    return t + this.#shiftMs;
  }
}

const shiftOf = (line: Line): number =>
  line.type === 'event' && line.kind === 'clock' ? line.shiftMs : 0;
