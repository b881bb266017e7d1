/**
 * Which of several probes somebody warms in the hand: the one whose temperature rises by itself,
 * clearly more than that of the others. Pure: time comes with the readings, the server's.
 */

/** The temperatures of one probe: times in ms, ascending, and °C. */
export interface Track {
  readonly t: number[];
  readonly temperatureC: number[];
}

export type Verdict =
  /** Too little has been heard of any. */
  | { is: 'waiting' }
  /** None rises clearly more than the others. */
  | { is: 'none' }
  | { is: 'one'; id: string }
  /** More than one rises by itself. */
  | { is: 'several'; ids: string[] };

/** A rise counts from the lowest point of so long, ms. */
const WINDOW_MS = 45_000;
/** What a hand does in ten seconds or so to any probe, and still air by itself does not, K. */
const LEAST_K = 0.8;
/** A rise must be so many times what the readings fall by: eight times the σ of their scatter. */
const FALLS = 14;
/** So much of a rise must be the probe's own. */
const OWN = 0.5;
/** Another that rises by so much of the highest rise is no bystander. */
const ALSO = 0.5;
/** The way that a probe was going before the search is told from so much of it, ms. */
const BEFORE_MS = 20_000;
/** … and from so many readings after the first, at least. */
const BEFORE_LEAST = 2;

/** The middle one; of an even number the lower of the two in the middle, 0 of none. */
function middle(values: readonly number[]): number {
  return [...values].sort((a, b) => a - b)[(values.length - 1) >> 1] ?? 0;
}

/** A track without lone outliers: each reading with its two before it, in their middle. */
function calm({ t, temperatureC }: Track): Track {
  return {
    t: t.slice(2),
    temperatureC: t.slice(2).map((_, i) => middle(temperatureC.slice(i, i + 3))),
  };
}

/**
 * How much the readings fall from one to the next on the average, K. Of scatter of a standard deviation
 * σ it is 0.56 σ, of what only rises nothing.
 */
function fallsOf({ temperatureC }: Track): number {
  const falls = temperatureC.slice(1).map((c, i) => Math.max(0, (temperatureC[i] ?? c) - c));
  return falls.reduce((sum, fall) => sum + fall, 0) / Math.max(1, falls.length);
}

/** How fast it rose before the search, K/ms; 0 where it did not, or where that is not known. */
function paceBefore({ t, temperatureC }: Track, beganT: number): number {
  const before = t.findLastIndex((at) => at <= beganT);
  const first = t.findIndex((at) => at >= beganT - BEFORE_MS);
  if (first < 0 || before - first < BEFORE_LEAST) return 0;
  const spanMs = (t[before] ?? 0) - (t[first] ?? 0);
  return Math.max(0, ((temperatureC[before] ?? 0) - (temperatureC[first] ?? 0)) / spanMs);
}

/** The temperature of a track at or before a time; its first where it begins later. */
function at(track: Track, t: number): number {
  const index = Math.max(
    0,
    track.t.findLastIndex((each) => each <= t),
  );
  return track.temperatureC[index] ?? 0;
}

/** What one probe has done since the search began. */
export interface Rise {
  id: string;
  /** From its lowest point in the search, K. */
  riseK: number;
  /** What of it the others did not do as well, and it did not do before, K. */
  ownK: number;
  /** Whether that is clear. */
  clear: boolean;
}

/**
 * How much each probe has risen.
 * @param beganT when the search began, ms
 */
export function risesOf(tracks: ReadonlyMap<string, Track>, beganT: number): Rise[] {
  const searched = [...tracks].flatMap(([id, whole]) => {
    const track = calm(whole);
    const lastT = track.t.at(-1) ?? -Infinity;
    return lastT < beganT ? [] : [{ id, whole, track, lastT }];
  });
  return searched.map(({ id, whole, track, lastT }) => {
    const from = Math.max(beganT, lastT - WINDOW_MS);
    // The reading before the search is where its rise starts from.
    let low = Math.max(0, track.t.findIndex((t) => t > from) - 1);
    for (let i = low; i < track.t.length; i++) {
      if ((track.temperatureC[i] ?? 0) <= (track.temperatureC[low] ?? 0)) low = i;
    }
    const lowT = track.t[low] ?? lastT;
    const riseK = (track.temperatureC.at(-1) ?? 0) - (track.temperatureC[low] ?? 0);
    const others = searched
      .filter((other) => other.id !== id)
      .map((other) => at(other.track, lastT) - at(other.track, lowT));
    // Of two others the one that rises less: the other may be in a hand as well.
    const shared = Math.max(0, middle(others));
    const ownK = riseK - shared - paceBefore(whole, beganT) * (lastT - lowT);
    const clear = ownK >= Math.max(LEAST_K, OWN * riseK, FALLS * fallsOf(whole));
    return { id, riseK, ownK, clear };
  });
}

/** Which probe rises by itself; see `risesOf`. */
export function risingOf(tracks: ReadonlyMap<string, Track>, beganT: number): Verdict {
  const rises = risesOf(tracks, beganT).sort((a, b) => b.ownK - a.ownK);
  const [best] = rises;
  if (best === undefined) return { is: 'waiting' };
  if (!best.clear) return { is: 'none' };
  const also = rises.filter(({ id, ownK }) => id !== best.id && ownK >= ALSO * best.ownK);
  if (also.length === 0) return { is: 'one', id: best.id };
  // One that may be rising as well leaves a doubt; one that clearly does is named.
  const clear = also.filter((rise) => rise.clear);
  return clear.length === 0
    ? { is: 'none' }
    : { is: 'several', ids: [best.id, ...clear.map(({ id }) => id)] };
}

/** Of each probe so much is kept, ms. */
const KEPT_MS = 90_000;
/** It is pointed at when it has been the one for so long, ms. */
const HELD_MS = 2000;

/** Listens to the temperatures of all probes, and searches from when it is told to. */
export class Finder {
  readonly tracks = new Map<string, Track>();
  #beganT: number | null = null;
  #one: { id: string; sinceT: number } | null = null;

  /** Takes a reading; one that is known already, or older, changes nothing. */
  take(id: string, t: number, temperatureC: number): void {
    let track = this.tracks.get(id);
    if (track === undefined) this.tracks.set(id, (track = { t: [], temperatureC: [] }));
    if (t <= (track.t.at(-1) ?? -Infinity)) return;
    track.t.push(t);
    track.temperatureC.push(temperatureC);
    const old = track.t.findIndex((each) => each >= t - KEPT_MS);
    track.t.splice(0, old);
    track.temperatureC.splice(0, old);
  }

  /** The search begins. @param t the server's time, ms */
  begin(t: number): void {
    this.#beganT = t;
    this.#one = null;
  }

  /** Which one it is. @param t the server's time, ms */
  verdict(t: number): Verdict {
    if (this.#beganT === null) return { is: 'waiting' };
    const found = risingOf(this.tracks, this.#beganT);
    if (found.is !== 'one') {
      this.#one = null;
      return found;
    }
    if (this.#one?.id !== found.id) this.#one = { id: found.id, sinceT: t };
    return t - this.#one.sinceT >= HELD_MS ? found : { is: 'none' };
  }

  /** What each probe has done since the search began; empty before. */
  rises(): Rise[] {
    return this.#beganT === null ? [] : risesOf(this.tracks, this.#beganT);
  }
}
