/** A system that becomes another one in mid-run: nothing of its state jumps, and the time of it is exact. */
import { describe, expect, it } from 'vitest';
import { type Fault, FAULT_KINDS, withFaults } from '../../simulator/faults.ts';
import type { ProbeReading } from '../../simulator/probe.ts';
import { scenario } from '../../simulator/scenarios.ts';
import { System, type SystemParameters } from '../../simulator/system.ts';

const MID = 600_000;
const SIZES: Partial<Record<string, number>> = { 'uneven-outlet': 8, 'drifting-probe': 10 };
const PLAIN: SystemParameters = { ...scenario('plain'), warmUpS: 120 };
const faulty = (kind: Fault['kind']): SystemParameters =>
  withFaults(PLAIN, 'u1', [{ kind, size: SIZES[kind] ?? 0.5 }]);

/** What the machine and the room are like, without what follows from it at once. */
function stateOf(system: System): Record<string, number> {
  const { room, unit } = system.parts('u1');
  return {
    roomC: room.air.temperatureC,
    roomW: room.air.humidityRatio,
    energyJ: room.energyJ,
    waterKg: room.waterKg,
    surfaceC: unit.coil.surfaceC,
    holdUpKg: unit.coil.holdUpKg,
    flowM3s: unit.flowM3s,
    supplyC: unit.supply.temperatureC,
    refrigerantW: system.outdoorUnit.refrigerantW[0] ?? NaN,
    frostKg: system.outdoorUnit.frostKg,
  };
}

describe('a system that becomes another', () => {
  it.each(FAULT_KINDS)('keeps its state at the moment: %s', (kind) => {
    const system = new System(PLAIN, 3, 0);
    system.advance(MID);
    const before = stateOf(system);
    system.become(faulty(kind));
    expect(stateOf(system)).toEqual(before);
    // And half a second later it has not gone far: no more than a fan slows down in that time.
    system.advance(MID + 500);
    const after = stateOf(system);
    expect(Math.abs((after['roomC'] ?? NaN) - (before['roomC'] ?? NaN))).toBeLessThan(0.01);
    expect(Math.abs((after['surfaceC'] ?? NaN) - (before['surfaceC'] ?? NaN))).toBeLessThan(0.6);
    expect((after['flowM3s'] ?? NaN) / (before['flowM3s'] ?? NaN)).toBeGreaterThan(0.9);
  });

  it('comes to what it would be with the fault from the start, and back', () => {
    const twin = new System(faulty('dirty-wheel'), 3, 0);
    const system = new System(PLAIN, 3, 0);
    system.become(faulty('dirty-wheel'), MID);
    system.become(PLAIN, 2 * MID);
    twin.advance(2 * MID - 500);
    system.advance(2 * MID - 500);
    expect(system.truth('u1').flowM3s / twin.truth('u1').flowM3s).toBeCloseTo(1, 2);
    system.advance(3 * MID);
    expect(system.truth('u1').flowM3s / twin.truth('u1').flowM3s).toBeGreaterThan(1.15);
  });

  it('does so at the same time, however it is called', () => {
    const played = (strideMs: number): ProbeReading[] => {
      const system = new System(PLAIN, 3, 0);
      system.become(faulty('low-charge'), 61_000);
      const readings: ProbeReading[] = [];
      for (let t = strideMs; t < 150_000; t += strideMs) readings.push(...system.advance(t));
      return [...readings, ...system.advance(150_000)];
    };
    const straight = played(150_000);
    expect(played(777)).toEqual(straight);
    const healthy = new System(PLAIN, 3, 0).advance(150_000);
    const until = healthy.findIndex(({ t }) => t > 61_000);
    expect(straight.slice(0, until)).toEqual(healthy.slice(0, until));
    expect(straight).not.toEqual(healthy);
  });

  it('keeps a setpoint and a fan speed that were told', () => {
    const system = new System(PLAIN, 3, 0);
    system.setpoint('u1', 16);
    system.fan('u1', 'high');
    system.become(faulty('clogged-filter'));
    system.advance(MID);
    expect(system.fanOf('u1')).toBe('high');
    const pushed = system.truth('u1').totalW;
    system.become(faulty('turned-down'));
    system.advance(2 * MID);
    expect(system.truth('u1').totalW).toBeLessThan(0.8 * pushed);
  });

  it('is of the same site', () => {
    const system = new System(PLAIN, 3, 0);
    expect(() => system.become({ ...PLAIN, pressurePa: 80_000 })).toThrow(
      'the pressure is 98475 Pa and cannot become 80000 Pa in mid-run',
    );
    expect(() => system.become({ ...PLAIN, units: [] })).toThrow('what the units are is u1');
  });
});

describe('own probes', () => {
  it('are off by their own errors in the very same air', () => {
    const [one, two] = [1, 2].map((probes) => new System(PLAIN, { air: 9, probes }, 0));
    const [a, b] = [one?.advance(MID) ?? [], two?.advance(MID) ?? []];
    expect(one?.truth('u1')).toEqual(two?.truth('u1'));
    expect(one?.probeError('p2', 'temperatureC')).not.toBe(two?.probeError('p2', 'temperatureC'));
    expect(a).not.toEqual(b);
    const other = new System(PLAIN, { air: 8, probes: 1 }, 0);
    other.advance(MID);
    expect(other.truth('u1')).not.toEqual(one?.truth('u1'));
  });
});
