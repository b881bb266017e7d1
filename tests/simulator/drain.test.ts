import { describe, expect, it } from 'vitest';
import { Drain } from '../../simulator/drain.ts';

const PARAMETERS = { sillKg: 0.03, panS: 90 };

describe('a drain', () => {
  it('fills its pan to the sill before the first drop, and then gives what comes in, later', () => {
    const drain = new Drain(PARAMETERS);
    const rateKgS = 0.0002;
    let firstS = NaN;
    for (let s = 1; s <= 3600; s++) {
      drain.step(1, rateKgS);
      if (Number.isNaN(firstS) && drain.drainedKg > 0) firstS = s;
      expect(drain.panKg + drain.drainedKg).toBeCloseTo(rateKgS * s, 9);
    }
    expect(firstS).toBeGreaterThan(PARAMETERS.sillKg / rateKgS);
    const before = drain.drainedKg;
    for (let s = 0; s < 600; s++) drain.step(1, rateKgS);
    expect(drain.drainedKg - before).toBeCloseTo(600 * rateKgS, 3);
    // Full, it holds the sill, and above it what runs off in its time constant.
    expect(drain.panKg).toBeCloseTo(PARAMETERS.sillKg + rateKgS * PARAMETERS.panS, 3);
  });

  it('carries over: when nothing comes any more it still drips, down to the sill', () => {
    const drain = new Drain(PARAMETERS);
    for (let s = 0; s < 1800; s++) drain.step(1, 0.0002);
    const before = drain.drainedKg;
    for (let s = 0; s < 1800; s++) drain.step(1, 0);
    expect(drain.drainedKg - before).toBeGreaterThan(0.8 * 0.0002 * PARAMETERS.panS);
    expect(drain.panKg).toBeCloseTo(PARAMETERS.sillKg, 3);
  });
});
