/**
 * A report before it is drawn: its blocks in order, every text and number in it as it will be read. Nothing
 * here knows of paper.
 */
import type { ChartPoint } from '../measure/air-region.ts';
import type { PsychrometricChart } from '../measure/psychrometric-chart.ts';

export interface ReportContent {
  title: string;
  /** What stands across every page; null: nothing does. */
  mark: string | null;
  /** At the foot of every page. */
  foot: string;
  blocks: Block[];
}

export interface Fact {
  name: string;
  text: string;
}

export type Block =
  | { kind: 'title'; text: string; under: string[] }
  | { kind: 'heading'; level: 2 | 3; text: string; newPage?: boolean }
  | { kind: 'text'; text: string; tone: 'plain' | 'quiet' | 'strong' }
  | { kind: 'figure'; name: string; text: string; parts: Fact[] }
  | { kind: 'facts'; facts: Fact[] }
  | { kind: 'list'; items: string[] }
  | TableBlock
  | { kind: 'bars'; bars: { name: string; share: number; text: string }[] }
  | { kind: 'course'; alt: string; course: Course }
  | { kind: 'air'; alt: string; picture: AirPicture }
  | { kind: 'map'; alt: string; map: VelocityMap }
  | { kind: 'beside'; left: Block[]; right: Block[] }
  | { kind: 'signatures'; names: string[] };

export interface TableBlock {
  kind: 'table';
  /** Parts of the width; a column of numbers is set to the right. */
  columns: { name: string; width: number; isNumber?: boolean }[];
  rows: string[][];
}

/** A figure over time, in the units that are read. */
export interface Course {
  axis: string;
  t: number[];
  value: (number | null)[];
  /** Half-width of the 95 % interval. */
  half: (number | null)[];
  /** Captures: what they are called, and which one the report is about. */
  spans: { from: number; to: number; name: string; isResult: boolean }[];
  marks: { t: number; text: string }[];
}

/** The process on a psychrometric chart, with the texts at its lines. */
export interface AirPicture {
  chart: PsychrometricChart;
  from: ChartPoint;
  to: ChartPoint;
  fromTrail: ChartPoint[];
  toTrail: ChartPoint[];
  outlines: { place: 'return' | 'supply'; points: ChartPoint[] }[];
  /** In the order of `dryBulbsC`, `humidityRatios` and `lines` of the chart; empty: none. */
  dryBulbs: string[];
  moistures: string[];
  lineNames: string[];
  axes: { dryBulb: string; moisture: string };
}

/** Velocities over an opening: sections side by side, each with rows along its width. */
export interface VelocityMap {
  sections: {
    widthM: number;
    lengthM: number;
    /** Rows of cells; `level` is the part of the highest velocity, 0 to 1. */
    rows: { text: string; level: number }[][];
  }[];
}
