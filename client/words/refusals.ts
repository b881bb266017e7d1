/**
 * A refusal of the server in the words of the forms: it names fields as scripts know them. The forms
 * check before they send, so one is met only where the server knows more than the form.
 */

/** The fields that a form fills, by what they are called there. */
const FIELD_WORDS: Record<string, string> = {
  altitudeM: 'The altitude (in m)',
  captureAfterS: 'The time until an automatic capture (in s)',
  code: 'The code',
  event: 'The event',
  flowM3s: 'The airflow (in m³/s)',
  from: 'The capture',
  humidityPct: 'The humidity accuracy (in % RH)',
  key: 'The key',
  limitPct: 'The accuracy of the airflow (in %)',
  mode: 'What the units are doing',
  name: 'The name',
  photo: 'The photo',
  place: 'The place',
  pressurePa: 'The barometric pressure (in Pa)',
  probe: 'The probe',
  probes: 'The choice of probes',
  speed: 'The fan speed',
  temperatureC: 'The temperature accuracy (in K)',
  steadyTest: 'The test for steady',
  text: 'The note or name',
  title: 'The title',
  toT: 'The new time',
  unit: 'The indoor unit',
  valueC: 'The setpoint (in °C)',
};

/** "pressurePa: 3 is too small: …" as "The barometric pressure (in Pa): 3 is too small: … ." */
export function refusalWords(error: string): string {
  const [, path = '', rest = error] = /^([\w.]+): (.*)$/s.exec(error) ?? [];
  const word = FIELD_WORDS[path.split('.').at(-1) ?? ''];
  const sentence = word === undefined ? error : `${word}: ${rest}`;
  return /[.!?]$/.test(sentence) ? sentence : `${sentence}.`;
}

export const NO_ANSWER =
  'The server did not answer. Nothing was changed. Try again when the connection is back.';
export const noReasonWords = (status: number): string =>
  `The server refused this (status ${status}) and gave no reason. Try again.`;

/** In place of a part of the page that could not be had. */
export const NOT_LOADED =
  'This part of the page could not be loaded. Reload the page when the server is there.';
