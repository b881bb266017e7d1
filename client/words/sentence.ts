/**
 * The sentence above the figure: what a unit does now, how long it will take and where it is heading,
 * in plain words. Pure: what is not in the arguments is not said.
 */
import { cyclesOf, moreCyclesWords } from '../../server/words/cycles.ts';
import type { UnitSnapshot } from '../../server/protocol.ts';
import { withInterval } from './figures.ts';
import { cycleMeanOf, plateauIntervalW } from './plateau.ts';
import { isChecking, isIdle, isIn } from './reasons.ts';
import type { Scale } from './scales.ts';
import { AFTER_DEFROST_MS, hoverWords } from './settling.ts';
import { levelOf, shownCapacity, shownParts } from './shown.ts';
import { clockMinutes, duration, roughDuration } from './times.ts';
import { t } from '../../server/words/language.ts';
import { codeWord } from '../../server/words/names.ts';

export type Trend = 'climbing' | 'falling' | 'level';

/** Below this share of the total, and this many watts, a movement is not called one. */
const LEVEL_SHARE = 0.01;
const LEVEL_W = 15;

const SENTENCE_AFTER: Record<Trend, string> = {
  climbing: t`still climbing`,
  falling: t`still falling`,
  level: t`not steady yet`,
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
    const value = values[i];
    // Across a gap nothing compares: another mode lies beyond it, or nobody knows what.
    if (at < from || value === null || value === undefined) break;
    if (at > to) continue;
    sum += value;
    count++;
  }
  return count === 0 ? null : sum / count;
}

/** The seconds at either end of the last minute that are compared, ms. */
const END_MS = 15_000;

/**
 * Which way a column has moved in the last minute: its last 15 s against its first 15 s.
 * @param t ms since the epoch, ascending
 * @param totalW the column, same length
 * @param since the figures before it were worked out another way, or of another setting, ms
 * @returns null with less than two separate ends
 */
export function trendOf(
  t: readonly number[],
  totalW: readonly (number | null)[],
  since = -Infinity,
): Trend | null {
  const now = t.at(-1);
  if (now === undefined) return null;
  const from = Math.max(since, now - 4 * END_MS);
  if (from + END_MS > now - END_MS) return null;
  const late = mean(t, totalW, now - END_MS, now);
  const early = mean(t, totalW, from, from + END_MS);
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
  if (isChecking(unit.doubts)) return t`its probes are in a side-by-side check`;
  if (last !== null) {
    const figure = withInterval(last.totalW, last.totalU95W, power);
    return t`no figure now; last ${figure} at ${clockMinutes(last.t)}`;
  }
  const silent = unit.return.temperatureC === null && unit.supply.temperatureC === null;
  return silent ? t`waiting for readings` : t`no capacity figure yet`;
}

/** "settling, about 4 min to go, heading for 2.6 ± 0.2 kW", with what of it is known. */
function settlingPart(unit: UnitSnapshot, trend: Trend | null, power: Scale): string {
  const { plateauW, steadyInS } = unit.settling;
  const intervalW = plateauIntervalW(unit.settling, unit.capacity.totalU95W);
  const parts = [t`settling`];
  if (steadyInS !== null) parts.push(t`about ${roughDuration(steadyInS)} to go`);
  // A time that has run out again and again is not said any more.
  else if (plateauW !== null) parts.push(t`nearly there`);
  if (plateauW !== null) parts.push(t`heading for ${withInterval(plateauW, intervalW, power)}`);
  else parts.push(SENTENCE_AFTER[trend ?? 'level']);
  return parts.join(', ');
}

/** "cycling, about every 12 min, mean 2.05 ± 0.12 kW over 4 whole cycles", with what is known. */
function cyclingPart(unit: UnitSnapshot, power: Scale): string {
  const { cycle } = unit.settling;
  const mean = cycleMeanOf(unit);
  const every = cycle === null ? t` on and off` : t`, about every ${duration(cycle.periodS)}`;
  if (mean === null) return t`cycling${every}, a mean needs whole cycles`;
  const { meanW, u95W, count, isEnough } = mean;
  if (!isEnough) return t`cycling${every}, ${moreCyclesWords(count)}`;
  return t`cycling${every}, mean ${withInterval(meanW, u95W, power)} over ${cyclesOf(count)}`;
}

/** "defrosting since 14:05; …": what it delivers is not counted for a while. */
function defrostPart({ from, to }: NonNullable<UnitSnapshot['settling']['defrost']>): string {
  return to === null
    ? t`defrosting since ${clockMinutes(from)}; nothing counts until five minutes after it ends`
    : t`defrosted from ${clockMinutes(from)} to ${clockMinutes(to)}; counted again from ${clockMinutes(to + AFTER_DEFROST_MS)}`;
}

/** What a unit with this snapshot does, without its name. */
function predicate(
  unit: UnitSnapshot,
  trend: Trend | null,
  power: Scale,
  last: PastFigure | null,
): string {
  const { mode, capacity, settling } = unit;
  const { totalU95W } = capacity;
  const totalW = levelOf(unit);
  if (totalW === null) return withoutFigure(unit, last, power);
  if (settling.defrost !== null) return defrostPart(settling.defrost);
  if (isIn(unit, 'probes-differ'))
    return t`probes at one place disagree, so do not trust the figure`;
  // A unit that cycles delivers nothing, or blows warm, for a part of each cycle.
  if (settling.state === 'cycling') return cyclingPart(unit, power);
  if (isIn(unit, 'coil-drying')) return t`the fan runs and the coil dries`;
  if (isIdle(unit) || (totalU95W !== null && Math.abs(totalW) <= totalU95W)) {
    return mode === null
      ? t`too little capacity to measure`
      : t`too little ${codeWord(mode)} to measure`;
  }
  // The same number as the figure beneath it, whichever way it goes.
  const { value } = shownParts(shownCapacity(unit), power).total;
  const written = `${(value ?? '').replace('−', '')}\u202f${power.sign}`;
  if (totalW < 0 && isIn(unit, 'heat-between')) {
    return t`only the fan runs, and the air picks up heat on its way`;
  }
  if (totalW < 0 && mode !== null) {
    const other = codeWord(mode === 'cooling' ? t`heating` : t`cooling`);
    return t`${written} of ${other}, though it should be ${codeWord(mode)}`;
  }
  const of =
    mode === null ? '' : t` of ${isIn(unit, 'reheat') ? t`dehumidifying` : codeWord(mode)}`;
  switch (settling.state) {
    case 'steady': {
      const since = settling.since === null ? '' : t` since ${clockMinutes(settling.since)}`;
      return t`steady${since} at ${written}${of}${hoverWords(settling, totalW, power)}`;
    }
    case 'waiting':
      return t`${written}${of}, too early to say more`;
    case 'settling':
      return settlingPart(unit, trend, power);
  }
}

/**
 * "Reading room: settling, about 4 min to go, heading for 2.6 ± 0.2 kW."
 * @param last the last figure that there was, for when there is none now
 */
export function headline(
  name: string,
  unit: UnitSnapshot | null,
  trend: Trend | null,
  power: Scale,
  last: PastFigure | null = null,
): string {
  return unit === null
    ? t`${name}: waiting for readings.`
    : `${name}: ${predicate(unit, trend, power, last)}.`;
}
