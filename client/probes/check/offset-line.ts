/** The geometry of the picture of a check: a line of differences from the mean of all probes. */
import { niceStep } from '../../chart/ticks.ts';
import type { Check, ProbeState } from '../../../server/protocol.ts';
import type { Scale } from '../../words/scales.ts';

/** One probe on the line, SI. */
export interface Mark {
  id: string;
  name: string;
  place: ProbeState['place'];
  /** How far it reads from the mean of all; null: not known yet. */
  offset: number | null;
  /** The ± of its data sheet; null where it has none. */
  limit: number | null;
  /** Found to be off, and in this quantity beyond its own limit; never before there is a verdict. */
  beyond: boolean;
}

/** The probes of a check on the line of a quantity. */
export function marksOf(
  check: Check,
  probes: Record<string, ProbeState>,
  quantity: 'temperature' | 'humidity',
): Mark[] {
  const isTemperature = quantity === 'temperature';
  return Object.entries(check.probes).map(([id, found]) => {
    const probe = probes[id];
    const { temperatureC, humidityPct } = probe?.limits ?? {};
    const offset = isTemperature ? found.temperatureOffsetC : found.humidityOffsetPct;
    const limit = (isTemperature ? temperatureC : humidityPct) ?? null;
    return {
      id,
      name: probe?.name ?? id,
      place: probe?.place ?? null,
      offset,
      limit,
      beyond:
        check.verdict === 'off' &&
        found.agrees === false &&
        Math.abs(offset ?? 0) > (limit ?? Infinity),
    };
  });
}

/**
 * How far the line reaches to either side of the mean, SI: a round number in shown units that holds
 * every probe with its limit.
 */
export function extentOf(marks: readonly Mark[], scale: Scale): number {
  const widest = Math.max(
    scale.read(10 * scale.finest),
    ...marks.map(({ offset, limit }) => Math.abs(offset ?? 0) + (limit ?? 0)),
  );
  return scale.read(niceStep(scale.show(widest)));
}

/** Where a difference stands on the line, % of its width. */
export const along = (difference: number, extent: number): number =>
  50 + (50 * difference) / extent;
