/** Where the marks of an axis stand: round numbers of the shown unit, whatever SI lies beneath. */
import type { Scale } from '../words/scales.ts';

/** The smallest of 1, 2, 5 × 10ⁿ that is not less than `atLeast`. */
export function niceStep(atLeast: number): number {
  const power = 10 ** Math.floor(Math.log10(atLeast));
  const leading = atLeast / power;
  const nice = [1, 2, 5, 10].find((candidate) => leading <= candidate + 1e-9) ?? 10;
  return nice * power;
}

/** The step, in shown units, that gives about `count` marks between two SI values. */
export function stepFor(minSi: number, maxSi: number, count: number, scale: Scale): number {
  return niceStep((scale.show(maxSi) - scale.show(minSi)) / Math.max(1, count));
}

/** The SI values between two bounds at which the shown number is a multiple of `step`. */
export function marks(minSi: number, maxSi: number, step: number, scale: Scale): number[] {
  const first = Math.ceil(scale.show(minSi) / step - 1e-9) + 0; // not −0
  const last = Math.floor(scale.show(maxSi) / step + 1e-9);
  const found: number[] = [];
  for (let i = first; i <= last; i++) found.push(scale.read(i * step));
  return found;
}

/**
 * Bounds for an axis of power: nought is always in view, and the top is a whole step above the
 * data, so that the scale does not move with every snapshot. Below nought there is only as much as
 * the data needs.
 */
export function powerBounds(
  dataMinW: number | null,
  dataMaxW: number | null,
  scale: Scale,
): [number, number] {
  const top = Math.max(dataMaxW ?? 0, 400) * 1.06;
  const bottom = Math.min(dataMinW ?? 0, 0) * 1.06;
  const step = stepFor(bottom, top, 8, scale);
  return [bottom, scale.read(Math.ceil(scale.show(top) / step) * step)];
}

/** Bounds for an axis of temperature: the data with a little air, whole steps, at least 4 K. */
export function temperatureBounds(
  dataMinC: number | null,
  dataMaxC: number | null,
  scale: Scale,
): [number, number] {
  const low = dataMinC ?? 15;
  const high = dataMaxC ?? 25;
  const spare = Math.max(0.5, (4 - (high - low)) / 2);
  const step = stepFor(low - spare, high + spare, 6, scale);
  return [
    scale.read(Math.floor(scale.show(low - spare) / step) * step),
    scale.read(Math.ceil(scale.show(high + spare) / step) * step),
  ];
}
