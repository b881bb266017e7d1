/**
 * How wet a cooling coil is, by how long it has taken moisture out of the air: it holds water between its
 * fins some minutes after that began, and is dry again long after it has ended (times: common practice,
 * no source). No clock: times come with the seconds.
 */

/** So long until it is as wet as it gets, and until it has dried with the fan running, s. */
const WETS_S = 900;
export const DRIES_S = 1800;

export class CoilWetness {
  /** 0 dry, 1 wet. */
  value = 0;
  /** Whether moisture is taken out, as last known, and since when, ms. */
  removes: boolean | null = null;
  sinceT: number | null = null;

  /**
   * Takes the second that ends at `t`.
   * @param removes null while that is not known
   * @param seconds it stands for so many
   */
  second(t: number, removes: boolean | null, seconds: number): void {
    if (removes === null) return;
    if (removes !== this.removes) this.sinceT = t;
    this.removes = removes;
    const step = removes ? seconds / WETS_S : -seconds / DRIES_S;
    this.value = Math.min(1, Math.max(0, this.value + step));
  }

  clockSet(shiftMs: number): void {
    if (this.sinceT !== null) this.sinceT += shiftMs;
  }
}
