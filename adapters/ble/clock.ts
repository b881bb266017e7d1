/** The clock and timers of the adapter: handed in, so that tests can turn the hands. */

export type TimerHandle = ReturnType<typeof setTimeout> | number;

export interface Clock {
  /** ms since the epoch. */
  now(): number;
  /** Calls `work` once, `ms` from now. */
  setTimer(work: () => void, ms: number): TimerHandle;
  clearTimer(handle: TimerHandle): void;
}

export const systemClock: Clock = {
  now: () => Date.now(),
  setTimer: (work, ms) => setTimeout(work, ms),
  clearTimer: (handle) => clearTimeout(handle),
};
