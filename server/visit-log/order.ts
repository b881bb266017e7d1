/**
 * Puts the lines of a visit log in order of time: lines may be late, as they are when several probes
 * report to one file (lateness.ts says by how much). A reading that jumps far ahead of all around it (a
 * probe whose clock is wrong) must not drag the log's clock along, or every good line after it would
 * be late: a jump is believed only when lines after it bear it out.
 *
 * The record of a live visit holds lines as they were taken, each of those that is out of its turn with
 * an `after`: they were judged when they came, and are handed over where they stand.
 */
import type { Line } from '../../adapters/contract.ts';
import { duration, GONE_MS, iso, JUMP_MS, whyLate } from './lateness.ts';

const ENOUGH = 5;

interface Held {
  line: Line;
  lineNumber: number;
  /** Its own time, or for a line without one (set-up) the newest time before it. */
  t: number;
}

export interface OrderOptions {
  /** @param after see `RecordedLine` */
  line(line: Line, lineNumber: number, after?: number): void;
  refused(lineNumber: number, why: string): void;
  latestT?: number;
}

function probeOf(line: Line): string | null {
  return line.type === 'reading' ? line.probe : null;
}

export class TimeOrder {
  readonly #options: OrderOptions;
  /** Lines not handed over yet, oldest first from `#head` on. */
  #held: Held[] = [];
  #head = 0;
  /** Newest time of a reading that is believed, and of any line since nothing was held. */
  #newest = -Infinity;
  #newestLine = -Infinity;
  /** Readings far ahead of the rest, not believed yet, with the set-up lines between them. */
  #jump: Held[] = [];
  /** Probes whose jumps were not borne out. */
  readonly #wrong = new Set<string | null>();

  constructor(options: OrderOptions) {
    this.#options = options;
  }

  /** Takes one line; hands over those that nothing can come before any more. */
  add(line: Line, lineNumber: number, after?: number): void {
    const t = 't' in line ? line.t : undefined;
    const { latestT = Infinity } = this.#options;
    const latest = Math.max(t ?? 0, after ?? 0);
    if (latest > latestT) {
      const ahead = duration(latest - latestT);
      this.#options.refused(
        lineNumber,
        `t: ${latest} (${iso(latest)}) lies in the future, ${ahead} past what this computer's clock allows`,
      );
      return;
    }
    if (line.type === 'event' && line.kind === 'clock') this.#clock(line.t);
    if (after !== undefined) this.#asItStands(line, lineNumber, after);
    else if (t === undefined) this.#setUp(line, lineNumber);
    else if (line.type === 'reading') this.#reading({ line, lineNumber, t }, line.probe);
    else this.#event({ line, lineNumber, t });
  }

  /** Hands over all that is left. */
  end(): void {
    const last = this.#jump[0];
    // Nothing comes after it that could be shut out; but a clock that was wrong before still is.
    if (last !== undefined && this.#wrong.has(probeOf(last.line))) this.#refuseJump();
    else this.#believe();
    this.#release(Infinity);
  }

  /** All before it is by another clock. */
  #clock(t: number): void {
    this.#believe();
    this.#release(Infinity);
    if (this.#newest > -Infinity) this.#newest = t;
    this.#newestLine = -Infinity;
  }

  /** What the visit took when it came is not judged anew. */
  #asItStands(line: Line, lineNumber: number, after: number): void {
    this.#believe();
    this.#release(Infinity);
    // Nothing is held that a set-up line could have to wait for.
    this.#newestLine = -Infinity;
    if (line.type === 'reading') this.#newest = Math.max(this.#newest, line.t);
    this.#options.line(line, lineNumber, after);
  }

  /** Set-up belongs where it stands. */
  #setUp(line: Line, lineNumber: number): void {
    const item = { line, lineNumber, t: this.#newestLine };
    if (this.#jump.length > 0) this.#jump.push(item);
    else this.#insert(item);
  }

  #reading(item: Held, probe: string): void {
    const { t, lineNumber } = item;
    if (this.#newest > -Infinity && t > this.#newest + JUMP_MS) {
      this.#ahead(item);
      return;
    }
    this.#judgeJump(t);
    // Late by its own probe's time is late by the time of all: nearly no line needs the search.
    const why = whyLate(t, probe, this.#newestOf(probe, t), this.#newest);
    if (why !== null) {
      this.#options.refused(lineNumber, why);
      return;
    }
    if (t > this.#newest) this.#newest = t;
    this.#insert(item);
    this.#release(this.#newest - GONE_MS);
  }

  #event(item: Held): void {
    this.#judgeJump(item.t);
    const why = whyLate(item.t, null, -Infinity, this.#newest);
    if (why === null) this.#insert(item);
    else this.#options.refused(item.lineNumber, why);
  }

  /** The newest reading of a probe; −∞ where none is newer than `t` or all of its are long gone. */
  #newestOf(probe: string, t: number): number {
    const held = this.#held;
    for (let i = held.length - 1; i >= this.#head; i--) {
      const other = held[i];
      if (other === undefined || other.t <= t) break;
      if (probeOf(other.line) === probe) return other.t;
    }
    return -Infinity;
  }

  #ahead(item: Held): void {
    const jumps = this.#jump.filter(({ line }) => line.type === 'reading');
    const before = jumps.at(-1);
    this.#jump.push(item);
    if (before === undefined) return;
    const probe = probeOf(item.line);
    const other = jumps.some((j) => probeOf(j.line) !== probe);
    // A logger that is rarer than the step jumps each time; a wrong clock goes on at its rhythm.
    const sparse = item.t - before.t > JUMP_MS;
    if (other || sparse || jumps.length + 1 >= ENOUGH) this.#believe();
  }

  /** A line of then bears a jump out, one of before speaks against it. */
  #judgeJump(t: number): void {
    const first = this.#jump[0];
    if (first === undefined) return;
    if (t >= first.t - GONE_MS) this.#believe();
    else this.#refuseJump();
  }

  /** A gap in the log, not a wrong clock: all before it can go. */
  #believe(): void {
    const jump = this.#jump;
    if (jump.length === 0) return;
    this.#release(Infinity);
    this.#jump = [];
    for (const item of jump) {
      if (item.line.type === 'reading') this.#newest = Math.max(this.#newest, item.t);
      else item.t = this.#newestLine;
      this.#insert(item);
    }
  }

  #refuseJump(): void {
    const jump = this.#jump;
    this.#jump = [];
    for (const { line } of jump) if (line.type === 'reading') this.#wrong.add(line.probe);
    for (const item of jump) {
      const { line, t, lineNumber } = item;
      if (line.type !== 'reading') {
        this.#insert(item);
        continue;
      }
      this.#options.refused(
        lineNumber,
        `t: ${t} (${iso(t)}) is ${duration(t - this.#newest)} in the future of the lines around ` +
          'it, and none of them agrees',
      );
    }
  }

  #insert(item: Held): void {
    if (item.t > this.#newestLine) this.#newestLine = item.t;
    const held = this.#held;
    let i = held.length;
    while (i > this.#head && (held[i - 1]?.t ?? -Infinity) > item.t) i--;
    if (i === held.length) held.push(item);
    else held.splice(i, 0, item);
  }

  #release(before: number): void {
    const held = this.#held;
    let head = this.#head;
    while (head < held.length) {
      const first = held[head];
      if (first === undefined || first.t > before) break;
      head++;
      this.#options.line(first.line, first.lineNumber);
    }
    if (head === held.length) {
      held.length = 0;
      head = 0;
    } else if (head > 1024) {
      held.splice(0, head);
      head = 0;
    }
    this.#head = head;
  }
}
