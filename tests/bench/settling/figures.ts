/**
 * How good what was said of a visit is, against what was so.
 *
 * The final value of a segment is the mean of the measured total over its last two minutes, ten where it
 * may hover; where the plateau itself drifts, brought back along that drift to when the truth had settled.
 */
import { forecasts } from './forecast-figures.ts';
import { falseSteady, flatStretch, meansOf } from './flat-figures.ts';
import { addTally, emptyTally, type Tally } from './tally.ts';
import { at, nameOf, type Segment, type Visit } from './visit.ts';
import type { Watch } from './watch.ts';

/** Off its plateau: more than 3 %, and more than 60 W. */
const OFF = 0.03;
const OFF_W = 60;
/** How long its end is, s; a hover takes longer to average out. */
const FINAL_S = 120;
const FINAL_HOVER_S = 600;
/** A segment that has settled for less than this is not asked when it was called steady, s. */
const FAIR_S = 300;
const AFTER_DEFROST_S = 300;
const WHOLE_PERIODS = 4;

export function figuresOf(visit: Visit, seen: Watch): Tally {
  const tally = emptyTally();
  tally.visits = 1;
  visit.segments.forEach((segment, k) => {
    const one = emptyTally();
    one.segments = segment.stretch === 'lead' ? 0 : 1;
    const name = `${nameOf(visit)}#${k}`;
    steadySeconds(visit, seen, segment, one, name);
    falseSteady(visit, seen, segment, one);
    if (visit.source === 'hover') flatStretch(visit, seen, segment, one, name);
    if (segment.stretch === 'settles') settles(visit, seen, segment, one, name);
    if (segment.stretch === 'cycles') cycles(seen, segment, one, name);
    if (segment.stretch === 'defrost') defrosts(visit, seen, segment, one);
    addTally(tally, one);
  });
  if (!visit.segments.some(({ stretch }) => stretch === 'cycles')) {
    tally.calmVisits = 1;
    tally.calmCyclingVisits = seen.states.includes('cycling') ? 1 : 0;
  }
  captures(visit, seen, tally);
  return tally;
}

/** True where the capacity is off its plateau, but for its hover; false where the plateau is not known. */
function isOff(visit: Visit, i: number): boolean {
  const plateauW = at(visit.plateauW, i);
  const { source, trueW, levelW } = visit;
  const awayW = Math.abs(at(source === 'hover' ? (levelW ?? trueW) : trueW, i) - plateauW);
  return awayW > Math.max(OFF_W, OFF * Math.abs(plateauW));
}

function steadySeconds(
  visit: Visit,
  seen: Watch,
  { from, to }: Segment,
  tally: Tally,
  name: string,
): void {
  let worst = 0;
  for (let i = from; i <= to; i++) {
    if (seen.states[i] !== 'steady' || Number.isNaN(at(visit.plateauW, i))) continue;
    tally.steadyS++;
    if (!isOff(visit, i)) continue;
    tally.wrongS++;
    worst = Math.max(worst, Math.abs(at(visit.trueW, i) - at(visit.plateauW, i)));
  }
  if (tally.wrongS === 0) return;
  const what = `steady for ${tally.wrongS} s while off, by up to ${worst.toFixed(0)} W`;
  tally.worst.push({ name, what, weight: 3 * tally.wrongS });
}

function settles(visit: Visit, seen: Watch, segment: Segment, tally: Tally, name: string): void {
  const { from, to, settledAt, toldAt } = segment;
  for (let i = from; i <= to; i++) {
    tally.settlingS++;
    if (seen.states[i] === 'cycling') tally.falseCyclingS++;
  }
  // Before it is told of a change it may well call the last plateau steady.
  const since = settledAt === null ? null : Math.max(settledAt, toldAt ?? 0);
  const called = since === null ? null : steadyCall(seen, since, to, tally, name);
  const finalS = visit.source === 'hover' ? FINAL_HOVER_S : FINAL_S;
  const finalW = finalOf(visit, seen, segment, finalS);
  if (Number.isNaN(finalW)) return;
  forecasts(seen, segment, finalW, to - finalS, called, tally, name);
  falseLatent(visit, seen, segment, tally);
}

/** @returns the second in which it was called steady, or null */
function steadyCall(
  seen: Watch,
  since: number,
  to: number,
  tally: Tally,
  name: string,
): number | null {
  if (to - since < FAIR_S) return null;
  let called: number | null = null;
  for (let i = since; i <= to; i++) {
    const steady = seen.states[i] === 'steady';
    if (steady) called ??= i;
    if (called === null) continue;
    tally.calledS++;
    if (steady) tally.keptS++;
  }
  const delayS = called === null ? Infinity : called - since;
  tally.delaysS.push(delayS);
  const what = called === null ? 'never called steady' : `called steady after ${delayS} s`;
  if (delayS > 150) tally.worst.push({ name, what, weight: Math.min(delayS, 2000) });
  return called;
}

function finalOf(visit: Visit, seen: Watch, { to, settledAt }: Segment, finalS: number): number {
  let sum = 0;
  let n = 0;
  for (let i = to - finalS + 1; i <= to; i++) {
    const totalW = at(seen.totalW, i);
    if (Number.isNaN(totalW)) continue;
    sum += totalW;
    n++;
  }
  if (n < finalS / 4) return NaN;
  const then = at(visit.plateauW, settledAt ?? to);
  const atEnd = at(visit.plateauW, to - finalS / 2);
  return (sum / n) * (settledAt === null || Number.isNaN(then / atEnd) ? 1 : then / atEnd);
}

function cycles(seen: Watch, { to, turns }: Segment, tally: Tally, name: string): void {
  for (let i = Math.round(turns[WHOLE_PERIODS] ?? Infinity); i <= to; i++) {
    tally.cyclesS++;
    if (seen.states[i] === 'steady') tally.cycleSteadyS++;
    if (seen.states[i] !== 'cycling') continue;
    tally.cyclingS++;
    const found = at(seen.periodS, i);
    if (!Number.isNaN(found)) tally.periods.push(Math.abs(found / periodBefore(turns, i) - 1));
  }
  const missedS = tally.cyclesS - tally.cyclingS;
  if (tally.cyclesS === 0 || missedS < 0.05 * tally.cyclesS) return;
  const periodS = periodBefore(turns, to).toFixed(0);
  const what = `not called cycling for ${missedS} of ${tally.cyclesS} s (period ${periodS} s)`;
  tally.worst.push({ name, what, weight: missedS / 2 });
}

/** The mean of the last two whole periods before a second. */
function periodBefore(turns: readonly number[], second: number): number {
  const last = turns.findLastIndex((turn) => turn <= second);
  return (at(turns, last) - at(turns, last - 2)) / 2;
}

function defrosts(visit: Visit, seen: Watch, { from, to }: Segment, tally: Tally): void {
  const last = Math.min(to + AFTER_DEFROST_S, visit.trueW.length - 1);
  for (let i = from; i <= last; i++) {
    const t = visit.startT + 1000 * i;
    tally.defrostS++;
    if (seen.captures.some((c) => c.from <= t && t <= c.to)) tally.defrostCapturedS++;
  }
}

function captures(visit: Visit, seen: Watch, tally: Tally): void {
  const level = visit.levelW === null ? null : meansOf(visit.levelW);
  let count = 0;
  let hold = 0;
  for (const capture of seen.captures) {
    const first = Math.max(Math.ceil((capture.from - visit.startT) / 1000), 0);
    const last = Math.min(Math.floor((capture.to - visit.startT) / 1000), visit.trueW.length - 1);
    if (last < first) continue;
    let sum = 0;
    for (let i = first; i <= last; i++) sum += at(visit.trueW, i);
    const trueW = sum / (last - first + 1);
    const u95W = capture.totalU95W;
    count++;
    if (u95W === null) continue;
    if (level !== null) {
      tally.levelCaptures++;
      if (Math.abs(capture.totalW - level(first, last)) <= u95W) tally.levelHolds++;
    }
    tally.captureWidths.push(u95W / Math.abs(trueW));
    const offW = Math.abs(capture.totalW - trueW);
    if (offW <= u95W) hold++;
    else if (offW > 1.5 * u95W) {
      const what = `capture ${offW.toFixed(0)} W off, ± ${u95W.toFixed(0)} W, from second ${first}`;
      tally.worst.push({ name: nameOf(visit), what, weight: (100 * offW) / u95W });
    }
  }
  tally.captures += count;
  if (count > 0) tally.holds.push(hold / count);
}

/** Beside what the probes' own errors make: those of the segment's end are taken off. */
function falseLatent(visit: Visit, seen: Watch, { from, to }: Segment, tally: Tally): void {
  const error = (i: number): number => at(seen.latentW, i) - at(visit.trueLatentW, i);
  let sum = 0;
  let n = 0;
  for (let i = to - FINAL_S + 1; i <= to; i++) {
    if (Number.isNaN(error(i))) continue;
    sum += error(i);
    n++;
  }
  for (let i = from; i <= to; i++) {
    if (seen.states[i] !== 'settling') continue;
    const errorW = error(i) - sum / n;
    const share = errorW / Math.abs(at(visit.plateauW, i));
    if (Number.isNaN(share)) continue;
    tally.latent.push(share);
    if (!(Math.abs(errorW) > at(seen.latentU95W, i))) continue;
    tally.latentBeyondS++;
    if (seen.transient[i] === true) tally.latentDoubtedS++;
  }
}
