/** The air's way through the unit: what goes in, what comes out, and how much of it. */

export const AIR_PATH = {
  return: 'Return',
  supply: 'Supply',
  air: (side: string): string => `${side} air`,
  humidity: (percent: string): string => `${percent} RH`,
  wetBulb: (figure: string): string => `Wet bulb ${figure}`,
  dewPoint: (figure: string): string => `Dew point ${figure}`,
  moisture: (figure: string): string => `Moisture ${figure}`,
  enthalpy: (figure: string): string => `Enthalpy ${figure}`,
  colder: (difference: string): string => `${difference} colder`,
  warmer: (difference: string): string => `${difference} warmer`,
  airflow: 'Airflow',
  enter: 'Enter',
  change: 'Change',
  noAirflow: 'No airflow entered, so there is no capacity.',
  follows: (entered: string): string => `Follows the velocity probe. Entered: ${entered}`,
};
