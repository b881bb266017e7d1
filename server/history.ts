/**
 * The past of a visit, one row a snapshot, in columns: what a page that connects (again) is given.
 * Bounded: of a visit of more than two days the oldest part goes. In the first second of another mode
 * there is no figure, which breaks its line.
 */
import type { History, Snapshot, UnitSnapshot } from './protocol.ts';

export const HISTORY_COLUMNS = [
  'totalW',
  'sensibleW',
  'latentW',
  'totalU95W',
  'returnC',
  'supplyC',
] as const;
type Column = (typeof HISTORY_COLUMNS)[number];

/** Some rows of the past, in columns; NaN stands for null. */
export interface HistoryPart {
  t: Float64Array;
  units: Record<string, Record<Column, Float32Array>>;
}

/** Two days at one row a second. */
const MAX_ROWS = 172_800;

/** Figures of a column, of all units, that are made in one go: some tens of milliseconds. */
const CELLS = 64_000;
/** And piece by piece; so many a piece. */
const MOST_CELLS = 200_000;
const PIECE = 2000;

const rounded = (value: number): number => Number(value.toPrecision(7));

function shown(values: Float64Array, row: number): number | null {
  const value = values[row] ?? NaN;
  return Number.isNaN(value) ? null : rounded(value);
}

/** A column that grows; NaN stands for null. */
class Numbers {
  values: Float64Array;
  constructor(size: number) {
    this.values = new Float64Array(size).fill(NaN);
  }
  grow(size: number): void {
    const more = new Float64Array(size).fill(NaN);
    more.set(this.values);
    this.values = more;
  }
}

export function columnsBy<T>(of: (name: Column) => T): Record<Column, T> {
  return {
    totalW: of('totalW'),
    sensibleW: of('sensibleW'),
    latentW: of('latentW'),
    totalU95W: of('totalU95W'),
    returnC: of('returnC'),
    supplyC: of('supplyC'),
  };
}

export class HistoryColumns {
  #size: number;
  #rows = 0;
  readonly #t: Numbers;
  readonly #units = new Map<string, Record<Column, Numbers>>();
  readonly #modes = new Map<string, UnitSnapshot['mode']>();
  /** Of the units that have a figure; NaN, a gap, where none has: what thinning looks at. */
  readonly #total: Numbers;
  /** Rows that were let go so far. */
  #gone = 0;
  readonly #maxRows: number;

  /** @param rows so many will come, at least */
  constructor(maxRows = MAX_ROWS, rows = 1024) {
    this.#maxRows = maxRows;
    this.#size = Math.min(maxRows, rows);
    this.#t = new Numbers(this.#size);
    this.#total = new Numbers(this.#size);
  }

  get rows(): number {
    return this.#rows;
  }

  /** Adds a row. Times rise from row to row. */
  add(snapshot: Snapshot): void {
    const row = this.#next(snapshot.t);
    for (const [id, unit] of Object.entries(snapshot.units)) {
      const columns = this.#columns(id);
      const before = this.#modes.get(id) ?? unit.mode;
      this.#modes.set(id, unit.mode);
      if (before === unit.mode) {
        columns.totalW.values[row] = unit.capacity.totalW ?? NaN;
        columns.sensibleW.values[row] = unit.capacity.sensibleW ?? NaN;
        columns.latentW.values[row] = unit.capacity.latentW ?? NaN;
      }
      columns.totalU95W.values[row] = unit.capacity.totalU95W ?? NaN;
      columns.returnC.values[row] = unit.return.temperatureC ?? NaN;
      columns.supplyC.values[row] = unit.supply.temperatureC ?? NaN;
    }
    this.#sumUp(row, row + 1);
  }

  /** The total of the units that have one, by which rows are thinned: of these rows. */
  #sumUp(from: number, to: number): void {
    const total = this.#total.values;
    for (const { totalW } of this.#units.values()) {
      for (let row = from; row < to; row++) {
        const value = totalW.values[row] ?? NaN;
        if (Number.isNaN(value)) continue;
        const others = total[row] ?? NaN;
        total[row] = Number.isNaN(others) ? value : others + value;
      }
    }
  }

  /** The rows with a time after `since`, whole: what is recorded. */
  partAfter(since: number): HistoryPart {
    const from = this.#firstAfter(since);
    const part: HistoryPart = { t: this.#t.values.slice(from, this.#rows), units: {} };
    for (const [id, columns] of this.#units) {
      const of = (name: Column): Float32Array =>
        Float32Array.from(columns[name].values.subarray(from, this.#rows));
      part.units[id] = columnsBy(of);
    }
    return part;
  }

  /** Adds the rows of a part; their times come after all that are here. */
  addPart({ t, units }: HistoryPart): void {
    for (let from = 0; from < t.length;) {
      this.#makeRoom(t.length - from);
      const row = this.#rows;
      const to = Math.min(t.length, from + this.#size - row);
      this.#t.values.set(t.subarray(from, to), row);
      for (const [id, part] of Object.entries(units)) {
        const columns = this.#columns(id);
        for (const name of HISTORY_COLUMNS) {
          columns[name].values.set(part[name].subarray(from, to), row);
        }
      }
      this.#rows += to - from;
      this.#sumUp(row, this.#rows);
      from = to;
    }
  }

  /** The clock was set: all of before is told by the new one. */
  clockSet(shiftMs: number): void {
    const { values } = this.#t;
    for (let row = 0; row < this.#rows; row++) values[row] = (values[row] ?? NaN) + shiftMs;
  }

  /**
   * Rows with `since` < t ≤ `until`, thinned to at most `most`: of each stretch of time the rows with
   * the lowest and the highest total of all units stay, so that no peak is lost.
   */
  between(since: number, until: number, most: number): History {
    const from = this.#firstAfter(since);
    const to = this.#firstAfter(until);
    const rows = this.#thin(from, to, this.#atMost(most, CELLS));
    const pick = ({ values }: Numbers): (number | null)[] => rows.map((row) => shown(values, row));
    return {
      type: 'history',
      t: rows.map((row) => this.#t.values[row] ?? 0),
      units: Object.fromEntries(
        [...this.#units].map(([id, columns]) => [id, columnsBy((name) => pick(columns[name]))]),
      ),
    };
  }

  #next(t: number): number {
    this.#makeRoom(1);
    const row = this.#rows++;
    this.#t.values[row] = t;
    return row;
  }

  /** The same as JSON text, piece by piece, for more rows than are made in one go. */
  *pieces(since: number, until: number, most: number): Generator<string> {
    const rows = this.#thin(
      this.#firstAfter(since),
      this.#firstAfter(until),
      this.#atMost(most, MOST_CELLS),
    );
    const gone = this.#gone;
    yield '{"type":"history","t":';
    yield* this.#column(this.#t, rows, gone, (t) => t);
    yield ',"units":{';
    let comma = '';
    for (const [id, columns] of this.#units) {
      yield `${comma}${JSON.stringify(id)}:{`;
      for (const name of HISTORY_COLUMNS) {
        yield `${name === HISTORY_COLUMNS[0] ? '' : ','}"${name}":`;
        yield* this.#column(columns[name], rows, gone, rounded);
      }
      yield '}';
      comma = ',';
    }
    yield '}}';
  }

  *#column(
    of: Numbers,
    rows: readonly number[],
    gone: number,
    show: (value: number) => number,
  ): Generator<string> {
    yield '[';
    for (let from = 0; from < rows.length; from += PIECE) {
      const texts = rows.slice(from, from + PIECE).map((row) => {
        // The oldest rows may be let go between two pieces.
        const value = of.values[row - (this.#gone - gone)] ?? NaN;
        return Number.isNaN(value) ? 'null' : String(show(value));
      });
      yield (from === 0 ? '' : ',') + texts.join(',');
    }
    yield ']';
  }

  /** So many rows that all units together have no more figures than that of a column. */
  #atMost(most: number, cells: number): number {
    return Math.min(most, Math.max(3, Math.floor(cells / Math.max(1, this.#units.size))));
  }

  #thin(from: number, to: number, most: number): number[] {
    const n = to - from;
    if (n <= most) return Array.from({ length: n }, (_, i) => from + i);
    const totals = this.#total.values;
    const total = (row: number): number => totals[row] ?? NaN;
    // Three rows a stretch at most: lowest, highest, and one without a figure, which is a gap.
    const stretches = Math.max(1, Math.floor(most / 3));
    const rows: number[] = [];
    for (let s = 0; s < stretches; s++) {
      const begin = from + Math.floor((s * n) / stretches);
      const end = from + Math.floor(((s + 1) * n) / stretches);
      let low = -1;
      let high = -1;
      let gap = -1;
      for (let row = begin; row < end; row++) {
        const value = total(row);
        if (Number.isNaN(value)) gap = row;
        else {
          if (low < 0 || value < total(low)) low = row;
          if (high < 0 || value > total(high)) high = row;
        }
      }
      const kept = new Set([low, high, gap].filter((row) => row >= 0));
      rows.push(...[...kept].sort((a, b) => a - b));
    }
    return rows;
  }

  /** The first row with a time after `t`. */
  #firstAfter(t: number): number {
    let low = 0;
    let high = this.#rows;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((this.#t.values[middle] ?? Infinity) <= t) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  #columns(id: string): Record<Column, Numbers> {
    let columns = this.#units.get(id);
    if (columns === undefined) {
      columns = columnsBy(() => new Numbers(this.#size));
      this.#units.set(id, columns);
    }
    return columns;
  }

  #all(): Numbers[] {
    return [
      this.#t,
      this.#total,
      ...[...this.#units.values()].flatMap((columns) => Object.values(columns)),
    ];
  }

  /** Makes room for one row at least, and for so many if that can be. */
  #makeRoom(rows: number): void {
    if (this.#rows === this.#maxRows) this.#forget();
    const needed = Math.min(this.#rows + rows, this.#maxRows);
    if (needed <= this.#size) return;
    this.#size = Math.min(Math.max(this.#size * 2, needed), this.#maxRows);
    for (const numbers of this.#all()) numbers.grow(this.#size);
  }

  /** Lets go of the oldest eighth. */
  #forget(): void {
    const gone = Math.max(1, this.#maxRows >> 3);
    for (const { values } of this.#all()) {
      values.copyWithin(0, gone);
      values.fill(NaN, this.#rows - gone);
    }
    this.#rows -= gone;
    this.#gone += gone;
  }
}
