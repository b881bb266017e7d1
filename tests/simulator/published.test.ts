/** What a simulated head delivers when it is healthy and asked for all it has is what its table says. */
import { describe, expect, it } from 'vitest';
import { expectedAt } from '../../server/measure/expectation/published.ts';
import { relativeHumidityPct, wetBulbC } from '../../server/measure/moist-air.ts';
import { ratioOfWetBulb } from '../../simulator/air.ts';
import { type FaultKind, withFaults } from '../../simulator/faults.ts';
import { publishedTable } from '../../simulator/published.ts';
import { scenario } from '../../simulator/scenarios.ts';
import { System, type SystemParameters } from '../../simulator/system.ts';

const SEA_PA = 101_325;

/** A hall that stays as it is, whatever the unit does; the setpoint asks for all there is. */
function inHall(
  base: SystemParameters,
  indoorC: number,
  humidityPct: number,
  outdoorC: number,
): SystemParameters {
  const unit = base.units[0];
  if (unit === undefined) throw new Error('a unit');
  const cooling = base.mode === 'cooling';
  const room = {
    ...{ ...unit.room, temperatureC: indoorC, humidityPct, massTemperatureC: indoorC },
    ...{ volumeM3: 1e6, contentsJK: 1e10, sensibleW: 0, moistureKgH: 0, infiltrationPerH: 0 },
  };
  const parameters: SystemParameters = {
    ...base,
    pressurePa: SEA_PA,
    outdoorAir: { temperatureC: outdoorC, humidityPct: 20, driftKPerH: 0 },
    outdoorUnit: { ...base.outdoorUnit, hunting: { amplitude: 0, periodS: 100 } },
    units: [{ ...unit, room, fan: 'high', setpointC: cooling ? 10 : 35 }],
    probes: [],
  };
  return parameters;
}

/** Delivered in the end, W. */
function settledW(parameters: SystemParameters): number {
  const system = new System(parameters, 1, 0);
  system.advance(1_500_000);
  return system.truth('u1').totalW;
}

describe('the printed table', () => {
  // On printed points, between them, and where the outdoor unit has less than the head asks for.
  it.each([
    [35, 27, 19],
    [20, 20, 14],
    [45, 30, 22],
    [32.5, 26, 18.5],
    [37, 23.5, 17],
    [43, 28.5, 20.7],
  ])('cooling at %s °C outdoors, %s °C dry and %s °C wet bulb', (outdoorC, indoorC, wetBulb) => {
    const base = scenario('plain');
    const W = ratioOfWetBulb(indoorC, wetBulb, SEA_PA);
    expect(wetBulbC(indoorC, W, SEA_PA)).toBeCloseTo(wetBulb, 1);
    const humidityPct = relativeHumidityPct(indoorC, W, SEA_PA);
    const at = { outdoorC, indoorC, indoorWetBulbC: wetBulb };
    const expected = expectedAt('cooling', { points: publishedTable(base, 'u1') }, at);
    if (typeof expected === 'string') throw new Error(expected);
    expect(expected.by).toBe('table');
    const really = settledW(inHall(base, indoorC, humidityPct, outdoorC));
    expect(really / expected.totalW).toBeGreaterThan(0.98);
    expect(really / expected.totalW).toBeLessThan(1.02);
  });

  it.each([
    [7, 20],
    [-8, 21],
    [12, 17],
  ])('heating at %s °C outdoors, %s °C indoors', (outdoorC, indoorC) => {
    const base = scenario('heating');
    const at = { outdoorC, indoorC, indoorWetBulbC: null };
    const expected = expectedAt('heating', { points: publishedTable(base, 'u1') }, at);
    if (typeof expected === 'string') throw new Error(expected);
    // The first minutes of frost-free air: the table knows no frost.
    const really = settledW(inHall(base, indoorC, 40, outdoorC));
    expect(really / expected.totalW).toBeGreaterThan(0.98);
    expect(really / expected.totalW).toBeLessThan(1.02);
  });

  it('is that of a clean unit, whatever the scenario’s own has', () => {
    const base = scenario('plain');
    const faulty = withFaults(base, 'u1', [
      { kind: 'dirty-wheel', size: 1 },
      { kind: 'low-charge', size: 0.3 },
      { kind: 'dirty-coil', size: 1 },
    ]);
    expect(publishedTable(faulty, 'u1')).toEqual(publishedTable(base, 'u1'));
  });
});

describe('a fault', () => {
  const base = scenario('plain');
  const run = (
    kind: FaultKind | null,
    size = 0,
  ): { share: number; shr: number; powerW: number } => {
    const hall = inHall(base, 27, 47, 35);
    const faulty = kind === null ? hall : withFaults(hall, 'u1', [{ kind, size }]);
    const system = new System(faulty, 1, 0);
    system.advance(1_500_000);
    const { totalW, sensibleW } = system.truth('u1');
    return { share: totalW, shr: sensibleW / totalW, powerW: system.outdoorUnit.powerW };
  };
  const healthy = run(null);

  it.each([
    ['dirty-wheel', 0.8, 0.75, 0.97],
    ['clogged-filter', 0.9, 0.85, 0.99],
    ['dirty-coil', 0.9, 0.8, 0.98],
    ['low-charge', 0.4, 0.65, 0.88],
    ['other-heads', 0.7, 0.4, 0.75],
  ] as const)('%s: capacity falls, by more the larger it is', (kind, size, least, most) => {
    const whole = run(kind, size).share / healthy.share;
    expect(whole).toBeGreaterThan(least);
    expect(whole).toBeLessThan(most);
    const half = run(kind, size / 2).share / healthy.share;
    expect(half).toBeGreaterThan(whole);
    expect(half).toBeLessThanOrEqual(1);
  });

  it('a low charge dries less, and takes little power less; less air dries more', () => {
    const low = run('low-charge', 0.4);
    expect(low.shr).toBeGreaterThan(healthy.shr + 0.05);
    expect(low.powerW / healthy.powerW).toBeGreaterThan(low.share / healthy.share + 0.05);
    expect(run('dirty-wheel', 0.8).shr).toBeLessThan(healthy.shr - 0.03);
  });

  it('a unit that is turned down asks for the part that is left', () => {
    const down = withFaults(base, 'u1', [{ kind: 'turned-down', size: 0.6 }]);
    const system = new System({ ...down, warmUpS: 0 }, 1, 0);
    system.advance(500);
    expect(system.parts('u1').unit.fan).toBe('medium');
    const { base: least, gainPerK } = base.units[0]?.thermostat ?? { base: 0, gainPerK: 0 };
    const errorK = (base.units[0]?.room.temperatureC ?? 0) - (down.units[0]?.setpointC ?? 0);
    expect(least + gainPerK * errorK).toBeCloseTo(0.4, 6);
  });
});
