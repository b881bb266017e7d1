/** What must hold of every capacity, whatever the states, the flow and the pressure are. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type AirPoint,
  capacity,
  type Capacity,
  dryAirFlow,
  type Flow,
  type Mode,
  STANDARD_DENSITY,
} from '../../server/measure/capacity.ts';
import { humidityRatio, PERFECT_AIR, REAL_AIR } from '../../server/measure/moist-air.ts';
import { expectWithin } from '../reference/near.ts';

const real = (min: number, max: number): fc.Arbitrary<number> =>
  fc.double({ min, max, noNaN: true });
const model = fc.constantFrom(REAL_AIR, PERFECT_AIR);
const pressure = real(60_000, 110_000);
const mode = fc.constantFrom<Mode>('cooling', 'heating');
const point: fc.Arbitrary<AirPoint> = fc
  .tuple(real(-10, 55), real(0, 100))
  .map(([temperatureC, rhPct]) => ({
    temperatureC,
    humidityRatio: humidityRatio(temperatureC, rhPct, 101_325),
  }));
const flow: fc.Arbitrary<Flow> = fc.record({
  flowM3s: real(0.001, 1),
  basis: fc.constantFrom('actual', 'standard'),
  plane: fc.constantFrom('supply', 'return'),
});
const PARTS = ['totalW', 'sensibleW', 'latentW', 'condensateKgh', 'dryAirKgs'] as const;

/** What the parts are small differences of: enthalpies are no better than this. */
function scaleW({ dryAirKgs }: Capacity): number {
  return dryAirKgs * 100_000;
}

describe('capacity', () => {
  it('sensible and latent add up to the total', () => {
    fc.assert(
      fc.property(mode, point, point, flow, pressure, model, (m, ret, sup, q, pPa, air) => {
        const got = capacity(m, ret, sup, q, pPa, air);
        const off = Math.abs(got.sensibleW + got.latentW - got.totalW);
        expect(off).toBeLessThanOrEqual(1e-12 * Math.max(Math.abs(got.totalW), scaleW(got)));
      }),
    );
  });

  it('the same air measured at either plane is the same flow of dry air, and capacity', () => {
    fc.assert(
      fc.property(mode, point, point, flow, pressure, model, (m, ret, sup, q, pPa, air) => {
        const here = capacity(m, ret, sup, { ...q, basis: 'actual', plane: 'supply' }, pPa, air);
        // What a measurement at the return would have shown.
        const atReturn = dryAirFlow({ ...q, plane: 'return' }, ret, sup, pPa, air).volumeM3kg;
        const flowM3s = here.dryAirKgs * atReturn;
        const there = capacity(
          m,
          ret,
          sup,
          { flowM3s, basis: 'actual', plane: 'return' },
          pPa,
          air,
        );
        expectWithin(there.dryAirKgs, here.dryAirKgs, 1e-12);
        for (const part of PARTS) {
          expect(Math.abs(there[part] - here[part])).toBeLessThanOrEqual(1e-12 * scaleW(here));
        }
      }),
    );
  });

  it('a standard flow is a mass flow: no state and no pressure changes it', () => {
    fc.assert(
      fc.property(mode, point, point, flow, pressure, model, (m, ret, sup, q, pPa, air) => {
        const got = capacity(m, ret, sup, { ...q, basis: 'standard' }, pPa, air);
        expect(got.dryAirKgs).toBe(q.flowM3s * STANDARD_DENSITY);
        expectWithin(got.standardM3s, q.flowM3s, 1e-12);
        expectWithin(got.flowM3s, got.dryAirKgs * got.volumeM3kg, 1e-12);
      }),
    );
  });

  it('in heating, the humidity of the supply changes nothing', () => {
    fc.assert(
      fc.property(point, point, real(0, 0.05), flow, pressure, (ret, sup, W, q, pPa) => {
        const other = { temperatureC: sup.temperatureC, humidityRatio: W };
        expect(capacity('heating', ret, other, q, pPa)).toEqual(
          capacity('heating', ret, sup, q, pPa),
        );
      }),
    );
  });

  it('scales with the flow', () => {
    fc.assert(
      fc.property(mode, point, point, flow, pressure, real(0.1, 10), (m, ret, sup, q, pPa, k) => {
        const once = capacity(m, ret, sup, q, pPa);
        const often = capacity(m, ret, sup, { ...q, flowM3s: k * q.flowM3s }, pPa);
        for (const part of PARTS) {
          const off = Math.abs(often[part] - k * once[part]);
          expect(off, part).toBeLessThanOrEqual(1e-12 * Math.max(1, k) * scaleW(once));
        }
      }),
    );
  });

  it('no flow, no capacity', () => {
    fc.assert(
      fc.property(mode, point, point, flow, pressure, (m, ret, sup, q, pPa) => {
        const got = capacity(m, ret, sup, { ...q, flowM3s: 0 }, pPa);
        for (const part of PARTS) expect(Math.abs(got[part]), part).toBe(0);
        expect(got.sensibleHeatRatio).toBeNull();
      }),
    );
  });

  it('the same air on both sides: no capacity in either mode', () => {
    fc.assert(
      fc.property(mode, point, flow, pressure, (m, ret, q, pPa) => {
        const got = capacity(m, ret, { ...ret }, q, pPa);
        expect(Math.abs(got.totalW)).toBe(0);
        expect(Math.abs(got.sensibleW)).toBe(0);
      }),
    );
  });

  it('is positive for what the mode asks for', () => {
    fc.assert(
      fc.property(mode, point, real(0.1, 30), flow, pressure, (m, ret, dt, q, pPa) => {
        const t2 = ret.temperatureC + (m === 'cooling' ? -dt : dt);
        const sup = { temperatureC: t2, humidityRatio: ret.humidityRatio };
        const got = capacity(m, ret, sup, q, pPa);
        expect(got.totalW).toBeGreaterThan(0);
        expectWithin(got.sensibleW, got.totalW, 1e-9);
      }),
    );
  });
});
