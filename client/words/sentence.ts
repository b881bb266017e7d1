/**
 * The sentence above the chart, and what is said of settling: a unit's snapshot in plain words.
 * Pure: what is not in the arguments is not said.
 */
import type { UnitSnapshot } from '../../server/protocol.ts';
import { figure, withInterval } from './figures.ts';
import { isChecking, isWritable } from './reasons.ts';
import type { Scale } from './scales.ts';
import { clockMinutes, duration, roughDuration } from './times.ts';

export type Trend = 'climbing' | 'falling' | 'level';

/** Below this share of the total, and this many watts, a movement is not called one. */
const LEVEL_SHARE = 0.01;
const LEVEL_W = 15;

const SENTENCE_AFTER: Record<Trend, string> = {
  climbing: 'still climbing',
  falling: 'still falling',
  level: 'not steady yet',
};

/** Whether a difference in watts is a movement, and which way. */
function directionOf(differenceW: number, totalW: number): Trend {
  if (Math.abs(differenceW) < Math.max(LEVEL_W, LEVEL_SHARE * Math.abs(totalW))) return 'level';
  return differenceW > 0 ? 'climbing' : 'falling';
}

function mean(
  t: readonly number[],
  values: readonly (number | null)[],
  from: number,
  to: number,
): number | null {
  let sum = 0;
  let count = 0;
  for (let i = t.length - 1; i >= 0; i--) {
    const at = t[i] ?? 0;
    if (at < from) break;
    const value = values[i];
    if (at > to || value === null || value === undefined) continue;
    sum += value;
    count++;
  }
  return count === 0 ? null : sum / count;
}

/**
 * Which way a column has moved in the last minute: its last 15 s against the 15 s a minute ago.
 * @param t ms since the epoch, ascending
 * @param totalW the column, same length
 */
export function trendOf(t: readonly number[], totalW: readonly (number | null)[]): Trend | null {
  const now = t.at(-1);
  if (now === undefined) return null;
  const late = mean(t, totalW, now - 15_000, now);
  const early = mean(t, totalW, now - 60_000, now - 45_000);
  return late === null || early === null ? null : directionOf(late - early, late);
}

/** A figure that was live once. */
export interface PastFigure {
  t: number;
  totalW: number;
  totalU95W: number | null;
}

/** The last figure of a unit's columns, null where there never was one. */
export function lastFigure(
  t: readonly number[],
  totalW: readonly (number | null)[],
  upperW: readonly (number | null)[],
): PastFigure | null {
  for (let i = t.length - 1; i >= 0; i--) {
    const at = t[i];
    const total = totalW[i] ?? null;
    if (at === undefined || total === null) continue;
    const upper = upperW[i] ?? null;
    return { t: at, totalW: total, totalU95W: upper === null ? null : upper - total };
  }
  return null;
}

/** What is said of a unit that has no figure now. */
function withoutFigure(unit: UnitSnapshot, last: PastFigure | null, power: Scale): string {
  if (isChecking(unit.doubts)) return 'its probes are being checked side by side';
  if (last !== null) {
    const figure = withInterval(last.totalW, last.totalU95W, power);
    return `no figure now; last ${figure} at ${clockMinutes(last.t)}`;
  }
  const silent = unit.return.temperatureC === null && unit.supply.temperatureC === null;
  return silent ? 'waiting for readings' : 'no capacity figure yet';
}

/** What a unit with this snapshot does, without its name: "2.64 kW of cooling, still climbing". */
function predicate(
  unit: UnitSnapshot,
  trend: Trend | null,
  power: Scale,
  last: PastFigure | null,
): string {
  const { mode, capacity, settling } = unit;
  const { totalW, totalU95W } = capacity;
  if (totalW === null) return withoutFigure(unit, last, power);
  if (totalU95W !== null && Math.abs(totalW) <= totalU95W) {
    return `too little ${mode ?? 'capacity'} to tell from none`;
  }
  const amount = `${figure(Math.abs(totalW), totalU95W, power).value}\u202f${power.sign}`;
  if (totalW < 0 && mode !== null) {
    const other = mode === 'cooling' ? 'heating' : 'cooling';
    return `${amount} of ${other}, though it should be ${mode}`;
  }
  const doing = mode === null ? amount : `${amount} of ${mode}`;
  switch (settling.state) {
    case 'steady':
      return settling.since === null
        ? `${doing}, steady`
        : `${doing}, steady since ${clockMinutes(settling.since)}`;
    case 'cycling':
      return `${doing} just now, cycling on and off`;
    case 'waiting':
      return `${doing}, too early to say more`;
    case 'settling': {
      const heading =
        settling.plateauW === null ? null : directionOf(settling.plateauW - totalW, totalW);
      return `${doing}, ${SENTENCE_AFTER[heading ?? trend ?? 'level']}`;
    }
  }
}

/**
 * "Reading room: 2.64 kW of cooling, still climbing."
 * @param last the last figure that there was, for when there is none now
 */
export function headline(
  name: string,
  unit: UnitSnapshot | null,
  trend: Trend | null,
  power: Scale,
  last: PastFigure | null = null,
): string {
  return `${name}: ${unit === null ? 'waiting for readings' : predicate(unit, trend, power, last)}.`;
}

/** The state of settling in one word. */
export const STATE_WORDS = {
  waiting: 'Waiting',
  settling: 'Settling',
  steady: 'Steady',
  cycling: 'Cycling',
} as const satisfies Record<UnitSnapshot['settling']['state'], string>;

/**
 * What follows from the state of settling.
 * @param now the server's time of the snapshot, ms since the epoch
 */
export function settlingWords(unit: UnitSnapshot, now: number, power: Scale): string {
  const { state, since, plateauW, plateauU95W, steadyInS } = unit.settling;
  const plateau = plateauW === null ? null : withInterval(plateauW, plateauU95W, power);
  const lasted = since === null ? null : duration((now - since) / 1000);
  switch (state) {
    case 'waiting':
      return 'Too early to tell whether it is steady.';
    case 'steady': {
      const held = lasted === null ? '' : `For ${lasted}. `;
      const mean = plateau === null ? '' : `Its mean is ${plateau}. `;
      const advice = isWritable(unit)
        ? 'This figure can be written down.'
        : 'Steady, but see below.';
      return `${held}${mean}${advice}`;
    }
    case 'cycling':
      return plateau === null
        ? 'The unit switches on and off. A mean needs whole cycles; keep measuring.'
        : `The unit switches on and off. Over whole cycles it delivers ${plateau}.`;
    case 'settling': {
      const parts = [];
      if (plateau !== null) parts.push(`Heading for ${plateau}.`);
      if (steadyInS !== null) parts.push(`Steady in about ${roughDuration(steadyInS)}.`);
      if (parts.length === 0) parts.push('Not steady yet: wait before writing it down.');
      return parts.join(' ');
    }
  }
}
