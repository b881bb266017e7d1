/** The units this person reads, remembered by this browser. */
import * as z from 'zod/mini';
import { remember, remembered } from '../live/remembered.ts';
import { scalesFor, type UnitChoice } from './scales.ts';

const KEY = 'plateau.units';
const choiceSchema = z.object({
  temperature: z.enum(['C', 'F']),
  flow: z.enum(['m3h', 'cfm']),
  power: z.enum(['kW', 'Btuh']),
});
const SI: UnitChoice = { temperature: 'C', flow: 'm3h', power: 'kW' };

export class Choice {
  #units = $state.raw<UnitChoice>(SI);
  readonly scales = $derived(scalesFor(this.#units));

  constructor() {
    // Here and not in the field: zod must have been configured (connection.svelte.ts) before.
    this.#units = remembered(KEY, choiceSchema, SI);
  }

  get units(): UnitChoice {
    return this.#units;
  }

  set units(units: UnitChoice) {
    this.#units = units;
    remember(KEY, units);
  }
}
