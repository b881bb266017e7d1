/** The mean over a span and how sure it is: over a steady span, second by second. */
import type { Mode } from '../../adapters/contract.ts';
import { MeanContributions } from '../measure/difference.ts';
import { MeanScatter } from '../signal/scatter.ts';
import type { Second } from './second.ts';

export const PARTS = ['total', 'sensible', 'latent'] as const;
export type Part = (typeof PARTS)[number];
/** Of a normal distribution, 95 %. */
const K95 = 1.96;

/** The mean of one part of the capacity, W, with half-widths of 95 %. */
export interface PartMean {
  /** NaN of the latent part in heating, where there is none; its half-widths are null then. */
  meanW: number;
  /** By the errors of probes, airflow and pressure: the mean of the seconds' own; null: not known. */
  errorsU95W: number | null;
  /** By the scatter of what is averaged; null where that is one cycle. */
  scatterU95W: number | null;
}

/** A mean that grows with its span. */
export interface SpanMean {
  /** What is averaged so far, ms since the epoch; meaningless while it is empty. */
  readonly from: number;
  readonly to: number;
  readonly empty: boolean;
  readonly simulated: boolean;
  /** The mode of its last second. */
  readonly mode: Mode | null;
  /** Whole cycles in it; null for a steady span. */
  readonly cycles: number | null;
  /** What each error does to the mean. */
  readonly errors: MeanContributions;
  part(name: Part): PartMean;
}

/** A figure, or null where it is none. */
export const knownW = (x: number): number | null => (Number.isNaN(x) ? null : x);

/** The whole interval: errors do not average out over the span, so both count; null: not known. */
export function halfWidth({ errorsU95W, scatterU95W }: PartMean): number | null {
  return errorsU95W === null || scatterU95W === null ? null : Math.hypot(errorsU95W, scatterU95W);
}

/**
 * Of a span whose first seconds were worked out with something else, those seconds are not averaged; but
 * how they scattered tells how the few that follow do.
 */
export class SteadyMean implements SpanMean {
  from = 0;
  to = 0;
  simulated = false;
  mode: Mode | null = null;
  readonly cycles = null;
  readonly errors = new MeanContributions();
  readonly #parts = {
    total: { scatter: new MeanScatter(), sumU95: 0 },
    sensible: { scatter: new MeanScatter(), sumU95: 0 },
    latent: { scatter: new MeanScatter(), sumU95: 0 },
  };

  readonly #before: SteadyMean | null;

  /** @param before the earlier seconds of its span */
  constructor(before: SteadyMean | null = null) {
    this.#before = before;
  }

  get empty(): boolean {
    return this.#parts.total.scatter.n === 0;
  }

  /** Takes one second, later than those before; one without a figure is passed over. */
  add({ t, figures: f, errors, simulated, mode }: Second): void {
    if (f.totalW === null || f.sensibleW === null) return;
    if (this.empty) this.from = t;
    this.to = t;
    this.mode = mode;
    this.simulated ||= simulated;
    this.#add('total', f.totalW, f.totalU95W);
    this.#add('sensible', f.sensibleW, f.sensibleU95W);
    this.#add('latent', f.latentW ?? NaN, f.latentU95W);
    if (errors !== null) this.errors.add(errors);
  }

  part(name: Part): PartMean {
    const { scatter, sumU95 } = this.#parts[name];
    const errorsU95W = sumU95 / scatter.n;
    return {
      meanW: scatter.mean,
      errorsU95W: knownW(errorsU95W),
      scatterU95W: knownW(K95 * Math.max(scatter.u, this.#uAsBefore(name, scatter.n))),
    };
  }

  /** Standard uncertainty of a mean of `n` seconds that scatter as those before; 0: more are at hand. */
  #uAsBefore(name: Part, n: number): number {
    if (this.#before === null) return 0;
    const before = this.#before.#parts;
    if (n >= before.total.scatter.n) return 0;
    const scale = Math.abs(this.#parts.total.scatter.mean / before.total.scatter.mean);
    return scale * before[name].scatter.uOfMean(n);
  }

  /** A missing interval makes the sum NaN, and so the capture's null: it is not known throughout. */
  #add(name: Part, value: number, u95: number | null): void {
    const part = this.#parts[name];
    part.scatter.add(value);
    part.sumU95 += u95 ?? NaN;
  }
}
