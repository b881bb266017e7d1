/** Airflows that have been measured: what each is, what makes its ±, and how it compares with others. */
import { compareFlows } from '../../server/measure/airflow/compare.ts';
import type { FlowCause, MeasuredFlow } from '../../server/measure/airflow/flow-error.ts';
import type { AirflowResult } from '../../server/protocol.ts';
import { signed, withInterval, written } from './figures.ts';
import { methodName } from './measuring.ts';
import { type Scale, type Scales } from './scales.ts';
import { day } from './visits.ts';
import { t } from '../../server/words/language.ts';
import { speedWord } from '../../server/words/names.ts';

/** What the list of them says. */
export const MEASURED = {
  title: t`Measured in this visit`,
  list: t`Measured airflows`,
  what: t`What makes the ±`,
  mostly: (text: string) => t`What makes the ±: ${text.toLowerCase()}`,
  inUse: t`In use.`,
  use: t`Use this one`,
  mark: t`Mark as baseline`,
  unmark: t`No baseline any more`,
  isBaseline: t`Baseline: later visits are compared with it.`,
};

/** "512 ± 34 m³/h" */
export const flowWords = ({ flowM3s, u95M3s }: AirflowResult, scales: Scales): string =>
  withInterval(flowM3s, u95M3s, scales.flow);

/** "Sweep, 2 repeats, fan high, wet coil" */
export function resultWords({ method, each, fan, wetness }: AirflowResult): string {
  const parts = [methodName(method)];
  if (method === 'sweep' && each.length > 1) parts.push(t`${each.length} repeats`);
  if (method === 'grid') parts.push(t`${each.length} points`);
  if (fan !== null) parts.push(t`fan ${speedWord(fan)}`);
  parts.push(wetness >= 0.5 ? t`wet coil` : t`dry coil`);
  return parts.join(', ');
}

const CAUSES: Record<FlowCause, string> = {
  instrument: t`the anemometer`,
  density: t`air density`,
  area: t`the outlet’s size`,
  'free-area': t`the free-area factor`,
  ends: t`ends that the head cannot reach`,
  slot: t`a head wider than the slot`,
  repeats: t`how well the sweep repeats`,
  points: t`air between the points`,
  scatter: t`turbulence`,
  water: t`the scale`,
  pan: t`water left in pan and coil`,
  moisture: t`the humidity probes`,
  power: t`the power meter`,
  escape: t`heat that escapes`,
  temperature: t`the rise in temperature`,
  reference: t`the hood, or the traverse in the duct`,
  table: t`the table`,
};
const isCause = (cause: string): cause is FlowCause => cause in CAUSES;

/** The largest errors of a flow: "Mostly the free-area factor, then the anemometer." */
export function mostlyWords({ errors }: AirflowResult): string | null {
  const [first, second] = errors
    .filter(({ cause }) => isCause(cause))
    .toSorted((a, b) => b.uPct - a.uPct)
    .map(({ cause }) => (isCause(cause) ? CAUSES[cause] : ''));
  if (first === undefined) return null;
  return second === undefined ? t`Mostly ${first}.` : t`Mostly ${first}, then ${second}.`;
}

function flowOf({ flowM3s, errors }: AirflowResult): MeasuredFlow {
  return {
    flowM3s,
    errors: errors.map(({ cause, uPct, shape, shared }) => ({
      cause: isCause(cause) ? cause : 'table',
      relative: { u: uPct / 100, shape },
      shared,
    })),
  };
}

/** How the newest result compares with the one before it, by another method; null: there is none. */
export function comparisonWords(results: readonly AirflowResult[]): string | null {
  const last = results.at(-1);
  const other = results.findLast((r) => r.method !== last?.method && r.fan === last?.fan);
  if (last === undefined || other === undefined) return null;
  const { relative, u95, agree } = compareFlows(flowOf(other), flowOf(last));
  const by = `${signedPct(relative)} ± ${written(100 * u95, 1)}\u202f%`;
  const [a, b] = [methodName(last.method), methodName(other.method).toLowerCase()];
  return agree
    ? t`${a} and ${b} agree: they differ by ${by}.`
    : t`${a} and ${b} do not agree: they differ by ${by}. One of them is off by more than its ±. Measure a third way to decide.`;
}

/** An opening counts as the same where a velocity in it makes the same flow, to so much. */
const SAME_OPENING = 1e-6;

/**
 * Flows of two visits share the errors of the same probes. Those of an opening they share only where its
 * sides and its factor are the same figures: an opening that was measured anew has another error.
 */
function acrossVisits(before: AirflowResult, now: AirflowResult): MeasuredFlow {
  const perVelocity = ({ flowM3s, velocityMs }: AirflowResult): number =>
    flowM3s / (velocityMs ?? NaN);
  const isSame = Math.abs(perVelocity(before) / perVelocity(now) - 1) <= SAME_OPENING;
  const { flowM3s, errors } = flowOf(before);
  return {
    flowM3s,
    errors: errors.map((error) =>
      isSame || (error.shared?.startsWith('probe') ?? true) ? error : { ...error, shared: null },
    ),
  };
}

/** The earlier airflow that one is compared with: at the same fan speed; a marked one first. */
export function baselineOf(
  now: AirflowResult,
  earlier: readonly AirflowResult[],
): AirflowResult | null {
  const like = earlier.filter(({ unit, fan }) => unit === now.unit && fan === now.fan);
  return like.find(({ baseline }) => baseline === true) ?? like[0] ?? null;
}

/**
 * How an airflow has changed since an earlier visit, with its interval, and whether that is likely real.
 * @param earlier of the unit, in other visits, newest first
 * @returns sentences; none where nothing compares
 */
export function sinceAirflow(now: AirflowResult, earlier: readonly AirflowResult[]): string[] {
  const before = baselineOf(now, earlier);
  if (before === null) return [];
  const { relative, u95, agree } = compareFlows(acrossVisits(before, now), flowOf(now));
  const by = `${signedPct(relative)} ± ${written(100 * u95, 1)}\u202f%`;
  const since = `${day(before.t)}${before.baseline === true ? t` (baseline)` : ''}`;
  const list = [
    agree ? t`Since ${since}: ${by}. May be noise.` : t`Since ${since}: ${by}. Likely real.`,
  ];
  const unlike = [
    ...(before.method === now.method
      ? []
      : [t`the earlier one by another method (${methodName(before.method).toLowerCase()})`]),
    ...(before.wetness >= 0.5 === now.wetness >= 0.5
      ? []
      : [t`one with a wet coil, one with a dry one`]),
    ...(before.plane === now.plane ? [] : [t`one at the supply, one at the return`]),
  ];
  if (unlike.length > 0) list.push(t`They are not alike: ${unlike.join('; ')}.`);
  return list;
}

const PERCENT_OF_ONE: Scale = { sign: '%', show: (p) => 100 * p, read: (p) => p / 100, finest: 1 };
const signedPct = (part: number): string =>
  signed(part, null, PERCENT_OF_ONE).replace(/\u202f%$/, '');
