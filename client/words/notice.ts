/** What a notice says, and what is said of how it comes. */
import { cyclesOf } from '../../server/measure/whole-cycles.ts';
import type { UnitSnapshot } from '../../server/protocol.ts';
import { NO_FIGURE, withInterval } from './figures.ts';
import { cycleMeanOf } from './plateau.ts';
import type { Scale } from './scales.ts';
import { stateWord } from './settling.ts';
import { figureText, shownCapacity, shownParts } from './shown.ts';
import { clockMinutes } from './times.ts';

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
  const at = `at ${clockMinutes(t)}`;
  const shown = shownParts(shownCapacity(unit), power).total;
  const figure = figureText(shown, power) ?? NO_FIGURE;
  switch (kind) {
    case 'steady':
      return { title: `${name} is steady`, text: `${figure} ${at}.` };
    case 'cycling': {
      const mean = cycleMeanOf(unit);
      const written = withInterval(mean?.meanW ?? null, mean?.u95W ?? null, power);
      return {
        title: `${name} cycles, and its mean can be captured`,
        text: `${written} over ${cyclesOf(mean?.count ?? 0)} ${at}.`,
      };
    }
    case 'lost':
      return {
        title: `${name} is no longer steady`,
        text: `${figure} ${at}, now ${stateWord(unit.settling).toLowerCase()}.`,
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
}

/** "Calls you when steady: sound, vibration." */
export function callWords({ sound, isHeard, vibration, notification }: Calls): string {
  const ways = [
    ...(sound ? [isHeard ? 'sound' : 'sound (touch the page once before)'] : []),
    ...(vibration ? ['vibration'] : []),
    ...(notification ? ['notification'] : []),
  ];
  return ways.length === 0
    ? 'Does not call you when steady.'
    : `Calls you when steady: ${ways.join(', ')}.`;
}
