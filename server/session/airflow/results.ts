/** What a traverse, a bucket or a heater gives: the flow with its interval, as it is told. */
import type { Airflow } from '../../../adapters/contract.ts';
import type { Anemometer } from '../../measure/airflow/anemometer.ts';
import { STANDARD_DENSITY, REFERENCE } from '../../measure/capacity.ts';
import { statement } from '../../measure/gum.ts';
import {
  errorsOf,
  flowU95,
  type MeasuredFlow,
  wholeError,
} from '../../measure/airflow/flow-error.ts';
import { gridFlow } from '../../measure/airflow/grid.ts';
import { type SectionVelocity, sweptFlow } from '../../measure/airflow/sweep.ts';
import type { AirflowResult, OutletState } from '../../protocol.ts';
import type { SweptSection } from '../../signal/section-sweep.ts';
import type { ProbeRecord } from '../probe.ts';
import { REVERSED, sectionSeconds, UNEVEN } from './guide.ts';
import { type RunningTraverse, velocityOf } from './traverse.ts';
import { sent } from '../../words/sent.ts';

/** Where no air is known at the opening, kg/m³: dry air at 20 °C and sea level, within some per cent. */
const USUAL_DENSITY = 1.2;

/** What is known beside the method's own figures. */
export interface Circumstances {
  t: number;
  from: number;
  unit: string;
  fan: string | null;
  wetness: number;
  simulated: boolean;
}

/** Of a probe of which nobody has said so it is assumed to be a vane of unknown size. */
export function anemometerOf({ id, anemometer, limits }: ProbeRecord): Anemometer {
  return {
    id,
    kind: anemometer?.kind ?? 'vane',
    headM: anemometer?.headM ?? null,
    limitMs: limits.velocityMs,
    limitPct: limits.velocityPct,
    k: limits.k,
  };
}

export function resultOf(
  method: AirflowResult['method'],
  plane: AirflowResult['plane'],
  flow: MeasuredFlow,
  about: Circumstances,
  more: Partial<AirflowResult> = {},
): AirflowResult {
  return {
    type: 'airflow',
    ...about,
    method,
    flowM3s: flow.flowM3s,
    u95M3s: flowU95(flow),
    basis: 'actual',
    plane,
    outlet: null,
    used: true,
    probe: null,
    velocityMs: null,
    variation: null,
    each: [],
    points: [],
    latentW: null,
    latentU95W: null,
    errors: flow.errors.map(({ cause, relative, shared }) => ({
      cause,
      uPct: 100 * relative.u,
      shape: relative.shape,
      shared,
    })),
    warnings: [],
    ...more,
  };
}

/** The same as the airflow of a unit: its whole error as an expanded one. */
export function airflowOf({ method, flowM3s, plane, probe, errors }: AirflowResult): Airflow {
  const { u } = wholeError(
    errors.map(({ uPct, shape }) => ({
      cause: 'table',
      relative: { u: uPct / 100, shape },
      shared: null,
    })),
  );
  return {
    source: method,
    flowM3s,
    basis: 'actual',
    plane,
    limitPct: Math.min(100, 196 * u),
    limitK: 1.96,
    ...(probe === null ? {} : { instrument: probe }),
  };
}

/**
 * A flow by a hood or in the duct, as a result among the others.
 * @param volumeM3kg of a kilogram of dry air at its plane; null: not known
 * @returns null where its actual flow cannot be said, or is none
 */
export function referenceResult(
  { flowM3s, basis, plane, limitPct = NaN, limitK }: Airflow,
  volumeM3kg: number | null,
  about: Circumstances,
): AirflowResult | null {
  const factor = basis === 'actual' ? 1 : STANDARD_DENSITY * (volumeM3kg ?? NaN);
  const actual = factor * flowM3s;
  if (!(actual > 0)) return null;
  const errors = errorsOf([['reference', statement(limitPct / 100, limitK), null]]);
  return resultOf(REFERENCE, plane, { flowM3s: actual, errors }, about);
}

/** A section that was left out is known as badly as a sweep of one that varies by so much. */
const LEFT_OUT = 2;

/** The sections of one sweep, ready to be combined with others; null where none was swept. */
export function sectionsOf(swept: readonly (SweptSection | null)[]): SectionVelocity[] | null {
  const known = swept.filter((s) => s !== null);
  if (known.length === 0) return null;
  const mean = known.reduce((sum, s) => sum + s.meanMs, 0) / known.length;
  // Of one that was left out the others tell what they can.
  return swept.map((s) => (s === null ? { meanMs: mean, variation: LEFT_OUT } : velocityOf(s)));
}

/** The flow of the sweeps of one series, the last of which has just ended. */
export function sweepResult(
  run: RunningTraverse,
  outlet: OutletState,
  sweeps: readonly (readonly SectionVelocity[])[],
  densityKgM3: number | null,
  about: Circumstances,
): AirflowResult {
  const anemometer = anemometerOf(run.probe);
  const { outletId } = run;
  const flow = sweptFlow(outlet, outletId, sweeps, anemometer, densityKgM3 ?? USUAL_DENSITY);
  const warnings = sweepWarnings(run.swept(outlet.sections.length), outlet, anemometer.headM);
  if (sweeps.length === 1) {
    warnings.push(sent`One sweep does not show how well it repeats: sweep it once more.`);
  } else if (flow.disagree) {
    const [a = NaN, b = NaN] = flow.each;
    const pct = Math.round((100 * Math.abs(a - b)) / flow.flowM3s);
    warnings.push(sent`The two sweeps differ by ${pct} %: sweep a third time.`);
  }
  return resultOf('sweep', outlet.plane, flow, about, {
    ...{ outlet: outletId, probe: run.probe.id, velocityMs: flow.velocityMs, each: [...flow.each] },
    variation: Math.max(...sweeps.flat().map((s) => s.variation)),
    warnings: [...warnings, ...headWarnings(anemometer, outlet, flow.velocityMs)],
  });
}

/** The flow of a grid; null where no point was held at. */
export function gridResult(
  run: RunningTraverse,
  outlet: OutletState,
  densityKgM3: number | null,
  about: Circumstances,
): AirflowResult | null {
  const points = run.held();
  if (points.length === 0) return null;
  const anemometer = anemometerOf(run.probe);
  const { outletId, rule } = run;
  const density = densityKgM3 ?? USUAL_DENSITY;
  const flow = gridFlow(outlet, outletId, points, anemometer, density, rule);
  const message = run.message(about.t, outlet, 'ended');
  const loose = message.points.filter(({ settled }) => !settled).length;
  const warnings: string[] = [];
  if (loose > 0) warnings.push(sent`${loose} of ${points.length} points had not settled.`);
  if (points.length < 3)
    warnings.push(sent`Few points say little of the whole opening: hold at more.`);
  const missing = outlet.sections.filter((_, i) => !points.some((p) => p.section === i)).length;
  if (missing > 0) warnings.push(missingWords(missing));
  if (points.some(({ meanMs }) => meanMs < 0)) warnings.push(REVERSED_AIR);
  return resultOf('grid', outlet.plane, flow, about, {
    ...{ outlet: outletId, probe: run.probe.id, velocityMs: flow.velocityMs },
    ...{ variation: flow.variation, each: points.map((p) => p.meanMs), points: message.points },
    warnings: [...warnings, ...headWarnings(anemometer, outlet, flow.velocityMs)],
  });
}

const REVERSED_AIR = sent`At some spots the air goes the other way: look whether the outlet draws air in there.`;
const missingWords = (n: number): string =>
  n === 1
    ? sent`1 section was not measured and counts as the others.`
    : sent`${n} sections were not measured and count as the others.`;

/** What was amiss with the sweep that has ended. */
function sweepWarnings(
  swept: readonly (SweptSection | null)[],
  outlet: OutletState,
  headM: number | null,
): string[] {
  const found: string[] = [];
  const missing = swept.filter((s) => s === null).length;
  if (missing > 0) found.push(missingWords(missing));
  swept.forEach((result, i) => {
    if (result === null) return;
    const size = outlet.sections[i];
    const wanted = size === undefined ? 0 : sectionSeconds(size, headM);
    const add = (text: string): void => {
      const alone = text.charAt(0).toUpperCase() + text.slice(1);
      found.push(swept.length > 1 ? sent`Section ${i + 1}: ${text}` : alone);
    };
    if (result.seconds < wanted / 3) {
      add(
        sent`too fast. ${Math.round(result.seconds)} s where ${Math.round(wanted)} s would tell more.`,
      );
    } else if (result.seconds < 0.8 * wanted) {
      add(
        sent`too short. ${Math.round(result.seconds)} s where ${Math.round(wanted)} s would tell more.`,
      );
    }
    if (Math.abs(result.drift) > UNEVEN) {
      add(sent`uneven. Its two halves differ by ${Math.round(100 * Math.abs(result.drift))} %.`);
    }
    if (result.awayS >= 3) {
      add(sent`the vane stood still for ${Math.round(result.awayS)} s, which does not count.`);
    }
    if (result.gapS >= 2) {
      add(sent`no readings for ${Math.round(result.gapS)} s, which does not count.`);
    }
    if (result.reversed > REVERSED) found.push(REVERSED_AIR);
  });
  return found;
}

/** Whether the anemometer suits the opening. */
function headWarnings(anemometer: Anemometer, outlet: OutletState, velocityMs: number): string[] {
  const { headM, kind, limitMs, limitPct } = anemometer;
  const found: string[] = [];
  const narrowest = Math.min(...outlet.sections.map((s) => Math.min(s.widthM, s.lengthM)));
  const mm = (m: number): string => sent`${Math.round(1000 * m)} mm`;
  if (headM !== null && headM > narrowest) {
    found.push(
      sent`The head (${mm(headM)}) is wider than the opening (${mm(narrowest)}): ± 5 % is added for its edges.`,
    );
  }
  if (headM === null && kind === 'vane') {
    found.push(
      sent`The size of the head is not known: enter it, and the ends that it cannot reach are corrected for.`,
    );
  }
  if (limitMs === undefined && limitPct === undefined) {
    found.push(sent`The accuracy of the anemometer is not known: ± 3 % and 0.1 m/s are assumed.`);
  }
  if (velocityMs < 0.5) {
    found.push(
      sent`The air is slower than 0.5 m/s, where anemometers read poorly: use another plane or method.`,
    );
  }
  return found;
}
