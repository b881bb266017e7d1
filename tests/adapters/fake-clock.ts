/** A clock whose hands are turned by the test. */
import type { Clock } from '../../server/sources/clock.ts';

export interface FakeClock extends Clock {
  /** Lets time pass: what is due runs in order, and what it sets going gets its turn. */
  advance(ms: number): Promise<void>;
  /** How many timers are waiting. */
  waiting(): number;
}

/** Lets promises that are ready run on. */
export async function settle(): Promise<void> {
  for (let turn = 0; turn < 3; turn += 1) await new Promise((resolve) => setImmediate(resolve));
}

export function fakeClock(startT = Date.UTC(2026, 4, 4, 9, 0, 0)): FakeClock {
  const timers = new Map<number, { at: number; work: () => void }>();
  let t = startT;
  let made = 0;
  const nextDue = (until: number) =>
    [...timers].filter(([, { at }]) => at <= until).sort(([, a], [, b]) => a.at - b.at)[0];
  return {
    now: () => t,
    setTimer(work, ms) {
      made += 1;
      timers.set(made, { at: t + ms, work });
      return made;
    },
    clearTimer: (handle) => void timers.delete(Number(handle)),
    waiting: () => timers.size,
    async advance(ms) {
      const until = t + ms;
      await settle();
      for (let due = nextDue(until); due !== undefined; due = nextDue(until)) {
        const [handle, { at, work }] = due;
        timers.delete(handle);
        t = at;
        work();
        await settle();
      }
      t = until;
    },
  };
}
