/**
 * Puts the lines of a visit log in order of time: lines may be late by up to five seconds, as they
 * are when several probes report to one file. A reading that jumps far ahead of all around it (a
 * probe whose clock is wrong) must not drag the log's clock along, or every good line after it would
 * be late: a jump is believed only when lines after it bear it out.
 */
import type { Line } from '../../adapters/contract.ts';

/** How late a line may be, ms. */
export const LATE_MS = 5000;
/** A step ahead of this much has to be borne out, ms: by another probe, or by five of the same. */
export const JUMP_MS = 600_000;
const ENOUGH = 5;

interface Held {
  line: Line;
  lineNumber: number;
  /** Its own time, or for a line without one (set-up) the newest time before it. */
  t: number;
}

export interface OrderOptions {
  line(line: Line, lineNumber: number): void;
  refused(lineNumber: number, why: string): void;
  latestT?: number;
}

/** A time as it stands in a sentence. */
export function iso(t: number): string {
  return new Date(t).toISOString();
}

/** How long, in words: `37.0 s`, `12.5 min`, `3.2 h`, `9.1 days`. */
export function duration(ms: number): string {
  const s = Math.abs(ms) / 1000;
  if (s < 90) return `${s.toFixed(1)} s`;
  if (s < 5400) return `${(s / 60).toFixed(1)} min`;
  if (s < 172_800) return `${(s / 3600).toFixed(1)} h`;
  return `${(s / 86_400).toFixed(1)} days`;
}

function sourceOf(line: Line): string {
  return line.type === 'reading' ? line.probe : '';
}

export class TimeOrder {
  readonly #options: OrderOptions;
  /** Lines not handed over yet, oldest first from `#head` on. */
  #held: Held[] = [];
  #head = 0;
  /** Newest time believed so far. */
  #newest = -Infinity;
  /** Lines far ahead of the rest, not believed yet. */
  #jump: Held[] = [];
  /** Sources whose jumps were not borne out. */
  readonly #wrong = new Set<string>();

  constructor(options: OrderOptions) {
    this.#options = options;
  }

  /** Takes one line; hands over those that nothing can come before any more. */
  add(line: Line, lineNumber: number): void {
    const t = 't' in line ? line.t : undefined;
    if (t === undefined) {
      // Set-up belongs where it stands.
      this.#insert({ line, lineNumber, t: this.#newest });
      return;
    }
    const { latestT } = this.#options;
    if (latestT !== undefined && t > latestT) {
      const ahead = duration(t - latestT);
      this.#options.refused(
        lineNumber,
        `t: ${t} (${iso(t)}) lies in the future, ${ahead} past what this computer's clock allows`,
      );
      return;
    }
    if (this.#newest > -Infinity && t > this.#newest + JUMP_MS) {
      this.#ahead({ line, lineNumber, t });
      return;
    }
    if (this.#jump.length > 0) this.#refuseJump();
    if (t < this.#newest - LATE_MS) {
      this.#options.refused(
        lineNumber,
        `t: ${t} (${iso(t)}) is ${duration(this.#newest - t)} before lines above it; ` +
          `up to ${LATE_MS / 1000} s out of order are sorted`,
      );
      return;
    }
    this.#insert({ line, lineNumber, t });
    this.#release(this.#newest - LATE_MS);
  }

  /** Hands over all that is left. */
  end(): void {
    const last = this.#jump[0];
    // Nothing comes after it that could be shut out; but a clock that was wrong before still is.
    if (last !== undefined && this.#wrong.has(sourceOf(last.line))) this.#refuseJump();
    else this.#believe();
    this.#release(Infinity);
  }

  #ahead(item: Held): void {
    const before = this.#jump.at(-1);
    this.#jump.push(item);
    if (before === undefined) return;
    const source = sourceOf(item.line);
    const other = this.#jump.some((j) => sourceOf(j.line) !== source);
    // A logger that is rarer than the step jumps each time; a wrong clock goes on at its rhythm.
    const sparse = item.t - before.t > JUMP_MS;
    if (other || sparse || this.#jump.length >= ENOUGH) this.#believe();
  }

  /** A gap in the log, not a wrong clock: all before it can go. */
  #believe(): void {
    this.#release(Infinity);
    const jump = this.#jump;
    this.#jump = [];
    for (const item of jump) this.#insert(item);
  }

  #refuseJump(): void {
    const jump = this.#jump;
    this.#jump = [];
    for (const { line } of jump) this.#wrong.add(sourceOf(line));
    for (const { t, lineNumber } of jump) {
      this.#options.refused(
        lineNumber,
        `t: ${t} (${iso(t)}) is ${duration(t - this.#newest)} in the future of the lines around ` +
          'it, and none of them agrees',
      );
    }
  }

  #insert(item: Held): void {
    if (item.t > this.#newest) this.#newest = item.t;
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

/** Lines in order of time; those of a record, which are never refused (a refusal is an error here). */
export function* sorted(lines: Iterable<Line>): Generator<Line> {
  let ready: Line[] = [];
  const order = new TimeOrder({
    line: (line) => ready.push(line),
    refused: (n, why) => {
      throw new Error(`line ${n}: ${why}`);
    },
  });
  let n = 0;
  for (const line of lines) {
    order.add(line, ++n);
    if (ready.length === 0) continue;
    yield* ready;
    ready = [];
  }
  order.end();
  yield* ready;
}
