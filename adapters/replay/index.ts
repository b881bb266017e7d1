/**
 * A recording, played again: what is set up at once, then readings and events at the pace of the
 * recording or so many times faster. Every line keeps the time that it was recorded with. It can be
 * paused, and one can jump in it: ahead all between is played as fast as it can be, back it is played
 * from its beginning again.
 */
import type { Adapter, AdapterHost } from '../contract.ts';
import { type LogLine, type Span, spanOf } from './log-clock.ts';
import { Playhead } from './playhead.ts';
import { Run } from './run.ts';

const SLOWEST = 1;
const FASTEST = 1000;

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
  /** Up to when all that was recorded has been handed over, ms by the clock of that place; or null. */
  wholeT(): number | null;
  /**
   * Changes how it is played.
   * @returns why it was refused, as a sentence, or null; of a jump once it has arrived
   */
  change(change: ReplayChange): Promise<string | null>;
}

/** @throws RangeError for a speed that there is not. */
export function createReplayAdapter(options: ReplayOptions): ReplayAdapter {
  const { speed = SLOWEST, now = () => performance.now() } = options;
  if (speed !== Infinity && !isSpeed(speed)) {
    throw new RangeError(
      `A replay runs at ${SLOWEST} to ${FASTEST} times the recorded pace, or Infinity; not ${speed}.`,
    );
  }
  return new Player(options, new Playhead(now, speed));
}

const isSpeed = (speed: number): boolean => speed >= SLOWEST && speed <= FASTEST;

class Player implements ReplayAdapter {
  readonly name: string;
  readonly #options: ReplayOptions;
  readonly #head: Playhead;
  /** Null while it is not started. */
  #host: AdapterHost | null = null;
  /** The one that is played, or was; null before the first. */
  #run: Run | null = null;
  #span: Span | null = null;
  /** Ends the reading for the span. */
  #stopping = new AbortController();
  #scanning: Promise<void> = Promise.resolve();
  #playing: Promise<void> = Promise.resolve();
  /** Those who wait for a jump. */
  #waiting: (() => void)[] = [];
  #jumps = 0;
  /** Why it cannot be read any further. */
  #failure: string | null = null;
  #said: string | undefined;

  constructor(options: ReplayOptions, head: Playhead) {
    this.name = options.name ?? 'replay';
    this.#options = options;
    this.#head = head;
  }

  start(host: AdapterHost): void {
    this.#host = host;
    const again = this.#run !== null;
    if (again) this.#options.jumping?.(true);
    this.#begin(null);
    if (again) this.#options.arrived?.();
    this.#said = this.#words();
    host.status('running', this.#said);
    this.#stopping = new AbortController();
    this.#scanning = this.#scan(this.#stopping.signal);
  }

  async stop(): Promise<void> {
    this.#host = null;
    this.#stopping.abort();
    this.#run?.end();
    await Promise.all([this.#scanning, this.#playing]);
    this.#answer();
  }

  replay(): ReplayState {
    const { speed, paused } = this.#head;
    const { from = null, to = null } = this.#span ?? {};
    const { at = null, toT = null, ended = false } = this.#run ?? {};
    return { speed, paused, from, to, at, toT, jumps: this.#jumps, ended };
  }

  wholeT(): number | null {
    return this.#run?.wholeT ?? null;
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
    this.#run?.wake();
    this.#changed();
    await arrived;
    return null;
  }

  #whyNotTo(toT: number): string | null {
    if (this.#host === null) return 'The replay is not running.';
    if (this.#span === null) {
      return 'The visit log is still being read. Try again in a moment.';
    }
    const { from, to } = this.#span;
    if (toT >= from && toT <= to) return null;
    return `toT: ${toT} is outside the visit log, which runs from ${from} to ${to}`;
  }

  /** @returns once it has arrived; of several in a row, all once the last one has */
  #jump(toT: number): Promise<void> {
    const arrived = new Promise<void>((resolve) => this.#waiting.push(resolve));
    const { at = null, toT: before = null } = this.#run ?? {};
    if (at === null || toT >= at) {
      if (before === null) this.#options.jumping?.(false);
      this.#run?.jump(toT);
    } else {
      this.#options.jumping?.(true);
      this.#begin(toT);
    }
    return arrived;
  }

  /** Plays it from its beginning, once what was played before has ended. */
  #begin(toT: number | null): void {
    this.#run?.end();
    this.#failure = null;
    const run = new Run(this.#head, toT, () => this.#arrived());
    this.#run = run;
    this.#playing = this.#playing.then(() => this.#play(run));
  }

  async #play(run: Run): Promise<void> {
    try {
      await run.hand(this.#options.open, (line) => this.#host?.emit(line));
    } catch (error) {
      if (!run.ended) return;
      // It would fail at the same place again, so this is nothing to retry.
      const reason = error instanceof Error ? error.message : String(error);
      this.#failure = `The visit log cannot be read any further: ${reason}`;
    }
    if (run.ended) this.#changed();
  }

  #arrived(): void {
    this.#jumps++;
    this.#options.arrived?.();
    this.#changed();
    this.#answer();
  }

  #answer(): void {
    for (const done of this.#waiting.splice(0)) done();
  }

  async #scan(signal: AbortSignal): Promise<void> {
    const span = await spanOf(this.#options.open, signal);
    if (span === null) return;
    this.#span = span;
    this.#options.changed?.();
  }

  #changed(): void {
    const words = this.#words();
    if (words !== this.#said) {
      this.#said = words;
      this.#host?.status(this.#failure === null ? 'running' : 'unavailable', words);
    }
    this.#options.changed?.();
  }

  #words(): string | undefined {
    if (this.#failure !== null) return this.#failure;
    if (this.#run?.ended === true) return 'The replay has ended.';
    const { speed, paused } = this.#head;
    if (paused) return 'The replay is paused.';
    if (speed === SLOWEST) return undefined;
    return `It runs ${speed === Infinity ? 'as fast as it can' : `at ${speed} times the recorded pace`}.`;
  }
}
