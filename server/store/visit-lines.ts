/**
 * What a visit is made of: every line that was taken, in the order in which it was taken. Readings are
 * appended as rows and, some thousand at a time, sealed into blobs of columns (segment.ts); the other
 * lines stand as text, each with how many readings came before it.
 */
import * as z from 'zod';
import type { Reading } from '../../adapters/contract.ts';
import { QUANTITIES } from '../visit-log/known-fields.ts';
import { afterOf, type Recorded, type RecordedLine } from '../visit-log/recorded.ts';
import { checkLine } from '../visit-log/schema.ts';
import { all, type Database, one, type Statement, transaction } from './database.ts';
import { decodeSegment, encodeSegment, type ProbeColumns, readingsOf } from './segment.ts';

/** Readings are sealed so many at a time: some 20 ms of work, of sixteen probes each eight minutes. */
const SEALED_AT_ONCE = 8192;
/** Of a statement's rows all. */
const ALL = 2 ** 40;

const COLUMNS = [
  ...['temperature_c', 'humidity_pct', 'dew_point_c', 'velocity_ms'],
  ...['pressure_pa', 'power_w', 'battery_pct'],
].join(', ');

const NOTHING = { lines: 0, sealed: 0, open: 0 };
const countsRow = z.object({ lines: z.number(), sealed: z.number(), open: z.number() });
const segmentRow = z.object({ n: z.number(), data: z.instanceof(Uint8Array) });
const lineRow = z.object({ n: z.number(), before: z.number(), line: z.string() });

/** A line of the record that cannot be read: where, and why. */
export class UnreadableLine extends Error {}

/** Appends to one visit. All calls but those that seal belong into a transaction of the caller's. */
export class VisitLines {
  readonly #db: Database;
  readonly #visit: number;
  readonly #reading: Statement;
  readonly #line: Statement;
  readonly #piece: Statement;
  #lines: number;
  #readings: number;
  #sealed: number;

  /** @param visit the visit's key */
  constructor(db: Database, visit: number) {
    this.#db = db;
    this.#visit = visit;
    const counts = db.prepare(`SELECT
      (SELECT COUNT(*) FROM line WHERE visit = :visit) AS lines,
      (SELECT COALESCE(MAX(first_n + readings), 0) FROM segment WHERE visit = :visit) AS sealed,
      (SELECT COUNT(*) FROM reading WHERE visit = :visit) AS open`);
    const { lines, sealed, open } = one(counts, countsRow, { visit }) ?? NOTHING;
    this.#lines = lines;
    this.#sealed = sealed;
    this.#readings = sealed + open;
    this.#reading = db.prepare(
      `INSERT INTO reading (visit, n, t, after, probe, ${COLUMNS})
       VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
    );
    this.#line = db.prepare(
      'INSERT INTO line (visit, n, readings_before, line) VALUES (?, ?, ?, ?)',
    );
    this.#piece = db.prepare('INSERT INTO photo_piece (visit, line_n, id) VALUES (?, ?, ?)');
  }

  /** How many lines have been appended: what `backTo` goes back to. */
  mark(): { lines: number; readings: number } {
    return { lines: this.#lines, readings: this.#readings };
  }

  /** The transaction was not committed. */
  backTo({ lines, readings }: { lines: number; readings: number }): void {
    this.#lines = lines;
    this.#readings = readings;
  }

  append(line: RecordedLine): void {
    if (line.type !== 'reading') {
      if (line.type === 'photo') this.#piece.run(this.#visit, this.#lines, line.id);
      this.#line.run(this.#visit, this.#lines++, this.#readings, JSON.stringify(line));
      return;
    }
    this.#reading.run(
      ...[this.#visit, this.#readings++, line.t, line.after ?? null, line.probe],
      ...QUANTITIES.map((quantity) => line[quantity] ?? null),
    );
  }

  /** Seals one block, where enough is open. @returns whether there is enough for another */
  sealBlock(): boolean {
    if (this.#isEnough) transaction(this.#db, () => this.#sealSome());
    return this.#isEnough;
  }

  /** Seals whatever is open. */
  sealAll(): void {
    while (this.#readings > this.#sealed) transaction(this.#db, () => this.#sealSome());
  }

  get #isEnough(): boolean {
    return this.#readings - this.#sealed >= SEALED_AT_ONCE;
  }

  #sealSome(): void {
    const readings = openReadings(this.#db, this.#visit, this.#sealed, SEALED_AT_ONCE);
    this.#db
      .prepare('INSERT INTO segment (visit, first_n, readings, data) VALUES (?, ?, ?, ?)')
      .run(this.#visit, this.#sealed, readings.length, encodeSegment(readings));
    this.#db
      .prepare('DELETE FROM reading WHERE visit = ? AND n < ?')
      .run(this.#visit, this.#sealed + readings.length);
    this.#sealed += readings.length;
  }
}

/**
 * Every line of a visit, in the order in which it was taken.
 * @throws UnreadableLine at one that is damaged; what is before it has been handed over
 */
export function linesOf(db: Database, visit: number): Generator<RecordedLine> {
  return interleaved(allReadings(db, visit), otherLines(db, visit));
}

/**
 * Readings and other lines in the order in which they were taken.
 * @param others each with how many readings came before it
 */
export function* interleaved(
  readings: Iterator<RecordedLine> & Iterable<RecordedLine>,
  others: Iterable<{ before: number; line: RecordedLine }>,
): Generator<RecordedLine> {
  let n = 0;
  for (const { before, line } of others) {
    for (; n < before; n++) {
      const reading = readings.next();
      if (reading.done === true) throw new UnreadableLine(`after reading ${n}: there is no more`);
      yield reading.value;
    }
    yield line;
  }
  yield* readings;
}

/** The readings of a visit probe by probe, a piece for each block that was sealed. */
export function* columnsOf(db: Database, visit: number): Generator<ProbeColumns> {
  for (const data of segments(db, visit)) yield* decodeSegment(data).probes;
  const open = openReadings(db, visit, 0, ALL);
  if (open.length > 0) yield* decodeSegment(encodeSegment(open)).probes;
}

function* allReadings(db: Database, visit: number): Generator<Recorded<Reading>> {
  let n = 0;
  for (const data of segments(db, visit)) {
    for (const reading of readingsOf(decoded(data, n))) {
      n++;
      yield reading;
    }
  }
  yield* openReadings(db, visit, n, ALL);
}

function decoded(data: Uint8Array, n: number): ReturnType<typeof decodeSegment> {
  try {
    return decodeSegment(data);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new UnreadableLine(`after reading ${n}: ${why}`);
  }
}

/** One at a time: nothing stays open in the database while what is read is worked on. */
function* segments(db: Database, visit: number): Generator<Uint8Array> {
  const next = db.prepare(
    'SELECT first_n AS n, data FROM segment WHERE visit = ? AND first_n > ? ORDER BY first_n LIMIT 1',
  );
  for (let after = -1; ;) {
    const segment = one(next, segmentRow, visit, after);
    if (segment === undefined) return;
    after = segment.n;
    yield segment.data;
  }
}

function openReadings(
  db: Database,
  visit: number,
  from: number,
  most: number,
): Recorded<Reading>[] {
  const rows = db.prepare(
    `SELECT t, after, probe, ${COLUMNS} FROM reading WHERE visit = ? AND n >= ? ORDER BY n LIMIT ?`,
  );
  rows.setReturnArrays(true);
  return rows.all(visit, from, most).map(readingOf);
}

/** Without a schema: there are many. */
function readingOf(row: unknown): Recorded<Reading> {
  const cells: readonly unknown[] = Array.isArray(row) ? row : [];
  const [t, after, probe, ...values] = cells;
  const reading: Recorded<Reading> = { type: 'reading', t: Number(t), probe: String(probe) };
  QUANTITIES.forEach((quantity, i) => {
    const value = values[i];
    if (typeof value === 'number') reading[quantity] = value;
  });
  if (typeof after === 'number') reading.after = after;
  return reading;
}

function* otherLines(
  db: Database,
  visit: number,
): Generator<{ before: number; line: RecordedLine }> {
  const some = db.prepare(
    'SELECT n, readings_before AS before, line FROM line WHERE visit = ? AND n > ? ORDER BY n LIMIT 500',
  );
  for (let after = -1; ;) {
    const rows = all(some, lineRow, visit, after);
    if (rows.length === 0) return;
    for (const { n, before, line } of rows) {
      after = n;
      yield { before, line: lineOf(n, line) };
    }
  }
}

/**
 * A line of a record as it stands there.
 * @throws UnreadableLine where it is damaged
 */
export function lineOf(n: number, text: string): RecordedLine {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    throw new UnreadableLine(`line ${n} is damaged`);
  }
  const checked = checkLine(value);
  const recorded = afterOf(value);
  if ('refusal' in checked) throw new UnreadableLine(`line ${n}: ${checked.refusal}`);
  if ('refusal' in recorded) throw new UnreadableLine(`line ${n}: ${recorded.refusal}`);
  const { after } = recorded;
  return after === undefined ? checked.line : { ...checked.line, after };
}
