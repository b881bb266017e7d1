/** Whole cycles in words, in the language that is spoken. */
import * as cycles from '../measure/whole-cycles.ts';
import { translated } from './language.ts';

/** "one whole cycle", "4 whole cycles" */
export const cyclesOf = (count: number): string => translated(cycles.cyclesOf(count));
/** "2 whole cycles so far, a mean needs more" */
export const moreCyclesWords = (count: number): string => translated(cycles.moreCyclesWords(count));
