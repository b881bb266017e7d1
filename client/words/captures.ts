/** Captures in words: whether one can be made now, how one was made, and what a pair differs by. */
import { moreCyclesWords } from '../../server/words/cycles.ts';
import type { Capture, Comparison, Struck, UnitSnapshot } from '../../server/protocol.ts';
import type { EntryEvent, OfCapture } from '../live/api.ts';
import { type Figure, NO_FIGURE, withSign } from './figures.ts';
import { cycleMeanOf } from './plateau.ts';
import { reasonsOf, waitingWords } from './reasons.ts';
import type { Scales } from './scales.ts';
import { figureText, shownParts } from './shown.ts';
import { clockMinutes, roughDuration } from './times.ts';
import { t as say, translated } from '../../server/words/language.ts';
import { speedWord } from '../../server/words/names.ts';

export { howMade } from '../../server/words/captures.ts';

/** Why nothing can be captured while nothing comes from the server. */
export const LATE_REFUSAL = say`The figure is late. Wait for new readings.`;

/** Why nothing can be captured now, as a short sentence; null where it can. */
export function captureRefusal(unit: UnitSnapshot | null, live: boolean): string | null {
  if (!live) return say`Connection lost. Wait until it is back.`;
  if (unit === null || unit.capacity.totalW === null) return say`There is no figure to capture.`;
  const { state, defrost, plateauW, steadyInS } = unit.settling;
  if (defrost !== null) return say`Defrost: nothing counts until five minutes after it ends.`;
  switch (state) {
    case 'steady':
      return null;
    case 'cycling':
      return cyclingRefusal(unit);
    case 'waiting':
      return waitingWords(unit) ?? say`Too early: not enough readings yet.`;
    case 'settling':
      if (steadyInS === null && plateauW !== null) return say`Not steady yet, but nearly there.`;
      return steadyInS === null
        ? say`Not steady yet.`
        : say`Not steady yet: about ${roughDuration(steadyInS)} to go.`;
  }
}

/** What a touch does now, and what came of it: without an interval both say what is missing. */
export function captureWords(unit: UnitSnapshot | null): { does: string; done: string } {
  if (unit === null || unit.capacity.totalU95W !== null) {
    return {
      does: say`Records the figure with its ±.`,
      done: say`Captured. It is in the list below.`,
    };
  }
  const why = reasonsOf(unit).missing.map(({ text }) => text);
  const said = why.map((text) => inSentence(translated(text))).join(', ');
  return {
    does: say`Records the figure without a ±: ${said}.`,
    done: say`Captured without a ±: ${said}.`,
  };
}

/** A sentence as a part of another: its article small, without its period. */
const inSentence = (text: string): string =>
  text.replace(/^(?:The|El|La|Los|Las)\b/, (article) => article.toLowerCase()).replace(/\.$/, '');

function cyclingRefusal(unit: UnitSnapshot): string | null {
  const mean = cycleMeanOf(unit);
  if (mean === null) return say`Cycling: wait for whole cycles.`;
  return mean.isEnough ? null : say`Cycling: ${moreCyclesWords(mean.count)}.`;
}

/** "Struck out at 14:05: the door was open." */
export const struckWords = ({ t, text }: Struck): string => {
  const why = text === undefined ? '' : `: ${text}`;
  return say`Struck out at ${clockMinutes(t)}${why}${/[.!?]$/.test(why) ? '' : '.'}`;
};

/** Which capture it is. What is made by itself is known by its beginning: it may have grown meanwhile. */
export const ofCapture = ({ unit, from, to, by }: Capture): OfCapture => ({
  ...{ unit, from, by },
  ...(by === 'touch' ? { to } : {}),
});

/** What is told to strike a capture out, or to take that back. */
export const strikeOf = (
  capture: Capture,
  struck: boolean,
  why = '',
): Extract<EntryEvent, { kind: 'strike' }> => ({
  kind: 'strike',
  ...ofCapture(capture),
  struck,
  ...(why === '' ? {} : { text: why }),
});

/** A capture has room for so many; the server says so too. */
export const MOST_PHOTOS = 4;

/** The change that lies between the two captures of a pair: "fan high at 14:20". */
function changeOf({ event }: Comparison, { temperature }: Scales): string {
  const what =
    event.kind === 'fan'
      ? event.speed === undefined
        ? say`fan change`
        : say`fan ${speedWord(event.speed)}`
      : event.valueC === undefined
        ? say`setpoint change`
        : say`setpoint ${withSign(event.valueC, temperature)}`;
  return say`${what} at ${clockMinutes(event.t)}`;
}

/** What a capture differs by from the one before the change that it follows. */
export interface PairWords {
  /** "after fan high at 14:20: +0.21 ± 0.06 kW" */
  total: string;
  /** "sensible +0.15 ± 0.05 kW" */
  sensible: string;
  latent: string;
  /** Whether the difference is more than its own interval: else nothing may have changed. */
  isReal: boolean;
}

export function pairWords(before: Comparison, scales: Scales): PairWords {
  const { power } = scales;
  const { differenceW, differenceU95W } = before;
  const isReal = differenceU95W === null || Math.abs(differenceW) > differenceU95W;
  const shown = shownParts(
    {
      ...{ totalW: differenceW, totalU95W: differenceU95W },
      ...{ sensibleW: before.sensibleDifferenceW, sensibleU95W: before.sensibleDifferenceU95W },
      ...{ latentW: before.latentDifferenceW, latentU95W: before.latentDifferenceU95W },
    },
    power,
  );
  const signed = (part: Figure): string => {
    const rises = /[1-9]/.test(part.value ?? '') && part.value?.startsWith('−') !== true;
    return `${rises ? '+' : ''}${figureText(part, power) ?? NO_FIGURE}`;
  };
  return {
    total: say`after ${changeOf(before, scales)}: ${signed(shown.total)}`,
    sensible: say`sensible ${signed(shown.sensible)}`,
    latent: say`latent ${signed(shown.latent)}`,
    isReal,
  };
}

/** A value with its interval as shares of the width of a picture. */
export interface Bar {
  low: number;
  value: number;
  high: number;
}

/** Room at both ends of the picture of a pair, as a share of it. */
const MARGIN = 0.06;

type Mean = Pick<Capture, 'totalW' | 'totalU95W'>;
const lowOf = ({ totalW, totalU95W }: Mean): number => totalW - (totalU95W ?? 0);
const highOf = ({ totalW, totalU95W }: Mean): number => totalW + (totalU95W ?? 0);

/** Before and after on one scale, from 0 to 1, that holds the intervals of both. */
export function pairBars(after: Capture, before: Comparison): { before: Bar; after: Bar } {
  const least = Math.min(lowOf(before), lowOf(after));
  const span = Math.max(Math.max(highOf(before), highOf(after)) - least, 1);
  const share = (w: number): number => MARGIN + ((1 - 2 * MARGIN) * (w - least)) / span;
  const bar = (mean: Mean): Bar => ({
    low: share(lowOf(mean)),
    value: share(mean.totalW),
    high: share(highOf(mean)),
  });
  return { before: bar(before), after: bar(after) };
}
