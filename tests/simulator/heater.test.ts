import { describe, expect, it } from 'vitest';
import { scenario } from '../../simulator/scenarios.ts';
import { System } from '../../simulator/system.ts';

const MINUTE_MS = 60_000;
/** Specific heat of moist air, J/kg of dry air and K (ASHRAE Fundamentals, chapter 1: 1.006 and 1.86). */
const moistHeat = (W: number): number => 1006 + 1860 * W;

describe('a heater before the intake, with the fan alone', () => {
  it('warms the supply by its power over the flow, less what escapes; the return hangs before it', () => {
    const system = new System(scenario('dry'), 1, 0);
    system.fanAlone('u1', true);
    system.advance(20 * MINUTE_MS);
    const before = system.truth('u1');
    system.heater('u1', { powerW: 1500, escape: 0.03 });
    system.advance(35 * MINUTE_MS);
    const { supply, return: ret, dryAirKgS } = system.truth('u1');
    const rise = (t: typeof before): number => t.supply.temperatureC - t.return.temperatureC;
    const more = supply.temperatureC - ret.temperatureC - rise(before);
    // The coil's metal still takes a little of it while the room warms.
    expect(more / ((1500 * 0.97) / (dryAirKgS * moistHeat(ret.humidityRatio)))).toBeCloseTo(1, 2);
    system.heater('u1', { powerW: 0, escape: 0 });
    system.advance(50 * MINUTE_MS);
    expect(Math.abs(rise(system.truth('u1')) - rise(before))).toBeLessThan(0.01 * more);
  });

  it('puts all of its heat into the room', () => {
    const plain = scenario('dry');
    const closed = {
      ...{ massOutdoorWK: 0, glazingWK: 0, infiltrationPerH: 0, sensibleW: 0, moistureKgH: 0 },
    };
    const sealed = {
      ...plain,
      units: plain.units.map((unit) => ({ ...unit, room: { ...unit.room, ...closed } })),
    };
    const gainedJ = (powerW: number): number => {
      const system = new System(sealed, 1, 0);
      system.fanAlone('u1', true);
      system.advance(10 * MINUTE_MS);
      const { room, unit } = system.parts('u1');
      const before = room.energyJ + unit.coil.energyJ;
      system.heater('u1', { powerW, escape: 0.1 });
      system.advance(30 * MINUTE_MS);
      return room.energyJ + unit.coil.energyJ - before;
    };
    expect((gainedJ(1000) - gainedJ(0)) / (1000 * 1200)).toBeCloseTo(1, 2);
  });

  it('stops the compressor and lets the fan run, in heating too, until that ends', () => {
    for (const [name, mode] of [
      ['plain', 'cooling'],
      ['heating', 'heating'],
    ] as const) {
      const system = new System(scenario(name), 1, 0);
      system.advance(10 * MINUTE_MS);
      const { totalW } = system.truth('u1');
      expect(totalW, mode).toBeGreaterThan(1000);
      system.fanAlone('u1', true);
      system.advance(40 * MINUTE_MS);
      expect(system.compressor).toBe('off');
      expect(Math.abs(system.truth('u1').totalW)).toBeLessThan(0.2 * totalW);
      expect(system.truth('u1').flowM3s).toBeGreaterThan(0.1);
      system.fanAlone('u1', false);
      system.advance(60 * MINUTE_MS);
      expect(system.truth('u1').totalW, mode).toBeGreaterThan(1000);
    }
  });
});
