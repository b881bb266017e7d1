/** Wet probes and saturated air, moisture with a side-by-side check, and heating's captures. */
import { describe, expect, test } from 'vitest';
import type { UnitSnapshot } from '../../server/protocol.ts';
import type { Correction } from '../../server/session/correction.ts';
import { moistureGap } from '../../server/session/moisture.ts';
import type { LiveProbe } from '../../server/session/place.ts';
import { setUp, T0, TestVisit } from './visit.ts';

type Values = Parameters<TestVisit['reading']>[2];

/** The codes about moisture that stand after so many seconds of these readings. */
function after(
  visit: TestVisit,
  seconds: number,
  ret: Values,
  sup: (s: number) => Values,
): string[] {
  for (let s = 0; s < seconds; s++) {
    visit.reading('r', s * 1000, ret);
    visit.reading('s', s * 1000 + 300, sup(s));
  }
  visit.session.finish();
  return visit.codes().filter((code) => /^(humidity|probe-wet)/.test(code));
}
const ROOM = { temperatureC: 24, humidityPct: 55 };

describe('a wet probe and saturated air', () => {
  test.each([95, 98, 99.9])('a wet coil’s supply at %d % is no doubt', (humidityPct) => {
    const codes = after(new TestVisit(), 400, ROOM, () => ({ temperatureC: 12, humidityPct }));
    expect(codes).toEqual([]);
  });

  test('nor one that reads 100 %: it is said that no more is counted', () => {
    const codes = after(new TestVisit(), 400, ROOM, () => ({ temperatureC: 12, humidityPct: 101 }));
    expect(codes).toEqual(['humidity-saturated']);
  });

  test('a return that cannot be told from saturated for two minutes is a wet probe', () => {
    const cold = () => ({ temperatureC: 12, humidityPct: 95 });
    const damp = { temperatureC: 24, humidityPct: 97.4 };
    const wet = { temperatureC: 24, humidityPct: 97.6 };
    expect(after(new TestVisit(), 400, damp, cold)).toEqual([]);
    expect(after(new TestVisit(), 115, wet, cold)).toEqual([]);
    expect(after(new TestVisit(), 125, wet, cold)).toEqual(['probe-wet']);
  });

  test('a supply that holds more moisture than goes in while the unit cools is one', () => {
    // 24 °C and 40 %: 7.4 g/kg. Saturated at 14 °C: 10.0 g/kg; sensible 10 K outweigh that.
    const dry = { temperatureC: 24, humidityPct: 40 };
    const wet = () => ({ temperatureC: 13, humidityPct: 99 });
    expect(after(new TestVisit(), 115, dry, wet)).toEqual([]);
    expect(after(new TestVisit(), 130, dry, wet)).toEqual(['probe-wet']);
  });

  test('a coil that the fan alone dries is none: nothing is delivered', () => {
    // Air that is cooled by what dries off: 24 °C and 50 % to its wet bulb, 17 °C (adiabatic saturation).
    const room = { temperatureC: 24, humidityPct: 50 };
    const drying = () => ({ temperatureC: 17.3, humidityPct: 98 });
    expect(after(new TestVisit(), 400, room, drying)).toEqual([]);
  });
});

describe('moisture of supply less return', () => {
  const probe = (id: string, W: number, correction: Correction | null): LiveProbe => ({
    id,
    name: id,
    flowShare: 1,
    spotWPerK: 0,
    temperatureC: 20,
    humidityRatio: W,
    wPerK: 4e-4,
    wPerHumidity: 1.5e-4,
    wPerPa: 0,
    temperature: { u: 0.1, shape: 0 },
    humidity: { u: 1, shape: 0 },
    shared: -1,
    sharesHumidity: false,
    ...{ zero: null, limits: {} },
    correction,
    widened: 1,
  });
  const check: Correction = {
    probes: ['r', 's'],
    shared: { temperature: { u: 5, shape: 0 }, humidity: { u: 50, shape: 0 }, of: 'check' },
    t: 0,
    atC: 20,
    atPct: 50,
    temperature: { points: [{ at: 20, offset: 0, u: 0 }], line: null },
    humidity: { points: [{ at: 50, offset: 0, u: 0 }], line: null },
  };
  // JCGM 100:2008, 5.1.2: the root of both probes' squares.
  const own = Math.sqrt(2 * ((4e-4 * 0.1) ** 2 + (1.5e-4 * 1) ** 2));

  test('own errors add up, and what a check leaves to both cancels', () => {
    for (const correction of [null, check]) {
      const gap = moistureGap([probe('r', 0.007, correction)], [probe('s', 0.009, correction)]);
      expect(gap?.gapW).toBeCloseTo(0.002, 12);
      expect(gap?.uW).toBeCloseTo(own, 12);
    }
  });

  test('but not where only one of them was checked', () => {
    const gap = moistureGap([probe('r', 0.007, check)], [probe('s', 0.009, null)]);
    expect(gap?.uW).toBeCloseTo(Math.hypot(own, 4e-4 * 5, 1.5e-4 * 50), 12);
  });

  test('there is none where one place tells no humidity', () => {
    expect(moistureGap([probe('r', 0.007, null)], [])).toBeNull();
  });
});

describe('heating', () => {
  const NOTHING_OF_MOISTURE: Partial<UnitSnapshot['capacity']> = {
    latentW: null,
    latentU95W: null,
    sensibleHeatRatio: null,
    sensibleHeatRatioU95: null,
    condensateKgh: null,
  };

  test('nothing is said of moisture: not in the second, the sum, the capture or a difference', () => {
    const visit = new TestVisit(setUp({ mode: 'heating' }));
    const run = (from: number, to: number, temperatureC: number): void => {
      for (let s = from; s < to; s++) {
        visit.reading('r', s * 1000, { temperatureC: 20, humidityPct: 40 });
        visit.reading('s', s * 1000, { temperatureC, humidityPct: 10 });
      }
    };
    run(0, 400, 45);
    visit.take({ type: 'event', t: T0 + 400_000, kind: 'setpoint', unit: 'u1', valueC: 26 });
    run(400, 1000, 50);
    visit.session.finish();
    expect(visit.unit().capacity).toMatchObject(NOTHING_OF_MOISTURE);
    expect(visit.snapshots.at(-1)?.sum).toMatchObject({ latentW: null });
    expect(visit.snapshots.at(-1)?.sum.totalW).toBeGreaterThan(0);
    expect(visit.captures).toHaveLength(2);
    for (const capture of visit.captures) {
      expect(capture).toMatchObject({ latentW: null, latentU95W: null });
      expect(capture.totalW).toBeCloseTo(capture.sensibleW, 9);
      expect(capture.totalU95W).toBeGreaterThan(0);
    }
    const before = visit.captures.at(-1)?.before;
    expect(before).toMatchObject({ latentDifferenceW: null, latentDifferenceU95W: null });
    expect(before?.differenceU95W).toBeGreaterThan(0);
  });
});
