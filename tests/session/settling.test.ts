/** Settling of a unit as a whole session tells it: airflow, cycles, captures, and a visit read again. */
import { describe, expect, test } from 'vitest';
import type { Airflow, Line } from '../../adapters/contract.ts';
import { randomStream } from '../../simulator/random.ts';
import { setUp, T0, TestVisit } from './visit.ts';

const airflow = (flowM3s: number, more: Partial<Airflow> = {}): Airflow => ({
  ...{ source: 'entered', flowM3s, basis: 'actual', plane: 'supply', limitPct: 5 },
  ...more,
});

/** The seconds in which it was in this state. */
function secondsIn(visit: TestVisit, state: string, fromS = 0): number[] {
  return visit.snapshots.flatMap(({ t, units }) => {
    const s = (t - T0) / 1000;
    return s >= fromS && units['u1']?.settling.state === state ? [s] : [];
  });
}

describe('another airflow', () => {
  const told = (line: Airflow): TestVisit => {
    const visit = new TestVisit();
    visit.run(0, 600);
    visit.take({ type: 'airflow', t: T0 + 600_000, unit: 'u1', airflow: line });
    visit.run(601, 1200);
    visit.session.finish();
    return visit;
  };

  test('the same told again: steady goes on, in one capture', () => {
    const visit = told(airflow(0.2));
    // All from 599 to 1200 s.
    expect(secondsIn(visit, 'steady', 599)).toHaveLength(602);
    expect(visit.captures).toHaveLength(1);
    expect(visit.captures[0]?.to).toBeGreaterThan(T0 + 1_190_000);
  });

  test('a quarter less: it may be another fan speed, it begins anew, and nothing is averaged across', () => {
    const visit = told(airflow(0.15));
    const after = secondsIn(visit, 'steady', 601);
    expect(after[0]).toBeGreaterThan(660);
    expect(after[0]).toBeLessThan(800);
    const [before, second, ...more] = visit.captures;
    expect(more).toEqual([]);
    expect(before?.to).toBeLessThanOrEqual(T0 + 600_000);
    expect(second?.from).toBeGreaterThanOrEqual(T0 + 600_000);
  });

  test('at once from above what it was to below it: each is near that, but not the other', () => {
    const visit = told(airflow(0.215));
    visit.take({ type: 'airflow', t: T0 + 1_200_000, unit: 'u1', airflow: airflow(0.185) });
    visit.run(1201, 1210);
    expect(secondsIn(visit, 'steady', 1202)).toEqual([]);
  });

  test('in small steps that add up to a large one it begins anew as well', () => {
    const visit = new TestVisit();
    visit.run(0, 600);
    for (let i = 1; i <= 4; i++) {
      const t = T0 + (600 + 60 * (i - 1)) * 1000;
      visit.take({ type: 'airflow', t, unit: 'u1', airflow: airflow(0.2 * (1 - 0.04 * i)) });
      visit.run(601 + 60 * (i - 1), 600 + 60 * i);
    }
    expect(secondsIn(visit, 'settling', 600).length).toBeGreaterThan(0);
  });
});

describe('a unit that cycles', () => {
  const PERIOD_S = 480;
  /** On for 40 % of the time; the supply follows with a lag. */
  const supplyC = (s: number): number => {
    const x = s % PERIOD_S;
    const on = 0.4 * PERIOD_S;
    return x < on ? 12 + 14 * Math.exp(-x / 30) : 26 - 14 * Math.exp(-(x - on) / 30);
  };
  const limits = { temperatureC: 0.5, dewPointC: 0.5 };
  const visit = new TestVisit(setUp().map((l) => (l.type === 'probe' ? { ...l, limits } : l)));
  for (let s = 0; s < 6000; s++) {
    visit.reading('r', s * 1000, { temperatureC: 26.7, dewPointC: 15 });
    visit.reading('s', s * 1000 + 300, { temperatureC: supplyC(s), dewPointC: 11 });
  }
  const { settling } = visit.unit();
  const figures = visit.snapshots.map(({ t, units }) => ({
    t,
    totalW: units['u1']?.capacity.totalW ?? NaN,
  }));
  visit.session.finish();

  test('is called so, with its period, and never steady then', () => {
    expect(secondsIn(visit, 'steady', 3 * PERIOD_S)).toEqual([]);
    expect(secondsIn(visit, 'cycling', 4 * PERIOD_S).at(-1)).toBe(6000);
    expect(settling.state).toBe('cycling');
    expect(Math.abs((settling.cycle?.periodS ?? NaN) / PERIOD_S - 1)).toBeLessThan(0.02);
    expect(settling.plateauW).not.toBeNull();
  });

  test('its capture is the mean over whole cycles', () => {
    const capture = visit.captures.find(({ state }) => state === 'cycling');
    expect(capture?.cycles).toBeGreaterThan(7);
    const lengthS = ((capture?.to ?? NaN) - (capture?.from ?? NaN)) / 1000;
    // Edges are seen to five seconds.
    expect(Math.abs(lengthS - (capture?.cycles ?? NaN) * PERIOD_S)).toBeLessThanOrEqual(5);
    const within = figures.filter(
      ({ t }) => t >= (capture?.from ?? Infinity) && t < (capture?.to ?? -Infinity),
    );
    const mean = within.reduce((sum, { totalW }) => sum + totalW, 0) / within.length;
    expect(Math.abs((capture?.totalW ?? NaN) / mean - 1)).toBeLessThan(1e-6);
    expect(settling.plateauW).toBeCloseTo(capture?.totalW ?? NaN, 3);
    // All cycles are alike, so scatter adds nothing to what probes and airflow are off by.
    expect(capture?.totalU95W).toBeGreaterThan(0.02 * mean);
    expect(capture?.totalU95W).toBeLessThan(0.3 * mean);
  });
});

describe('readings once a minute', () => {
  test('become steady, and a setpoint begins anew', () => {
    const visit = new TestVisit();
    visit.run(0, 1800, () => 12, 60);
    visit.take({ type: 'event', t: T0 + 1_790_000, kind: 'setpoint', unit: 'u1', valueC: 20 });
    visit.run(1800, 3600, () => 15, 60);
    const first = secondsIn(visit, 'steady');
    expect(first[0]).toBeLessThan(600);
    const second = secondsIn(visit, 'steady', 1790);
    expect(second[0]).toBeGreaterThan(1790 + 180);
    expect(second[0]).toBeLessThan(1790 + 720);
  });
});

test('figures are never steady for long with probes that scatter as if nothing else moved', () => {
  const random = randomStream(9, 'probes');
  const visit = new TestVisit();
  for (let s = 0; s < 1800; s++) {
    const [a, b] = [0.05 * random.normal(), 0.05 * random.normal()];
    visit.reading('r', s * 1000, { temperatureC: 26.7 + a, humidityPct: 51 + 4 * a });
    visit.reading('s', s * 1000 + 300, { temperatureC: 12 + b, humidityPct: 94 + 4 * b });
  }
  expect(secondsIn(visit, 'steady', 200)).toHaveLength(1800 - 200);
});

describe('a log of all that happens to a unit', () => {
  /** Heating in frost with two defrosts and a setpoint, then a thermostat's cycles in mild weather. */
  const lines: Line[] = [
    ...setUp({ mode: 'heating' }),
    { type: 'probe', id: 'o', place: 'outdoor' },
  ];
  const supplyC = (s: number): number => {
    if (s > 6000) return s % 400 < 200 ? 40 : 22;
    const level = s < 3000 ? 42 : 36;
    return s % 2400 >= 2000 && s % 2400 < 2240 ? 14 : level;
  };
  for (let s = 0; s < 9000; s++) {
    const t = T0 + s * 1000;
    if (s === 3000) lines.push({ type: 'event', t, kind: 'setpoint', unit: 'u1', valueC: 24 });
    if (s === 1900) lines.push({ type: 'event', t, kind: 'capture', unit: 'u1' });
    const outdoorC = s < 5000 ? -1 : 12;
    if (s % 60 === 0) lines.push({ type: 'reading', t, probe: 'o', temperatureC: outdoorC });
    lines.push({ type: 'reading', t: t + 100, probe: 'r', temperatureC: 20, humidityPct: 40 });
    lines.push({ type: 'reading', t: t + 400, probe: 's', temperatureC: supplyC(s) });
  }
  const played = (): TestVisit => {
    const visit = new TestVisit(lines);
    visit.session.finish();
    return visit;
  };
  const visit = played();

  test('holds defrosts, captures by touch and by itself, before and after, and cycles', () => {
    const kinds = visit.events.map(({ kind, phase, id }) => [kind, phase, id]);
    expect(kinds.filter(([kind]) => kind === 'defrost').map(([, phase]) => phase)).toEqual([
      ...['start', 'end', 'start', 'end'],
    ]);
    const finals = visit.captures.filter(({ open }) => open !== true);
    expect(new Set(finals.map(({ by }) => by))).toEqual(new Set(['itself', 'touch']));
    expect(finals.some(({ before }) => before?.event.kind === 'setpoint')).toBe(true);
    expect(finals.at(-1)).toMatchObject({ state: 'cycling' });
    finals.forEach((capture, i) => {
      const { from, to } = capture;
      expect(to).toBeGreaterThan(from);
      for (const other of finals.slice(i + 1)) {
        if (other.by === capture.by) expect(other.from).toBeGreaterThan(to);
      }
    });
  });

  test('played again gives the same captures, events and states', () => {
    const again = played();
    expect(again.told).toEqual(visit.told);
    expect(again.events).toEqual(visit.events);
    expect(again.snapshots).toEqual(visit.snapshots);
  });
});
