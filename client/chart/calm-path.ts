/**
 * A path through the means of narrow strips of a column. Drawn through every reading, the noise would
 * use up the dashes and the line style could not be told any more; so all lines are drawn like this,
 * and none looks calmer than its parts.
 */
import type uPlot from 'uplot';

/** Width of a strip, CSS pixels. */
const STRIP = 4;

export function calmPath(u: uPlot, series: number, from: number, to: number): uPlot.Series.Paths {
  const stroke = new Path2D();
  const times = u.data[0];
  const values = u.data[series] ?? [];
  const scale = u.series[series]?.scale ?? 'y';
  const strip = STRIP * devicePixelRatio;
  let sumX = 0;
  let sumY = 0;
  let count = 0;
  let end = -Infinity;
  let broken = true;

  function finish(): void {
    if (count === 0) return;
    if (broken) stroke.moveTo(sumX / count, sumY / count);
    else stroke.lineTo(sumX / count, sumY / count);
    broken = false;
    sumX = 0;
    sumY = 0;
    count = 0;
  }

  for (let i = from; i <= to; i++) {
    const value = values[i];
    const t = times[i];
    if (value === null || value === undefined || t === undefined) {
      finish();
      broken = true;
      continue;
    }
    const x = u.valToPos(t, 'x', true);
    if (x > end) {
      finish();
      end = x + strip;
    }
    sumX += x;
    sumY += u.valToPos(value, scale, true);
    count++;
  }
  finish();
  return { stroke };
}
