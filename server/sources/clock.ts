/** The clock and timers of the supervisor: handed in, so that tests can turn the hands. */

export type TimerHandle = ReturnType<typeof setTimeout> | number;

export interface Clock {
  /** ms of a clock that only ever goes on: what is judged by age is judged by it. */
  now(): number;
  /** Calls `work` once, `ms` from now. */
  setTimer(work: () => void, ms: number): TimerHandle;
  /** A timer that has fired or been cleared is no error. */
  clearTimer(handle: TimerHandle): void;
}

export const systemClock: Clock = {
  now: () => performance.now(),
  setTimer: (work, ms) => setTimeout(work, ms),
  clearTimer: (handle) => clearTimeout(handle),
};

/**
 * Waits for `work`, but not longer than `ms`.
 * @returns what it gives, or what `late` gives (or throws) when the time is up.
 */
export async function within<T>(
  clock: Clock,
  ms: number,
  work: Promise<T>,
  late: () => T,
): Promise<T> {
  let timer: TimerHandle | undefined;
  const timeUp = new Promise<'time is up'>((resolve) => {
    timer = clock.setTimer(() => resolve('time is up'), ms);
  });
  try {
    const first = await Promise.race([work.then((value) => ({ value })), timeUp]);
    return first === 'time is up' ? late() : first.value;
  } finally {
    if (timer !== undefined) clock.clearTimer(timer);
  }
}
