/** Placing by touch: a probe and then its place, or a place and then its probes. */
import type { State } from '../../server/protocol.ts';
import { putProbe, putUnit } from '../live/api.ts';
import { spotWords, type Spot } from '../words/probes.ts';
import { freeUnitId, freeUnitName } from '../words/units.ts';
import { PLACING } from '../words/placing.ts';

/** Stands for a unit that is made when a probe is hung there. */
export const NEW_UNIT = '';

export class Placing {
  /** The probe whose place is touched next. */
  probe = $state<string | null>(null);
  /** The place whose probes are touched next. */
  spot = $state.raw<Spot | null>(null);
  /** What was done last, as a sentence; empty once something else is chosen. */
  said = $state('');
  /** Why it was refused. */
  trouble = $state<string | null>(null);
  /** Whether a probe stays chosen when it has been hung. */
  readonly stays: boolean;
  readonly #told: () => State | null;
  #sending = false;

  /** @param told the state as the page knows it */
  constructor(told: () => State | null, stays = false) {
    this.#told = told;
    this.stays = stays;
  }

  get isChoosing(): boolean {
    return this.probe !== null || this.spot !== null;
  }

  cancel(): void {
    this.probe = null;
    this.spot = null;
    this.trouble = null;
  }

  /** A probe is touched: hung at the place that is chosen, or chosen itself. */
  touchProbe(id: string): void {
    if (this.spot !== null) {
      void this.#hang(id, this.spot);
      return;
    }
    this.probe = this.probe === id ? null : id;
    this.#begun();
  }

  /** A place is touched: what is chosen is hung there, or it is chosen itself. */
  touchSpot(spot: Spot): void {
    if (this.probe !== null) {
      void this.#hang(this.probe, spot);
      return;
    }
    const same = this.spot?.place === spot.place && this.spot.unit === spot.unit;
    this.spot = same ? null : spot;
    this.#begun();
  }

  /** The chosen probe hangs nowhere any more. */
  takeAway(): void {
    if (this.probe !== null) void this.#hang(this.probe, null);
  }

  #begun(): void {
    this.said = '';
    this.trouble = null;
  }

  async #hang(id: string, spot: Spot | null): Promise<void> {
    const told = this.#told();
    if (this.#sending || told === null) return;
    this.#sending = true;
    this.#begun();
    const name = told.probes[id]?.name ?? id;
    const units = Object.keys(told.visit.units);
    const unitNames = Object.values(told.visit.units).map((each) => each.name);
    const made = spot?.unit === NEW_UNIT ? freeUnitId(units) : null;
    const unit = made ?? spot?.unit ?? null;
    this.trouble =
      (made === null ? null : await putUnit(made, { name: freeUnitName(unitNames) })) ??
      (await putProbe(id, { unit, place: spot?.place ?? null }));
    this.#sending = false;
    if (this.trouble !== null) return;
    if (this.spot?.unit === NEW_UNIT) this.spot = null;
    if (!this.stays) this.probe = null;
    const where =
      spot === null || made !== null
        ? (spot?.place ?? '')
        : spotWords({ unit, place: spot.place }, told.visit);
    this.said = spot === null ? PLACING.takenAway(name) : PLACING.placed(name, where);
  }
}
