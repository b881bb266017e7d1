/** What a measured airflow may be off by, cause by cause, so that flows can be compared and combined. */
import { halfWidth95, shapeOfSum, type Uncertain } from '../gum.ts';
import { student95 } from '../student.ts';
import { NORMAL } from '../gum.ts';

/** Where an error comes from. */
export type FlowCause =
  | 'instrument'
  | 'density'
  | 'area'
  | 'free-area'
  | 'ends'
  | 'slot'
  | 'repeats'
  | 'points'
  | 'scatter'
  | 'water'
  | 'pan'
  | 'moisture'
  | 'power'
  | 'escape'
  | 'temperature'
  | 'reference'
  | 'table';

/** One error of a flow. */
export interface FlowError {
  cause: FlowCause;
  /** Standard uncertainty as a part of the flow. */
  relative: Uncertain;
  /** Names an error that other flows may have as well: an anemometer, an outlet; null: its own. */
  shared: string | null;
}

/** A flow by whatever method, with its errors. */
export interface MeasuredFlow {
  flowM3s: number;
  errors: readonly FlowError[];
}

/** Half-width of the 95 % interval, m³/s. */
export function flowU95({ flowM3s, errors }: MeasuredFlow): number {
  return flowM3s * halfWidth95(errors.map(({ relative }) => relative));
}

/** All errors of a flow as one, relative. */
export function wholeError(errors: readonly FlowError[]): Uncertain {
  const parts = errors.map(({ relative }) => relative);
  return { u: Math.hypot(...parts.map(({ u }) => u)), shape: shapeOfSum(parts) };
}

/**
 * A scatter that is known from few figures: widened so that 1.96 of it is Student's 95 % (JCGM 100:2008,
 * G.3).
 */
export function ofDegrees(u: number, degrees: number): Uncertain {
  return { u: (u * student95(degrees + 1e-9)) / 1.96, shape: NORMAL };
}

/** Errors without those that are nothing. */
export function errorsOf(
  parts: readonly (readonly [FlowCause, Uncertain, string | null])[],
): FlowError[] {
  return parts
    .filter(([, { u }]) => u > 0)
    .map(([cause, relative, shared]) => ({ cause, relative, shared }));
}
