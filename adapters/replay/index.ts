/**
 * A recording, played again: what is set up at once, then readings and events at the pace of the
 * recording or so many times faster. Every line keeps the time that it was recorded with. It can be
 * paused, and one can jump in it: ahead all between is played as fast as it can be, back it is played
 * from its beginning again.
 */
import type { Adapter, AdapterHost } from '../contract.ts';
import { LogClock, type LogLine } from './log-clock.ts';
import { Playhead } from './playhead.ts';
import { sleep } from './sleep.ts';

export const SLOWEST = 1;
export const FASTEST = 1000;
/** So many lines are handed over before others get their turn. */
const SLICE_LINES = 500;
/** Longer pauses are waited for in pieces: timers are not made for weeks, and computers sleep. */
const LONGEST_SLEEP_MS = 60_000;
const SECOND_MS = 1000;

export interface ReplayOptions {
  /** Opens the recording from its start: lines that were checked, in order of time. */
  readonly open: () => AsyncIterable<LogLine>;
  /** How many times faster than it was recorded: 1 to 1000, or Infinity. Default: 1. */
  readonly speed?: number;
  /** The clock for the pace, ms; default: one that cannot be set. */
  readonly now?: () => number;
  /** Default: `replay`. */
  readonly name?: string;
  /** What comes until `arrived` is of a jump. @param anew it comes from the beginning again */
  readonly jumping?: (anew: boolean) => void;
  readonly arrived?: () => void;
  /** `replay` would say something else than its time. */
  readonly changed?: () => void;
}

/** How a recording is played. Times are by the clock of its beginning, ms since the epoch. */
export interface ReplayState {
  speed: number;
  paused: boolean;
  /** Of its first and its last line; null until it has been read through once. */
  from: number | null;
  to: number | null;
  /** Where in it one is; null before its first line. */
  at: number | null;
  /** Where a jump that is on its way ends; null: there is none. */
  toT: number | null;
  /** How many jumps have arrived: after each, what was told of the past is told anew. */
  jumps: number;
  ended: boolean;
}

export interface ReplayChange {
  speed?: number | undefined;
  paused?: boolean | undefined;
  /** Where to jump, ms by the clock of its beginning. */
  toT?: number | undefined;
}

export interface ReplayAdapter extends Adapter {
  replay(): ReplayState;
  /** Up to when all that was recorded has been handed over, ms by the clock of that place, or null. */
  wholeT(): number | null;
  /**
   * Changes how it is played.
   * @returns why it was refused, as a sentence, or null; of a jump once it has arrived
   */
  change(change: ReplayChange): Promise<string | null>;
}

/** @throws RangeError for a speed that there is not. */
export function createReplayAdapter(options: ReplayOptions): ReplayAdapter {
  const { speed = SLOWEST, now = () => performance.now(), name = 'replay' } = options;
  if (speed !== Infinity && !isSpeed(speed)) {
    throw new RangeError(
      `A recording is played ${SLOWEST} to ${FASTEST} times as fast, or with Infinity; not ${speed} times.`,
    );
  }
  const player = new Player(options, new Playhead(now, speed));
  return {
    name,
    start: (host) => player.start(host),
    stop: () => player.stop(),
    replay: () => player.state(),
    wholeT: () => player.wholeT(),
    change: (change) => player.change(change),
  };
}

const isSpeed = (speed: number): boolean => speed >= SLOWEST && speed <= FASTEST;

class Player {
  readonly #options: ReplayOptions;
  readonly #head: Playhead;
  #host: AdapterHost | null = null;
  /** Ends all that was begun; and only what is played now. */
  #stopping = new AbortController();
  #ending = new AbortController();
  /** Ends a sleep: something has been changed. */
  #wake = new AbortController();
  #scanning: Promise<void> = Promise.resolve();
  #playing: Promise<void> = Promise.resolve();
  #span: { from: number; to: number } | null = null;
  #clock = new LogClock();
  /** Of the line that was handed over last, and of the one that is waited for. */
  #reachedT: number | null = null;
  #nextT: number | null = null;
  #wholeT: number | null = null;
  #toT: number | null = null;
  #arriving: (() => void)[] = [];
  #jumps = 0;
  /** Nothing more comes: it is over, or cannot be read any further. */
  #ended = false;
  #failed = false;
  /** Grows with each beginning: what waits to begin from one before does not any more. */
  #beginnings = 0;
  #said: string | undefined;

  constructor(options: ReplayOptions, head: Playhead) {
    this.#options = options;
    this.#head = head;
  }

  start(host: AdapterHost): void {
    const again = this.#host !== null;
    this.#host = host;
    this.#stopping = new AbortController();
    host.status('running', (this.#said = this.#words()));
    if (again) this.#toBeginning(null);
    this.#scanning = this.#scan(this.#stopping.signal);
    this.#playing = this.#play();
  }

  async stop(): Promise<void> {
    this.#stopping.abort();
    this.#ending.abort();
    await Promise.all([this.#scanning, this.#playing]);
    this.#arrive();
  }

  state(): ReplayState {
    const { speed, paused } = this.#head;
    const { from = null, to = null } = this.#span ?? {};
    return {
      ...{ speed, paused, from, to, at: this.#at() },
      ...{ toT: this.#toT, jumps: this.#jumps, ended: this.#ended },
    };
  }

  wholeT(): number | null {
    const at = this.#at();
    if (at === null || this.#wholeT === null) return null;
    return this.#ended ? this.#wholeT : Math.min(this.#clock.there(at), this.#wholeT);
  }

  async change({ speed, paused, toT }: ReplayChange): Promise<string | null> {
    if (speed !== undefined && !isSpeed(speed)) {
      return `speed: ${speed} is not one of ${SLOWEST} to ${FASTEST}`;
    }
    const why = toT === undefined ? null : this.#whyNotTo(toT);
    if (why !== null) return why;
    if (speed !== undefined) this.#head.speed = speed;
    if (paused !== undefined) this.#head.paused = paused;
    const arrived = toT === undefined ? null : this.#jump(toT);
    this.#wake.abort();
    this.#changed();
    await arrived;
    return null;
  }

  #whyNotTo(toT: number): string | null {
    if (this.#stopping.signal.aborted || this.#host === null) {
      return 'The recording is not being played.';
    }
    if (this.#span === null) {
      return 'The recording has not been read through yet: try again in a moment.';
    }
    const { from, to } = this.#span;
    if (toT >= from && toT <= to) return null;
    return `toT: ${toT} lies outside the recording, which goes from ${from} to ${to}`;
  }

  async #jump(toT: number): Promise<void> {
    const arrived = new Promise<void>((resolve) => this.#arriving.push(resolve));
    const at = this.#at();
    if (at === null || toT >= at) {
      if (this.#toT === null) this.#options.jumping?.(false);
      this.#toT = toT;
      // Nothing more comes.
      if (this.#ended) this.#arrive();
    } else {
      this.#ending.abort();
      const before = this.#playing;
      this.#toBeginning(toT);
      const beginning = this.#beginnings;
      this.#playing = before.then(() =>
        beginning === this.#beginnings ? this.#play() : undefined,
      );
    }
    await arrived;
  }

  #toBeginning(toT: number | null): void {
    this.#options.jumping?.(true);
    this.#beginnings++;
    this.#toT = toT;
    this.#clock = new LogClock();
    this.#reachedT = this.#nextT = this.#wholeT = null;
    this.#head.clear();
    this.#ended = this.#failed = false;
    if (toT === null) this.#options.arrived?.();
  }

  #arrive(): void {
    const toT = this.#toT;
    this.#toT = null;
    if (toT !== null) {
      this.#jumps++;
      this.#head.put(toT);
      this.#options.arrived?.();
      this.#changed();
    }
    for (const done of this.#arriving.splice(0)) done();
  }

  #at(): number | null {
    if (this.#toT !== null) return this.#reachedT;
    const { t } = this.#head;
    if (t === null) return null;
    const most = this.#nextT ?? this.#reachedT ?? t;
    return Math.max(Math.min(t, most), this.#reachedT ?? -Infinity);
  }

  #changed(): void {
    const words = this.#words();
    if (words !== this.#said && !this.#failed) {
      this.#said = words;
      this.#host?.status('running', words);
    }
    this.#options.changed?.();
  }

  #words(): string | undefined {
    if (this.#ended) return 'The recording has ended.';
    const { speed, paused } = this.#head;
    if (paused) return 'The recording is paused.';
    if (speed === SLOWEST) return undefined;
    return `It plays ${speed === Infinity ? 'as fast as it can' : `at ${speed} times its pace`}.`;
  }

  /** Reads it through once for where it begins and ends. */
  async #scan(signal: AbortSignal): Promise<void> {
    const clock = new LogClock();
    let from = Infinity;
    let to = -Infinity;
    let n = 0;
    try {
      for await (const line of this.#options.open()) {
        const t = clock.timeOf(line);
        clock.passed(line);
        if (t !== undefined) [from, to] = [Math.min(from, t), Math.max(to, t)];
        if (++n % SLICE_LINES === 0) await sleep(0, signal);
        if (signal.aborted) return;
      }
    } catch {
      // Whoever plays it says so. One can jump as far as it can be read.
    }
    if (from > to) return;
    this.#span = { from, to };
    this.#options.changed?.();
  }

  async #play(): Promise<void> {
    const host = this.#host;
    if (host === null || this.#stopping.signal.aborted) return;
    this.#ending = new AbortController();
    const { signal } = this.#ending;
    try {
      await this.#hand(host, signal);
      if (signal.aborted) return;
      this.#ended = true;
      this.#changed();
    } catch (error) {
      if (signal.aborted) return;
      // It would fail at the same place again, so this is nothing to retry.
      const reason = error instanceof Error ? error.message : String(error);
      this.#said = `The recording cannot be read any further: ${reason}`;
      host.status('unavailable', this.#said);
      this.#ended = this.#failed = true;
      this.#options.changed?.();
    }
    this.#arrive();
  }

  async #hand(host: AdapterHost, signal: AbortSignal): Promise<void> {
    let inSlice = 0;
    for await (const line of this.#options.open()) {
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
      host.emit(line);
      this.#clock.passed(line);
      if (t !== undefined) this.#passed(t, line);
    }
    if (this.#reachedT === null) return;
    // Its last second is whole: nothing more comes.
    const last = this.#clock.there(this.#reachedT);
    this.#wholeT = Math.ceil(last / SECOND_MS) * SECOND_MS;
    this.#nextT = null;
  }

  /** Waits until it is time for `t`. @returns whether there was anything to wait for */
  async #until(t: number, line: LogLine, signal: AbortSignal): Promise<boolean> {
    this.#nextT = t;
    this.#wholeT = Math.max(this.#wholeT ?? -Infinity, wholeBefore(line, this.#clock.there(t)));
    let waits = false;
    while (!signal.aborted) {
      if (this.#toT !== null && t <= this.#toT) return waits;
      if (this.#toT !== null) this.#arrive();
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
}

/**
 * Up to when time may be let go on before a line: it ends the second before the one that it lies in itself,
 * and where it came out of its turn the one in which the visit was then.
 */
const wholeBefore = ({ after }: LogLine, t: number): number =>
  (after ?? Math.ceil(t / SECOND_MS) * SECOND_MS - SECOND_MS) - 1;
