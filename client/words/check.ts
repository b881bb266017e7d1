/** A side-by-side check in words: how far it has come, what it found, what of it is applied. */
import type { Check, CheckProbe, ProbeCheck, ProbeState } from '../../server/protocol.ts';
import { percent, signed, withSign } from './figures.ts';
import { tooEarly } from './reasons.ts';
import { HUMIDITY, type Scales } from './scales.ts';
import { clockMinutes, duration } from './times.ts';

/** From a standard uncertainty to the half-width of 95 % (normal distribution, JCGM 100:2008, G.1). */
const K95 = 1.96;
/** Younger than this is now. */
const NOW_S = 5;
const VAPOUR_PRESSURE = { sign: 'Pa', show: Number, read: Number, finest: 1 };

/** The verdict in a word or three. */
export function verdictWord({ verdict, probes }: Check): string {
  switch (verdict) {
    case 'listening':
      return 'Listening';
    case 'moving':
      return 'Not still yet';
    case 'agree':
      return 'They agree';
    case 'off': {
      const all = Object.values(probes);
      const off = all.filter(({ agrees }) => agrees === false).length;
      // Of two that differ, nobody can tell which one is off.
      if (all.length === 2) return 'They differ';
      return off > 1 ? `${off} are off` : 'One is off';
    }
  }
}

/** How much of what is needed has been heard; never 100 % before it is. */
export function progressWords(check: Check): string {
  if (!tooEarly(check)) return 'Enough readings: you can end it.';
  const heard = percent(Math.min(99, Math.floor(check.progress * 100)));
  return `${heard} of the time needed, since ${clockMinutes(check.from)}.`;
}

export const CHECK = {
  title: 'Check the probes side by side',
  link: 'To the side-by-side check',
  why:
    'In the same air, all probes should read the same. The check finds what they differ by and ' +
    'corrects it, and the ± of the capacity gets smaller.',
  together:
    'Put the probes of the unit together in still air, a hand’s width from anything warm or cold, ' +
    'away from hands, sun and the outlet.',
  wait: 'Start, and leave them for a few minutes, until the check says that they agree.',
  hangBack: 'End, and hang them back in their places.',
  simulated: 'Simulated probes move together on their own while the check runs.',
  which: 'Probes to check together',
  noneLive: 'No probe is live.',
  start: 'Start',
  atLeastTwo: 'It takes at least two probes.',
  status: (verdict: string): string => `Side-by-side check: ${verdict}.`,
  end: 'End',
  tooEarly: 'Too early: if you end now, nothing is corrected.',
  enough: 'Then hang the probes back in their places.',
  ended: (clock: string): string => `Ended at ${clock}.`,
  vaporPressure: (offset: string): string => `(${offset} vapor pressure)`,
  corrected: 'Their readings are now corrected by these differences.',
  again: 'Check again',
};

/** The picture of what they differ by. */
export const CHECK_LINE = {
  temperature: { title: 'Temperature, each with its ±', below: 'colder', above: 'warmer' },
  humidity: { title: 'Humidity, each with its ±', below: 'drier', above: 'damper' },
  mean: 'mean of all',
  atMean: 'at the mean',
  beyond: ', beyond its limit',
};

/** For those who only look, before there has been one. */
export const NO_CHECK_YET = 'No side-by-side check so far.';

/** "checked 12 min ago", "not checked". @param t the server's time, null where it is not known */
export function checkedWords(check: ProbeCheck | null, t: number | null): string {
  if (check === null) return 'not checked';
  if (t === null) return 'checked';
  const seconds = (t - check.t) / 1000;
  return seconds < NOW_S ? 'checked just now' : `checked ${duration(seconds)} ago`;
}

const times95 = (u: number | null): number | null => (u === null ? null : K95 * u);

/** How far a probe is from the mean of all: temperature, humidity, and what that is in vapour. */
export interface FoundWords {
  temperature: string;
  humidity: string;
  /** Null where no humidity was compared. */
  vapour: string | null;
}

/** What a check has found of one probe, with 95 % intervals. */
export function foundWords(probe: CheckProbe, scales: Scales): FoundWords {
  const { temperatureOffsetC, humidityOffsetPct, vapourOffsetPa } = probe;
  const vapour =
    vapourOffsetPa === null ? null : signed(Math.round(vapourOffsetPa), null, VAPOUR_PRESSURE);
  return {
    temperature: signed(temperatureOffsetC, times95(probe.uTemperatureC), scales.offset),
    humidity: signed(humidityOffsetPct, times95(probe.uHumidityPct), HUMIDITY),
    vapour,
  };
}

/** What is taken off the readings of a probe. */
export function takenWords(check: ProbeCheck | null, scales: Scales): string {
  const { temperatureOffsetC = null, humidityOffsetPct = null } = check ?? {};
  const taken: string[] = [];
  if (temperatureOffsetC !== null) taken.push(signed(temperatureOffsetC, null, scales.offset));
  if (humidityOffsetPct !== null) taken.push(signed(humidityOffsetPct, null, HUMIDITY));
  return taken.length === 0
    ? 'Not corrected.'
    : `Corrected by ${taken.join(', ')}, taken off its readings.`;
}

/** How old a check is, in which air it was made, and what it is still worth. */
export function worthWords(check: ProbeCheck, t: number | null, scales: Scales): string {
  const { atC, atPct, worth } = check;
  const air = [withSign(atC, scales.temperature)];
  if (atPct !== null) air.push(`${percent(atPct)} RH`);
  const age = checkedWords(check, t);
  const made = `${age.charAt(0).toUpperCase()}${age.slice(1)} at ${air.join(', ')}`;
  return `${made}; worth ${percent(worth * 100)} of a fresh check.`;
}

/** A probe that can be chosen for a check. */
export interface Candidate {
  id: string;
  probe: ProbeState;
  /** Whether it is chosen unless a person says otherwise: a live one of the unit. */
  preset: boolean;
}

/** The live probes that tell a temperature: those of the unit first. */
export function candidates(probes: Record<string, ProbeState>, unitId: string): Candidate[] {
  return Object.entries(probes)
    .filter(([, { state, values }]) => state === 'live' && values.temperatureC !== undefined)
    .map(([id, probe]) => ({ id, probe, preset: probe.unit === unitId }))
    .sort((a, b) => Number(b.preset) - Number(a.preset));
}
