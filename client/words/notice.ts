/** What a notice says, and what is said of how it comes. */
import { cyclesOf } from '../../server/words/cycles.ts';
import type { UnitSnapshot } from '../../server/protocol.ts';
import { NO_FIGURE, withInterval } from './figures.ts';
import { cycleMeanOf } from './plateau.ts';
import type { Scale } from './scales.ts';
import { stateWord } from './settling.ts';
import { figureText, shownCapacity, shownParts } from './shown.ts';
import { clockMinutes } from './times.ts';
import { t as say } from '../../server/words/language.ts';

/**
 * "Reading room is steady" and "2.64 ± 0.11 kW at 14:05."
 * @param kind of the turn: `cycling` where the mean of a unit that cycles can be written down
 * @param t the server's time of the snapshot, ms since the epoch
 */
export function noticeWords(
  kind: 'steady' | 'cycling' | 'lost',
  name: string,
  unit: UnitSnapshot,
  t: number,
  power: Scale,
): { title: string; text: string } {
  const at = say`at ${clockMinutes(t)}`;
  const shown = shownParts(shownCapacity(unit), power).total;
  const figure = figureText(shown, power) ?? NO_FIGURE;
  switch (kind) {
    case 'steady':
      return { title: say`${name} is steady`, text: `${figure} ${at}.` };
    case 'cycling': {
      const mean = cycleMeanOf(unit);
      const written = withInterval(mean?.meanW ?? null, mean?.u95W ?? null, power);
      return {
        title: say`${name} is cycling: capture its mean`,
        text: say`${written} over ${cyclesOf(mean?.count ?? 0)} ${at}.`,
      };
    }
    case 'lost':
      return {
        title: say`${name} is no longer steady`,
        text: say`${figure} ${at}, now ${stateWord(unit.settling).toLowerCase()}.`,
      };
  }
}

/** How a person is called. */
export interface Calls {
  sound: boolean;
  /** The browser lets nothing be heard before the page was touched. */
  isHeard: boolean;
  vibration: boolean;
  notification: boolean;
  /** Spoken words. */
  speech: boolean;
  /** The figure as large as the screen. */
  large: boolean;
}

/** "Calls you when steady: sound, vibration." */
export function callWords({
  sound,
  isHeard,
  vibration,
  notification,
  speech,
  large,
}: Calls): string {
  const ways = [
    ...(sound ? [isHeard ? say`sound` : say`sound (touch the page once first)`] : []),
    ...(vibration ? [say`vibration`] : []),
    ...(notification ? [say`notification`] : []),
    ...(speech ? [say`spoken words`] : []),
    ...(large ? [say`large figure`] : []),
  ];
  return ways.length === 0
    ? say`Does not call you when steady.`
    : say`Calls you when steady: ${ways.join(', ')}.`;
}

/** Signs as they are said aloud. */
const ALOUD: [sign: RegExp, said: string][] = [
  [/\s*±\s*/g, say` plus or minus `],
  [/\s*kW\b/g, say` kilowatts`],
  [/\s*Btu\/h\b/g, say` B T U per hour`],
  [/(\d)[,\u202f\u00a0](?=\d{3}\b)/g, '$1'],
  [/−(?=\d)/g, say`minus `],
];

/** A notice as a voice says it: "2.64 plus or minus 0.11 kilowatts at 14:05." */
export const spokenWords = (text: string): string =>
  ALOUD.reduce((said, [sign, words]) => said.replace(sign, words), text);
