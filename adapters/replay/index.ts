/**
 * A recording, played again: what is set up at once, then readings and events at the pace of the
 * recording or so many times faster. Every line keeps the time that it was recorded with.
 */
import type { Adapter, AdapterHost, Line } from '../contract.ts';

const SLOWEST = 1;
const FASTEST = 1000;
/** So many lines are handed over before others get their turn. */
const SLICE_LINES = 500;
/** Longer pauses are waited for in pieces: timers are not made for weeks, and computers sleep. */
const LONGEST_SLEEP_MS = 60_000;
/** Who is further behind than this goes on from here instead of catching up in a rush. */
const LATE_MS = 1000;

export interface ReplayOptions {
  /** Opens the recording from its start: lines that were checked, in order of time. */
  readonly open: () => AsyncIterable<Line>;
  /** How many times faster than it was recorded: 1 to 1000, or Infinity. Default: 1. */
  readonly speed?: number;
  /** The clock for the pace, ms; default: one that cannot be set. */
  readonly now?: () => number;
  /** Default: `replay`. */
  readonly name?: string;
}

/** @throws RangeError for a speed that there is not. */
export function createReplayAdapter(options: ReplayOptions): Adapter {
  const { open, speed = SLOWEST, now = () => performance.now(), name = 'replay' } = options;
  if (speed !== Infinity && !(speed >= SLOWEST && speed <= FASTEST)) {
    throw new RangeError(
      `A recording is played ${SLOWEST} to ${FASTEST} times as fast, or with Infinity; not ${speed} times.`,
    );
  }
  let stopping = new AbortController();
  let playing: Promise<void> = Promise.resolve();

  async function play(host: AdapterHost, signal: AbortSignal): Promise<void> {
    try {
      await hand(host, signal);
      if (!signal.aborted) host.status('running', 'The recording has ended.');
    } catch (error) {
      // It would fail at the same place again, so this is nothing to retry.
      const reason = error instanceof Error ? error.message : String(error);
      host.status('unavailable', `The recording cannot be read any further: ${reason}`);
    }
  }

  async function hand(host: AdapterHost, signal: AbortSignal): Promise<void> {
    const pace = createPace(speed, now);
    let inSlice = 0;
    for await (const line of open()) {
      // Set-up lines mostly have no time of their own.
      const t = 't' in line ? line.t : undefined;
      // From here on times are by another clock: there was no pause, however far apart they are.
      if (line.type === 'event' && line.kind === 'clock') pace.anew();
      const waited = t !== undefined && (await pace.wait(t, signal));
      inSlice = waited ? 0 : inSlice + 1;
      if (inSlice >= SLICE_LINES) {
        await sleep(0, signal);
        inSlice = 0;
      }
      if (signal.aborted) return;
      host.emit(line);
    }
  }

  return {
    name,
    start(host) {
      stopping = new AbortController();
      const times = speed === Infinity ? 'as fast as it can' : `at ${speed} times its pace`;
      host.status('running', speed === SLOWEST ? undefined : `It plays ${times}.`);
      playing = play(host, stopping.signal);
    },
    async stop() {
      stopping.abort();
      await playing;
    },
  };
}

/** Keeps the distance between the recording's clock and ours, without drifting. */
function createPace(speed: number, now: () => number) {
  let anchor: { t: number; at: number } | null = null;
  return {
    /** The next line comes at once. */
    anew(): void {
      anchor = null;
    },
    /** Waits until it is time for `t`. @returns whether there was anything to wait for. */
    async wait(t: number, signal: AbortSignal): Promise<boolean> {
      if (speed === Infinity) return false;
      anchor ??= { t, at: now() };
      const due = anchor.at + (t - anchor.t) / speed;
      let left = due - now();
      const waits = left > 0;
      while (left > 0 && !signal.aborted) {
        await sleep(Math.min(left, LONGEST_SLEEP_MS), signal);
        left = due - now();
      }
      if (left < -LATE_MS) anchor = { t, at: now() };
      return waits;
    },
  };
}

/** Waits, or ends at once when it is aborted; leaves no timer behind. */
function sleep(ms: number, signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    if (signal.aborted) {
      resolve();
      return;
    }
    const done = (): void => {
      clearTimeout(timer);
      signal.removeEventListener('abort', done);
      resolve();
    };
    const timer = setTimeout(done, ms);
    signal.addEventListener('abort', done);
  });
}
