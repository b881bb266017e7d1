/** Small parts of the server: snapshot text, the past in columns. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { columnsBy, HistoryColumns, type HistoryPart } from '../server/history.ts';
import { type Snapshot, snapshotSchema } from '../server/protocol.ts';
import { snapshotJson } from '../server/snapshot-json.ts';
import { decodeChartPart, encodeChartPart } from '../server/store/chart-part.ts';
import { T0, TestVisit } from './session/visit.ts';

describe('a snapshot as text', () => {
  const full = (): Snapshot => {
    const visit = new TestVisit();
    visit.run(0, 3);
    visit.session.finish();
    const last = visit.snapshots.at(-1);
    if (last === undefined) throw new Error('no snapshot');
    return last;
  };

  test('has every field of the protocol, and the figures to within their decimals', () => {
    const snapshot = full();
    const text = snapshotJson(snapshot);
    const parsed: unknown = JSON.parse(text);
    expect(snapshotSchema.parse(parsed)).toEqual(parsed);
    const walk = (a: unknown, b: unknown, path: string): void => {
      if (typeof a === 'number' && typeof b === 'number') {
        expect(Math.abs(a - b), path).toBeLessThanOrEqual(0.000_500_1);
      } else if (typeof a === 'object' && a !== null && typeof b === 'object' && b !== null) {
        expect(Object.keys(b), path).toEqual(Object.keys(a));
        for (const key of Object.keys(a))
          walk(Reflect.get(a, key), Reflect.get(b, key), `${path}.${key}`);
      } else expect(b, path).toEqual(a);
    };
    walk(snapshot, parsed, '');
    expect(snapshotSchema.parse(parsed).units['u1']?.supply.humidityRatio).toBeCloseTo(
      snapshot.units['u1']?.supply.humidityRatio ?? 0,
      9,
    );
  });

  test('is always JSON, whatever the numbers and names', () => {
    const number = fc.oneof(fc.double(), fc.constant(null));
    fc.assert(
      fc.property(
        number,
        number,
        number,
        fc.string(),
        fc.string({ unit: 'binary' }),
        (a, b, c, id, text) => {
          const snapshot = full();
          const unit = structuredClone(snapshot.units['u1']);
          if (unit === undefined) return;
          unit.capacity.totalW = a;
          unit.capacity.sensibleHeatRatio = b;
          unit.return.humidityRatio = c;
          unit.doubts = [{ code: 'x', text, effect: '', remedy: '' }];
          snapshot.units = { [`u${id}`]: unit };
          const back = JSON.parse(snapshotJson(snapshot)) as Snapshot;
          const found = back.units[`u${id}`];
          expect(found?.doubts[0]?.text).toBe(JSON.parse(JSON.stringify(text)));
          const total = a !== null && Number.isFinite(a) ? a : null;
          if (total === null) expect(found?.capacity.totalW).toBeNull();
          else
            expect(Math.abs((found?.capacity.totalW ?? NaN) - total)).toBeLessThanOrEqual(
              0.000_500_1,
            );
        },
      ),
    );
  });
});

/** Some whole number that belongs to a row of a column. */
const valueOf = (t: number, name: string): number => (7919 * t + 31 * name.length * t * t) % 5003;
const partOf = (times: number[], ids: string[]): HistoryPart => ({
  t: Float64Array.from(times),
  units: Object.fromEntries(
    ids.map((id) => [
      id,
      columnsBy((name) => Float32Array.from(times, (t) => valueOf(t, id + name))),
    ]),
  ),
});

describe('the past in columns', () => {
  const past = (n: number, total: (i: number) => number | null, most?: number): HistoryColumns => {
    const visit = new TestVisit();
    visit.run(0, 2);
    visit.session.finish();
    const base = visit.snapshots.at(-1);
    const history = new HistoryColumns(most);
    for (let i = 0; i < n && base !== undefined; i++) {
      const snapshot = structuredClone(base);
      snapshot.t = T0 + i * 1000;
      const unit = snapshot.units['u1'];
      if (unit) unit.capacity.totalW = total(i);
      history.add(snapshot);
    }
    return history;
  };

  test('rows after a time and up to another, complete when they fit', () => {
    const { t, units } = past(5000, (i) => i).between(T0 + 1000, T0 + 4000, 10);
    expect(t).toEqual([T0 + 2000, T0 + 3000, T0 + 4000]);
    expect(units['u1']?.totalW).toEqual([2, 3, 4]);
    expect(units['u1']?.supplyC).toEqual([12, 12, 12]);
  });

  test('no line is drawn from one mode to the other', () => {
    const visit = new TestVisit();
    visit.run(0, 20);
    visit.take({ type: 'visit', version: 1, mode: 'heating' });
    visit.run(20, 30);
    const history = new HistoryColumns();
    visit.snapshots.forEach((snapshot) => history.add(snapshot));
    const { t, units } = history.between(0, Infinity, 100);
    const gaps = t.filter((_, i) => i > 0 && units['u1']?.totalW[i] === null);
    expect(gaps).toEqual([visit.snapshots.find((s) => s.units['u1']?.mode === 'heating')?.t]);
  });

  test('thinned, it keeps the lowest, the highest and the gap, in order, all columns alike', () => {
    const history = past(5000, (i) =>
      i === 1234 ? 9999 : i === 3210 ? -50 : i === 4000 ? null : 1000,
    );
    const { t, units } = history.between(0, Infinity, 300);
    const totals = units['u1']?.totalW ?? [];
    expect(t.length).toBeLessThanOrEqual(300);
    expect(new Set(Object.values(units['u1'] ?? {}).map((c) => c.length))).toEqual(
      new Set([t.length]),
    );
    expect(t).toEqual([...t].sort((a, b) => a - b));
    expect(totals).toContain(9999);
    expect(totals).toContain(-50);
    expect(totals).toContain(null);
  });

  test('recorded in parts and put together again it is thinned to the same rows', () => {
    const history = past(5000, (i) => (i === 1234 ? 9999 : i === 4000 ? null : 1000 + (i % 7)));
    const again = new HistoryColumns();
    const first = history.partAfter(-Infinity);
    const split = (from: number, to?: number) => ({
      t: first.t.slice(from, to),
      units: Object.fromEntries(
        Object.entries(first.units).map(([id, unit]) => [
          id,
          columnsBy((name) => unit[name].slice(from, to)),
        ]),
      ),
    });
    for (const part of [split(0, 3000), split(3000)]) {
      again.addPart(decodeChartPart(encodeChartPart(part)));
    }
    const { t, units } = again.between(0, Infinity, 300);
    const whole = history.between(0, Infinity, 300);
    expect(t).toEqual(whole.t);
    expect(units['u1']?.totalW).toEqual(whole.units['u1']?.totalW);
    expect(history.partAfter(T0 + 4_997_000).t).toHaveLength(2);
  });

  test('parts of any length, with units that come and go, are as many rows, one after another', () => {
    const most = 40;
    const sizes = fc.array(fc.tuple(fc.nat(90), fc.subarray(['a', 'b'])), { maxLength: 6 });
    fc.assert(
      fc.property(sizes, (parts) => {
        const whole = new HistoryColumns(most);
        let rows: [t: number, ids: string[]][] = [];
        let t = 0;
        for (const [n, ids] of parts) {
          const times = Array.from({ length: n }, () => ++t);
          for (const each of times) {
            if (rows.length === most) rows = rows.slice(most / 8);
            rows.push([each, ids]);
          }
          whole.addPart(partOf(times, ids));
        }
        const shown = whole.between(-Infinity, Infinity, 1000);
        expect(shown.t).toEqual(rows.map(([each]) => each));
        for (const [id, columns] of Object.entries(shown.units)) {
          for (const [name, values] of Object.entries(columns)) {
            expect(values).toEqual(
              rows.map(([each, ids]) => (ids.includes(id) ? valueOf(each, id + name) : null)),
            );
          }
        }
        // Of three rows one is the lowest, one the highest total, and one a gap.
        if (rows.length <= 3) return;
        const total = (ids: string[], t: number): number =>
          ids.reduce((sum, id) => sum + valueOf(t, `${id}totalW`), 0);
        const heights = rows.filter(([, ids]) => ids.length > 0).map(([t, ids]) => total(ids, t));
        const lowest = rows.find(
          ([t, ids]) => ids.length > 0 && total(ids, t) === Math.min(...heights),
        );
        const highest = rows.find(
          ([t, ids]) => ids.length > 0 && total(ids, t) === Math.max(...heights),
        );
        const gap = rows.findLast(([, ids]) => ids.length === 0);
        const kept = [lowest, highest, gap].flatMap((row) => (row === undefined ? [] : [row[0]]));
        expect(whole.between(-Infinity, Infinity, 3).t).toEqual(
          [...new Set(kept)].sort((a, b) => a - b),
        );
      }),
    );
  });

  test('does not grow without end: the oldest goes', () => {
    const history = past(2000, (i) => i, 800);
    expect(history.rows).toBeLessThanOrEqual(800);
    const { t, units } = history.between(0, Infinity, 1000);
    expect(t.at(-1)).toBe(T0 + 1_999_000);
    expect(units['u1']?.totalW.at(-1)).toBe(1999);
    expect(t.every((x, i) => i === 0 || x === (t[i - 1] ?? 0) + 1000)).toBe(true);
  });
});
