/** What came out of a lesson: what each found beside what was true. Pure. */
import type { Found, LessonItem, Result, TraineeItem } from '../../server/protocol/class.ts';
import { DECISION_WORDS } from '../../server/words/decisions.ts';
import { NO_FIGURE, withInterval, withSign } from './figures.ts';
import type { Scale } from './scales.ts';
import { clockMinutes, duration } from './times.ts';
import { t as say } from '../../server/words/language.ts';

export const RESULT = {
  title: say`What was true`,
  right: say`The right answer`,
  lookFor: say`What was to be looked for`,
  whole: say`The class as a whole`,
  picture: say`How close the class came`,
  pictureOf: say`Each trainee’s last capture with its interval, against what was true meanwhile`,
  truth: say`true`,
  table: say`Each trainee`,
  capture: say`Capture`,
  trueFigure: say`True`,
  inside: say`Truth inside ±`,
  airflow: say`Airflow measured`,
  decision: say`Decided`,
  took: say`Time to capture, to decide`,
  noCapture: say`no capture`,
  noAirflow: say`not measured`,
  undecided: say`nothing decided`,
  nobody: say`Nobody joined this lesson.`,
  print: say`Print this page`,
  simulated: say`Simulated: no real air was measured.`,
};

/** The words of an answer; of one that this page does not know, its own name. */
export function answerWords(cause: string): string {
  return Object.entries(DECISION_WORDS).find(([code]) => code === cause)?.[1] ?? cause;
}
/** The right answers of a lesson; each of them counts. */
export const rightWords = ({ cause }: Pick<LessonItem, 'cause'>): string[] =>
  cause.map(answerWords);

/** "2.64 ± 0.11 kW" */
export const foundText = ({ value, u95 }: Found, scale: Scale): string =>
  withInterval(value, u95, scale);
/** "2.71 kW", or a dash. */
export const truthText = ({ truth }: Found, scale: Scale): string =>
  truth === null ? NO_FIGURE : withSign(truth, scale);

/** A shape and a word: whether the truth lies within the interval. */
export function insideText(inside: boolean | null): string {
  if (inside === null) return say`– not known`;
  return inside ? say`● inside` : say`◇ outside`;
}
/** A shape and a word: whether a decision is right. */
export function rightText(right: boolean | null): string {
  if (right === null) return say`– open`;
  return right ? say`● right` : say`◇ not it`;
}

/** How long it took: "12 min, 18 min", of the class's own time. */
export const tookText = ({ capturedS, decidedS }: Pick<Result, 'capturedS' | 'decidedS'>): string =>
  [capturedS, decidedS].map((s) => (s === null ? NO_FIGURE : duration(s))).join(', ');

/** "Lesson of 12 May, 14:02" and the like. @param day the date in words */
export const heldWords = (day: string, t: number): string =>
  say`Held on ${day}, begun at ${clockMinutes(t)}.`;

/** The class as a whole, in sentences. */
export function wholeWords(trainees: readonly Pick<TraineeItem, 'result'>[]): string[] {
  const results = trainees.map(({ result }) => result).filter((result) => result !== null);
  const last = results.map(({ captures }) => captures.at(-1)).filter((each) => each !== undefined);
  const inside = last.filter(({ total }) => total.inside === true).length;
  const decided = results.filter(({ right }) => right !== null).length;
  const named = results.filter(({ right }) => right === true).length;
  const all = results.length;
  return [
    last.length === 0
      ? say`Nobody captured a figure.`
      : say`${last.length} of ${all} captured; of these, ${inside} had the truth inside their own interval.`,
    decided === 0
      ? say`Nobody decided what is the matter.`
      : say`${named} of ${all} named it; ${all - decided} decided nothing.`,
  ];
}

export interface PictureRow {
  name: string;
  /** What was found over what was true, and its interval, as parts; null: there is no capture to draw. */
  part: number | null;
  u95: number;
  inside: boolean | null;
}
/** A row for each trainee: the last capture over its own truth. */
export function pictureRows(
  trainees: readonly Pick<TraineeItem, 'name' | 'result'>[],
): PictureRow[] {
  return trainees.map(({ name, result }) => {
    const total = result?.captures.at(-1)?.total ?? null;
    const truth = total?.truth ?? null;
    if (total === null || truth === null || Math.abs(truth) < LEAST_W) {
      return { name, part: null, u95: 0, inside: total?.inside ?? null };
    }
    const u95 = Math.abs((total.u95 ?? 0) / truth);
    return { name, part: total.value / truth, u95, inside: total.inside };
  });
}
/** Over less than this a ratio says nothing, W. */
const LEAST_W = 50;

/** A row of the picture for who hears it. */
export function pictureWords({ name, part, u95, inside }: PictureRow): string {
  if (part === null) return `${name}: ${RESULT.noCapture}`;
  const percent = (x: number): string => `${Math.round(100 * x)}\u202f%`;
  return say`${name}: ${percent(part)} ± ${percent(u95)} of the truth, ${insideText(inside)}`;
}
