import { describe, expect, it } from 'vitest';
import { humidityRatio, vapourPressurePa } from '../../server/measure/moist-air.ts';
import { airProbe, outdoorProbe } from '../../simulator/parts.ts';
import {
  Probe,
  type ProbeParameters,
  type ProbeReading,
  type Sensor,
  type Surroundings,
} from '../../simulator/probe.ts';

const P = 101_325;
const STEP_MS = 500;
const PERFECT: Sensor = { lagS: 1e-6, limit: 0, noise: 0, resolution: 1e-9 };

function around(temperatureC: number, humidityPct: number): Surroundings {
  return {
    temperatureC,
    vapourPressurePa: vapourPressurePa(humidityRatio(temperatureC, humidityPct, P), P),
    velocityMs: 0,
    pressurePa: P,
    powerW: 0,
  };
}

function run(probe: Probe, seconds: number, surroundings: Surroundings, fromS = 0): ProbeReading[] {
  const readings: ProbeReading[] = [];
  for (let ms = fromS * 1000; ms < (fromS + seconds) * 1000; ms += STEP_MS) {
    probe.step(ms, ms + STEP_MS, surroundings, (elapsedMs, reading) => {
      readings.push({ ...reading, t: elapsedMs });
    });
  }
  return readings;
}

const BASE = airProbe('p1', 'Probe', 'u1', 'supply');
const make = (changes: Partial<ProbeParameters>, seed = 1): Probe =>
  new Probe({ ...BASE, ...changes }, seed, STEP_MS);
const values = (readings: readonly ProbeReading[]): number[] =>
  readings.map((reading) => reading.temperatureC ?? NaN);

describe('a probe', () => {
  it('has gone 63.2 % of a step after its time constant', () => {
    // The definition of a first-order sensor's time constant, 1 − 1/e: as in the U.S. EPA's
    // guidance on meteorological monitoring, section 2.3.2.
    const sensors = {
      temperatureC: { ...PERFECT, lagS: 12 },
      humidityPct: { ...PERFECT, lagS: 12 },
    };
    const probe = make({ sensors, intervalS: 0.1 });
    run(probe, 1, around(25, 40));
    // A step in vapour at one temperature is a step in relative humidity.
    const wet = run(probe, 12, around(25, 80), 1).at(-1);
    expect(Math.abs((wet?.humidityPct ?? 0) - (40 + 40 * (1 - Math.exp(-1))))).toBeLessThan(0.3);
    run(probe, 600, around(25, 80), 13);
    const cold = run(probe, 12, around(15, 80), 613).at(-1);
    expect(Math.abs((cold?.temperatureC ?? 0) - (25 - 10 * 0.632))).toBeLessThan(0.05);
  });

  it('reads humidity at its own temperature: the humidity ratio is that of the air at once', () => {
    const sensors = { temperatureC: { ...PERFECT, lagS: 30 }, humidityPct: PERFECT };
    const probe = make({ sensors });
    run(probe, 60, around(25, 50));
    const [reading] = run(probe, 2, around(12, 90), 60).slice(-1);
    const { temperatureC = 0, humidityPct = 0 } = reading ?? {};
    expect(temperatureC).toBeGreaterThan(20); // far from there yet
    const W = humidityRatio(temperatureC, humidityPct, P);
    expect(W).toBeCloseTo(humidityRatio(12, 90, P), 6);
  });

  it('errs by a fixed amount within the limits of its data sheet', () => {
    const errors = Array.from({ length: 200 }, (_, seed) => make({}, seed).errorOf('temperatureC'));
    const limit = BASE.sensors.temperatureC?.limit ?? 0;
    expect(Math.max(...errors.map(Math.abs))).toBeLessThanOrEqual(limit);
    expect(Math.max(...errors.map(Math.abs))).toBeGreaterThan(0.9 * limit);
    const probe = make({ sensors: { temperatureC: { ...PERFECT, limit: 0.5 } } });
    const read = values(run(probe, 30, around(20, 50)));
    for (const value of read) expect(value).toBeCloseTo(20 + probe.errorOf('temperatureC'), 6);
  });

  it('has the noise and the resolution that it is said to have', () => {
    const probe = make({ sensors: { temperatureC: { ...PERFECT, noise: 0.1, resolution: 0.05 } } });
    const read = values(run(probe, 4000, around(20, 50)));
    const sd = Math.sqrt(read.reduce((sum, x) => sum + (x - 20) ** 2, 0) / read.length);
    expect(Math.abs(sd - Math.hypot(0.1, 0.05 / Math.sqrt(12)))).toBeLessThan(0.006);
    for (const x of read) expect(Math.abs(x / 0.05 - Math.round(x / 0.05))).toBeLessThan(1e-6);
  });

  it('reads at its own rhythm and phase', () => {
    const reads = run(make({ intervalS: 5 }), 600, around(20, 50)).map((reading) => reading.t);
    expect(reads.length).toBeGreaterThanOrEqual(118);
    expect(reads.length).toBeLessThanOrEqual(122);
    const gaps = reads.slice(1).map((t, i) => t - (reads[i] ?? 0));
    expect(Math.min(...gaps)).toBeGreaterThanOrEqual(4900);
    expect(Math.max(...gaps)).toBeLessThanOrEqual(5100);
    expect(reads.every(Number.isInteger)).toBe(true);
    const [other] = run(make({ intervalS: 5 }, 2), 600, around(20, 50));
    expect(other?.t).not.toBe(reads[0]);
  });

  it('loses readings in a dropout, and the others are not changed by it', () => {
    const whole = run(make({}), 3600, around(20, 50));
    const holed = run(make({ dropoutsPerH: 30, dropoutS: 20 }), 3600, around(20, 50));
    const lost = whole.length - holed.length;
    // 30 an hour of 20 s each, one after the other: about 500 s; the spread is about 100 s.
    expect(lost).toBeGreaterThan(200);
    expect(lost).toBeLessThan(900);
    const byTime = new Map(whole.map((reading) => [reading.t, reading.temperatureC]));
    for (const { t, temperatureC } of holed) expect(byTime.get(t)).toBe(temperatureC);
  });

  it('is hit by spikes if asked, far outside its noise', () => {
    const clean = run(make({}), 3600, around(20, 50));
    const spiked = run(make({ spikesPerH: 60 }), 3600, around(20, 50));
    const off = spiked.filter((reading, i) => {
      const { temperatureC = 0, humidityPct = 0 } = clean[i] ?? {};
      const apartK = Math.abs((reading.temperatureC ?? 0) - temperatureC);
      const apartPct = Math.abs((reading.humidityPct ?? 0) - humidityPct);
      if (apartK + apartPct === 0) return false;
      expect(Math.max(apartK / 5.9, apartPct / 19.9)).toBeGreaterThan(1);
      return true;
    });
    expect(off.length).toBeGreaterThan(30);
    expect(off.length).toBeLessThan(95);
  });

  it('says what is left of its battery once a minute', () => {
    const read = run(make({ batteryPct: 50, batteryPctPerH: 10 }), 3600, around(20, 50));
    const battery = read.flatMap((reading) => reading.batteryPct ?? []);
    expect(battery.length).toBeGreaterThanOrEqual(58);
    expect(battery.length).toBeLessThanOrEqual(61);
    expect(battery[0]).toBe(50);
    expect(battery.at(-1)).toBe(40);
  });

  it('does not say what cannot be', () => {
    const damp: Sensor = { ...PERFECT, noise: 3 };
    const sensors = { temperatureC: PERFECT, humidityPct: damp };
    const read = run(make({ sensors }), 300, around(12, 99));
    expect(Math.max(...read.map((reading) => reading.humidityPct ?? 0))).toBe(100);
  });

  it('measures pressure outdoors', () => {
    const probe = new Probe(outdoorProbe('o', 'Yard'), 1, STEP_MS);
    const reading = run(probe, 30, around(30, 40)).at(-1);
    expect(Math.abs((reading?.pressurePa ?? 0) - P)).toBeLessThan(130);
    expect(reading?.humidityPct).toBeUndefined();
  });
});
