/** What is counted over visits; tallies of visits add up to those of a kind, and these to the whole. */

/** The moments at which a forecast is looked at, in time constants after the dead time. */
export const MOMENTS = [
  ...(['1', '2', '2.5', '2 + lag', '2.5 + lag', '2 of the larger'] as const),
  ...(['2 with lag', '2.5 with lag'] as const),
] as const;
export type Moment = (typeof MOMENTS)[number];

export interface AtMoment {
  asked: number;
  offered: number;
  /** Of those asked: offered, and within 5 % of the final value. */
  within: number;
  /** Of those asked: the value that is measured then is within 5 % already. */
  there: number;
  /** Half-width ÷ forecast, of those with an interval. */
  widths: number[];
}

/** A segment or a visit, and how bad it is. */
export interface Bad {
  name: string;
  what: string;
  /** For the order among those of one kind. */
  weight: number;
}

export interface Tally {
  visits: number;
  segments: number;
  steadyS: number;
  /** Of these: the truth is more than 3 % and 60 W from its plateau. */
  wrongS: number;
  /** From truly settled to called steady, s; Infinity: never. */
  delaysS: number[];
  /** Seconds after the first call, and those of them that are still called steady. */
  calledS: number;
  keptS: number;
  /** Seconds of segments that settle, and those called cycling. */
  settlingS: number;
  falseCyclingS: number;
  moments: Record<Moment, AtMoment>;
  /** Seconds with a forecast and its interval, and those in which it holds the final value. */
  offeredS: number;
  heldS: number;
  /** Steady seconds with an interval, and those in which it holds the final value. */
  restsS: number;
  restsHeldS: number;
  /** How often the offer went and came again, by segment. */
  flaps: number[];
  /** |change| of the forecast in a second, as a share. */
  moves: number[];
  /** Forecast of the time left at two time constants, less what it was, s. */
  timeLeftS: number[];
  /** Cycling after four whole periods: seconds, called so, called steady. */
  cyclesS: number;
  cyclingS: number;
  cycleSteadyS: number;
  /** |found ÷ true period − 1|. */
  periods: number[];
  captures: number;
  /** By visit: the share of its captures that hold the truth. They share one draw of the errors. */
  holds: number[];
  /** Half-width ÷ mean of the truth. */
  captureWidths: number[];
  /** Seconds of defrosts with the five minutes after them, and those inside a capture. */
  defrostS: number;
  defrostCapturedS: number;
  /** False latent heat while settling, as a share of the plateau. */
  latent: number[];
  /** Seconds in which it is more than the interval of the latent part, and of these doubted. */
  latentBeyondS: number;
  latentDoubtedS: number;
  /** Flat stretches after their third minute: seconds, called steady, cycling; changes, captures. */
  flats: number;
  flatS: number;
  flatSteadyS: number;
  flatCyclingS: number;
  flatChanges: number;
  flatCaptures: number;
  /** Where a visit begins flat: from its beginning to the first call, s; Infinity: never. */
  firstCallsS: number[];
  /** Visits in which nothing cycles, and those in which that was said all the same. */
  calmVisits: number;
  calmCyclingVisits: number;
  /** Steady seconds of which is known what follows; its mean is another; another with its hover. */
  judgedS: number;
  movedS: number;
  movedWithHoverS: number;
  /** Captures of a known level, and those that hold its mean. */
  levelCaptures: number;
  levelHolds: number;
  worst: Bad[];
}

export function emptyTally(): Tally {
  const none = (): AtMoment => ({ asked: 0, offered: 0, within: 0, there: 0, widths: [] });
  return {
    ...{ visits: 0, segments: 0, steadyS: 0, wrongS: 0, delaysS: [], calledS: 0, keptS: 0 },
    ...{
      settlingS: 0,
      falseCyclingS: 0,
      offeredS: 0,
      heldS: 0,
      restsS: 0,
      restsHeldS: 0,
      flaps: [],
      moves: [],
    },
    moments: {
      ...{ '1': none(), '2': none(), '2.5': none() },
      ...{ '2 + lag': none(), '2.5 + lag': none(), '2 of the larger': none() },
      ...{ '2 with lag': none(), '2.5 with lag': none() },
    },
    ...{ timeLeftS: [], cyclesS: 0, cyclingS: 0, cycleSteadyS: 0, periods: [] },
    ...{ captures: 0, holds: [], captureWidths: [], defrostS: 0, defrostCapturedS: 0 },
    ...{ latent: [], latentBeyondS: 0, latentDoubtedS: 0, worst: [] },
    ...{ flats: 0, flatS: 0, flatSteadyS: 0, flatCyclingS: 0, flatChanges: 0, flatCaptures: 0 },
    ...{ firstCallsS: [], calmVisits: 0, calmCyclingVisits: 0 },
    ...{ judgedS: 0, movedS: 0, movedWithHoverS: 0, levelCaptures: 0, levelHolds: 0 },
  };
}

/** Adds `from` to `to`: counts add up, lists are joined. */
export function addTally(to: Tally, from: Tally): void {
  join(to, from);
  for (const moment of MOMENTS) join(to.moments[moment], from.moments[moment]);
}

function join<T extends object>(to: T, from: T): void {
  for (const key of Object.keys(to) as (keyof T)[]) {
    const a: unknown = to[key];
    const b: unknown = from[key];
    if (typeof a === 'number' && typeof b === 'number') Object.assign(to, { [key]: a + b });
    else if (Array.isArray(a) && Array.isArray(b)) for (const each of b) a.push(each);
  }
}

/** Share of sorted or unsorted values; NaN of none. */
export function quantile(values: readonly number[], share: number): number {
  if (values.length === 0) return NaN;
  const sorted = Float64Array.from(values).sort();
  const place = share * (sorted.length - 1);
  const low = sorted[Math.floor(place)] ?? NaN;
  const high = sorted[Math.ceil(place)] ?? NaN;
  // Not by weights: between a figure and Infinity there is only Infinity.
  return low === high ? low : low + (place - Math.floor(place)) * (high - low);
}

export function mean(values: readonly number[]): number {
  let sum = 0;
  for (const value of values) sum += value;
  return sum / values.length;
}
