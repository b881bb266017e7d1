/**
 * The past of a visit as columns: what the server sends of it, and what has come live since, as one
 * stream with one seam. Keyed by the server's time, ascending, without duplicates. Plain arrays
 * outside of any reactive state: the chart reads them as they are.
 */
import type { History as HistoryFrame, Snapshot, UnitSnapshot } from '../../server/protocol.ts';

type Column = (number | null)[];

/** One unit's columns; upper and lower are the ends of the 95 % interval of the total. */
export interface UnitColumns {
  totalW: Column;
  upperW: Column;
  lowerW: Column;
  sensibleW: Column;
  latentW: Column;
  returnC: Column;
  supplyC: Column;
}
type Row = { [name in keyof UnitColumns]: number | null };

const NAMES = [
  'totalW',
  'upperW',
  'lowerW',
  'sensibleW',
  'latentW',
  'returnC',
  'supplyC',
] as const satisfies (keyof UnitColumns)[];

/** Those that a frame holds as they are. */
const PLAIN = ['sensibleW', 'latentW', 'returnC', 'supplyC'] as const;

/** Snapshots come once a second; a hole longer than this breaks the line, as a restart makes one. */
const GAP_MS = 5000;
/** Rows that lie further apart on the whole have been thinned. */
const THINNED_MS = 1500;
/** More rows than this and the older half is thinned: a chart is a thousand points wide. */
const MAX_ROWS = 40_000;

const EMPTY_ROW: Row = {
  totalW: null,
  upperW: null,
  lowerW: null,
  sensibleW: null,
  latentW: null,
  returnC: null,
  supplyC: null,
};

function row(
  totalW: number | null,
  intervalW: number | null,
  rest: Pick<Row, 'sensibleW' | 'latentW' | 'returnC' | 'supplyC'>,
): Row {
  const known = totalW !== null && intervalW !== null;
  return {
    totalW,
    upperW: known ? totalW + intervalW : null,
    lowerW: known ? totalW - intervalW : null,
    ...rest,
  };
}

/** Steps longer than so many ordinary ones are holes, and tell nothing of the thinning. */
const HOLE_STEPS = 20;
/**
 * The server keeps one to three rows of each stretch of a thinned past, wherever in it they lie: two that
 * follow each other are less than two stretches apart, which is six times the mean step of three a stretch.
 */
const STEPS_APART = 6;

/**
 * How far apart two rows of a frame may lie without a hole between them, ms.
 * @param t ascending; a row a second, or fewer where the past was thinned
 */
function gapOf(t: readonly number[]): number {
  const steps = t.slice(1).map((at, i) => at - (t[i] ?? at));
  const sorted = steps.toSorted((a, b) => a - b);
  const median = sorted[Math.floor(sorted.length / 2)] ?? 0;
  const ordinary = steps.filter((step) => step <= HOLE_STEPS * median);
  const mean = ordinary.reduce((sum, step) => sum + step, 0) / Math.max(1, ordinary.length);
  return mean > THINNED_MS ? Math.max(GAP_MS, STEPS_APART * mean) : GAP_MS;
}

export class History {
  /** ms since the epoch, ascending, no value twice. */
  t: number[] = [];
  #units = new Map<string, UnitColumns>();
  /** The mode of each unit in its last snapshot. */
  readonly #modes = new Map<string, UnitSnapshot['mode']>();
  /** How far after a history frame the next live row may lie: a thinned one has wider steps. */
  #seamMs = GAP_MS;

  /** The columns of a unit, each as long as `t`; undefined for one that never had a row. */
  unit(id: string): UnitColumns | undefined {
    return this.#units.get(id);
  }

  /** The time of the last row, null before the first. */
  get lastT(): number | null {
    return this.t.at(-1) ?? null;
  }

  /** Forgets everything: another visit begins. */
  clear(): void {
    this.t = [];
    this.#units = new Map();
    this.#modes.clear();
    this.#seamMs = GAP_MS;
  }

  /** Takes a live snapshot. One that is known already, or older than the last row, is dropped. */
  addSnapshot(snapshot: Snapshot): void {
    const rows = new Map<string, Row>();
    for (const [id, unit] of Object.entries(snapshot.units)) {
      const { capacity, settling, mode } = unit;
      const before = this.#modes.get(id) ?? mode;
      this.#modes.set(id, mode);
      // No line is drawn from one mode to the other.
      const known = before === mode;
      rows.set(
        id,
        row(known ? settling.levelW : null, capacity.totalU95W, {
          sensibleW: known ? settling.levelSensibleW : null,
          latentW: known ? settling.levelLatentW : null,
          returnC: unit.return.temperatureC,
          supplyC: unit.supply.temperatureC,
        }),
      );
    }
    this.#append(snapshot.t, rows, this.#seamMs);
    this.#seamMs = GAP_MS;
    if (this.t.length > MAX_ROWS) this.#thin();
  }

  /**
   * Takes a stretch of the past. Usually it lies wholly after what is held; where it overlaps (a
   * live frame overtook it), the rows are put in their places and those already held stay.
   */
  addHistory(frame: HistoryFrame): void {
    const gapMs = gapOf(frame.t);
    this.#seamMs = gapMs;
    const firstNew = frame.t[0];
    if (firstNew === undefined) return;
    if (firstNew > (this.lastT ?? -Infinity)) {
      this.#appendFrame(frame, gapMs);
      return;
    }
    const held = this.#cutFrom(firstNew);
    const rows = new Map(frame.t.map((t, i) => [t, this.#frameRow(frame, i)]));
    for (const [t, kept] of held) rows.set(t, kept);
    for (const t of [...rows.keys()].sort((a, b) => a - b)) this.#append(t, rows.get(t), gapMs);
  }

  /** A stretch after all that is held, column by column: eight hours of many heads are millions of figures. */
  #appendFrame(frame: HistoryFrame, gapMs: number): void {
    for (const id of Object.keys(frame.units)) this.#columnsOf(id);
    /** The frame's row of each new row; −1 for one that marks a gap. */
    const rows: number[] = [];
    for (const [i, t] of frame.t.entries()) {
      const last = this.lastT;
      if (last !== null && t <= last) continue;
      if (last !== null && t - last > gapMs) {
        this.t.push(last + 1);
        rows.push(-1);
      }
      this.t.push(t);
      rows.push(i);
    }
    for (const [id, columns] of this.#units) {
      const c = frame.units[id];
      for (const i of rows) {
        const total = c?.totalW[i] ?? null;
        const interval = c?.totalU95W[i] ?? null;
        columns.totalW.push(total);
        columns.upperW.push(total === null || interval === null ? null : total + interval);
        columns.lowerW.push(total === null || interval === null ? null : total - interval);
        for (const name of PLAIN) columns[name].push(c?.[name][i] ?? null);
      }
    }
  }

  #frameRow(frame: HistoryFrame, i: number): Map<string, Row> {
    const rows = new Map<string, Row>();
    for (const [id, c] of Object.entries(frame.units)) {
      rows.set(
        id,
        row(c.totalW[i] ?? null, c.totalU95W[i] ?? null, {
          sensibleW: c.sensibleW[i] ?? null,
          latentW: c.latentW[i] ?? null,
          returnC: c.returnC[i] ?? null,
          supplyC: c.supplyC[i] ?? null,
        }),
      );
    }
    return rows;
  }

  /** Takes away the rows from `from` on and gives them back, without the rows that mark a gap. */
  #cutFrom(from: number): Map<number, Map<string, Row>> {
    const cut = new Map<number, Map<string, Row>>();
    let at = this.t.length;
    while (at > 0 && (this.t[at - 1] ?? from) >= from) at--;
    for (let i = at; i < this.t.length; i++) {
      const rows = new Map<string, Row>();
      for (const [id, columns] of this.#units) {
        const copy = { ...EMPTY_ROW };
        for (const name of NAMES) copy[name] = columns[name][i] ?? null;
        if (NAMES.some((name) => copy[name] !== null)) rows.set(id, copy);
      }
      const t = this.t[i];
      if (t !== undefined && rows.size > 0) cut.set(t, rows);
    }
    this.#truncate(at);
    return cut;
  }

  #truncate(length: number): void {
    this.t.length = Math.min(this.t.length, length);
    for (const columns of this.#units.values()) {
      for (const name of NAMES) columns[name].length = this.t.length;
    }
  }

  #append(t: number, rows: Map<string, Row> | undefined, gapMs: number): void {
    const last = this.lastT;
    if (last !== null && t <= last) return;
    if (last !== null && t - last > gapMs) this.#push(last + 1, undefined);
    this.#push(t, rows);
  }

  #push(t: number, rows: Map<string, Row> | undefined): void {
    for (const id of rows?.keys() ?? []) this.#columnsOf(id);
    this.t.push(t);
    for (const [id, columns] of this.#units) {
      const values = rows?.get(id) ?? EMPTY_ROW;
      for (const name of NAMES) columns[name].push(values[name]);
    }
  }

  /** The columns of a unit; made when it is new, empty up to the present row. */
  #columnsOf(id: string): UnitColumns {
    let columns = this.#units.get(id);
    if (columns === undefined) {
      const empty = (): Column => this.t.map(() => null);
      columns = {
        totalW: empty(),
        upperW: empty(),
        lowerW: empty(),
        sensibleW: empty(),
        latentW: empty(),
        returnC: empty(),
        supplyC: empty(),
      };
      this.#units.set(id, columns);
    }
    return columns;
  }

  /** Drops every second row of the older half; rows in which a unit has no total mark gaps: kept. */
  #thin(): void {
    const half = Math.floor(this.t.length / 2);
    const totals = [...this.#units.values()].map((columns) => columns.totalW);
    const keep = (_: unknown, i: number): boolean =>
      i >= half || i % 2 === 0 || totals.some((total) => total[i] === null);
    for (const columns of this.#units.values()) {
      for (const name of NAMES) columns[name] = columns[name].filter(keep);
    }
    this.t = this.t.filter(keep);
  }
}
