/** The clocks of this computer. */
import { uptime } from 'node:os';
import type { Clocks } from '../clock-watch.ts';

export const systemClocks: Clocks = {
  wall: () => Date.now(),
  even: () => performance.now(),
  sinceOn: () => uptime() * 1000,
};

/** Does something every so many ms. @returns what ends it */
export function every(ms: number, work: () => void): () => void {
  const timer = setInterval(work, ms);
  return () => clearInterval(timer);
}
