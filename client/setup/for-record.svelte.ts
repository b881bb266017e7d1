/** What a person enters for the record while the settings of a visit are open. */
import type { VisitSetup } from '../../server/protocol.ts';
import {
  putSystem,
  putUnit,
  type SystemChange,
  type UnitChange,
  type VisitChange,
} from '../live/api.ts';
import {
  RECORD_FIELDS,
  RECORD_FORM,
  systemChange,
  type SystemTexts,
  systemTexts,
  unitChange,
  type UnitTexts,
  unitTexts,
  type VisitTexts,
  visitChange,
  visitTexts,
} from '../words/for-record.ts';
import type { Scales } from '../words/scales.ts';

const NO_SYSTEM: SystemTexts = { name: '', model: '', serial: '', length: '', height: '' };

interface Entered<T> {
  id: string;
  start: T;
  texts: T;
}

/** What is to be sent, worked out before anything is. */
export interface RecordChanges {
  visit: VisitChange;
  units: [id: string, change: UnitChange][];
  systems: [id: string, change: SystemChange][];
}

export class ForRecord {
  visit: VisitTexts;
  units: (Entered<UnitTexts> & { name: string })[];
  systems: Entered<SystemTexts>[];
  readonly #visitStart: VisitTexts;
  readonly #scales: Scales;

  constructor(visit: VisitSetup, scales: Scales) {
    this.#scales = scales;
    this.#visitStart = visitTexts(visit);
    this.visit = $state({ ...this.#visitStart });
    this.units = $state(
      Object.entries(visit.units).map(([id, unit]) => {
        const start = unitTexts(unit, scales);
        return { id, name: unit.name, start, texts: { ...start } };
      }),
    );
    this.systems = $state(
      Object.entries(visit.systems).map(([id, system]) => {
        const start = systemTexts(system, scales);
        return { id, start, texts: { ...start } };
      }),
    );
  }

  /** Another outdoor unit. @returns its id */
  addSystem(): string {
    let n = this.systems.length + 1;
    while (this.systems.some(({ id }) => id === `s${n}`)) n++;
    const id = `s${n}`;
    this.systems.push({ id, start: NO_SYSTEM, texts: { ...NO_SYSTEM } });
    return id;
  }

  /** What a person calls an outdoor unit. */
  nameOf({ id, texts }: Entered<SystemTexts>): string {
    const number = this.systems.findIndex((each) => each.id === id) + 1;
    return texts.name || texts.model || RECORD_FORM.unnamedSystem(number, this.systems.length);
  }

  /** What a field of an outdoor unit is called in a sentence. */
  called(field: string, system: Entered<SystemTexts>): string {
    return this.systems.length === 1 ? field : RECORD_FIELDS.ofSystem(field, this.nameOf(system));
  }

  /** What was changed, or why something that was entered cannot be taken. */
  changes(): RecordChanges | string {
    const changes: RecordChanges = {
      ...{ visit: visitChange(this.#visitStart, this.visit), units: [], systems: [] },
    };
    for (const system of this.systems) {
      const { id, start, texts } = system;
      const called = (field: string): string => this.called(field, system);
      const { change, refusal } = systemChange(start, texts, called, this.#scales);
      if (refusal !== null) return refusal;
      // One that was made and left empty is still one, where a unit is piped to it.
      const isUsed = this.units.some((unit) => unit.texts.system === id);
      const isNew = start === NO_SYSTEM && isUsed;
      if (isNew || Object.keys(change).length > 0) changes.systems.push([id, change]);
    }
    for (const { id, name, start, texts } of this.units) {
      const { change, refusal } = unitChange(start, texts, name, this.#scales);
      if (refusal !== null) return refusal;
      if (Object.keys(change).length > 0) changes.units.push([id, change]);
    }
    return changes;
  }
}

/** Sends what was changed of outdoor units and units. @returns why not, or null */
export async function sendRecord({ units, systems }: RecordChanges): Promise<string | null> {
  for (const [id, change] of systems) {
    const refusal = await putSystem(id, change);
    if (refusal !== null) return refusal;
  }
  for (const [id, change] of units) {
    const refusal = await putUnit(id, change);
    if (refusal !== null) return refusal;
  }
  return null;
}
