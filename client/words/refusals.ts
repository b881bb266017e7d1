/**
 * A refusal of the server in the words of the forms: it names fields as scripts know them. The forms
 * check before they send, so one is met only where the server knows more than the form.
 */
import { t } from '../../server/words/language.ts';
import { translated } from '../../server/words/language.ts';

/** The fields that a form fills, by what they are called there. */
const FIELD_WORDS: Record<string, string> = {
  altitudeM: t`The altitude (in m)`,
  captureAfterS: t`The time until an automatic capture (in s)`,
  code: t`The code`,
  event: t`The event`,
  flowM3s: t`The airflow (in m³/s)`,
  from: t`The capture`,
  humidityPct: t`The humidity accuracy (in % RH)`,
  key: t`The key`,
  limitPct: t`The accuracy of the airflow (in %)`,
  mode: t`What the units are doing`,
  name: t`The name`,
  photo: t`The photo`,
  place: t`The place`,
  pressurePa: t`The barometric pressure (in Pa)`,
  probe: t`The probe`,
  probes: t`The choice of probes`,
  speed: t`The fan speed`,
  temperatureC: t`The temperature accuracy (in K)`,
  steadyTest: t`The test for steady`,
  text: t`The note or name`,
  title: t`The title`,
  toT: t`The new time`,
  token: t`The token`,
  unit: t`The indoor unit`,
  valueC: t`The setpoint (in °C)`,
};

/** "pressurePa: 3 is too small: …" as "The barometric pressure (in Pa): 3 is too small: … ." */
export function refusalWords(error: string): string {
  // As a whole first: a sentence of ours may say more of its field than what follows it alone.
  const told = translated(error);
  const [, path = '', rest = error] = /^([\w.]+): (.*)$/s.exec(told) ?? [];
  const word = FIELD_WORDS[path.split('.').at(-1) ?? ''];
  const sentence = word === undefined ? told : `${word}: ${translated(rest)}`;
  return /[.!?]$/.test(sentence) ? sentence : `${sentence}.`;
}

export const NO_ANSWER = t`The server did not answer. Nothing was changed. Try again when the connection is back.`;
export const noReasonWords = (status: number): string =>
  t`The server refused this (status ${status}) and gave no reason. Try again.`;

/** In place of a part of the page that could not be had. */
export const NOT_LOADED = t`This part of the page could not be loaded. Reload the page when the server is there.`;
