/** How good the forecasts of one segment are. */
import { type Moment, MOMENTS, type Tally } from './tally.ts';
import { type Approach, at, type Segment } from './visit.ts';
import type { Watch } from './watch.ts';

/** How near a forecast should come. */
const NEAR = 0.05;

/**
 * @param finalW what the forecasts should have said
 * @param lastSecond the last one that is not part of that final value
 * @param called when it was called steady, or null
 */
export function forecasts(
  seen: Watch,
  segment: Segment,
  finalW: number,
  lastSecond: number,
  called: number | null,
  tally: Tally,
  name: string,
): void {
  offers(seen, segment, finalW, tally);
  const { approach, from } = segment;
  if (approach === null) return;
  for (const moment of MOMENTS) {
    const second = Math.round(from + secondsTo(moment, approach));
    if (Number.isNaN(second) || second > lastSecond) continue;
    lookAt(seen, second, finalW, tally, moment, name);
    if (moment === '2' && called !== null) timeLeft(seen, second, called, tally);
  }
}

function offers(seen: Watch, { from, to }: Segment, finalW: number, tally: Tally): void {
  let runs = 0;
  let before = NaN;
  for (let i = from; i <= to; i++) {
    if (seen.states[i] === 'steady') rests(seen, i, finalW, tally);
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

/** Of a figure that is called steady the same is said: where it is, and how far it may yet move. */
function rests(seen: Watch, i: number, finalW: number, tally: Tally): void {
  const u95W = at(seen.plateauU95W, i);
  if (Number.isNaN(u95W)) return;
  tally.restsS++;
  if (Math.abs(at(seen.plateauW, i) - finalW) <= u95W) tally.restsHeldS++;
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
    case '2 with lag':
      return deadS + 2 * (tauS + lagS);
    case '2.5 with lag':
      return deadS + 2.5 * (tauS + lagS);
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
  if (Math.abs(at(seen.totalW, i) / finalW - 1) <= NEAR) to.there++;
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
