/**
 * What is awkward in measured data, on the rows of the laboratories' days themselves: four whole days
 * through the command `analyse`, looked at every five seconds (a row holds for a minute). What to
 * expect is said in data/README.md or follows from its formulas (reference.ts), not from the product.
 */
import { beforeAll, describe, expect, it } from 'vitest';
import type { UnitSnapshot } from '../../../server/protocol.ts';
import { LAB_DAYS, type LabDay, type LabRow, readRows, visitLog } from './convert.ts';
import { referenceCapacity } from './reference.ts';
import { analyse, figures, labUnit } from './run.ts';

const EVERY_S = 5;

interface WholeDay {
  day: LabDay;
  rows: { row: LabRow; unit: UnitSnapshot; before: UnitSnapshot | null }[];
  snapshots: number;
  /** Figures that are missing, by where they stand. */
  faults: Map<string, number>;
  status: number | null;
}
const wholeDays: WholeDay[] = [];

beforeAll(async () => {
  for (const day of LAB_DAYS) wholeDays.push(await wholeDay(day));
}, 120_000);

async function wholeDay(day: LabDay): Promise<WholeDay> {
  const rows = readRows(day);
  const times = new Set(rows.map(({ t }) => t));
  const at = new Map<number, { unit: UnitSnapshot; before: UnitSnapshot | null }>();
  const faults = new Map<string, number>();
  let snapshots = 0;
  let before: UnitSnapshot | null = null;
  const { status } = await analyse(visitLog(day, rows), EVERY_S, (snapshot) => {
    snapshots++;
    const unit = labUnit(snapshot);
    for (const path of faultsOf(unit)) faults.set(path, (faults.get(path) ?? 0) + 1);
    if (times.has(snapshot.t)) at.set(snapshot.t, { unit, before });
    before = unit;
  });
  return {
    day,
    rows: rows.flatMap((row) => {
      const found = at.get(row.t);
      return found === undefined ? [] : [{ row, ...found }];
    }),
    snapshots,
    faults,
    status,
  };
}

const OF_MOISTURE = /^(latent|sensibleHeatRatio|condensate)/;
const GROUPS = ['return', 'supply', 'airflow', 'capacity'] as const;

/**
 * In JSON a NaN or an infinity is written as null (numbers are checked with the protocol). These days
 * lack no reading, so a null that is not expected stands for something that went wrong.
 */
function faultsOf(unit: UnitSnapshot): string[] {
  const faults: string[] = [];
  for (const group of GROUPS) {
    for (const [key, value] of Object.entries(unit[group])) {
      if (value !== null) continue;
      // A heating coil is dry.
      if (unit.mode === 'heating' && OF_MOISTURE.test(key)) continue;
      // A quotient means nothing near zero.
      if (key.startsWith('sensibleHeatRatio') && (unit.capacity.totalW ?? NaN) < 25) continue;
      // Of a total that is not known to a third no ratio can be said.
      const { totalW, totalU95W } = unit.capacity;
      if (key === 'sensibleHeatRatioU95' && (totalU95W ?? 0) >= (totalW ?? 0) / 3) continue;
      faults.push(`${group}.${key}`);
    }
  }
  faults.push(...settlingFaults(unit.settling));
  return faults;
}

/** Of settling a state is always told, and while it is steady, or cycling, how much so. */
function settlingFaults(settling: UnitSnapshot['settling']): string[] {
  const { state, since, levelW, movedW, lookedS, aheadW, plateauW, cycle } = settling;
  const missing = (figures: Record<string, unknown>): string[] =>
    Object.entries(figures).flatMap(([key, value]) => (value === null ? [`settling.${key}`] : []));
  const steady = { levelW, movedW, lookedS, aheadW, plateauW };
  return [
    ...missing({ since }),
    ...(state === 'steady' ? missing(steady) : []),
    ...(state === 'cycling' ? missing({ cycle }) : []),
  ];
}

/** What is doubted because of the minutes before, not because of the row. */
const OF_BEFORE = ['transient', 'defrost', 'after-defrost'];

function dayOf(name: string): WholeDay {
  const found = wholeDays.find(({ day }) => day.file.includes(name));
  if (found === undefined) throw new Error(`no day ${name}`);
  return found;
}
const codes = ({ doubts }: UnitSnapshot): string[] => doubts.map(({ code }) => code);
const saturated = (probe: string, { doubts }: UnitSnapshot): boolean =>
  doubts.some((doubt) => doubt.code === 'humidity-saturated' && doubt.probe === probe);

describe('a whole day', () => {
  it('is worked out from the first row to the last, without a figure that is none', () => {
    for (const { rows, snapshots, faults, status } of wholeDays) {
      expect(status).toBe(0);
      expect(rows).toHaveLength(1440);
      expect(snapshots).toBe((1439 * 60) / EVERY_S + 1);
      expect(Object.fromEntries(faults)).toEqual({});
    }
  });

  it('would not pass with a missing figure', () => {
    const unit = wholeDays[0]?.rows[0]?.unit;
    if (unit === undefined) throw new Error('no row');
    expect(faultsOf({ ...unit, capacity: { ...unit.capacity, latentW: null } })).toEqual([
      'capacity.latentW',
    ]);
    expect(
      faultsOf({ ...unit, mode: 'heating', capacity: { ...unit.capacity, totalW: null } }),
    ).toEqual(['capacity.totalW']);
    const steady = { ...unit.settling, state: 'steady', aheadW: null } as const;
    expect(faultsOf({ ...unit, settling: steady })).toContain('settling.aheadW');
  });

  it('changes with a row at its own time, not before', () => {
    for (const { rows } of wholeDays) {
      rows.slice(1).forEach(({ before }, i) => {
        // Just before row i + 1 the figures are still those of row i.
        expect(before?.capacity).toEqual(rows[i]?.unit.capacity);
      });
    }
  });

  it('agrees with the reference’s formulas in every row, starts and stops included', () => {
    for (const { rows, day } of wholeDays) {
      for (const { row, unit } of rows) {
        const theirs = referenceCapacity(row);
        // In heating the sensible part is the reference, see data/README.md.
        const theirW = day.mode === 'heating' ? -theirs.sensibleW : theirs.totalW;
        const size = Math.abs(theirs.sensibleW) + Math.abs(theirs.latentW);
        expect(Math.abs(figures(unit).totalW - theirW)).toBeLessThan(0.01 * size + 0.1);
      }
    }
  });
});

describe('rows that repeat in full', () => {
  it.each([
    ['nist-ashp-buffalo', 100],
    ['nist-ashp-tucson', 112],
    ['tamu-wshp-atlanta', 192],
    ['tamu-wshp-buffalo', 0],
  ])('change nothing but the time: %s', (name, expected) => {
    const { rows } = dayOf(name);
    let repeated = 0;
    rows.forEach(({ row, unit }, i) => {
      const before = rows[i - 1]?.unit;
      if (!row.repeats || before === undefined) return;
      repeated++;
      expect(unit.return).toEqual(before.return);
      expect(unit.supply).toEqual(before.supply);
      expect(unit.airflow).toEqual(before.airflow);
      expect(unit.capacity).toEqual(before.capacity);
      const ofRow = (u: UnitSnapshot): string[] => codes(u).filter((c) => !OF_BEFORE.includes(c));
      expect(ofRow(unit)).toEqual(ofRow(before));
    });
    expect(repeated).toBe(expected); // counted in the files with another program
  });
});

describe('readings above saturation', () => {
  it('relative humidity over 100 % is taken as saturated, and said', () => {
    const { rows } = dayOf('tamu-wshp-atlanta');
    const over = rows.filter(({ row }) => (row.supplyAir.humidityPct ?? 0) > 100);
    expect(over.length).toBeGreaterThan(20);
    for (const { unit } of over) {
      expect(unit.supply.humidityPct).toBeCloseTo(100, 2);
      expect(unit.supply.dewPointC).toBeCloseTo(unit.supply.temperatureC ?? NaN, 2);
    }
    for (const { row, unit } of rows) {
      expect(saturated('s', unit)).toBe((row.supplyAir.humidityPct ?? 0) >= 100);
      expect(saturated('r', unit)).toBe(false);
    }
  });

  it.each(['nist-ashp-buffalo', 'nist-ashp-tucson'])(
    'a dew point above dry bulb likewise: %s',
    (name) => {
      const { rows } = dayOf(name);
      const isAbove = ({ supplyAir }: LabRow): boolean =>
        (supplyAir.dewPointC ?? -Infinity) >= supplyAir.temperatureC;
      expect(rows.filter(({ row }) => isAbove(row)).length).toBeGreaterThanOrEqual(30);
      for (const { row, unit } of rows) {
        expect(saturated('s', unit)).toBe(isAbove(row));
        expect(saturated('r', unit)).toBe(false);
        const dewPointC = Math.min(row.supplyAir.dewPointC ?? NaN, row.supplyAir.temperatureC);
        expect(unit.supply.dewPointC).toBeCloseTo(dewPointC, 2);
      }
    },
  );
});

describe('the fan off', () => {
  it.each([
    ['nist-ashp-buffalo', 895],
    ['nist-ashp-tucson', 435],
    ['tamu-wshp-atlanta', 480],
    ['tamu-wshp-buffalo', 480],
  ])('waits, says so, and shows next to nothing: %s', (name, expected) => {
    const off = dayOf(name).rows.filter(({ row }) => row.dryAirKgs < 0.001);
    expect(off).toHaveLength(expected); // counted in the files with another program
    for (const { unit } of off) {
      expect(unit.settling.state).toBe('waiting');
      expect(codes(unit)).toContain('airflow-none');
      expect(Math.abs(figures(unit).totalW)).toBeLessThan(20);
    }
  });
});

describe('air over a wet coil after the compressor has stopped', () => {
  it('takes water up again: latent is negative, and reported as such', () => {
    const rows = dayOf('tamu-wshp-atlanta').rows.filter(
      ({ row }) => !row.compressing && row.dryAirKgs > 0.1 && referenceCapacity(row).latentW < -100,
    );
    expect(rows.length).toBeGreaterThan(100);
    for (const { row, unit } of rows) {
      const { totalW, sensibleW, latentW } = figures(unit);
      const theirs = referenceCapacity(row).latentW;
      expect(latentW).toBeLessThan(0);
      // The vapour pressures are 0.5 % higher at most, of which a difference of 1 g/kg sees more.
      expect(Math.abs(latentW - theirs)).toBeLessThan(0.01 * Math.abs(theirs) + 5);
      expect(Math.abs(totalW - sensibleW - latentW)).toBeLessThan(0.01);
      expect(unit.capacity.condensateKgh).toBeLessThan(0);
    }
    // data/README.md: down to about −2 kW (there at 5 s, here once a minute).
    const lowest = Math.min(...rows.map(({ unit }) => figures(unit).latentW));
    expect(lowest).toBeGreaterThan(-2200);
    expect(lowest).toBeLessThan(-1800);
  });
});
