import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { ProbeReading } from '../../simulator/probe.ts';
import { scenario, SCENARIO_NAMES } from '../../simulator/scenarios.ts';
import { STEP_MS, System } from '../../simulator/system.ts';

const START_T = 1_777_885_200_000;
const MINUTE_MS = 60_000;

describe('a simulated system', () => {
  it('is the same for the same seed, however it is called', () => {
    const straight = new System(scenario('demo'), 5, START_T).advance(START_T + 120_000);
    fc.assert(
      fc.property(fc.array(fc.integer({ min: 1, max: 9000 }), { minLength: 20 }), (strides) => {
        const system = new System(scenario('demo'), 5, START_T);
        const readings: ProbeReading[] = [];
        let t = START_T;
        for (const stride of strides) {
          t = Math.min(t + stride, START_T + 120_000);
          readings.push(...system.advance(t));
        }
        readings.push(...system.advance(START_T + 120_000));
        expect(readings).toEqual(straight);
      }),
      { numRuns: 20 },
    );
    const other = new System(scenario('demo'), 6, START_T).advance(START_T + 120_000);
    expect(other).not.toEqual(straight);
  });

  it('hands its readings over in order of time, none from the future', () => {
    const system = new System(scenario('demo'), 2, START_T);
    let last = START_T;
    for (let t = START_T; t < START_T + 300_000; t += 777) {
      for (const reading of system.advance(t)) {
        expect(reading.t).toBeGreaterThanOrEqual(last);
        expect(reading.t).toBeLessThanOrEqual(t);
        last = reading.t;
      }
      expect(t - system.t).toBeLessThan(STEP_MS);
    }
  });

  it('leaves a gap, and nothing else, where time is skipped', () => {
    const straight = new System(scenario('plain'), 1, 0).advance(60_000);
    const skipping = new System(scenario('plain'), 1, 0);
    const before = skipping.advance(30_000);
    skipping.skip(3_600_000);
    const after = skipping.advance(3_660_000);
    const shifted = after.map((reading) => ({ ...reading, t: reading.t - 3_600_000 }));
    expect([...before, ...shifted]).toEqual(straight);
  });

  it('moves within 20 s when the setpoint is changed, either way', () => {
    for (const [changeK, sign] of [
      [-1, 1],
      [1, -1],
    ] as const) {
      const system = new System(scenario('demo'), 1, 0);
      system.advance(600_000);
      const before = system.truth('u1').totalW;
      system.setpoint('u1', 24 + changeK);
      system.advance(620_000);
      const movedW = sign * (system.truth('u1').totalW - before);
      expect(movedW).toBeGreaterThan(0.08 * before);
    }
  });

  it('moves more air at a higher fan speed', () => {
    const system = new System(scenario('demo'), 1, 0);
    const flows = ['quiet', 'low', 'medium', 'high'].map((speed, i) => {
      system.fan('u1', speed);
      system.advance((i + 1) * MINUTE_MS);
      expect(system.fanOf('u1')).toBe(speed);
      return system.truth('u1').flowM3s;
    });
    expect(flows).toEqual([...flows].sort((a, b) => a - b));
  });

  it('warms a probe in a hand, that one only, and lets it cool again', () => {
    const system = new System(scenario('plain'), 1, 0);
    const last = (toMs: number): Map<string, number> =>
      new Map(system.advance(toMs).map(({ probe, temperatureC = NaN }) => [probe, temperatureC]));
    const before = last(60_000);
    system.warm('p1');
    const warm = last(100_000);
    system.warm(null);
    const after = last(180_000);
    expect(warm.get('p1')).toBeGreaterThan(32);
    expect(warm.get('p2')).toBeLessThan((before.get('p2') ?? NaN) + 1);
    expect(after.get('p1')).toBeLessThan(27);
  });

  it('gives water back to the air when the compressor stops on a wet coil', () => {
    const system = new System(scenario('humid'), 1, 0);
    system.advance(30 * MINUTE_MS);
    expect(system.truth('u1').latentW).toBeGreaterThan(1000);
    system.setpoint('u1', 32);
    system.advance(33 * MINUTE_MS);
    expect(system.compressor).toBe('off');
    expect(system.truth('u1').latentW).toBeLessThan(-100);
  });

  it('takes from one head what another asks for, when there is not enough', () => {
    const system = new System(scenario('two-heads'), 1, 0);
    system.setpoint('u1', 22);
    system.setpoint('u2', 30); // off
    system.advance(15 * MINUTE_MS);
    const alone = system.truth('u1').totalW;
    system.setpoint('u2', 18);
    system.advance(20 * MINUTE_MS);
    expect(system.truth('u1').totalW).toBeLessThan(0.85 * alone);
    expect(system.truth('u2').totalW).toBeGreaterThan(800);
  });

  it('names what it does not have', () => {
    const system = new System(scenario('demo'), 1, 0);
    expect(() => {
      system.setpoint('u9', 20);
    }).toThrow('unit "u9" is not one of u1, u2');
    expect(() => {
      system.fan('u1', 'turbo');
    }).toThrow('fan speed "turbo" is not one of quiet, low, medium, high');
    expect(() => scenario('snow')).toThrow(/no scenario "snow"; the scenarios are demo, plain/);
  });
});

describe('the scenarios', () => {
  it.each(SCENARIO_NAMES)('%s: plausible from beginning to end', (name) => {
    const parameters = scenario(name);
    const system = new System(parameters, 1, 0);
    const broken: ProbeReading[] = [];
    let least = 1e9;
    for (let minute = 1; minute <= 90; minute++) {
      for (const reading of system.advance(minute * MINUTE_MS)) {
        const values = Object.values(reading).filter((value) => typeof value !== 'string');
        if (!values.every(Number.isFinite)) broken.push(reading);
      }
      for (const { id } of parameters.units) {
        const truth = system.truth(id);
        expect(truth.room.temperatureC).toBeGreaterThan(15);
        expect(truth.room.temperatureC).toBeLessThan(30);
        expect(truth.supply.temperatureC).toBeGreaterThan(-2);
        expect(truth.supply.temperatureC).toBeLessThan(55);
        if (minute >= 10) least = Math.min(least, truth.totalW);
        expect(truth.totalW).toBeLessThan(4500);
      }
    }
    expect(broken).toEqual([]);
    const resting = ['cycling', 'defrost'].includes(name);
    if (!resting) expect(least).toBeGreaterThan(1000);
  });

  it('demo: a lively start, then settled within some ten minutes at plausible figures', () => {
    const parameters = scenario('demo');
    const system = new System(parameters, 1, 0);
    const at = (minute: number): number => {
      system.advance(minute * MINUTE_MS);
      return system.truth('u1').totalW;
    };
    const first = at(0.1);
    expect(first).toBeGreaterThan(100);
    expect(at(2)).toBeGreaterThan(5 * first);
    const atTen = at(10);
    expect(Math.abs(at(15) / atTen - 1)).toBeLessThan(0.03);
    for (const { id } of parameters.units) {
      const truth = system.truth(id);
      const ratio = truth.sensibleW / truth.totalW;
      expect(ratio).toBeGreaterThan(0.65);
      expect(ratio).toBeLessThan(0.9);
      expect(truth.supply.temperatureC).toBeGreaterThan(9);
      expect(truth.supply.temperatureC).toBeLessThan(15);
    }
  });

  it('cycling: the compressor comes and goes', () => {
    const system = new System(scenario('cycling'), 1, 0);
    let starts = 0;
    let last = system.compressor;
    for (let s = 1; s <= 3600; s++) {
      system.advance(s * 1000);
      if (system.compressor === 'starting' && last === 'off') starts++;
      last = system.compressor;
    }
    expect(starts).toBeGreaterThanOrEqual(3);
    expect(starts).toBeLessThanOrEqual(12);
  });

  it('defrost: some minutes, some once an hour, with the fan waiting', () => {
    const system = new System(scenario('defrost'), 1, 0);
    let seconds = 0;
    let waiting = 0;
    for (let s = 1; s <= 5400; s++) {
      system.advance(s * 1000);
      if (system.compressor !== 'defrost') continue;
      seconds++;
      if (system.parts('u1').unit.fanWaiting) waiting++;
    }
    expect(seconds).toBeGreaterThan(120);
    expect(seconds).toBeLessThan(1200);
    expect(waiting / seconds).toBeGreaterThan(0.6);
  });

  it('dry: sensible only; humid: about half latent', () => {
    const ratio = (name: string): number => {
      const system = new System(scenario(name), 1, 0);
      system.advance(20 * MINUTE_MS);
      const { sensibleW, totalW } = system.truth('u1');
      return sensibleW / totalW;
    };
    expect(ratio('dry')).toBeCloseTo(1, 2);
    expect(ratio('humid')).toBeLessThan(0.65);
  });
});
