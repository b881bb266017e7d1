/** Averages a steady span into a capture, with the interval of that average. */
import type { Capture, CapacitySnapshot } from '../protocol.ts';
import { MeanScatter } from '../signal/scatter.ts';
import type { Settling } from '../signal/settling.ts';

const PARTS = ['total', 'sensible', 'latent'] as const;
type Part = (typeof PARTS)[number];
/** Seconds that are kept, so that a span can begin before it was called steady. */
const KEPT_S = 200;
/** Of a normal distribution, 95 %. */
const K95 = 1.96;

interface Second {
  t: number;
  figures: CapacitySnapshot;
}

/** One part of the capacity over the span: its mean, its scatter, and the mean of its interval. */
interface Mean {
  scatter: MeanScatter;
  sumU95: number;
}

export class CaptureMean {
  readonly #unit: string;
  /** Seconds that are not part of a capture, or not yet: nobody has judged them steady. */
  #open: Second[] = [];
  #means: Record<Part, Mean> | null = null;
  #from = 0;
  #to = 0;
  #simulated = false;

  constructor(unit: string) {
    this.#unit = unit;
  }

  /** Takes one second; returns the capture when a steady span has just ended. */
  second(
    t: number,
    { span: steady }: Settling,
    figures: CapacitySnapshot,
    simulated: boolean,
  ): Capture | null {
    const ended = steady === null ? this.end() : null;
    this.#open.push({ t, figures });
    if (steady === null) {
      if (this.#open.length > 2 * KEPT_S) this.#open = this.#open.slice(-KEPT_S);
    } else if (steady.to === t) {
      for (const second of this.#open) if (second.t >= steady.from) this.#add(second);
      this.#open = [];
      this.#simulated ||= simulated;
    }
    return ended;
  }

  #add({ t, figures: f }: Second): void {
    if (f.totalW === null || f.sensibleW === null || f.latentW === null) return;
    if (this.#means === null) {
      const none = (): Mean => ({ scatter: new MeanScatter(), sumU95: 0 });
      this.#means = { total: none(), sensible: none(), latent: none() };
      this.#simulated = false;
      this.#from = t;
    }
    this.#to = t;
    add(this.#means.total, f.totalW, f.totalU95W);
    add(this.#means.sensible, f.sensibleW, f.sensibleU95W);
    add(this.#means.latent, f.latentW, f.latentU95W);
  }

  /** Ends an open span. */
  end(): Capture | null {
    const means = this.#means;
    this.#means = null;
    if (means === null) return null;
    return {
      type: 'capture',
      unit: this.#unit,
      from: this.#from,
      to: this.#to,
      totalW: means.total.scatter.mean,
      totalU95W: halfWidth(means.total),
      sensibleW: means.sensible.scatter.mean,
      sensibleU95W: halfWidth(means.sensible),
      latentW: means.latent.scatter.mean,
      latentU95W: halfWidth(means.latent),
      state: 'steady',
      by: 'itself',
      simulated: this.#simulated,
    };
  }
}

/** A missing interval makes the sum NaN, and so the capture's null: it is not known throughout. */
function add(mean: Mean, value: number, u95: number | null): void {
  mean.scatter.add(value);
  mean.sumU95 += u95 ?? NaN;
}

/** The errors of probes and airflow do not average out over the span; the scatter does. */
function halfWidth({ scatter, sumU95 }: Mean): number | null {
  const u95 = sumU95 / scatter.n;
  return Number.isNaN(u95) ? null : Math.hypot(u95, K95 * scatter.u);
}
