/**
 * The psychrometric chart as geometry, for any barometric pressure: dry bulb across, humidity ratio up,
 * saturation, lines of constant relative humidity and of constant wet bulb. Points are in SI (°C, kg/kg
 * of dry air); the page and the report draw them in their own units. The form is that of the ASHRAE
 * Handbook—Fundamentals, ch. 1, but with straight axes at right angles: lines of constant dry bulb are
 * parallel here.
 */
import type { ChartPoint } from './air-region.ts';
import { humidityRatio, humidityRatioFromWetBulb, saturationHumidityRatio } from './moist-air.ts';

export type { ChartPoint } from './air-region.ts';

/** Where the round numbers of a chart lie; a grid in °F has its own. */
export interface ChartGrid {
  /** One temperature that has a line, °C, and how far the next one is, K. */
  fromC: number;
  stepC: number;
  /** Humidity ratio from line to line, kg/kg; the first one is at 0. */
  stepW: number;
}

/** Every 5 °C and 5 g/kg; every 10 °F and 20 grains a pound (7000 grains are one). */
export const SI_GRID: ChartGrid = { fromC: 0, stepC: 5, stepW: 0.005 };
export const IP_GRID: ChartGrid = { fromC: -160 / 9, stepC: 50 / 9, stepW: 20 / 7000 };

/** What a chart reaches over. Humidity ratio begins at 0. */
export interface ChartFrame {
  pPa: number;
  lowC: number;
  highC: number;
  topW: number;
}

export interface ChartLine {
  kind: 'saturation' | 'humidity' | 'wet-bulb';
  /** Relative humidity, %, or wet bulb, °C. */
  value: number;
  points: ChartPoint[];
}

export interface PsychrometricChart {
  frame: ChartFrame;
  lines: ChartLine[];
  /** Round dry bulbs and humidity ratios within the frame. */
  dryBulbsC: number[];
  humidityRatios: number[];
}

/** Room about the air that is shown, K and as a part of the largest humidity ratio. */
const ROOM_K = 3;
const ROOM_W = 0.25;
/** A chart is so wide and so high at least: process lines are compared from visit to visit. */
const LEAST_STEPS = 4;
const HUMIDITIES = [20, 40, 60, 80];
/** From point to point of a curve, K. */
const FINE_K = 0.5;

/** Limits of moist-air.ts, within which a chart stays. */
const COLDEST_C = -40;
const HOTTEST_C = 80;

/** A frame on round numbers that holds all of these points. */
export function frameAround(
  points: readonly ChartPoint[],
  pPa: number,
  { fromC, stepC, stepW }: ChartGrid,
): ChartFrame {
  const temperatures = points.map(({ temperatureC }) => temperatureC);
  const below = (t: number): number => fromC + Math.floor((t - fromC) / stepC) * stepC;
  let lowC = below(Math.max(COLDEST_C, Math.min(...temperatures) - ROOM_K));
  const above = (t: number): number => fromC + Math.ceil((t - fromC) / stepC) * stepC;
  let highC = above(Math.min(HOTTEST_C, Math.max(...temperatures) + ROOM_K));
  for (let wider = 0; highC - lowC < (LEAST_STEPS - 0.5) * stepC; wider++) {
    if (wider % 2 === 0) lowC -= stepC;
    else highC += stepC;
  }
  const most = Math.max(...points.map((point) => point.humidityRatio)) * (1 + ROOM_W);
  const topW = Math.max(LEAST_STEPS, Math.ceil(most / stepW)) * stepW;
  return { pPa, lowC, highC, topW };
}

/** All lines of a chart within its frame. */
export function psychrometricChart(frame: ChartFrame, grid: ChartGrid): PsychrometricChart {
  const { lowC, highC, topW } = frame;
  const dryBulbsC = rounds(lowC, highC, grid);
  const humidityRatios: number[] = [];
  for (let k = 0; k * grid.stepW <= topW * (1 + 1e-9); k++) humidityRatios.push(k * grid.stepW);
  const lines: ChartLine[] = [
    { kind: 'saturation', value: 100, points: curve(frame, 100) },
    ...HUMIDITIES.map((value): ChartLine => {
      return { kind: 'humidity', value, points: curve(frame, value) };
    }),
    ...rounds(lowC - 4 * grid.stepC, highC, grid).flatMap((value): ChartLine[] => {
      const points = value < COLDEST_C ? [] : wetBulbLine(frame, value);
      return points.length < 2 ? [] : [{ kind: 'wet-bulb', value, points }];
    }),
  ];
  return { frame, lines, dryBulbsC, humidityRatios };
}

/** The round temperatures from `low` to `high`, °C. */
function rounds(low: number, high: number, { fromC, stepC }: ChartGrid): number[] {
  const first = Math.ceil((low - fromC) / stepC - 1e-9);
  const last = Math.floor((high - fromC) / stepC + 1e-9);
  return Array.from(
    { length: Math.max(0, last - first + 1) },
    (_, i) => fromC + (first + i) * stepC,
  );
}

/** A line of constant relative humidity, from the left edge to the right one or to the top. */
function curve({ pPa, lowC, highC, topW }: ChartFrame, rhPct: number): ChartPoint[] {
  const at = (temperatureC: number): ChartPoint => ({
    temperatureC,
    humidityRatio: humidityRatio(temperatureC, rhPct, pPa),
  });
  const points: ChartPoint[] = [];
  for (let t = lowC; t < highC; t += FINE_K) {
    const point = at(t);
    if (point.humidityRatio > topW) break;
    points.push(point);
  }
  const last = points.at(-1);
  if (last === undefined) return points;
  const end = Math.min(last.temperatureC + FINE_K, highC);
  // It leaves through the top: where that is.
  points.push(at(crossing(last.temperatureC, end, (t) => at(t).humidityRatio - topW)));
  return points;
}

/**
 * A line of constant wet bulb, from saturation down to dry air or to an edge: nearly straight, as W follows
 * from t by a ratio of two straight lines.
 */
function wetBulbLine({ pPa, lowC, highC, topW }: ChartFrame, wetBulbC: number): ChartPoint[] {
  const w = (t: number): number => humidityRatioFromWetBulb(t, wetBulbC, pPa);
  const isOver = saturationHumidityRatio(wetBulbC, pPa) > topW;
  const far = highC + 1;
  const begin = isOver ? crossing(wetBulbC, far, (t) => topW - w(t)) : wetBulbC;
  const from = Math.max(begin, lowC);
  // Dry air of that wet bulb is beyond the right edge, or here.
  const to = Math.min(
    highC,
    crossing(from, far, (t) => -w(t)),
  );
  if (to <= from || w(from) <= 0) return [];
  const pieces = Math.max(1, Math.ceil((to - from) / (8 * FINE_K)));
  return Array.from({ length: pieces + 1 }, (_, i) => {
    const temperatureC = from + ((to - from) * i) / pieces;
    return { temperatureC, humidityRatio: Math.max(0, w(temperatureC)) };
  });
}

/** Where a rising function passes 0 between `low` and `high`; `high` where it does not. */
function crossing(low: number, high: number, rising: (t: number) => number): number {
  if (rising(high) <= 0) return high;
  let a = low;
  let b = high;
  for (let i = 0; i < 48; i++) {
    const middle = (a + b) / 2;
    if (rising(middle) > 0) b = middle;
    else a = middle;
  }
  return a;
}
