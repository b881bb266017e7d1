/**
 * The figure as it is shown: one smoothing and one decimal place for the total and its parts, so that all
 * places of a screen print the same number and the parts add up as printed. Pure.
 */
import type { CapacitySnapshot, State, UnitSnapshot } from '../protocol.ts';
import { type Figure, lastPlace, written } from './figures.ts';
import type { Scale } from './scales.ts';

/** A total and what it is made of, W; null where there is none. */
export type Parts = Pick<
  CapacitySnapshot,
  'totalW' | 'sensibleW' | 'latentW' | 'totalU95W' | 'sensibleU95W' | 'latentU95W'
>;

export interface ShownParts {
  total: Figure;
  sensible: Figure;
  latent: Figure;
}

/** Parts that miss their total by more than this share of a printed step are not its parts. */
const MISS = 0.01;

/**
 * A total and its parts, ready to print. The total is rounded to its interval; its parts to the same
 * place, the one whose rounding moved it furthest giving way where they would not add up.
 */
export function shownParts(parts: Parts, scale: Scale): ShownParts {
  const { totalW, sensibleW, latentW, totalU95W, sensibleU95W, latentU95W } = parts;
  const intervalOf = (w: number | null): number | null =>
    w === null || !Number.isFinite(w) ? null : Math.abs(scale.show(w) - scale.show(0));
  const u95 = intervalOf(totalU95W);
  // An interval is never shown as nought, nor finer than its figure.
  const place = u95 === null ? scale.finest : lastPlace(Math.max(u95, scale.finest), scale.finest);
  const stepsOf = (w: number | null): number | null =>
    w === null || !Number.isFinite(w) ? null : scale.show(w) / place;
  const [total, sensible, latent] = inSteps(stepsOf(totalW), stepsOf(sensibleW), stepsOf(latentW));
  const figureOf = (steps: number | null, intervalW: number | null): Figure => {
    if (steps === null) return { value: null, interval: null };
    const interval = intervalOf(intervalW);
    return {
      value: written(steps * place, place),
      interval: interval === null ? null : written(Math.max(interval, place), place),
    };
  };
  return {
    total: figureOf(total, totalU95W),
    sensible: figureOf(sensible, sensibleU95W),
    latent: figureOf(latent, latentU95W),
  };
}

type Steps = number | null;

/** Whole steps of a total and its two parts that add up; without a part, each for itself. */
function inSteps(t: Steps, s: Steps, l: Steps): [Steps, Steps, Steps] {
  const round = (x: Steps): Steps => (x === null ? null : Math.round(x));
  if (t === null || s === null || l === null || Math.abs(s + l - t) > MISS) {
    return [round(t), round(s), round(l)];
  }
  const total = Math.round(t);
  const sensible = Math.round(s);
  const latent = Math.round(l);
  const over = sensible + latent - total;
  const movedS = (sensible - s) * over;
  const movedL = (latent - l) * over;
  return movedS > movedL ? [total, sensible - over, latent] : [total, sensible, latent - over];
}

/** A printed figure with its unit: "2.64 ± 0.11 kW"; null where there is none. */
export function figureText({ value, interval }: Figure, { sign }: Scale): string | null {
  if (value === null) return null;
  return `${value}${interval === null ? '' : `\u00a0±\u00a0${interval}`}\u202f${sign}`;
}

/** What is shown as the total: the level of the last seconds, W; null where there is none. */
export const levelOf = ({ capacity, settling }: UnitSnapshot): number | null =>
  capacity.totalW === null ? null : settling.levelW;

/** The capacity of a unit as it is shown: all of it as means over the same last seconds. */
export function shownCapacity(unit: UnitSnapshot): CapacitySnapshot {
  const { capacity, settling } = unit;
  const totalW = levelOf(unit);
  const sensibleW = totalW === null ? null : settling.levelSensibleW;
  const latentW = totalW === null ? null : settling.levelLatentW;
  const { sensibleHeatRatio: ratio, condensateKgh, latentW: nowW } = capacity;
  return {
    ...capacity,
    ...{ totalW, sensibleW, latentW },
    sensibleHeatRatio:
      ratio === null || totalW === null || sensibleW === null ? null : sensibleW / totalW,
    // Water goes with the latent part.
    condensateKgh:
      condensateKgh === null || latentW === null || nowW === null || nowW === 0
        ? condensateKgh
        : (condensateKgh * latentW) / nowW,
  };
}

/** All units together as they are shown; null where one of them has no figure, or another mode. */
export function shownSum({ units, sum }: Pick<State, 'units' | 'sum'>): {
  totalW: number | null;
  totalU95W: number | null;
} {
  const { totalU95W } = sum;
  if (sum.totalW === null) return { totalW: null, totalU95W };
  const totalW = Object.values(units).reduce((all, unit) => all + (levelOf(unit) ?? NaN), 0);
  return { totalW, totalU95W };
}
