/** Faults that an instructor adds, in words: what they are called, and how bad they are. Pure. */
import { duration } from './times.ts';

const NAMES: Readonly<Record<string, string>> = {
  'dirty-wheel': 'Dirty blower wheel',
  'clogged-filter': 'Loaded filter',
  'dirty-coil': 'Dirty indoor coil',
  'low-charge': 'Low refrigerant charge',
  'other-heads': 'Other heads ask for their share',
  'turned-down': 'Not asked for all it has',
  recirculation: 'The return draws supply air',
  'uneven-outlet': 'Uneven outlet',
  'fan-on-auto': 'Fan on auto',
  reheat: 'Drying with reheat',
  cycling: 'Cycling',
  frost: 'Frost on the outdoor coil',
  'wet-probe': 'Wet supply probe',
  'drifting-probe': 'Drifting supply probe',
  'swapped-probes': 'Return and supply probes swapped',
};
/** "Dirty blower wheel"; of a kind that this page does not know, its own name. */
export const faultName = (kind: string): string => NAMES[kind] ?? kind;

export const FAULT_FORM = {
  title: 'Add a fault',
  what: 'It comes for all trainees at this moment of the class. The right answer then names it, too.',
  kind: 'Fault',
  size: 'How bad',
  noSize: 'It has no size: it is there or not, and stays until the lesson ends.',
  add: 'Add it',
  takeAway: 'Take it away',
  takeAwayOf: (kind: string): string => `Take it away: ${faultName(kind)}`,
};

/** From the least to the most: up to which part of it each word holds. */
const WORDS: readonly (readonly [upTo: number, word: string])[] = [
  [0.02, 'none'],
  [0.3, 'slight'],
  [0.55, 'plain to see'],
  [0.8, 'heavy'],
  [1, 'severe'],
];

export interface FaultRange {
  least: number;
  most: number;
}

/** How bad a fault of that size is: "slight" … "severe"; of one that goes both ways, also which. */
export function severity(size: number, { least, most }: FaultRange): string {
  if (least === most) return 'there';
  if (least >= 0) return wordFor((size - least) / (most - least));
  const word = wordFor(Math.abs(size) / Math.max(most, -least));
  if (word === 'none') return word;
  return size > 0 ? `${word}, reads ever higher` : `${word}, reads ever lower`;
}

function wordFor(part: number): string {
  return WORDS.find(([upTo]) => part <= upTo)?.[1] ?? 'severe';
}

/** "Dirty blower wheel: heavy, from 12 min on". @param range of its kind, null where it is not known */
export function addedWords(
  { kind, size, t }: { kind: string; size: number; t: number },
  startT: number,
  range: FaultRange | null,
): string {
  const how = range === null ? '' : `: ${severity(size, range)}`;
  return `${faultName(kind)}${how}, from ${duration((t - startT) / 1000)} on`;
}
