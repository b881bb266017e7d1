/** A side-by-side check in words: how far it has come, what it found, what of it is applied. */
import type { Check, CheckProbe, ProbeCheck, ProbeState } from '../../server/protocol.ts';
import { percent, signed, withSign } from './figures.ts';
import { tooEarly } from './reasons.ts';
import { HUMIDITY, type Scales } from './scales.ts';
import { clockMinutes, duration } from './times.ts';
import { t as say } from '../../server/words/language.ts';

/** From a standard uncertainty to the half-width of 95 % (normal distribution, JCGM 100:2008, G.1). */
const K95 = 1.96;
/** Younger than this is now. */
const NOW_S = 5;
const VAPOUR_PRESSURE = { sign: 'Pa', show: Number, read: Number, finest: 1 };

/** The verdict in a word or three. */
export function verdictWord({ verdict, probes }: Check): string {
  switch (verdict) {
    case 'listening':
      return say`Listening`;
    case 'moving':
      return say`Not still yet`;
    case 'agree':
      return say`They agree`;
    case 'off': {
      const all = Object.values(probes);
      const off = all.filter(({ agrees }) => agrees === false).length;
      // Of two that differ, nobody can tell which one is off.
      if (all.length === 2) return say`They differ`;
      return off > 1 ? say`${off} are off` : say`One is off`;
    }
  }
}

/** How much of what is needed has been heard; never 100 % before it is. */
export function progressWords(check: Check): string {
  if (!tooEarly(check)) return say`Enough readings: you can end it.`;
  const heard = percent(Math.min(99, Math.floor(check.progress * 100)));
  return say`${heard} of the time needed, since ${clockMinutes(check.from)}.`;
}

export const CHECK = {
  title: say`Check the probes side by side`,
  link: say`To the side-by-side check`,
  why: say`In the same air, all probes should read the same. The check finds what they differ by and corrects it, and the ± of the capacity gets smaller.`,
  together: say`Put the probes of the unit together in still air, a hand’s width from anything warm or cold, away from hands, sun and the outlet.`,
  wait: say`Start, and leave them for a few minutes, until the check says that they agree.`,
  hangBack: say`End, and hang them back in their places.`,
  simulated: say`Simulated probes move together on their own while the check runs.`,
  which: say`Probes to check together`,
  noneLive: say`No probe is live.`,
  start: say`Start`,
  atLeastTwo: say`It takes at least two probes.`,
  status: (verdict: string): string => say`Side-by-side check: ${verdict}.`,
  end: say`End`,
  tooEarly: say`Too early: if you end now, nothing is corrected.`,
  enough: say`Then hang the probes back in their places.`,
  ended: (clock: string): string => say`Ended at ${clock}.`,
  vaporPressure: (offset: string): string => say`(${offset} vapor pressure)`,
  corrected: say`Their readings are now corrected by these differences.`,
  again: say`Check again`,
};

/** The picture of what they differ by. */
export const CHECK_LINE = {
  temperature: { title: say`Temperature, each with its ±`, below: say`colder`, above: say`warmer` },
  humidity: { title: say`Humidity, each with its ±`, below: say`drier`, above: say`damper` },
  mean: say`mean of all`,
  atMean: say`at the mean`,
  beyond: say`, beyond its limit`,
};

/** For those who only look, before there has been one. */
export const NO_CHECK_YET = say`No side-by-side check so far.`;

/** "checked 12 min ago", "not checked". @param t the server's time, null where it is not known */
export function checkedWords(check: ProbeCheck | null, t: number | null): string {
  if (check === null) return say`not checked`;
  if (t === null) return say`checked`;
  const seconds = (t - check.t) / 1000;
  return seconds < NOW_S ? say`checked just now` : say`checked ${duration(seconds)} ago`;
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
    ? say`Not corrected.`
    : say`Corrected by ${taken.join(', ')}, taken off its readings.`;
}

/** How old a check is, in which air it was made, and what it is still worth. */
export function worthWords(check: ProbeCheck, t: number | null, scales: Scales): string {
  const { atC, atPct, worth } = check;
  const air = [withSign(atC, scales.temperature)];
  if (atPct !== null) air.push(say`${percent(atPct)} RH`);
  const age = checkedWords(check, t);
  const made = say`${age.charAt(0).toUpperCase()}${age.slice(1)} at ${air.join(', ')}`;
  return say`${made}; worth ${percent(worth * 100)} of a fresh check.`;
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
