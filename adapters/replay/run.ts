/**
 * One run through a recording from its beginning: each line is handed over when the playhead comes to it,
 * and all lines of a jump at once.
 */
import { LogClock, type LogLine, SLICE_LINES } from './log-clock.ts';
import type { Playhead } from './playhead.ts';
import { sleep } from './sleep.ts';

/** Longer pauses are waited for in pieces: timers are not made for weeks, and computers sleep. */
const LONGEST_SLEEP_MS = 60_000;
const SECOND_MS = 1000;

export class Run {
  readonly #head: Playhead;
  readonly #arrived: () => void;
  readonly #ending = new AbortController();
  /** Ends a sleep: something has been changed. */
  #wake = new AbortController();
  readonly #clock = new LogClock();
  /** Of the line that was handed over last, and of the one that is waited for. */
  #reachedT: number | null = null;
  #nextT: number | null = null;
  #wholeT: number | null = null;
  #toT: number | null;
  #ended = false;

  /**
   * @param toT where it jumps from its beginning; null: it plays from there
   * @param arrived a jump has ended
   */
  constructor(head: Playhead, toT: number | null, arrived: () => void) {
    this.#head = head;
    this.#toT = toT;
    this.#arrived = arrived;
    head.clear();
  }

  /** Where a jump that is on its way ends; null: there is none. */
  get toT(): number | null {
    return this.#toT;
  }

  /** Whether nothing more comes: all was handed over, or it cannot be read any further. */
  get ended(): boolean {
    return this.#ended;
  }

  /** Where in the recording it is, ms by the clock of its beginning; null before its first line. */
  get at(): number | null {
    if (this.#toT !== null) return this.#reachedT;
    const { t } = this.#head;
    if (t === null) return null;
    const most = this.#nextT ?? this.#reachedT ?? t;
    return Math.max(Math.min(t, most), this.#reachedT ?? -Infinity);
  }

  /** Up to when all that was recorded has been handed over, ms by the clock of that place; or null. */
  get wholeT(): number | null {
    const { at } = this;
    if (at === null || this.#wholeT === null) return null;
    return this.#ended ? this.#wholeT : Math.min(this.#clock.there(at), this.#wholeT);
  }

  /** Jumps ahead. */
  jump(toT: number): void {
    this.#toT = toT;
    if (this.#ended) this.#arrive();
    else this.wake();
  }

  /** The playhead has been changed. */
  wake(): void {
    this.#wake.abort();
  }

  end(): void {
    this.#ending.abort();
  }

  /**
   * Hands the lines over until the last one, or until `end`.
   * @throws what reading a line throws; then too it has ended
   */
  async hand(lines: () => AsyncIterable<LogLine>, emit: (line: LogLine) => void): Promise<void> {
    const { signal } = this.#ending;
    if (signal.aborted) return;
    try {
      await this.#hand(lines(), emit, signal);
    } finally {
      this.#ended = !signal.aborted;
      if (this.#ended) this.#arrive();
    }
  }

  async #hand(
    lines: AsyncIterable<LogLine>,
    emit: (line: LogLine) => void,
    signal: AbortSignal,
  ): Promise<void> {
    let inSlice = 0;
    for await (const line of lines) {
      if (signal.aborted) return;
      // Set-up lines mostly have no time of their own.
      const t = this.#clock.timeOf(line);
      const waited = t !== undefined && (await this.#until(t, line, signal));
      inSlice = waited ? 0 : inSlice + 1;
      if (inSlice >= SLICE_LINES) {
        await sleep(0, signal);
        inSlice = 0;
      }
      if (signal.aborted) return;
      emit(line);
      this.#clock.passed(line);
      if (t !== undefined) this.#passed(t, line);
    }
    if (this.#reachedT === null) return;
    // Its last second is whole: nothing more comes.
    const last = this.#clock.there(this.#reachedT);
    this.#wholeT = Math.ceil(last / SECOND_MS) * SECOND_MS;
  }

  /** Waits until it is time for `t`. @returns whether there was anything to wait for */
  async #until(t: number, line: LogLine, signal: AbortSignal): Promise<boolean> {
    this.#nextT = t;
    this.#wholeT = Math.max(this.#wholeT ?? -Infinity, wholeBefore(line, this.#clock.there(t)));
    let waits = false;
    while (!signal.aborted) {
      if (this.#toT !== null && t <= this.#toT) return waits;
      this.#arrive();
      const left = this.#head.untilMs(t);
      if (left <= 0) break;
      waits = true;
      this.#wake = new AbortController();
      const woken = AbortSignal.any([signal, this.#wake.signal]);
      await sleep(Math.min(left, LONGEST_SLEEP_MS), woken);
    }
    return waits;
  }

  #passed(t: number, line: LogLine): void {
    // What was whole was so by the clock of before.
    if (line.type === 'event' && line.kind === 'clock') this.#wholeT = line.t - 1;
    this.#reachedT = Math.max(this.#reachedT ?? t, t);
    this.#nextT = null;
    if (this.#toT === null) this.#head.passed(t);
  }

  #arrive(): void {
    if (this.#toT === null) return;
    this.#head.put(this.#toT);
    this.#toT = null;
    this.#arrived();
  }
}

/**
 * Up to when time may be let go on before a line: it ends the second before the one that it lies in itself,
 * and where it came out of its turn the one in which the visit was then.
 */
const wholeBefore = ({ after }: LogLine, t: number): number =>
  (after ?? Math.ceil(t / SECOND_MS) * SECOND_MS - SECOND_MS) - 1;
