/** Probes that are wet, drift, or hang where they are not said to. */
import { describe, expect, it } from 'vitest';
import { wetBulbC } from '../../server/measure/moist-air.ts';
import { withFaults } from '../../simulator/faults.ts';
import { airProbe } from '../../simulator/parts.ts';
import { Probe } from '../../simulator/probe.ts';
import { wetted } from '../../simulator/probe-fault.ts';
import type { ProbeReading } from '../../simulator/probe.ts';
import { scenario } from '../../simulator/scenarios.ts';
import { System } from '../../simulator/system.ts';
import { humidityRatio, vapourPressurePa } from '../../server/measure/moist-air.ts';

const P = 101_325;
const around = (temperatureC: number, humidityPct: number) => ({
  temperatureC,
  vapourPressurePa: vapourPressurePa(humidityRatio(temperatureC, humidityPct, P), P),
  ...{ velocityMs: 1, pressurePa: P, powerW: 0 },
});
const last = (readings: ProbeReading[], probe: string): ProbeReading | undefined =>
  readings.findLast((reading) => reading.probe === probe);

describe('a wet probe', () => {
  it('reads the wet bulb and saturation', () => {
    const probe = new Probe({ ...airProbe('p', 'P', 'u1', 'supply'), fault: { wet: 1 } }, 4, 500);
    const said: ProbeReading[] = [];
    for (let ms = 0; ms < 120_000; ms += 500) {
      probe.step(ms, ms + 500, around(25, 50), (_, reading) => said.push(reading));
    }
    const wetC = wetBulbC(25, humidityRatio(25, 50, P), P);
    // ASHRAE Handbook, chart 1: some 17.9 °C (from memory).
    expect(wetC).toBeCloseTo(17.9, 1);
    const off = probe.errorOf('temperatureC');
    expect(said.at(-1)?.temperatureC).toBeCloseTo(wetC + off, 0);
    expect(said.at(-1)?.humidityPct).toBeGreaterThan(97);
  });

  it('is a dry one where it is not wet, and cannot be wetter than saturated air', () => {
    expect(wetted(around(25, 50), 0)).toEqual(around(25, 50));
    expect(wetted(around(12, 100), 1).temperatureC).toBeCloseTo(12, 2);
  });
});

describe('a drifting probe', () => {
  it('walks off from when it begins to, and stays there', () => {
    const plain = scenario('plain');
    const drifting = withFaults(plain, 'u1', [{ kind: 'drifting-probe', size: 6 }]);
    const [still, walking] = [new System(plain, 5, 0), new System(plain, 5, 0)];
    walking.become(drifting, 600_000);
    walking.become(plain, 2_400_000);
    const offK = (t: number): number => {
      const [a, b] = [still.advance(t), walking.advance(t)];
      return (last(b, 'p2')?.temperatureC ?? NaN) - (last(a, 'p2')?.temperatureC ?? NaN);
    };
    expect(offK(600_000)).toBe(0);
    expect(offK(1_200_000)).toBeCloseTo(1, 1);
    expect(offK(2_400_000)).toBeCloseTo(3, 1);
    expect(offK(3_000_000)).toBeCloseTo(3, 1);
    expect(walking.truth('u1')).toEqual(still.truth('u1'));
  });
});

describe('swapped probes', () => {
  it('hang in each other’s air, and are swapped but once', () => {
    const plain = scenario('plain');
    const once = withFaults(plain, 'u1', [{ kind: 'swapped-probes', size: 1 }]);
    expect(once.probes.map(({ place, saidPlace }) => [place, saidPlace])).toEqual([
      ['supply', 'return'],
      ['return', 'supply'],
      ['outdoor', undefined],
    ]);
    expect(withFaults(once, 'u1', [{ kind: 'swapped-probes', size: 1 }])).toEqual(once);
    const readings = new System(once, 5, 0).advance(300_000);
    const [named, other] = [last(readings, 'p1'), last(readings, 'p2')];
    expect(other?.temperatureC).toBeGreaterThan((named?.temperatureC ?? NaN) + 5);
  });
});
