/**
 * The record: how fast it takes readings with the durability that is promised, what it writes for
 * one, how fast they come back, and how fast visits are found and shown. Beside each what it is held
 * against: the same columns as one plain file, and a disk that is told to sync.
 */
import {
  closeSync,
  fdatasyncSync,
  mkdtempSync,
  openSync,
  readFileSync,
  rmSync,
  writeFileSync,
  writeSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Reading } from '../../adapters/contract.ts';
import { readDatabase } from '../../server/store/database.ts';
import { columnsOf } from '../../server/store/visit-lines.ts';
import { searchVisits, showVisit } from '../../server/store/visit-list.ts';
import { VisitRecord } from '../../server/store/visit-record.ts';
import { allVisits, type VisitKind } from '../../server/store/visits.ts';
import { HistoryColumns } from '../../server/history.ts';
import { millisecondsOf, type Spread, spreadOf } from './harness.ts';

const T0 = 1_777_885_200_000;
const UNITS = 4;

/** What an ordinary probe sends: two figures of two places, with the jitter of its radio. */
function reading(i: number, probes: number): Reading {
  const s = Math.floor(i / probes);
  return {
    type: 'reading',
    t: T0 + s * 1000 + ((i * 7919) % 900),
    probe: `ble:00aa0101${String(i % probes).padStart(4, '0')}`,
    temperatureC: Math.round(2500 + 300 * Math.sin(i / 9000) + ((i * 31) % 17)) / 100,
    humidityPct: Math.round(500 + ((i * 13) % 40)) / 10,
  };
}

function recordOf(dataDir: string, id: string, kind: VisitKind = 'visit'): VisitRecord {
  const now = (): number => T0;
  return new VisitRecord({ dataDir, id, kind, now, monotonic: () => performance.now() });
}

/** Bytes that this process has had written to a disk; NaN where the system does not tell. */
function written(): number {
  try {
    const io = readFileSync('/proc/self/io', 'utf8');
    return Number(/^write_bytes: (\d+)$/m.exec(io)?.[1]);
  } catch {
    return NaN;
  }
}

const text = ({ median, low, high }: Spread, digits = 0): string =>
  `${median.toFixed(digits)} (${low.toFixed(digits)}–${high.toFixed(digits)})`;

/** @returns what a folder holds after `seconds` of `probes`, and what that took */
function take(dataDir: string, probes: number, seconds: number, every: number): string {
  const record = recordOf(dataDir, 'visit-1');
  const slowest: number[] = [];
  const before = written();
  const ms = millisecondsOf(() => {
    for (let s = 0; s < seconds; s++) {
      for (let i = 0; i < probes; i++) {
        record.add(reading(s * probes + i, probes));
        if (i % every === every - 1) record.write(); // as many requests as that
      }
      slowest.push(millisecondsOf(() => record.tick()));
    }
  });
  record.close();
  const readings = probes * seconds;
  const worst = slowest.toSorted((a, b) => a - b);
  return (
    `${((1000 * readings) / ms).toFixed(0)} readings/s, ${((1000 * ms) / readings).toFixed(1)} µs each, ` +
    `${((written() - before) / readings).toFixed(0)} bytes written a reading; ` +
    `each second’s sync ${(worst[seconds >> 1] ?? 0).toFixed(1)} ms, the slowest ${(worst.at(-1) ?? 0).toFixed(0)}`
  );
}

function syncMs(folder: string): number {
  const file = openSync(join(folder, 'sync'), 'w');
  writeSync(file, Buffer.alloc(4096));
  const ms = millisecondsOf(() => fdatasyncSync(file));
  closeSync(file);
  return ms;
}

export function print(rounds = 7): void {
  const folder = mkdtempSync(join(tmpdir(), 'plateau-bench-'));
  try {
    console.log('store');
    const syncs = spreadOf(Array.from({ length: 50 }, () => syncMs(folder)));
    console.log(`  a sync of this disk: ${text(syncs, 2)} ms`);
    console.log(
      `  300 probes × 1 Hz, 10 min, a request a second: ${take(join(folder, 'a'), 300, 600, 300)}`,
    );
    console.log(
      `  40 probes × 1 Hz, 10 min, a request a reading: ${take(join(folder, 'b'), 40, 600, 1)}`,
    );
    readBack(folder, rounds);
    show(folder, rounds);
    search(folder, rounds);
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function readBack(folder: string, rounds: number): void {
  const dataDir = join(folder, 'million');
  const record = recordOf(dataDir, 'visit-1');
  for (let i = 0; i < 1e6; i++) {
    record.gather(reading(i, 16));
    if (i % 20_000 === 0) record.tick();
  }
  record.close();
  const plain = join(folder, 'plain');
  writeFileSync(plain, new Uint8Array(new Float64Array(3e6).buffer));
  const own: number[] = [];
  const floor: number[] = [];
  const ratios: number[] = [];
  for (let round = 0; round < rounds + 1; round++) {
    const db = readDatabase(dataDir);
    if (db === null) return;
    let n = 0;
    const ms = millisecondsOf(() => {
      for (const { t } of columnsOf(db, allVisits(db)[0]?.key ?? -1)) n += t.length;
    });
    db.close();
    if (n !== 1e6) throw new Error(`${n} of a million readings came back`);
    const raw = millisecondsOf(() => {
      const bytes = readFileSync(plain);
      n += new Float64Array(bytes.buffer.slice(bytes.byteOffset)).length;
    });
    if (round === 0) continue;
    own.push(ms);
    floor.push(raw);
    ratios.push(ms / raw);
  }
  console.log(
    `  1,000,000 readings of 16 probes into typed arrays: ${text(spreadOf(own))} ms (aim < 150); ` +
      `the same as one plain file ${text(spreadOf(floor))} ms, ${text(spreadOf(ratios), 1)}×`,
  );
}

/** Eight hours of `UNITS` units: four series each. */
function eightHours(record: VisitRecord, hours = 8): void {
  const history = new HistoryColumns();
  for (let u = 1; u <= UNITS; u++) record.gather({ type: 'unit', id: `u${u}`, name: `Room ${u}` });
  const t = Float64Array.from({ length: 600 }, (_, i) => i);
  const column = Float32Array.from({ length: 600 }, (_, i) => 2500 + Math.sin(i / 40));
  const unit = {
    ...{ totalW: column, sensibleW: column, latentW: column },
    ...{ totalU95W: column, returnC: column, supplyC: column },
  };
  const units = Object.fromEntries(Array.from({ length: UNITS }, (_, u) => [`u${u + 1}`, unit]));
  for (let part = 0; part < hours * 6; part++) {
    history.addPart({ t: t.map((s) => T0 + 1000 * (600 * part + s)), units });
    record.chart({ t: t.map((s) => T0 + 1000 * (600 * part + s)), units });
  }
}

function show(folder: string, rounds: number): void {
  const dataDir = join(folder, 'eight');
  const record = recordOf(dataDir, 'visit-1');
  eightHours(record);
  for (let i = 0; i < 16 * 8 * 3600; i++) {
    record.gather(reading(i, 16));
    if (i % 20_000 === 0) record.tick();
  }
  record.close();
  let size = 0;
  const ms = Array.from({ length: rounds + 1 }, () =>
    millisecondsOf(() => {
      const db = readDatabase(dataDir);
      if (db !== null) size = JSON.stringify(showVisit(db, 'visit-1', 4000)).length;
      db?.close();
    }),
  ).slice(1);
  console.log(
    `  8 h, 16 series, to what the page is sent: ${text(spreadOf(ms))} ms, ${(size / 1000).toFixed(0)} kB`,
  );
}

function search(folder: string, rounds: number): void {
  const dataDir = join(folder, 'thousand');
  for (let v = 0; v < 1000; v++) {
    const record = recordOf(dataDir, `visit-${v}`);
    const [title, customer] = [`Orchard Lane ${v}`, `Customer ${v % 37}`];
    record.gather({ type: 'visit', version: 1, title, customer, why: 'yearly service' });
    for (let u = 1; u <= 3; u++) record.gather({ type: 'unit', id: `u${u}`, name: `Room ${u}` });
    record.gather({ ...reading(v, 16), t: T0 + v * 86_400_000 });
    record.close();
  }
  const db = readDatabase(dataDir);
  if (db === null) return;
  const timed = (query: string, since: number): Spread =>
    spreadOf(
      Array.from({ length: rounds + 1 }, () =>
        millisecondsOf(() => searchVisits(db, { text: query, since, until: 1e15, most: 1000 })),
      ).slice(1),
    );
  console.log(
    `  1,000 visits: all listed ${text(timed('', -1e15))} ms; two words ${text(timed('customer lane', -1e15))} ms; ` +
      `one of a thousand ${text(timed('"lane 77"', -1e15))} ms; by date ${text(timed('', T0 + 8e10))} ms (aim < 100)`,
  );
  db.close();
}
