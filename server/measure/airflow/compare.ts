/**
 * Several flows of one unit: do they agree, and what do they make together? An error that both have (the
 * anemometer, the outlet's area) cannot make them differ, so it is left out of the test of their
 * difference; and it does not get smaller in their mean.
 */
import { halfWidth95, type Uncertain } from '../gum.ts';
import type { FlowError, MeasuredFlow } from './flow-error.ts';

export interface FlowDifference {
  /** The second over the first, less 1. */
  relative: number;
  /** Half-width of its 95 % interval, shared errors left out. */
  u95: number;
  /** Whether it could be nothing. */
  agree: boolean;
  /** Whether they have an error in common. */
  shared: boolean;
}

/** Compares two flows. */
export function compareFlows(a: MeasuredFlow, b: MeasuredFlow): FlowDifference {
  const relative = b.flowM3s / a.flowM3s - 1;
  const own: Uncertain[] = [];
  let shared = false;
  for (const error of a.errors) {
    const same = twin(error, b.errors);
    if (same === undefined) own.push(error.relative);
    else {
      shared = true;
      // What is left of it where the two are not of one size.
      own.push({ ...error.relative, u: Math.abs(error.relative.u - same.relative.u) });
    }
  }
  for (const error of b.errors) {
    if (twin(error, a.errors) === undefined) own.push(error.relative);
  }
  const u95 = halfWidth95(own) * (1 + relative);
  return { relative, u95, agree: Math.abs(relative) <= u95, shared };
}

const twin = (error: FlowError, among: readonly FlowError[]): FlowError | undefined =>
  error.shared === null
    ? undefined
    : among.find((e) => e.shared === error.shared && e.cause === error.cause);

/**
 * The mean of two flows, weighted by how sure each is; only of two that agree and have no error in
 * common.
 * @returns null where they may not be combined
 */
export function combineFlows(a: MeasuredFlow, b: MeasuredFlow): MeasuredFlow | null {
  const { agree, shared } = compareFlows(a, b);
  if (!agree || shared) return null;
  const wa = weight(a);
  const wb = weight(b);
  const part = (wa * a.flowM3s) / (wa * a.flowM3s + wb * b.flowM3s);
  return {
    flowM3s: (wa * a.flowM3s + wb * b.flowM3s) / (wa + wb),
    errors: [...scaled(a.errors, part), ...scaled(b.errors, 1 - part)],
  };
}

/** 1/u², m³/s. */
function weight({ flowM3s, errors }: MeasuredFlow): number {
  const u = flowM3s * Math.hypot(...errors.map((e) => e.relative.u));
  return 1 / u ** 2;
}

const scaled = (errors: readonly FlowError[], part: number): FlowError[] =>
  errors.map((e) => ({ ...e, relative: { ...e.relative, u: e.relative.u * part } }));
