/** Averages a steady span into a capture. */
import type { Capture, CapacitySnapshot } from '../protocol.ts';
import type { Settling } from '../signal/settling.ts';

const KEYS = ['totalW', 'sensibleW', 'latentW', 'totalU95W', 'sensibleU95W', 'latentU95W'] as const;
/** Seconds that are kept, so that a span can begin before it was called steady. */
const KEPT_S = 200;

interface Second {
  t: number;
  figures: CapacitySnapshot;
}

export class CaptureMean {
  readonly #unit: string;
  /** Seconds that are not part of a capture, or not yet: nobody has judged them steady. */
  #open: Second[] = [];
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
    { steady }: Settling,
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

  #add({ t, figures }: Second): void {
    if (figures.totalW === null) return;
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
      this.#from = t;
    }
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
