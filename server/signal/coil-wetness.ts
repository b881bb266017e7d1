/**
 * The coil of a unit over time: when it began or ceased to take moisture out, and how wet it was then. What
 * lies between follows from that (`wetnessAt`), however many seconds were worked out meanwhile.
 */
import { type CoilSeen, wetnessAt } from '../measure/airflow/coil.ts';

export class CoilWetness {
  seen: CoilSeen = { wetness: 0, removes: null, sinceT: null };
  /** As of the last second: 0 dry, 1 wet. */
  value = 0;

  /**
   * Takes the second that ends at `t`.
   * @param removes null while that is not known: it goes on as it was
   */
  second(t: number, removes: boolean | null): void {
    this.value = wetnessAt(this.seen, t);
    if (removes === null || removes === this.seen.removes) return;
    this.seen = { wetness: this.value, removes, sinceT: t };
  }

  clockSet(shiftMs: number): void {
    const { sinceT } = this.seen;
    if (sinceT !== null) this.seen = { ...this.seen, sinceT: sinceT + shiftMs };
  }
}
