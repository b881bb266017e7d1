/**
 * The mean over whole cycles. Seconds are gathered a cycle at a time, also before anybody has called
 * the unit cycling; those cycles that lie in the span are then added up, so that no part of a cycle
 * weighs more than the others. How much the cycles' own means differ tells how sure their mean is.
 */
import type { Mode } from '../../adapters/contract.ts';
import { MeanContributions } from '../measure/difference.ts';
import { student95 } from '../measure/student.ts';
import type { Span } from '../signal/settling.ts';
import type { Second } from './second.ts';
import { knownW, type Part, type PartMean, PARTS, type SpanMean } from './span-mean.ts';

/** Closed cycles that are kept until they are called a span: more than it takes to call one. */
const KEPT = 64;

/** The sums of one cycle. */
class Cycle {
  readonly from: number;
  to = Infinity;
  n = 0;
  simulated = false;
  mode: Mode | null = null;
  readonly sum = { total: 0, sensible: 0, latent: 0 };
  readonly sumU95 = { total: 0, sensible: 0, latent: 0 };
  readonly errors = new MeanContributions();

  constructor(from: number) {
    this.from = from;
  }

  add({ figures: f, errors, simulated, mode }: Second): void {
    if (f.totalW === null || f.sensibleW === null) return;
    this.n++;
    this.mode = mode;
    this.simulated ||= simulated;
    this.sum.total += f.totalW;
    this.sum.sensible += f.sensibleW;
    this.sum.latent += f.latentW ?? NaN;
    this.sumU95.total += f.totalU95W ?? NaN;
    this.sumU95.sensible += f.sensibleU95W ?? NaN;
    this.sumU95.latent += f.latentU95W ?? NaN;
    if (errors !== null) this.errors.add(errors);
  }
}

/** Gathers seconds into cycles. */
export class Cycles {
  #open: Cycle | null = null;
  #closed: Cycle[] = [];

  /** Takes one second; with `ends` it is the first one of the next cycle. */
  add(second: Second, ends: boolean): void {
    if (ends) {
      if (this.#open !== null && this.#open.n > 0) {
        this.#open.to = second.t;
        this.#closed.push(this.#open);
        if (this.#closed.length > KEPT) this.#closed.shift();
      }
      this.#open = new Cycle(second.t);
    }
    this.#open?.add(second);
  }

  /** Forgets all of them: the next one begins with the next end. */
  clear(): void {
    this.#open = null;
    this.#closed = [];
  }

  /** Hands over those that lie in the span, oldest first; earlier ones are not kept any longer. */
  take({ from, to }: Span): Cycle[] {
    if (this.#closed.length === 0) return this.#closed;
    const taken = this.#closed.filter((cycle) => cycle.from >= from && cycle.to <= to);
    this.#closed = this.#closed.filter((cycle) => cycle.to > to);
    return taken;
  }
}

export class CycleMean implements SpanMean {
  from = 0;
  to = 0;
  simulated = false;
  mode: Mode | null = null;
  cycles = 0;
  readonly errors = new MeanContributions();
  #seconds = 0;
  readonly #parts = { total: new Ratio(), sensible: new Ratio(), latent: new Ratio() };

  get empty(): boolean {
    return this.cycles === 0;
  }

  /** Takes a whole cycle, later than those before. */
  add(cycle: Cycle): void {
    if (this.empty) this.from = cycle.from;
    this.to = cycle.to;
    this.mode = cycle.mode;
    this.simulated ||= cycle.simulated;
    this.cycles++;
    this.#seconds += cycle.n;
    for (const name of PARTS) this.#parts[name].add(cycle.sum[name], cycle.n, cycle.sumU95[name]);
    this.errors.addAll(cycle.errors);
  }

  part(name: Part): PartMean {
    const ratio = this.#parts[name];
    const errorsU95W = ratio.sumU95 / this.#seconds;
    return {
      meanW: ratio.mean,
      errorsU95W: knownW(errorsU95W),
      scatterU95W: this.cycles < 2 ? null : knownW(student95(this.cycles - 1) * ratio.u),
    };
  }
}

/**
 * The mean over cycles of unequal length, Σ sums / Σ seconds, and its standard uncertainty by what
 * each cycle is off: Σ (sum − mean · seconds)² m/(m − 1) / (Σ seconds)² (the ratio estimator, Cochran,
 * Sampling Techniques, 3rd ed., 2.11). For equal cycles it is s/√m of their means.
 */
class Ratio {
  sumU95 = 0;
  // Of differences from the first cycle's mean: large figures that hardly differ lose no digits.
  #first = NaN;
  #cycles = 0;
  #sum = 0;
  #seconds = 0;
  #square = 0;
  #product = 0;
  #secondsSquare = 0;

  add(sum: number, seconds: number, sumU95: number): void {
    if (this.#cycles === 0) this.#first = sum / seconds;
    const off = sum - this.#first * seconds;
    this.#cycles++;
    this.#sum += off;
    this.#seconds += seconds;
    this.#square += off * off;
    this.#product += off * seconds;
    this.#secondsSquare += seconds * seconds;
    this.sumU95 += sumU95;
  }

  get mean(): number {
    return this.#first + this.#sum / this.#seconds;
  }

  /** Needs two cycles. */
  get u(): number {
    const mean = this.#sum / this.#seconds;
    const square = this.#square - 2 * mean * this.#product + mean * mean * this.#secondsSquare;
    const m = this.#cycles;
    return Math.sqrt((Math.max(0, square) * m) / (m - 1)) / this.#seconds;
  }
}
