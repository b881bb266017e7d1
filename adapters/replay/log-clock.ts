/**
 * The times of a recording by one clock: where the computer's clock was set while it was recorded, its
 * times leap, but no time went by. All of it is told by the clock of its beginning.
 */
import type { Line } from '../contract.ts';
import { sleep } from './sleep.ts';

/** A line of a recording, with what was recorded beside it where it came out of its turn. */
export type LogLine = Line & { after?: number };

/** Where a recording begins and ends, ms by the clock of its beginning. */
export interface Span {
  from: number;
  to: number;
}

/** So many lines are worked through before others get their turn. */
export const SLICE_LINES = 500;

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

/**
 * Reads a recording through, as far as it can be read: whoever plays it says why it cannot be read further.
 * @returns null where no line of it has a time, or it was aborted
 */
export async function spanOf(
  lines: () => AsyncIterable<LogLine>,
  signal: AbortSignal,
): Promise<Span | null> {
  const clock = new LogClock();
  let [from, to, count] = [Infinity, -Infinity, 0];
  try {
    for await (const line of lines()) {
      const t = clock.timeOf(line);
      clock.passed(line);
      if (t !== undefined) [from, to] = [Math.min(from, t), Math.max(to, t)];
      if (++count % SLICE_LINES === 0) await sleep(0, signal);
      if (signal.aborted) return null;
    }
  } catch {
    // See above.
  }
  return from > to ? null : { from, to };
}
