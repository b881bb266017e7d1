/** How a visit was made, as far as the best possible judge is told (best-judge.ts). */
import type { Spectrum } from './hover.ts';
import type { Shape } from './shapes.ts';

/** What the best judge is told. Times in s. */
export interface Knowledge {
  hover: { share: number; spectrum: Spectrum };
  /** Of each change: when the way begins, and its shape. */
  ways: { beginS: number; shape: Shape }[];
  /** The drift of the level, as a factor. */
  drift: (s: number) => number;
  lagS: number;
  noiseW: number;
  memoryS: number;
  intervalS: number;
  nominalW: number;
}
