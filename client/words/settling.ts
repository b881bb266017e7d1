/**
 * What is said of settling below the figure, and the state in one word. Pure: what is not in the
 * arguments is not said.
 */
import { cyclesOf, moreCyclesWords } from '../../server/words/cycles.ts';
import type { SettlingSnapshot, UnitSnapshot } from '../../server/protocol.ts';
import { withInterval, withSign } from './figures.ts';
import { cycleMeanOf } from './plateau.ts';
import { firstAgainst, isWritable, waitingWords } from './reasons.ts';
import type { Scale } from './scales.ts';
import { levelOf } from './shown.ts';
import { duration } from './times.ts';
import { t } from '../../server/words/language.ts';

/** What a defrost delivers is not counted until so long after its end, ms. */
export const AFTER_DEFROST_MS = 5 * 60_000;

type State = SettlingSnapshot['state'];

/** The state of settling in one word. */
export const STATE_WORDS = {
  waiting: t`Waiting`,
  settling: t`Settling`,
  steady: t`Steady`,
  cycling: t`Cycling`,
} as const satisfies Record<State, string>;

/** The word for the state that a person is shown: a defrost comes before what it disturbs. */
export const stateWord = ({ state, defrost }: SettlingSnapshot): string =>
  defrost === null ? STATE_WORDS[state] : t`Defrost`;

/** Below so many watts a movement is said in watts: a share of next to nothing says nothing. */
const SHARES_FROM_W = 500;

/** "1 %" of a level, rounded up to whole per cents; "0.02 kW" where the level is small. */
function amountOf(differenceW: number, levelW: number, power: Scale): string {
  if (Math.abs(levelW) < SHARES_FROM_W) {
    // Rounded up: it is said that it moves by less than this.
    const step = Math.abs(power.read(power.finest) - power.read(0));
    return withSign(Math.max(1, Math.ceil(differenceW / step)) * step, power);
  }
  const percent = Math.ceil((100 * differenceW) / Math.abs(levelW) - 1e-9);
  return `${Math.max(1, percent)}\u202f%`;
}

/** Of less than this nothing is said: over a few seconds everything moves little, s. */
const LEAST_LOOKED_S = 60;

/** "over the last 3 min its mean moved less than 1 %", null where that is not known. */
function movedWords(
  { movedW, lookedS }: SettlingSnapshot,
  levelW: number,
  power: Scale,
): string | null {
  if (movedW === null || lookedS === null || lookedS < LEAST_LOOKED_S) return null;
  return t`Over the last ${duration(lookedS)} its mean moved less than ${amountOf(movedW, levelW, power)}`;
}

/** What it has moved, and may yet move. */
function steadyMeaning(settling: SettlingSnapshot, levelW: number, now: number, power: Scale) {
  const { aheadW, since } = settling;
  const moved = movedWords(settling, levelW, power);
  if (moved === null) return since === null ? '' : t`For ${duration((now - since) / 1000)}. `;
  return aheadW === null
    ? `${moved}. `
    : t`${moved}, and it would move less than ${amountOf(aheadW, levelW, power)} in the next ten minutes. `;
}

/** Hovering by less than this share of the level is not worth a word. */
const HOVERS_SHARE = 0.0075;

/** ", hovering by ±2 %" of a steady figure; nothing where it hardly does. */
export function hoverWords({ hoverW }: SettlingSnapshot, levelW: number, power: Scale): string {
  const least = HOVERS_SHARE * Math.max(SHARES_FROM_W, Math.abs(levelW));
  if (hoverW === null || hoverW < least) return '';
  return Math.abs(levelW) < SHARES_FROM_W
    ? t`, hovering by ±${amountOf(hoverW, levelW, power)}`
    : t`, hovering by ±${Math.round((100 * hoverW) / Math.abs(levelW))}\u202f%`;
}

function steadyWords(unit: UnitSnapshot, levelW: number, now: number, power: Scale): string {
  const { settling } = unit;
  const meaning = steadyMeaning(settling, levelW, now, power);
  if (firstAgainst(unit) !== null) return t`${meaning}Steady, but:`;
  if (!isWritable(unit)) return t`${meaning}Steady, but see below.`;
  return t`${meaning}You can write this figure down.`;
}

function cyclingWords(unit: UnitSnapshot, power: Scale): string {
  const mean = cycleMeanOf(unit);
  if (mean === null) {
    return t`The unit cycles on its own. A mean needs whole cycles. Keep measuring.`;
  }
  const { meanW, u95W, count, isEnough } = mean;
  if (!isEnough) return t`${capital(moreCyclesWords(count))}. Keep measuring.`;
  const said = t`The mean over ${cyclesOf(count)} is ${withInterval(meanW, u95W, power)}`;
  return u95W === null ? t`${said}. Its ± is not known: see below.` : t`${said}. Write that down.`;
}

const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);

function defrostWords({ from, to }: NonNullable<SettlingSnapshot['defrost']>): string {
  return to === null
    ? t`The unit takes heat from the room to melt the ice outdoors. Wait: it ends on its own.`
    : t`It took ${duration((to - from) / 1000)}. The unit is warming up again.`;
}

/**
 * What follows from the state of settling. Where it ends in a colon, the doubt of `firstAgainst`
 * follows.
 * @param now the server's time of the snapshot, ms since the epoch
 */
export function settlingWords(unit: UnitSnapshot, now: number, power: Scale): string {
  const { settling } = unit;
  const levelW = levelOf(unit) ?? 0;
  if (settling.defrost !== null) return defrostWords(settling.defrost);
  switch (settling.state) {
    case 'waiting':
      return waitingWords(unit) ?? t`Too early to tell whether it is steady.`;
    case 'steady':
      return steadyWords(unit, levelW, now, power);
    case 'cycling':
      return cyclingWords(unit, power);
    case 'settling': {
      const moved = movedWords(settling, levelW, power);
      return moved === null
        ? t`Not steady yet. Wait before you write it down.`
        : t`${moved}. Wait before you write it down.`;
    }
  }
}

/** Of ten seconds each is five seconds behind: with less the mean is not over so many yet. */
const WHOLE_DELAY_S = 5;

/** What a smoothed figure is, "mean of the last 10 s, so 5 s behind"; null while it is over fewer. */
export function delayWords({ levelW, levelDelayS }: SettlingSnapshot): string | null {
  if (levelW === null || levelDelayS === null || levelDelayS < WHOLE_DELAY_S) return null;
  return t`mean of the last 10\u202fs, so ${duration(levelDelayS)} behind`;
}
