/** Faults that an instructor adds, in words: what they are called, and how bad they are. Pure. */
import { duration } from './times.ts';
import { t as say } from '../../server/words/language.ts';

const NAMES: Readonly<Record<string, string>> = {
  'dirty-wheel': say`Dirty blower wheel`,
  'clogged-filter': say`Loaded filter`,
  'dirty-coil': say`Dirty indoor coil`,
  'low-charge': say`Low refrigerant charge`,
  'other-heads': say`Other heads ask for their share`,
  'turned-down': say`Not asked for all it has`,
  recirculation: say`The return draws supply air`,
  'uneven-outlet': say`Uneven outlet`,
  'fan-on-auto': say`Fan on auto`,
  reheat: say`Drying with reheat`,
  cycling: say`Cycling`,
  frost: say`Frost on the outdoor coil`,
  'wet-probe': say`Wet supply probe`,
  'drifting-probe': say`Drifting supply probe`,
  'swapped-probes': say`Return and supply probes swapped`,
};
/** "Dirty blower wheel"; of a kind that this page does not know, its own name. */
export const faultName = (kind: string): string => NAMES[kind] ?? kind;

export const FAULT_FORM = {
  title: say`Add a fault`,
  what: say`It comes for all trainees at this moment of the class. The right answer then names it, too.`,
  kind: say`Fault`,
  size: say`How bad`,
  noSize: say`It has no size: it is there or not, and stays until the lesson ends.`,
  add: say`Add it`,
  takeAway: say`Take it away`,
  takeAwayOf: (kind: string): string => say`Take it away: ${faultName(kind)}`,
};

const NONE = say`none`;
const SEVERE = say`severe`;
/** From the least to the most: up to which part of it each word holds. */
const WORDS: readonly (readonly [upTo: number, word: string])[] = [
  [0.02, NONE],
  [0.3, say`slight`],
  [0.55, say`plain to see`],
  [0.8, say`heavy`],
  [1, SEVERE],
];

export interface FaultRange {
  least: number;
  most: number;
}

/** How bad a fault of that size is: "slight" … "severe"; of one that goes both ways, also which. */
export function severity(size: number, { least, most }: FaultRange): string {
  if (least === most) return say`there`;
  if (least >= 0) return wordFor((size - least) / (most - least));
  const word = wordFor(Math.abs(size) / Math.max(most, -least));
  if (word === NONE) return word;
  return size > 0 ? say`${word}, reads ever higher` : say`${word}, reads ever lower`;
}

function wordFor(part: number): string {
  return WORDS.find(([upTo]) => part <= upTo)?.[1] ?? SEVERE;
}

/** "Dirty blower wheel: heavy, from 12 min on". @param range of its kind, null where it is not known */
export function addedWords(
  { kind, size, t }: { kind: string; size: number; t: number },
  startT: number,
  range: FaultRange | null,
): string {
  const how = range === null ? '' : `: ${severity(size, range)}`;
  return say`${faultName(kind)}${how}, from ${duration((t - startT) / 1000)} on`;
}
