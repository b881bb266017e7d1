/** Averages a steady span into a capture. */
import type { Capture, CapacitySnapshot } from '../protocol.ts';
import type { Settling } from '../signal/settling.ts';

const KEYS = ['totalW', 'sensibleW', 'latentW', 'totalU95W', 'sensibleU95W', 'latentU95W'] as const;
/** Seconds that are kept, so that a span can begin before it was called steady. */
const KEPT_S = 180;

interface Second {
  t: number;
  figures: CapacitySnapshot;
}

export class CaptureMean {
  readonly #unit: string;
  /** The last seconds before a span. */
  #recent: Second[] = [];
  #sums: Record<(typeof KEYS)[number], number> | null = null;
  #n = 0;
  #from = 0;
  #to = 0;
  #simulated = false;

  constructor(unit: string) {
    this.#unit = unit;
  }

  /** Takes one second; returns the capture when a steady span has just ended. */
  second(
    t: number,
    settling: Settling,
    figures: CapacitySnapshot,
    simulated: boolean,
  ): Capture | null {
    const { steadyFrom } = settling;
    if (steadyFrom === null) {
      const ended = this.end();
      this.#recent.push({ t, figures });
      if (this.#recent.length > 2 * KEPT_S) this.#recent = this.#recent.slice(-KEPT_S);
      return ended;
    }
    if (this.#sums === null) {
      this.#sums = {
        totalW: 0,
        sensibleW: 0,
        latentW: 0,
        totalU95W: 0,
        sensibleU95W: 0,
        latentU95W: 0,
      };
      this.#n = 0;
      this.#simulated = false;
      this.#from = steadyFrom;
      for (const s of this.#recent) if (s.t >= steadyFrom) this.#add(s.t, s.figures, simulated);
      this.#recent = [];
    }
    this.#add(t, figures, simulated);
    return null;
  }

  #add(t: number, figures: CapacitySnapshot, simulated: boolean): void {
    if (this.#sums === null || figures.totalW === null) return;
    this.#simulated ||= simulated;
    this.#n++;
    this.#to = t;
    // A missing interval makes the sum NaN, and so the capture's null: it is not known throughout.
    for (const key of KEYS) this.#sums[key] += figures[key] ?? NaN;
  }

  /** Ends an open span. */
  end(): Capture | null {
    const sums = this.#sums;
    this.#sums = null;
    if (sums === null || this.#n === 0) return null;
    const mean = (key: (typeof KEYS)[number]): number => sums[key] / this.#n;
    const orNull = (value: number): number | null => (Number.isNaN(value) ? null : value);
    return {
      type: 'capture',
      unit: this.#unit,
      from: this.#from,
      to: this.#to,
      totalW: mean('totalW'),
      totalU95W: orNull(mean('totalU95W')),
      sensibleW: mean('sensibleW'),
      sensibleU95W: orNull(mean('sensibleU95W')),
      latentW: mean('latentW'),
      latentU95W: orNull(mean('latentU95W')),
      state: 'steady',
      simulated: this.#simulated,
    };
  }
}
