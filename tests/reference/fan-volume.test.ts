/**
 * What a fan table says is a volume: the same at any density (fan laws, ASHRAE Handbook—HVAC Systems
 * and Equipment, "Fans", from memory). The mass that goes with it is worked out here from the Handbook's
 * equations (Fundamentals 2021, ch. 1, eqs. 20 and 26; W by PsychroLib), and so by how much a table read
 * as a mass flow is too high.
 */
import psychrolib from 'psychrolib';
import { describe, expect, it } from 'vitest';
import type { Airflow, Line, Mode } from '../../adapters/contract.ts';
import type { UnitSnapshot } from '../../server/protocol.ts';
import { setUp, TestVisit } from '../session/visit.ts';
import { expectNear, expectWithin } from './near.ts';

psychrolib.SetUnitSystem(psychrolib.SI);

interface Air {
  temperatureC: number;
  humidityPct: number;
}
/** Pressures at 0, 1000 and 2000 m: Handbook, ch. 1, Table 1. */
const HEIGHTS = [
  { altitudeM: 0, pPa: 101_325 },
  { altitudeM: 1000, pPa: 89_875 },
  { altitudeM: 2000, pPa: 79_495 },
];
const COOLING = {
  mode: 'cooling',
  ret: { temperatureC: 26.7, humidityPct: 50 },
  sup: { temperatureC: 12, humidityPct: 92 },
} as const;
const HEATING = {
  mode: 'heating',
  ret: { temperatureC: 20, humidityPct: 40 },
  sup: { temperatureC: 48, humidityPct: 8.5 },
} as const;
const FLOW_M3S = 0.2;

/** What holds at the unit with such an airflow. */
function unitWith(
  { mode, ret, sup }: { mode: Mode; ret: Air; sup: Air },
  pPa: number,
  airflow: Pick<Airflow, 'source' | 'basis'>,
): UnitSnapshot {
  const whole: Airflow = { ...airflow, flowM3s: FLOW_M3S, plane: 'supply', limitPct: 5 };
  const lines: Line[] = [
    ...setUp({ mode }),
    { type: 'visit', version: 1, pressurePa: pPa },
    { type: 'unit', id: 'u1', airflow: whole },
  ];
  const visit = new TestVisit(lines);
  for (let s = 0; s < 4; s++) {
    visit.reading('r', s * 1000, ret);
    visit.reading('s', s * 1000 + 300, sup);
  }
  visit.session.finish();
  return visit.unit();
}

/** m³ a kilogram of dry air at the supply, eq. 26; in heating with the moisture of the return. */
function volume({ mode, ret, sup }: { mode: Mode; ret: Air; sup: Air }, pPa: number): number {
  const of = mode === 'heating' ? ret : sup;
  const W = psychrolib.GetHumRatioFromRelHum(of.temperatureC, of.humidityPct / 100, pPa);
  return (287.042 * (sup.temperatureC + 273.15) * (1 + 1.607858 * W)) / pPa;
}

const CASES = [
  ...HEIGHTS.map(({ altitudeM, pPa }) => ({ ...COOLING, altitudeM, pPa })),
  ...HEIGHTS.map(({ altitudeM, pPa }) => ({ ...HEATING, altitudeM, pPa })),
];
const TABLE = { source: 'fan-table', basis: 'standard' } as const;
const ENTERED = { source: 'entered', basis: 'standard' } as const;
const basisDoubts = ({ doubts }: UnitSnapshot): string[] =>
  doubts.filter(({ code }) => code === 'airflow-basis').map(({ effect }) => effect);

describe.each(CASES)('$mode at $altitudeM m', (state) => {
  const { pPa } = state;
  const v = volume(state, pPa);

  it('a table at standard density gives that volume at the fan, and its mass by the density there', () => {
    const { airflow } = unitWith(state, pPa, TABLE);
    expect(airflow.flowM3s).toBeCloseTo(FLOW_M3S, 9);
    // Real air is 0.07 % denser than eq. 26, and holds 0.5 % more water.
    expectWithin(airflow.dryAirKgs ?? NaN, FLOW_M3S / v, 1e-3, 'dry air');
    expectWithin(airflow.standardM3s ?? NaN, FLOW_M3S / v / 1.204, 1e-3, 'standard flow');
  });

  it('a table at actual density gives the same figure and interval, and none of them a doubt', () => {
    const standard = unitWith(state, pPa, TABLE);
    const actual = unitWith(state, pPa, { source: 'fan-table', basis: 'actual' });
    const entered = unitWith(state, pPa, { source: 'entered', basis: 'actual' });
    expect(standard.capacity).toEqual(actual.capacity);
    expect(standard.capacity).toEqual(entered.capacity);
    for (const unit of [standard, actual, entered]) expect(basisDoubts(unit)).toEqual([]);
  });

  it('entered as a standard flow it stays a mass, and a doubt says what that makes', () => {
    const mass = unitWith(state, pPa, ENTERED);
    expectWithin(mass.airflow.dryAirKgs ?? NaN, FLOW_M3S * 1.204, 1e-9, 'dry air');
    const tooHigh = 1.204 * v - 1;
    const total = unitWith(state, pPa, TABLE).capacity.totalW ?? NaN;
    expectWithin((mass.capacity.totalW ?? NaN) / total, 1 + tooHigh, 1e-3, 'too high');
    const [said] = basisDoubts(mass);
    // Under 3 % it makes no odds.
    if (Math.abs(tooHigh) < 0.03) expect(said).toBeUndefined();
    else expectNear(Number(/ (\d+) % too high/.exec(said ?? '')?.[1]), 100 * tooHigh, 0.6, 'said');
    const measured = unitWith(state, pPa, { source: 'measured', basis: 'standard' });
    expect(measured.capacity).toEqual(mass.capacity);
    expect(measured.doubts.map(({ code }) => code)).toEqual(['check-missing']);
  });
});

it('so a sea-level table is 26 % too high at 2000 m, and 10.5 % in heating at 48 °C', () => {
  expectNear(1.204 * volume(COOLING, 79_495), 1.26, 0.005, 'at 2000 m');
  expectNear(1.204 * volume(HEATING, 101_325), 1.105, 0.001, 'at 48 °C');
});
