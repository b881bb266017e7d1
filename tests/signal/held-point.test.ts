/**
 * The mean of a vane that is held at a point, in streams of which the mean is known: turbulence of 5 to
 * 20 %, eddies of 0.2 to 1 s, a vane that follows within 0.5 to 1.5 s (first-order processes, made here).
 */
import { expect, it } from 'vitest';
import { heldU, SectionSweep } from '../../server/signal/section-sweep.ts';
import { randomStream } from '../../simulator/random.ts';

const TRUE_MS = 3;
const STEP_MS = 50;

/** Whether 1.96 standard uncertainties of a hold of so many seconds reach the true mean. */
function holds(seed: number, seconds: number, everyMs: number): boolean {
  const random = randomStream(seed, 'held');
  const turbulence = random.between(0.05, 0.2);
  const stays = Math.exp(-STEP_MS / (1000 * random.between(0.2, 1)));
  const lags = Math.exp(-STEP_MS / (1000 * random.between(0.5, 1.5)));
  let eddy = random.normal();
  let vane = 0;
  const held = new SectionSweep(0, false);
  for (let ms = -10_000; ms < 1000 * seconds; ms += STEP_MS) {
    eddy = stays * eddy + Math.sqrt(1 - stays * stays) * random.normal();
    vane = lags * vane + (1 - lags) * eddy;
    if (ms >= 0 && ms % everyMs === 0) held.add(ms, TRUE_MS * (1 + turbulence * vane));
  }
  const result = held.result();
  return Math.abs(result.meanMs / TRUE_MS - 1) <= 1.96 * heldU(result);
}

it.each([
  [8, 100],
  [8, 1000],
  [12, 250],
  [30, 1000],
])('%i s of readings every %i ms: the mean is as sure as it says', (seconds, everyMs) => {
  const visits = 600;
  let held = 0;
  for (let seed = 0; seed < visits; seed++) if (holds(seed, seconds, everyMs)) held++;
  // Scatter alone holds 78 to 92 % of them.
  expect(held / visits).toBeGreaterThan(0.89);
  expect(held / visits).toBeLessThan(0.98);
});
