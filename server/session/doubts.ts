/** Why a figure may be wrong, or is missing: each a code and a sentence that says what to do. */
import type { Doubt } from '../protocol.ts';
import type { ProbeRecord } from './probe.ts';

const seconds = (ms: number): string =>
  ms < 120_000 ? `${Math.round(ms / 1000)} s` : `${Math.round(ms / 60_000)} min`;

export const doubts = {
  stale: (probe: ProbeRecord, t: number): Doubt => ({
    code: 'probe-stale',
    probe: probe.id,
    text:
      `${probe.name} has sent nothing for ${seconds(t - probe.lastT)}: it is left out. ` +
      'Check its battery and how far it is away.',
  }),
  late: (probe: ProbeRecord, t: number): Doubt => ({
    code: 'probe-late',
    probe: probe.id,
    text: `${probe.name} is late: its last reading is ${seconds(t - probe.lastT)} old.`,
  }),
  noProbe: (place: 'return' | 'supply'): Doubt => ({
    code: `${place}-missing`,
    text: `No probe with a live temperature hangs in the ${place} air: place one there.`,
  }),
  noHumidity: (place: 'return' | 'supply'): Doubt => ({
    code: 'humidity-missing',
    text:
      `No live humidity or dew point in the ${place} air: without it the latent part, ` +
      'and so the total, cannot be worked out.',
  }),
  noHumidityHeating: (): Doubt => ({
    code: 'humidity-missing',
    text: 'No live humidity: 6 g/kg is taken. In heating it changes the figure by under 1 %.',
  }),
  saturated: (probe: ProbeRecord): Doubt => ({
    code: 'humidity-saturated',
    probe: probe.id,
    text:
      `${probe.name} reads 100 % or more: the air is taken as saturated. A wet probe reads so ` +
      'whatever the air holds: dry it and look for water drops.',
  }),
  humidityDisagrees: (gramsKg: number): Doubt => ({
    code: 'humidity-disagrees',
    text:
      `Supply and return differ by ${gramsKg.toFixed(1)} g/kg of moisture, which a heating coil ` +
      'cannot cause: humidity is not counted as heat. Check the probes side by side.',
  }),
  supplyWarmer: (): Doubt => ({
    code: 'supply-warmer',
    text: 'Supply is warmer than return while cooling: are the two probes in each other’s place?',
  }),
  supplyColder: (): Doubt => ({
    code: 'supply-colder',
    text:
      'Supply is colder than return while heating: are the two probes in each other’s place, ' +
      'or is the unit defrosting?',
  }),
  noAirflow: (): Doubt => ({
    code: 'airflow-missing',
    text: 'No airflow is known for this unit: enter it from the fan table or a traverse.',
  }),
  stillAir: (): Doubt => ({
    code: 'airflow-none',
    text: 'The airflow entered is next to nothing: the fan is off, and so is the figure.',
  }),
  limitsUnknown: (what: string): Doubt => ({
    code: 'limits-unknown',
    text: `The ± of ${what} is not known: there is no interval without it. Give its data-sheet limit.`,
  }),
  pressureAssumed: (): Doubt => ({
    code: 'pressure-assumed',
    text:
      'Barometric pressure is taken as 101.3 kPa (sea level). On higher ground the capacity shown ' +
      'is about 1.2 % too high for each 100 m: enter pressure or altitude.',
  }),
  impossible: (why: string): Doubt => ({
    code: 'air-impossible',
    text: `The readings describe air that cannot be: ${why}.`,
  }),
};
