/** The units this person reads, remembered by this browser. */
import * as z from 'zod/mini';
import { scalesFor, type UnitChoice } from './scales.ts';

const KEY = 'plateau.units';
const choiceSchema = z.object({
  temperature: z.enum(['C', 'F']),
  flow: z.enum(['m3h', 'cfm']),
  power: z.enum(['kW', 'Btuh']),
});
const SI: UnitChoice = { temperature: 'C', flow: 'm3h', power: 'kW' };

function remembered(): UnitChoice {
  try {
    const parsed = choiceSchema.safeParse(JSON.parse(localStorage.getItem(KEY) ?? 'null'));
    return parsed.success ? parsed.data : SI;
  } catch {
    return SI; // storage is closed to us, or holds something that is not ours
  }
}

export class Choice {
  #units = $state.raw<UnitChoice>(SI);
  readonly scales = $derived(scalesFor(this.#units));

  constructor() {
    // Here and not in the field: zod must have been configured (connection.svelte.ts) before.
    this.#units = remembered();
  }

  get units(): UnitChoice {
    return this.#units;
  }

  set units(units: UnitChoice) {
    this.#units = units;
    try {
      localStorage.setItem(KEY, JSON.stringify(units));
    } catch {
      // Not remembered; it holds for as long as the page does.
    }
  }
}
