/**
 * How good what was said of a visit is, against what was so.
 *
 * The final value of a segment is the mean of the measured total over its last two minutes; where the
 * plateau itself drifts, brought back along that drift to when the truth had settled.
 */
import { addTally, emptyTally, type Moment, MOMENTS, type Tally } from './tally.ts';
import { type Approach, at, nameOf, type Segment, type Visit } from './visit.ts';
import type { Watch } from './watch.ts';

/** Off its plateau: more than 3 %, and more than 60 W. */
const OFF = 0.03;
const OFF_W = 60;
/** How near a forecast should come. */
const NEAR = 0.05;
const FINAL_S = 120;
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
    if (segment.stretch === 'settles') settles(visit, seen, segment, one, name);
    if (segment.stretch === 'cycles') cycles(seen, segment, one, name);
    if (segment.stretch === 'defrost') defrosts(visit, seen, segment, one);
    addTally(tally, one);
  });
  captures(visit, seen, tally);
  return tally;
}

/** True where the capacity is off its plateau; false where the plateau is not known. */
function isOff(visit: Visit, i: number): boolean {
  const plateauW = at(visit.plateauW, i);
  const awayW = Math.abs(at(visit.trueW, i) - plateauW);
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
    const plateauW = at(visit.plateauW, i);
    worst = Math.max(worst, Math.abs(at(visit.trueW, i) - plateauW) / Math.abs(plateauW));
  }
  if (tally.wrongS === 0) return;
  const what = `steady for ${tally.wrongS} s while off, by up to ${(100 * worst).toFixed(0)} %`;
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
  const finalW = finalOf(visit, seen, segment);
  if (Number.isNaN(finalW)) return;
  offers(seen, segment, finalW, tally);
  falseLatent(visit, seen, segment, tally);
  const { approach } = segment;
  if (approach === null) return;
  for (const moment of MOMENTS) {
    const second = from + secondsTo(moment, approach);
    if (Number.isNaN(second) || second > to - FINAL_S) continue;
    lookAt(seen, Math.round(second), finalW, tally, moment, name);
    if (moment === '2' && called !== null) timeLeft(seen, Math.round(second), called, tally);
  }
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

function finalOf(visit: Visit, seen: Watch, { to, settledAt }: Segment): number {
  let sum = 0;
  let n = 0;
  for (let i = to - FINAL_S + 1; i <= to; i++) {
    const totalW = at(seen.totalW, i);
    if (Number.isNaN(totalW)) continue;
    sum += totalW;
    n++;
  }
  if (n < FINAL_S / 4) return NaN;
  const then = at(visit.plateauW, settledAt ?? to);
  const atEnd = at(visit.plateauW, to - FINAL_S / 2);
  return (sum / n) * (settledAt === null || Number.isNaN(then / atEnd) ? 1 : then / atEnd);
}

function offers(seen: Watch, { from, to }: Segment, finalW: number, tally: Tally): void {
  let runs = 0;
  let before = NaN;
  for (let i = from; i <= to; i++) {
    if (seen.states[i] !== 'settling') {
      before = NaN;
      continue;
    }
    const plateauW = at(seen.plateauW, i);
    const u95W = at(seen.plateauU95W, i);
    if (!Number.isNaN(plateauW) && !Number.isNaN(u95W)) {
      tally.offeredS++;
      if (Math.abs(plateauW - finalW) <= u95W) tally.heldS++;
    }
    if (!Number.isNaN(plateauW)) {
      if (Number.isNaN(before)) runs++;
      else tally.moves.push(Math.abs((plateauW - before) / finalW));
    }
    before = plateauW;
  }
  tally.flaps.push(Math.max(runs - 1, 0));
}

function secondsTo(moment: Moment, { deadS, tauS, largerS, lagS }: Approach): number {
  switch (moment) {
    case '1':
      return deadS + tauS;
    case '2':
      return deadS + 2 * tauS;
    case '2.5':
      return deadS + 2.5 * tauS;
    case '2 + lag':
      return deadS + 2 * tauS + lagS;
    case '2.5 + lag':
      return deadS + 2.5 * tauS + lagS;
    case '2 of the larger':
      return deadS + 2 * (largerS ?? NaN);
  }
}

/** A steady mean is an answer as well: the forecast has come true. */
function lookAt(
  seen: Watch,
  i: number,
  finalW: number,
  tally: Tally,
  moment: Moment,
  name: string,
): void {
  const to = tally.moments[moment];
  const plateauW = at(seen.plateauW, i);
  const state = seen.states[i];
  to.asked++;
  if (Number.isNaN(plateauW) || (state !== 'settling' && state !== 'steady')) return;
  to.offered++;
  const off = Math.abs(plateauW / finalW - 1);
  if (off <= NEAR) to.within++;
  const u95W = at(seen.plateauU95W, i);
  if (state === 'settling' && !Number.isNaN(u95W)) to.widths.push(u95W / Math.abs(plateauW));
  if (moment !== '2.5' || off <= NEAR) return;
  const what = `forecast ${(100 * off).toFixed(0)} % off after 2.5 time constants`;
  tally.worst.push({ name, what, weight: 1000 * off });
}

function timeLeft(seen: Watch, i: number, called: number, tally: Tally): void {
  const inS = at(seen.steadyInS, i);
  if (!Number.isNaN(inS) && seen.states[i] === 'settling') tally.timeLeftS.push(inS - (called - i));
}

function cycles(seen: Watch, { from, to, periodS }: Segment, tally: Tally, name: string): void {
  if (periodS === null) return;
  for (let i = Math.round(from + WHOLE_PERIODS * periodS); i <= to; i++) {
    tally.cyclesS++;
    if (seen.states[i] === 'steady') tally.cycleSteadyS++;
    if (seen.states[i] !== 'cycling') continue;
    tally.cyclingS++;
    const found = at(seen.periodS, i);
    if (!Number.isNaN(found)) tally.periods.push(Math.abs(found / periodS - 1));
  }
  const missedS = tally.cyclesS - tally.cyclingS;
  if (missedS < 0.05 * tally.cyclesS) return;
  const what = `not called cycling for ${missedS} of ${tally.cyclesS} s (period ${periodS.toFixed(0)} s)`;
  tally.worst.push({ name, what, weight: missedS / 2 });
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
  for (const capture of seen.captures) {
    const first = Math.max(Math.ceil((capture.from - visit.startT) / 1000), 0);
    const last = Math.min(Math.floor((capture.to - visit.startT) / 1000), visit.trueW.length - 1);
    if (last < first) continue;
    let sum = 0;
    for (let i = first; i <= last; i++) sum += at(visit.trueW, i);
    const trueW = sum / (last - first + 1);
    const u95W = capture.totalU95W;
    tally.captures++;
    if (u95W === null) continue;
    tally.captureWidths.push(u95W / Math.abs(trueW));
    const offW = Math.abs(capture.totalW - trueW);
    if (offW <= u95W) tally.capturesHold++;
    else if (offW > 1.5 * u95W) {
      const what = `capture ${offW.toFixed(0)} W off, ± ${u95W.toFixed(0)} W, from second ${first}`;
      tally.worst.push({ name: nameOf(visit), what, weight: (100 * offW) / u95W });
    }
  }
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
