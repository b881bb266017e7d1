/**
 * Dehumidifying with reheat: the total by enthalpies that PsychroLib works out (its formulas are those of
 * the ASHRAE Handbook, ch. 1), and who may be taken for it.
 */
import psychrolib from 'psychrolib';
import { describe, expect, test } from 'vitest';
import { scenario } from '../../../simulator/scenarios.ts';
import { setUp, TestVisit } from '../visit.ts';
import { play } from './play.ts';

psychrolib.SetUnitSystem(psychrolib.SI);
const PA = 101_325;
const FLOW_M3S = 0.2; // of setUp, at the supply

interface Point {
  temperatureC: number;
  humidityPct: number;
}
const ROOM: Point = { temperatureC: 24, humidityPct: 65 };
const DRIED: Point = { temperatureC: 26.5, humidityPct: 40 };

function steady(ret: Point, sup: Point, mode?: 'cooling' | 'heating'): TestVisit {
  const visit = new TestVisit(setUp(mode === undefined ? {} : { mode }));
  for (let s = 0; s < 60; s++) {
    visit.reading('r', 1000 * s, ret);
    visit.reading('s', 1000 * s + 300, sup);
  }
  return visit;
}
const W = ({ temperatureC, humidityPct }: Point): number =>
  psychrolib.GetHumRatioFromRelHum(temperatureC, humidityPct / 100, PA);
/** p·W/(0.621945 + W): Handbook, ch. 1, eq. 20. */
const vapourPa = (air: Point): number => (PA * W(air)) / (0.621945 + W(air));
const h = (air: Point): number => psychrolib.GetMoistAirEnthalpy(air.temperatureC, W(air));

describe('24 °C/65 % that comes out at 26.5 °C/40 %', () => {
  const dryAirKgs = FLOW_M3S / psychrolib.GetMoistAirVolume(DRIED.temperatureC, W(DRIED), PA);
  const totalW = dryAirKgs * (h(ROOM) - h(DRIED));

  test.each([undefined, 'cooling'] as const)('mode told: %s', (mode) => {
    const visit = steady(ROOM, DRIED, mode);
    const unit = visit.unit();
    expect(unit.mode).toBe('cooling');
    // PsychroLib's gas is perfect: its vapour is 0.5 % apart, of which a difference sees more.
    expect(Math.abs((unit.capacity.totalW ?? NaN) / totalW - 1)).toBeLessThan(0.01);
    expect(totalW).toBeGreaterThan(1000);
    expect(unit.capacity.sensibleW).toBeLessThan(-300);
    expect(unit.capacity.latentW).toBeGreaterThan(1300);
    expect(visit.codes()).toContain('reheat');
    for (const code of ['supply-warmer', 'nothing-delivered']) {
      expect(visit.codes()).not.toContain(code);
    }
  });

  test('that it is so at the edge of the probes’ limits is not said', () => {
    // ±2.5 % at both are 0.5 and 0.6 g/kg: 60 and 47 % (11.2 and 10.1 g/kg) could be one moisture.
    const visit = steady(
      { temperatureC: 24, humidityPct: 60 },
      { temperatureC: 26.5, humidityPct: 47 },
    );
    expect(visit.unit().mode).toBe('heating');
    expect(visit.codes()).not.toContain('reheat');
  });
});

describe('the simulated unit that dries with reheat', () => {
  test.each([true, false])(
    'mode told: %s: its total, and that it is so, within 3 min',
    (tellMode) => {
      let since = 0;
      let far = 0;
      play(scenario('reheat'), 900, {
        tellMode,
        each: ({ s, unit, truth, codes }) => {
          if (!codes.includes('reheat')) since = s;
          const { totalW, totalU95W } = unit.capacity;
          if (s > 300)
            far = Math.max(far, Math.abs((totalW ?? NaN) - truth.totalW) / (totalU95W ?? NaN));
        },
      });
      expect(since).toBeLessThan(180);
      expect(far).toBeLessThan(1);
    },
  );
});

describe('a unit that heats is not taken for it', () => {
  test.each([-2.5, 2.5])('humidity in the supply off by %d %% at 45 °C', (offPct) => {
    const room = { temperatureC: 20, humidityPct: 40 };
    const samePct = (100 * vapourPa(room)) / psychrolib.GetSatVapPres(45);
    const visit = steady(room, { temperatureC: 45, humidityPct: samePct + offPct });
    expect(visit.unit().mode).toBe('heating');
    expect(visit.codes()).not.toContain('reheat');
  });

  test('nor when it stops, and a late humidity sensor still reads hot air', () => {
    const visit = new TestVisit(setUp({}));
    const room = { temperatureC: 20, humidityPct: 40 };
    const pa = vapourPa(room);
    for (let s = 0; s < 600; s++) {
      const fall = Math.exp(-Math.max(0, s - 300) / 30);
      const temperatureC = 20.5 + 24.5 * fall;
      // It reads the humidity of 40 s ago.
      const lateC = 20.5 + 24.5 * Math.exp(-Math.max(0, s - 340) / 30);
      visit.reading('r', 1000 * s, room);
      visit.reading('s', 1000 * s + 300, {
        temperatureC,
        humidityPct: (100 * pa) / psychrolib.GetSatVapPres(lateC),
      });
    }
    const modes = new Set(visit.snapshots.slice(2).map(({ units }) => units['u1']?.mode));
    expect([...modes]).toEqual(['heating']);
  });
});
