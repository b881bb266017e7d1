import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Channel, SPIKE_RULES, STALE_MS } from '../../server/signal/channel.ts';

const filled = (n: number, stepMs: number): Channel => {
  const channel = new Channel(SPIKE_RULES.temperatureC);
  for (let i = 0; i < n; i++) channel.add(i * stepMs, 20);
  return channel;
};

describe('rhythm', () => {
  test.each([
    [250, 10_000],
    [1000, 10_000],
    [5000, 15_000],
    [60_000, 180_000],
  ])('readings each %i ms: stale after the longer of 10 s and three of them', (stepMs, staleMs) => {
    const channel = filled(20, stepMs);
    const last = 19 * stepMs;
    expect(channel.intervalMs()).toBe(stepMs);
    expect(channel.live(last + staleMs - 1)).toBe(true);
    expect(channel.live(last + staleMs)).toBe(false);
  });

  test('one reading alone may be a slow logger’s first', () => {
    expect(filled(1, 1).live(60_000)).toBe(true);
    expect(filled(1, 1).live(90_000)).toBe(false);
  });

  test('a gap does not change the rhythm', () => {
    const channel = filled(20, 1000);
    channel.add(100_000, 20);
    channel.add(101_000, 20);
    expect(channel.intervalMs()).toBe(1000);
    expect(channel.live(101_000 + STALE_MS)).toBe(false);
  });
});

describe('spikes', () => {
  test('a first reading that was nonsense is gone with the second, and teaches nothing', () => {
    const channel = new Channel(SPIKE_RULES.temperatureC);
    channel.add(0, 85);
    channel.add(1000, 20);
    expect(channel.value).toBe(20);
    for (let i = 2; i < 9; i++) channel.add(i * 1000, 20);
    channel.add(9000, 40);
    channel.add(10_000, 20);
    expect(channel.value).toBe(20);
    expect(channel.spikes).toBe(1);
  });

  test('a spike soon after a real step is still a spike', () => {
    const channel = filled(10, 1000);
    for (const [i, v] of [30, 30, 30, 37, 30].entries()) channel.add(10_000 + i * 1000, v);
    expect(channel.value).toBe(30);
    expect(channel.spikes).toBe(1);
  });

  test('a logger that sends a burst once a minute is live between', () => {
    const channel = new Channel(SPIKE_RULES.temperatureC);
    for (let m = 0; m < 10; m++) for (let i = 0; i < 6; i++) channel.add(m * 60_000 + i * 200, 20);
    expect(channel.live(9 * 60_000 + 59_000)).toBe(true);
  });

  test('a ramp as fast as a probe can go is believed reading by reading', () => {
    // 26 to 12 °C with a time constant of 6 s, once a second: the steepest step is 2.1 K.
    const channel = new Channel(SPIKE_RULES.temperatureC);
    for (let i = 0; i < 60; i++)
      expect(channel.add(i * 1000, 12 + 14 * Math.exp(-i / 6))).toBe('taken');
  });

  test('two in a row that agree are a step', () => {
    const channel = filled(10, 1000);
    expect(channel.add(10_000, 60)).toBe('held');
    expect(channel.value).toBe(20);
    expect(channel.add(11_000, 60.2)).toBe('taken');
    expect(channel.value).toBe(60.2);
    expect(channel.spikes).toBe(0);
  });

  test('alternating nonsense never shows and is counted', () => {
    const channel = filled(10, 1000);
    for (let i = 10; i < 30; i++) channel.add(i * 1000, i % 2 === 0 ? 85 : 20);
    expect(channel.value).toBe(20);
    expect(channel.spikes).toBe(10);
  });

  test('whatever comes, the value is one that was sent, and never a lone spike', () => {
    const value = fc.double({ min: -60, max: 95, noNaN: true });
    fc.assert(
      fc.property(fc.array(value, { minLength: 1, maxLength: 60 }), (values) => {
        const channel = new Channel(SPIKE_RULES.temperatureC);
        values.forEach((v, i) => channel.add(i * 1000, v));
        expect(values).toContain(channel.value);
      }),
    );
    fc.assert(
      fc.property(value, fc.integer({ min: 2, max: 50 }), (spike, at) => {
        const channel = new Channel(SPIKE_RULES.temperatureC);
        for (let i = 0; i < 60; i++) {
          channel.add(i * 1000, i === at ? spike : 20 + 0.01 * (i % 3));
          if (Math.abs(spike - 20) > 5) expect(channel.value).toBeLessThan(20.1);
        }
      }),
    );
  });
});

test('the mean over the second is taken once, then the newest value stands', () => {
  const channel = filled(1, 1);
  expect(channel.take()).toBe(20);
  channel.add(1000, 20.2);
  channel.add(1250, 20.4);
  expect(channel.take()).toBeCloseTo(20.3, 12);
  expect(channel.take()).toBe(20.4);
});
