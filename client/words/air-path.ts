/** The air's way through the unit: what goes in, what comes out, and how much of it. */
import { t } from '../../server/words/language.ts';

export const AIR_PATH = {
  return: t`Return`,
  supply: t`Supply`,
  air: (side: string): string => t`${side} air`,
  humidity: (percent: string): string => t`${percent} RH`,
  wetBulb: (figure: string): string => t`Wet bulb ${figure}`,
  dewPoint: (figure: string): string => t`Dew point ${figure}`,
  moisture: (figure: string): string => t`Moisture ${figure}`,
  enthalpy: (figure: string): string => t`Enthalpy ${figure}`,
  colder: (difference: string): string => t`${difference} colder`,
  warmer: (difference: string): string => t`${difference} warmer`,
  airflow: t`Airflow`,
  enter: t`Enter`,
  change: t`Change`,
  noAirflow: t`No airflow entered, so there is no capacity.`,
  follows: (entered: string): string => t`Follows the velocity probe. Entered: ${entered}`,
};
