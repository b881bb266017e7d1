/**
 * Why a figure may be wrong, or is missing: each a code, what is doubtful, what it does to the figure,
 * and what to do. Shares without a source are common practice.
 */
import type { Doubt } from '../protocol.ts';
import { doubt, of, span } from './doubt.ts';
import type { ProbeRecord } from './probe.ts';

/** Doubts that do not depend on anything are made once: they stand for a whole visit. */
const CHECK_MISSING = doubt(
  'check-missing',
  'Return and supply probes have not been checked side by side.',
  'Each may be off by its own data-sheet limit, which is a large part of the interval.',
  'Lay them together in the same air for some minutes and run the check.',
);
const AIRFLOW_NOT_MEASURED = doubt(
  'airflow-not-measured',
  'The airflow was not measured at this unit.',
  'A fouled wheel, coil or filter moves less than the table says: the figure is then too high by the same share.',
  'Look at wheel and filter, or measure the outlet by a traverse.',
);
const TRANSIENT = doubt(
  'transient',
  'The air changes faster than the probes follow.',
  'Humidity follows later than temperature, so sensible and latent are off for a while, and the total with them.',
  'Wait until it moves less; captures leave this out.',
);

const checkRunning = (remedy: string): Doubt =>
  doubt(
    'check-running',
    'Probes of this unit are in a side-by-side check.',
    'There is no figure until the check ends.',
    remedy,
  );
const CHECK_LISTENS = checkRunning(
  'Leave the probes where they lie until the check has heard enough.',
);
const CHECK_DONE = checkRunning('End the check and hang the probes back in their places.');

export const doubts = {
  transient: (): Doubt => TRANSIENT,
  defrost: (ms: number): Doubt =>
    doubt(
      'defrost',
      `The unit has been defrosting for ${span(ms)}.`,
      'It takes heat from the room meanwhile, or rests: this is not what it delivers.',
      'Wait: it goes on by itself. Captures leave this out.',
    ),
  afterDefrost: (seconds: number): Doubt =>
    doubt(
      'after-defrost',
      `The unit has just defrosted; ${seconds / 60} minutes after that are not counted.`,
      'It is still warming up: the figure is not what it delivers.',
      'Wait until it is steady again.',
    ),
  stale: (probe: ProbeRecord, t: number): Doubt =>
    of(
      probe,
      doubt(
        'probe-stale',
        `${probe.name} has sent nothing for ${span(t - probe.lastT)}.`,
        'It is left out; without another probe at its place there is no figure.',
        'Check its battery and how far away it is.',
      ),
    ),
  unheard: (probe: ProbeRecord): Doubt =>
    of(
      probe,
      doubt(
        'probe-unheard',
        `${probe.name} has not been heard yet.`,
        'Without it there may be no figure.',
        'Switch it on, and bring it closer.',
      ),
    ),
  noTemperature: (probe: ProbeRecord): Doubt =>
    of(
      probe,
      doubt(
        'temperature-missing',
        `${probe.name} tells no temperature.`,
        'It is left out.',
        'Hang a probe that measures temperature and humidity in one place.',
      ),
    ),
  mixed: (): Doubt =>
    doubt(
      'air-mixed',
      'The probes of one place describe air that cannot be: more moisture than its mean temperature can hold.',
      'Temperature and latent part do not belong together.',
      'Use probes that measure both, and hang them where the air is mixed.',
    ),
  late: (probe: ProbeRecord, t: number): Doubt =>
    of(
      probe,
      doubt(
        'probe-late',
        `${probe.name} is late: its last reading is ${span(t - probe.lastT)} old.`,
        'The figure lags by as much.',
        'Wait a moment; if it lasts, bring the probe and this computer closer together.',
      ),
    ),
  noProbe: (place: 'return' | 'supply'): Doubt =>
    doubt(
      `${place}-missing`,
      `No probe with a live temperature hangs in the ${place} air.`,
      'There is no figure.',
      `Hang a probe in the ${place} and place it.`,
    ),
  noHumidity: (place: 'return' | 'supply'): Doubt =>
    doubt(
      'humidity-missing',
      `No live humidity or dew point in the ${place} air.`,
      'The latent part, and so the total, cannot be worked out.',
      'Use a probe that measures humidity as well.',
    ),
  noHumidityHeating: (): Doubt =>
    doubt(
      'humidity-missing',
      'No live humidity.',
      '6 g/kg is taken, which changes a heating figure by less than 1 %.',
      'Nothing need be done.',
    ),
  supplyWarmer: (totalW: number | null): Doubt =>
    doubt(
      'supply-warmer',
      'Supply is warmer than return while cooling.',
      (totalW ?? 0) < 0 ? 'The figure is negative.' : 'Its sensible part is negative.',
      'See whether the two probes are in each other’s place, and whether the unit cools at all.',
    ),
  supplyColder: (): Doubt =>
    doubt(
      'supply-colder',
      'Supply is colder than return while heating.',
      'The figure is negative.',
      'See whether the two probes are in each other’s place; if the unit is defrosting, wait.',
    ),
  recirculation: (share: number): Doubt =>
    doubt(
      'return-breathes-supply',
      'The return temperature follows the supply’s within a minute or two.',
      `About ${Math.round(share * 100)} % of what the return probe breathes seems to be supply air; where the unit does not breathe it too, the figure is too low by as much.`,
      'Hang the return probe right at the intake, off the stream of the outlet; turn the louvre.',
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
      'Enter it from the fan table or a traverse.',
    ),
  airflowNotMeasured: (): Doubt => AIRFLOW_NOT_MEASURED,
  stillAir: (): Doubt =>
    doubt(
      'airflow-none',
      'The airflow entered is next to nothing: the fan is off.',
      'The figure means little and is never called steady.',
      'Start the fan, or enter the airflow that it has now.',
    ),
  nothingDelivered: (): Doubt =>
    doubt(
      'nothing-delivered',
      'The figure cannot be told from nothing: the unit is off, or as good as.',
      'It is never called steady.',
      'Push the setpoint until the unit runs.',
    ),
  airflowOtherSpeed: (speed: string): Doubt =>
    doubt(
      'airflow-other-speed',
      `The airflow was entered when the fan was told "${speed}".`,
      'The figure is wrong by what the two speeds differ by, up to half.',
      'Enter the airflow of the present fan speed.',
    ),
  limitsUnknown: (what: string): Doubt =>
    doubt(
      'limits-unknown',
      `The ± of ${what} is not known.`,
      'There is no interval without it, and nothing is captured by itself.',
      'Give the limit of its data sheet.',
    ),
  impossible: (why: string): Doubt =>
    doubt(
      'air-impossible',
      `The readings describe air that cannot be: ${why}.`,
      'There is no figure.',
      'Check pressure, and the probe that reads so.',
    ),
};
