/** The way from where a unit is to where it is heading, as it is drawn ahead of now. */
import type { SettlingSnapshot } from '../../server/protocol.ts';

export interface Forecast {
  /** From when on it is drawn, ms since the epoch. */
  from: number;
  /** What is delivered then, W. */
  levelW: number;
  plateauW: number;
  /** Half of the plateau's 95 % interval, W. */
  plateauU95W: number | null;
  /** Time constant of the approach, s; null: only the level is known, not the way to it. */
  approachS: number | null;
}

/** A forecast that can be drawn; null where there is none. @param now time of the last data, ms */
export function forecastOf(
  settling: SettlingSnapshot | null,
  totalW: number | null,
  now: number | null,
): Forecast | null {
  if (settling === null || now === null || settling.state !== 'settling') return null;
  const { plateauW, plateauU95W, approachS, defrost } = settling;
  const levelW = settling.levelW ?? totalW;
  if (plateauW === null || levelW === null || defrost !== null) return null;
  return { from: now, levelW, plateauW, plateauU95W, approachS };
}

/** The forecast at a time: the likely value and the ends of its interval, W. */
export interface Ahead {
  t: number;
  valueW: number;
  lowW: number;
  highW: number;
}

/** A curve is drawn by so many points. */
const POINTS = 48;

/**
 * The forecast from its beginning to a time. On the way, the interval opens as the curve comes near
 * to the plateau: what is delivered now is known. Without a way, the level stands from the start.
 */
export function aheadOf(forecast: Forecast, to: number): Ahead[] {
  const { from, levelW, plateauW, plateauU95W, approachS } = forecast;
  if (to <= from) return [];
  return Array.from({ length: POINTS + 1 }, (_, i) => {
    const t = from + ((to - from) * i) / POINTS;
    const left = approachS === null ? 0 : Math.exp(-(t - from) / (1000 * Math.max(approachS, 1)));
    const valueW = plateauW + (levelW - plateauW) * left;
    const half = (plateauU95W ?? 0) * (1 - left);
    return { t, valueW, lowW: valueW - half, highW: valueW + half };
  });
}
