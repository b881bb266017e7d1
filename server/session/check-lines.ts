/**
 * Checks of the same probes in different air, taken together: a probe's offset is then known as a
 * straight line over temperature (and humidity), in the manner of JCGM 100:2008, H.3, so that what is
 * taken off in the cold supply air is not what was found in the warm room.
 */
import { fitLine, type Line, predict } from '../measure/line-fit.ts';

/** One check's finding of one probe in one quantity, and where on the scale it was made. */
export interface LinePoint {
  at: number;
  offset: number;
  u: number;
}

/** Checks must lie this far apart to tell a slope: K, and % RH (common practice, no source). */
export const APART = { temperature: 5, humidity: 15 };
/** No check knows an offset better than this, whatever its scatter says: K, and % RH. */
const LEAST_U = { temperature: 0.01, humidity: 0.1 };

/** An offset along the scale. With one check it is the same everywhere. */
export interface OffsetLine {
  points: readonly LinePoint[];
  /** Null with one check, or with checks that lie too close together. */
  line: Line | null;
}

/** Adds a check: those made close to it are replaced by it. */
export function withPoint(
  before: OffsetLine | null,
  point: LinePoint,
  quantity: keyof typeof APART,
): OffsetLine {
  const apart = APART[quantity];
  const kept = (before?.points ?? []).filter((p) => Math.abs(p.at - point.at) >= apart);
  const points = [...kept, point];
  if (points.length < 2) return { points, line: null };
  const line = fitLine(
    points.map((p) => p.at),
    points.map((p) => p.offset),
    point.at,
    points.map((p) => Math.max(p.u, LEAST_U[quantity])),
  );
  return { points, line };
}

/** The offset to take off a reading, its standard uncertainty, and how far it is from any check. */
export function offsetAt(
  { points, line }: OffsetLine,
  reading: number,
): { offset: number; u: number; away: number } {
  let low = Infinity;
  let high = -Infinity;
  for (const { at } of points) {
    low = Math.min(low, at);
    high = Math.max(high, at);
  }
  const away = Math.max(0, low - reading, reading - high);
  if (line === null) {
    const last = points.at(-1);
    return {
      offset: last?.offset ?? 0,
      u: last?.u ?? 0,
      away: Math.abs(reading - (last?.at ?? reading)),
    };
  }
  const { y, u } = predict(line, reading);
  return { offset: y, u, away };
}
