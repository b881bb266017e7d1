/** The settings of "when" in words: the test for steady, and the capture that is made by itself. */
import type { VisitSetup } from '../../server/protocol.ts';
import type { Scale } from './scales.ts';
import { duration } from './times.ts';
import { written } from './figures.ts';
import { t } from '../../server/words/language.ts';

/** Ranges that the strict test allows, after the shape of ANSI/ASHRAE 37. */
const STRICT = {
  K: { dry: `${written(1.1, 0.1)}\u202fK`, wet: `${written(0.56, 0.01)}\u202fK` },
  '°F': { dry: `${written(2, 0.1)}\u202f°F`, wet: `${written(1, 0.1)}\u202f°F` },
};

/** What a test for steady means, as a sentence. @param difference the scale of temperature differences */
export function testWords(test: VisitSetup['steadyTest'], difference: Scale): string {
  if (test === 'field') {
    return t`Field: for some minutes the figure has moved no more than its noise, and it is not likely to move in the next ten minutes. For commissioning and service.`;
  }
  const { dry, wet } = difference.sign === 'K' ? STRICT.K : STRICT['°F'];
  return t`Strict: the field test and, over 30\u202fmin, dry bulb of return and supply within ${dry} and wet bulb of both within ${wet}, modeled on the tolerances of ANSI/ASHRAE 37. It takes at least half an hour.`;
}

/** Off, and after how long a capture may be made by itself, s. */
const CAPTURE_AFTER_S = [null, 60, 120, 300, 600];

/** The choices, with the present one where it is another: a script may have set it. */
export function captureChoices(presentS: number | null): (number | null)[] {
  if (CAPTURE_AFTER_S.includes(presentS)) return CAPTURE_AFTER_S;
  return [...CAPTURE_AFTER_S, presentS].sort((a, b) => (a ?? -1) - (b ?? -1));
}

/** "after 2 min of steady" */
export function captureWords(seconds: number | null): string {
  if (seconds === null) return t`off: by hand only`;
  return seconds === 0 ? t`as soon as it is steady` : t`after ${duration(seconds)} of steady`;
}
