/** Where the air was on the psychrometric chart in the last minutes. Pure. */
import type { ChartPoint } from '../../server/measure/psychrometric-chart.ts';

export interface TrailPoint {
  t: number;
  from: ChartPoint;
  to: ChartPoint;
}

const EVERY_MS = 5000;
const KEPT_MS = 10 * 60_000;
/** After such a silence the trail begins anew, as it does where time goes back. */
const GAP_MS = 30_000;

/** The trail with one point more, where it is time for one; the same array where it is not. */
export function trailWith(trail: readonly TrailPoint[], point: TrailPoint): readonly TrailPoint[] {
  const sinceMs = point.t - (trail.at(-1)?.t ?? -Infinity);
  if (sinceMs < 0 || sinceMs > GAP_MS) return [point];
  if (sinceMs < EVERY_MS) return trail;
  return [...trail.filter(({ t }) => point.t - t <= KEPT_MS), point];
}
