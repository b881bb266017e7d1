/**
 * Why a figure may be wrong, or is missing: each a code, what is doubtful, what it does to the figure,
 * and what to do. Shares without a source are common practice.
 */
import { FAN_TABLE } from '../measure/capacity.ts';
import type { Doubt } from '../protocol.ts';
import { doubt, of, span } from './doubt.ts';
import type { ProbeRecord } from './probe.ts';
import { sent } from '../words/sent.ts';

/** Doubts that do not depend on anything are made once: they stand for a whole visit. */
const CHECK_MISSING = doubt(
  'check-missing',
  sent`Return and supply probes have not been checked side by side.`,
  sent`Each may be off by its own data-sheet accuracy, which is a large part of the interval.`,
  sent`Put them together in the same air for a few minutes and run the check.`,
);
const notMeasured = (text: string, effect: string): Doubt =>
  doubt(
    'airflow-not-measured',
    text,
    effect,
    sent`Measure it: a sweep of the outlet takes two minutes.`,
  );
const AIRFLOW_OF_TABLE = notMeasured(
  sent`The airflow is from the fan table, not measured at this unit.`,
  sent`A dirty wheel, coil or filter moves less air than the table says: the figure is then too high by the same share.`,
);
const AIRFLOW_ENTERED = notMeasured(
  sent`The airflow was entered by hand, not measured at this unit.`,
  sent`The figure is off by the same share as the airflow.`,
);
const TRANSIENT = doubt(
  'transient',
  sent`The air changes faster than the probes can follow.`,
  sent`Humidity lags behind temperature, so sensible, latent and total are off for a while.`,
  sent`Wait until it moves less. Captures leave this time out.`,
);

const checkRunning = (remedy: string): Doubt =>
  doubt(
    'check-running',
    sent`Probes of this unit are in a side-by-side check.`,
    sent`There is no figure until the check ends.`,
    remedy,
  );
const CHECK_LISTENS = checkRunning(
  sent`Leave the probes where they are until the check has enough readings.`,
);
const CHECK_DONE = checkRunning(sent`End the check and hang the probes back in their places.`);

export const doubts = {
  transient: (): Doubt => TRANSIENT,
  defrost: (ms: number): Doubt =>
    doubt(
      'defrost',
      sent`The unit has been defrosting for ${span(ms)}.`,
      sent`It takes heat from the room or rests: this is not what it delivers.`,
      sent`Wait: it ends on its own. Captures leave this time out.`,
    ),
  afterDefrost: (seconds: number): Doubt =>
    doubt(
      'after-defrost',
      sent`The unit has just defrosted. The ${seconds / 60} minutes after that do not count.`,
      sent`It is still warming up: the figure is not what it delivers.`,
      sent`Wait until it is steady again.`,
    ),
  stale: (probe: ProbeRecord, t: number): Doubt =>
    of(
      probe,
      doubt(
        'probe-stale',
        sent`${probe.name} has sent nothing for ${span(t - probe.lastT)}.`,
        sent`It is left out. Without another probe at its place there is no figure.`,
        sent`Check its battery and its distance.`,
      ),
    ),
  unheard: (probe: ProbeRecord): Doubt =>
    of(
      probe,
      doubt(
        'probe-unheard',
        sent`No reading from ${probe.name} yet.`,
        sent`Without it there may be no figure.`,
        sent`Turn it on and bring it closer.`,
      ),
    ),
  noTemperature: (probe: ProbeRecord): Doubt =>
    of(
      probe,
      doubt(
        'temperature-missing',
        sent`${probe.name} sends no temperature.`,
        sent`It is left out.`,
        sent`Hang one probe that measures both temperature and humidity.`,
      ),
    ),
  mixed: (): Doubt =>
    doubt(
      'air-mixed',
      sent`Together, the probes of one place describe impossible air: more moisture than air at their mean temperature can hold.`,
      sent`The latent part is wrong, and the total with it.`,
      sent`Use probes that measure both temperature and humidity, and hang them where the air is well mixed.`,
    ),
  late: (probe: ProbeRecord, t: number): Doubt =>
    of(
      probe,
      doubt(
        'probe-late',
        sent`${probe.name} is late: its last reading is ${span(t - probe.lastT)} old.`,
        sent`The figure lags by that much.`,
        sent`Wait a moment. If it stays late, bring the probe and this computer closer together.`,
      ),
    ),
  noProbe: (place: 'return' | 'supply'): Doubt =>
    doubt(
      `${place}-missing`,
      sent`No live temperature in the ${place} air.`,
      sent`There is no figure.`,
      sent`Hang a probe in the ${place} and place it.`,
    ),
  noHumidity: (place: 'return' | 'supply'): Doubt =>
    doubt(
      'humidity-missing',
      sent`No live humidity or dew point in the ${place} air.`,
      sent`There is no latent part, and so no total.`,
      sent`Use a probe that measures humidity too.`,
    ),
  noHumidityHeating: (): Doubt =>
    doubt(
      'humidity-missing',
      sent`No live humidity.`,
      sent`Plateau assumes 6 g/kg (42 gr/lb), which changes a heating figure by less than 1 %.`,
      sent`Nothing to do.`,
    ),
  supplyWarmer: (totalW: number | null): Doubt =>
    doubt(
      'supply-warmer',
      sent`Supply is warmer than return while cooling.`,
      (totalW ?? 0) < 0 ? sent`The figure is negative.` : sent`Its sensible part is negative.`,
      sent`Check whether the two probes are swapped, and whether the unit cools at all.`,
    ),
  supplyColder: (): Doubt =>
    doubt(
      'supply-colder',
      sent`Supply is colder than return while heating.`,
      sent`The figure is negative.`,
      sent`Check whether the two probes are swapped. If the unit is defrosting, wait.`,
    ),
  recirculation: (share: number): Doubt =>
    doubt(
      'return-breathes-supply',
      sent`The return temperature follows the supply’s within a minute or two.`,
      sent`About ${Math.round(share * 100)} % of the air at the return probe seems to be supply air. Unless the unit draws it in too, the figure is too low by that much.`,
      sent`Hang the return probe right at the intake, out of the outlet’s airstream, or turn the louver.`,
    ),
  /** @param enough whether it has heard enough to be ended */
  checkRunning: (enough: boolean): Doubt => (enough ? CHECK_DONE : CHECK_LISTENS),
  checkMissing: (): Doubt => CHECK_MISSING,
  checkOld: (ageMs: number, worth: number): Doubt =>
    doubt(
      'check-old',
      sent`The side-by-side check is ${span(ageMs)} old.`,
      sent`It is worth ${Math.round(worth * 100)} % of a new one.`,
      sent`Check the probes again.`,
    ),
  noAirflow: (): Doubt =>
    doubt(
      'airflow-missing',
      sent`No airflow is known for this unit.`,
      sent`There is no figure.`,
      sent`Measure it, or enter it from the fan table.`,
    ),
  airflowNotMeasured: (source: string): Doubt =>
    source === FAN_TABLE ? AIRFLOW_OF_TABLE : AIRFLOW_ENTERED,
  stillAir: (): Doubt =>
    doubt(
      'airflow-none',
      sent`The airflow entered is close to zero: the fan is off.`,
      sent`The figure means little and is never called steady.`,
      sent`Start the fan, or enter the airflow it has now.`,
    ),
  nothingDelivered: (): Doubt =>
    doubt(
      'nothing-delivered',
      sent`The output is too small to measure: the unit is off or close to it.`,
      sent`It is never called steady.`,
      sent`Set it well below (cooling) or above (heating) room temperature.`,
    ),
  airflowOtherSpeed: (speed: string): Doubt =>
    doubt(
      'airflow-other-speed',
      sent`The airflow was entered for fan speed "${speed}".`,
      sent`The figure is off by as much as the two speeds differ, up to half.`,
      sent`Enter the airflow at the present fan speed.`,
    ),
  limitsUnknown: (what: string): Doubt =>
    doubt(
      'limits-unknown',
      sent`The accuracy of ${what} is not known.`,
      sent`Without it there is no interval and no automatic capture.`,
      sent`Enter the accuracy from its data sheet.`,
    ),
  impossible: (why: string): Doubt =>
    doubt(
      'air-impossible',
      sent`The readings describe impossible air: ${why}.`,
      sent`There is no figure.`,
      sent`Check the pressure and the probe that reads this.`,
    ),
};
