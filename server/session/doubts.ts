/**
 * Why a figure may be wrong, or is missing: each a code, what is doubtful, what it does to the figure,
 * and what to do. Shares without a source are common practice.
 */
import { FAN_TABLE } from '../measure/capacity.ts';
import type { Doubt } from '../protocol.ts';
import { doubt, of, span } from './doubt.ts';
import type { ProbeRecord } from './probe.ts';

/** Doubts that do not depend on anything are made once: they stand for a whole visit. */
const CHECK_MISSING = doubt(
  'check-missing',
  'Return and supply probes have not been checked side by side.',
  'Each may be off by its own data-sheet accuracy, which is a large part of the interval.',
  'Put them together in the same air for a few minutes and run the check.',
);
const notMeasured = (text: string, effect: string): Doubt =>
  doubt(
    'airflow-not-measured',
    text,
    effect,
    'Measure it: a sweep of the outlet takes two minutes.',
  );
const AIRFLOW_OF_TABLE = notMeasured(
  'The airflow is from the fan table, not measured at this unit.',
  'A dirty wheel, coil or filter moves less air than the table says: the figure is then too high by the same share.',
);
const AIRFLOW_ENTERED = notMeasured(
  'The airflow was entered by hand, not measured at this unit.',
  'The figure is off by the same share as the airflow.',
);
const TRANSIENT = doubt(
  'transient',
  'The air changes faster than the probes can follow.',
  'Humidity lags behind temperature, so sensible, latent and total are off for a while.',
  'Wait until it moves less. Captures leave this time out.',
);

const checkRunning = (remedy: string): Doubt =>
  doubt(
    'check-running',
    'Probes of this unit are in a side-by-side check.',
    'There is no figure until the check ends.',
    remedy,
  );
const CHECK_LISTENS = checkRunning(
  'Leave the probes where they are until the check has enough readings.',
);
const CHECK_DONE = checkRunning('End the check and hang the probes back in their places.');

export const doubts = {
  transient: (): Doubt => TRANSIENT,
  defrost: (ms: number): Doubt =>
    doubt(
      'defrost',
      `The unit has been defrosting for ${span(ms)}.`,
      'It takes heat from the room or rests: this is not what it delivers.',
      'Wait: it ends on its own. Captures leave this time out.',
    ),
  afterDefrost: (seconds: number): Doubt =>
    doubt(
      'after-defrost',
      `The unit has just defrosted. The ${seconds / 60} minutes after that do not count.`,
      'It is still warming up: the figure is not what it delivers.',
      'Wait until it is steady again.',
    ),
  stale: (probe: ProbeRecord, t: number): Doubt =>
    of(
      probe,
      doubt(
        'probe-stale',
        `${probe.name} has sent nothing for ${span(t - probe.lastT)}.`,
        'It is left out. Without another probe at its place there is no figure.',
        'Check its battery and its distance.',
      ),
    ),
  unheard: (probe: ProbeRecord): Doubt =>
    of(
      probe,
      doubt(
        'probe-unheard',
        `No reading from ${probe.name} yet.`,
        'Without it there may be no figure.',
        'Turn it on and bring it closer.',
      ),
    ),
  noTemperature: (probe: ProbeRecord): Doubt =>
    of(
      probe,
      doubt(
        'temperature-missing',
        `${probe.name} sends no temperature.`,
        'It is left out.',
        'Hang one probe that measures both temperature and humidity.',
      ),
    ),
  mixed: (): Doubt =>
    doubt(
      'air-mixed',
      'Together, the probes of one place describe impossible air: more moisture than air at their mean temperature can hold.',
      'The latent part is wrong, and the total with it.',
      'Use probes that measure both temperature and humidity, and hang them where the air is well mixed.',
    ),
  late: (probe: ProbeRecord, t: number): Doubt =>
    of(
      probe,
      doubt(
        'probe-late',
        `${probe.name} is late: its last reading is ${span(t - probe.lastT)} old.`,
        'The figure lags by that much.',
        'Wait a moment. If it stays late, bring the probe and this computer closer together.',
      ),
    ),
  noProbe: (place: 'return' | 'supply'): Doubt =>
    doubt(
      `${place}-missing`,
      `No live temperature in the ${place} air.`,
      'There is no figure.',
      `Hang a probe in the ${place} and place it.`,
    ),
  noHumidity: (place: 'return' | 'supply'): Doubt =>
    doubt(
      'humidity-missing',
      `No live humidity or dew point in the ${place} air.`,
      'There is no latent part, and so no total.',
      'Use a probe that measures humidity too.',
    ),
  noHumidityHeating: (): Doubt =>
    doubt(
      'humidity-missing',
      'No live humidity.',
      'Plateau assumes 6 g/kg (42 gr/lb), which changes a heating figure by less than 1 %.',
      'Nothing to do.',
    ),
  supplyWarmer: (totalW: number | null): Doubt =>
    doubt(
      'supply-warmer',
      'Supply is warmer than return while cooling.',
      (totalW ?? 0) < 0 ? 'The figure is negative.' : 'Its sensible part is negative.',
      'Check whether the two probes are swapped, and whether the unit cools at all.',
    ),
  supplyColder: (): Doubt =>
    doubt(
      'supply-colder',
      'Supply is colder than return while heating.',
      'The figure is negative.',
      'Check whether the two probes are swapped. If the unit is defrosting, wait.',
    ),
  recirculation: (share: number): Doubt =>
    doubt(
      'return-breathes-supply',
      'The return temperature follows the supply’s within a minute or two.',
      `About ${Math.round(share * 100)} % of the air at the return probe seems to be supply air. Unless the unit draws it in too, the figure is too low by that much.`,
      'Hang the return probe right at the intake, out of the outlet’s airstream, or turn the louver.',
    ),
  /** @param enough whether it has heard enough to be ended */
  checkRunning: (enough: boolean): Doubt => (enough ? CHECK_DONE : CHECK_LISTENS),
  checkMissing: (): Doubt => CHECK_MISSING,
  checkOld: (ageMs: number, worth: number): Doubt =>
    doubt(
      'check-old',
      `The side-by-side check is ${span(ageMs)} old.`,
      `It is worth ${Math.round(worth * 100)} % of a new one.`,
      'Check the probes again.',
    ),
  noAirflow: (): Doubt =>
    doubt(
      'airflow-missing',
      'No airflow is known for this unit.',
      'There is no figure.',
      'Measure it, or enter it from the fan table.',
    ),
  airflowNotMeasured: (source: string): Doubt =>
    source === FAN_TABLE ? AIRFLOW_OF_TABLE : AIRFLOW_ENTERED,
  stillAir: (): Doubt =>
    doubt(
      'airflow-none',
      'The airflow entered is close to zero: the fan is off.',
      'The figure means little and is never called steady.',
      'Start the fan, or enter the airflow it has now.',
    ),
  nothingDelivered: (): Doubt =>
    doubt(
      'nothing-delivered',
      'The output is too small to measure: the unit is off or close to it.',
      'It is never called steady.',
      'Set it well below (cooling) or above (heating) room temperature.',
    ),
  airflowOtherSpeed: (speed: string): Doubt =>
    doubt(
      'airflow-other-speed',
      `The airflow was entered for fan speed "${speed}".`,
      'The figure is off by as much as the two speeds differ, up to half.',
      'Enter the airflow at the present fan speed.',
    ),
  limitsUnknown: (what: string): Doubt =>
    doubt(
      'limits-unknown',
      `The accuracy of ${what} is not known.`,
      'Without it there is no interval and no automatic capture.',
      'Enter the accuracy from its data sheet.',
    ),
  impossible: (why: string): Doubt =>
    doubt(
      'air-impossible',
      `The readings describe impossible air: ${why}.`,
      'There is no figure.',
      'Check the pressure and the probe that reads this.',
    ),
};
