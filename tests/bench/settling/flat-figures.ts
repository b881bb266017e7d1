/**
 * How a truly flat stretch is called: from its third minute on it should be steady and stay so. And
 * how often steady was false: while it is called so, the mean since it is should be that of the next
 * ten minutes. Hover is no movement, so both are means of the level that it hovers about; beside it the
 * same with the hover in both means, as a person would meet it.
 */
import type { Tally } from './tally.ts';
import { at, type Segment, type Visit } from './visit.ts';
import type { Watch } from './watch.ts';

const THIRD_MINUTE_S = 180;
/** A stretch that lasts no longer than that after its third minute is not asked, s. */
const LEAST_S = 300;
const AHEAD_S = 600;
/** So much must follow before the next change to say where it went, s. */
const AHEAD_LEAST_S = 120;
/** Two means agree within this. */
const AGREE = 0.02;
const AGREE_W = 40;

/** Where the capacity of a segment lies still by itself, from here to its end; null where it never does. */
function flatFrom({ stretch, from, settledAt, toldAt }: Segment): number | null {
  if (stretch === 'lead') return from;
  return stretch === 'settles' && settledAt !== null ? Math.max(settledAt, toldAt ?? 0) : null;
}

export function flatStretch(
  visit: Visit,
  seen: Watch,
  segment: Segment,
  tally: Tally,
  name: string,
): void {
  const from = flatFrom(segment);
  const { to } = segment;
  if (from === null || to - from < THIRD_MINUTE_S + LEAST_S) return;
  let steadyS = 0;
  let changes = 0;
  let called = false;
  for (let i = from + THIRD_MINUTE_S; i <= to; i++) {
    const state = seen.states[i];
    if (state === 'steady') steadyS++;
    if (state === 'cycling') tally.flatCyclingS++;
    // The first call is no needless change.
    if (state !== seen.states[i - 1] && (called || state !== 'steady')) changes++;
    if (state === 'steady') called = true;
  }
  const lengthS = to - from - THIRD_MINUTE_S + 1;
  tally.flatS += lengthS;
  tally.flatSteadyS += steadyS;
  tally.flatChanges += changes;
  tally.flats++;
  tally.flatCaptures += seen.captures.filter((capture) => {
    const middle = ((capture.from + capture.to) / 2 - visit.startT) / 1000;
    return from <= middle && middle <= to;
  }).length;
  if (segment.stretch === 'lead') {
    const first = seen.states.findIndex((state, i) => i >= from && i <= to && state === 'steady');
    tally.firstCallsS.push(first < 0 ? Infinity : first - from);
  }
  const missing = 1 - steadyS / lengthS;
  if (missing < 0.05) return;
  const what = `flat, but not called steady in ${(100 * missing).toFixed(0)} % of ${lengthS} s`;
  tally.worst.push({ name, what, weight: 1000 * missing });
}

/** Steady seconds of a segment, and those in which the mean since then is not that of what follows. */
export function falseSteady(visit: Visit, seen: Watch, segment: Segment, tally: Tally): void {
  const { levelW, trueW, plateauW } = visit;
  const { from, to, toldAt, stretch } = segment;
  // Of what nobody tells, nobody can know before it shows; cycles and cut stretches go nowhere.
  const told = stretch === 'lead' || (stretch === 'settles' && toldAt !== null);
  if (levelW === null || !told) return;
  const level = meansOf(levelW);
  const all = meansOf(trueW);
  for (let i = from; i <= to - AHEAD_LEAST_S; i++) {
    if (seen.states[i] !== 'steady' || Number.isNaN(at(plateauW, i))) continue;
    const since = Math.min(Math.max(at(seen.since, i), 0), i);
    const ahead = Math.min(i + AHEAD_S, to);
    tally.judgedS++;
    if (!agree(level(since, i), level(i + 1, ahead))) tally.movedS++;
    if (!agree(all(since, i), all(i + 1, ahead))) tally.movedWithHoverS++;
  }
}

function agree(a: number, b: number): boolean {
  return Math.abs(a - b) <= Math.max(AGREE_W, AGREE * Math.abs(b));
}

/** Means of whole seconds, both ends counted. */
export function meansOf(values: Float64Array): (from: number, to: number) => number {
  const sums = new Float64Array(values.length + 1);
  for (let i = 0; i < values.length; i++) sums[i + 1] = at(sums, i) + at(values, i);
  return (from, to) => (at(sums, to + 1) - at(sums, from)) / (to - from + 1);
}
