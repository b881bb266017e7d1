/** A visit with an outlet and an anemometer in the hand. The figures mean nothing. */
import type { Line, TraverseEvent } from '../../../adapters/contract.ts';
import { setUp, T0, TestVisit } from '../visit.ts';

export const OUTLET: Line = {
  ...{ type: 'outlet', id: 'o1', unit: 'u1', plane: 'supply', freeArea: 0.9 },
  sections: [
    { widthM: 0.1, lengthM: 0.6 },
    { widthM: 0.1, lengthM: 0.3 },
  ],
};
export const VANE: Line = {
  ...{ type: 'probe', id: 'v', anemometer: { kind: 'vane', headM: 0.07 } },
  limits: { velocityMs: 0.1, velocityPct: 2 },
};

export class HandVisit extends TestVisit {
  /** ms after T0. */
  at = 0;

  constructor(more: readonly Line[] = []) {
    super([...setUp(), OUTLET, VANE, ...more]);
    this.hold(10, null);
  }

  /** So many seconds with the anemometer at that velocity; null: it sends nothing. */
  hold(seconds: number, velocityMs: number | null, everyMs = 250): void {
    for (const end = this.at + 1000 * seconds; this.at < end; this.at += everyMs) {
      if (this.at % 1000 === 0) {
        this.reading('r', this.at, { temperatureC: 26.7, humidityPct: 51 });
        this.reading('s', this.at + 1, { temperatureC: 12, humidityPct: 94 });
      }
      if (velocityMs !== null) this.reading('v', this.at + 2, { velocityMs });
    }
  }

  traverse(phase: TraverseEvent['phase'], more: Partial<TraverseEvent> = {}): string | null {
    const start = phase === 'start' ? { outlet: 'o1', probe: 'v' } : {};
    const t = T0 + this.at;
    return this.take({ type: 'event', t, kind: 'traverse', unit: 'u1', phase, ...start, ...more });
  }

  /** The last message of what is being measured. */
  get now() {
    const last = this.measuring.at(-1);
    if (last === undefined) throw new Error('nothing is being measured');
    return last;
  }
}
