/**
 * What a side-by-side check is worth afterwards: the offset that is taken off a probe's readings, and
 * what of its data-sheet limit is left over.
 *
 * The check tells how probes differ from their common mean, in one air. What it cannot tell:
 * - the error that all of them share: it stays, as one input for all checked probes;
 * - a probe's own error at another temperature or humidity than the check's: a part of its limit that
 *   grows with the distance. 10 % is common practice (no source); how it grows is set so that captures
 *   of probes whose error runs in a line across their range hold the truth (tests/bench/coverage);
 * - what has changed since: the part grows to the whole within a year.
 * Checks of the same probes in different air narrow the second: see check-lines.ts.
 */
import type { SharedError } from '../measure/budget.ts';
import { NORMAL, RECTANGULAR, resolutionOf, statement, type Uncertain } from '../measure/gum.ts';
import type { EarlierCheck, Limits } from '../../adapters/contract.ts';
import type { ProbeCheck } from '../protocol.ts';
import { offsetAt, type OffsetLine, withPoint } from './check-lines.ts';

const LEFT = 0.1;
export const LEFT_PER_K = 0.025;
const LEFT_PER_PCT = 0.008;
const YEAR_MS = 365 * 86_400_000;

/**
 * Relative humidity between which a data sheet's ± mostly holds, and how much larger it is taken to be
 * at 0 and 100 %: it grows evenly on the way there. An assumption: sheets that state a second ± for the
 * ends mostly give some 1.5 times the first (common practice; one probe of the laboratories' days has
 * 2 % RH, and 3 % above 90 %, tests/reference/data/README.md).
 */
export const HUMIDITY_RANGE = { low: 10, high: 90 };
const WIDER_AT_ENDS = 1.5;

/** By how much the ± of a humidity of `pct` is larger than the data sheet's: 1 to 1.5; of NaN 1. */
export function humidityWidening(pct: number): number {
  if (Number.isNaN(pct)) return 1;
  const { low, high } = HUMIDITY_RANGE;
  const out = Math.max((low - pct) / low, (pct - high) / (100 - high), 0);
  return 1 + (WIDER_AT_ENDS - 1) * Math.min(1, out);
}

/** What a check has found of one probe, in one quantity; null where nothing. */
export interface Found {
  offset: number;
  u: number;
}

export interface Correction {
  /** The probes that lay together: they share an error. */
  probes: readonly string[];
  /** That error: the one of their mean. It has the check's name. */
  shared: SharedError;
  /** When the check ended, ms. */
  t: number;
  /** The air it was made in. */
  atC: number;
  atPct: number;
  /** What is taken off, as far as it is known along the scale: with several checks, a line. */
  temperature: OffsetLine | null;
  humidity: OffsetLine | null;
}

/** What the last check itself found. */
export function foundOf(line: OffsetLine | null): Found | null {
  const last = line?.points.at(-1);
  return last === undefined ? null : { offset: last.offset, u: last.u };
}

/** Builds on an earlier correction of the same probes; another set of probes begins anew. */
export function lineFrom(
  before: Correction | null,
  probes: readonly string[],
  quantity: 'temperature' | 'humidity',
  at: number,
  found: Found | null,
): OffsetLine | null {
  if (found === null || Number.isNaN(at)) return null;
  const same = before !== null && before.probes.join() === probes.join();
  return withPoint(
    same ? before[quantity] : null,
    { at, offset: found.offset, u: found.u },
    quantity,
  );
}

/** Names a check of these probes that ended at `t`. */
export function checkName(t: number, probes: readonly string[]): string {
  return `${t} ${probes.join()}`;
}

/** Whether two corrections are of one check, so that their probes can be compared. */
export function sameCheck(a: Correction, b: Correction | null): boolean {
  return b !== null && a.shared.of === b.shared.of;
}

/** A correction as a line of the log, to take it along to another visit. */
export function toEarlierCheck(c: Correction): EarlierCheck {
  return {
    t: c.t,
    probes: [...c.probes],
    ...found('temperatureC', foundOf(c.temperature)),
    ...found('humidityPct', foundOf(c.humidity)),
    atC: c.atC,
    ...(Number.isNaN(c.atPct) ? {} : { atPct: c.atPct }),
  };
}
function found(key: 'temperatureC' | 'humidityPct', value: Found | null): Partial<EarlierCheck> {
  return value === null ? {} : { [key]: value };
}

/** And back; `limits` are those of all its probes. */
export function fromEarlierCheck(c: EarlierCheck, limits: readonly Limits[]): Correction {
  const atPct = c.atPct ?? NaN;
  return {
    t: c.t,
    probes: c.probes,
    shared: {
      ...sharedErrors(limits, c.atC, atPct, c.t),
      of: checkName(c.t, c.probes),
    },
    atC: c.atC,
    atPct,
    temperature: lineFrom(null, c.probes, 'temperature', c.atC, c.temperatureC ?? null),
    humidity: lineFrom(null, c.probes, 'humidity', atPct, c.humidityPct ?? null),
  };
}

/** The errors that probes of these limits share after a check in this air; unknown ones do not count. */
export function sharedErrors(
  limits: readonly Limits[],
  atC: number,
  atPct: number,
  t: number,
): Pick<SharedError, 'temperature' | 'humidity'> {
  const warm = limits.filter((l) => l.temperatureC !== undefined);
  const humid = limits.filter((l) => l.humidityPct !== undefined);
  return {
    temperature: sharedError(warm.map((l) => temperatureError(l, null, atC, t))),
    humidity: sharedError(humid.map((l) => humidityError(l, null, atPct, t))),
  };
}

/** How much of what a check gained is left at `t`: 1 to 0 within a year. */
export function worth(correction: Correction, t: number): number {
  return Math.min(1, Math.max(0, 1 - (t - correction.t) / YEAR_MS));
}

/** Own error of a probe's temperature reading at `tC`, K. */
export function temperatureError(
  limits: Limits,
  correction: Correction | null,
  tC: number,
  t: number,
): Uncertain {
  const sheet = statement(limits.temperatureC ?? 0, limits.k);
  if (correction === null || correction.temperature === null) {
    return withResolution(sheet, limits.resolutionC);
  }
  const { u, away } = offsetAt(correction.temperature, tC);
  return awayError(limits, away, worth(correction, t), u);
}

/**
 * Own error of a temperature reading so far from where its offset was found, K.
 * @param worthNow how much of what was found still counts, 0 to 1
 * @param u standard uncertainty of the offset, K
 */
export function awayError(limits: Limits, awayK: number, worthNow = 1, u = 0): Uncertain {
  const sheet = statement(limits.temperatureC ?? 0, limits.k);
  const own = leftOver(sheet, LEFT + LEFT_PER_K * awayK, worthNow, u);
  return withResolutionTwice(own, limits.resolutionC);
}

/** Own error of a probe's humidity reading at `pct`, % RH; see `humidityWidening`. */
export function humidityError(
  limits: Limits,
  correction: Correction | null,
  pct: number,
  t: number,
): Uncertain {
  const sheet = statement((limits.humidityPct ?? 0) * humidityWidening(pct), limits.k);
  if (correction === null || correction.humidity === null) {
    return withResolution(sheet, limits.resolutionPct);
  }
  const { u, away } = offsetAt(correction.humidity, pct);
  const own = leftOver(sheet, LEFT + LEFT_PER_PCT * away, worth(correction, t), u);
  return withResolutionTwice(own, limits.resolutionPct);
}

function withResolution(sheet: Uncertain, resolution: number | undefined): Uncertain {
  return resolution === undefined ? sheet : both(sheet, resolutionOf(resolution));
}

/** A display rounds in the check and again afterwards: no check takes that off. */
function withResolutionTwice(own: Uncertain, resolution: number | undefined): Uncertain {
  return withResolution(withResolution(own, resolution), resolution);
}

/** The part of the data sheet's error that a check leaves, and the check's own scatter. */
function leftOver(sheet: Uncertain, left: number, worthNow: number, u: number): Uncertain {
  const share = Math.min(1, 1 - worthNow * (1 - Math.min(1, left)));
  return both({ u: sheet.u * share, shape: sheet.shape }, { u, shape: NORMAL });
}

/** The sum of two independent errors as one. */
function both(a: Uncertain, b: Uncertain): Uncertain {
  const square = a.u * a.u + b.u * b.u;
  if (square === 0) return a;
  const fourth = a.shape * a.u ** 4 + b.shape * b.u ** 4;
  return { u: Math.sqrt(square), shape: Math.max(RECTANGULAR, fourth / (square * square)) };
}

/** The error that checked probes share: that of their weighted mean. */
export function sharedError(errors: readonly Uncertain[]): Uncertain {
  if (errors.length === 0) return { u: 0, shape: NORMAL };
  // Weights 1/u², as in the check: u² of the mean is 1/Σ(1/u²).
  let weights = 0;
  for (const { u } of errors) weights += 1 / (u * u || 1e-9);
  let fourth = 0;
  const square = 1 / weights;
  for (const { u, shape } of errors) {
    const part = 1 / (u * u || 1e-9) / weights;
    fourth += shape * (part * u) ** 4;
  }
  return { u: Math.sqrt(square), shape: fourth / (square * square) };
}

/** As it stands in the state. */
export function toProbeCheck(correction: Correction, t: number): ProbeCheck {
  return {
    t: correction.t,
    temperatureOffsetC: foundOf(correction.temperature)?.offset ?? null,
    humidityOffsetPct: foundOf(correction.humidity)?.offset ?? null,
    atC: correction.atC,
    atPct: Number.isNaN(correction.atPct) ? null : correction.atPct,
    worth: worth(correction, t),
  };
}
