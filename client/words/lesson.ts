/** A lesson before it is given: its course in words, and how one is written. Pure. */
import type { LessonPreview } from '../../server/protocol/class.ts';
import { withSign } from './figures.ts';
import type { Scale } from './scales.ts';
import { duration } from './times.ts';
import { t } from '../../server/words/language.ts';

export const COURSE = {
  title: t`What is true in it`,
  reading: t`Working out the course.`,
  chart: t`True capacity over time`,
  total: t`total`,
  sensible: t`sensible`,
  healthy: t`a healthy unit`,
  minutes: t`min`,
};

/** The course in sentences, for who cannot or will not read the chart. */
export function courseWords({ course, healthyW }: LessonPreview, power: Scale): string[] {
  const [first, last] = [course[0], course.at(-1)];
  if (first === undefined || last === undefined) return [];
  const totals = course.map(({ totalW }) => totalW);
  const [least, most] = [Math.min(...totals), Math.max(...totals)];
  const over = duration(last.elapsedS);
  const said = [
    t`In ${over} the true total goes from ${withSign(first.totalW, power)} to ${withSign(last.totalW, power)}; on its way it is between ${withSign(least, power)} and ${withSign(most, power)}.`,
    t`A healthy unit, asked for all it has, would give ${withSign(healthyW, power)} at the end.`,
  ];
  if (healthyW > 0) {
    const percent = Math.round((100 * last.totalW) / healthyW);
    said.push(t`So this one gives ${percent}\u202f% of what it should.`);
  }
  return said;
}

/** A lesson that an instructor writes. */
export const WRITE = {
  title: t`Write a lesson`,
  what: t`A lesson is one JSON object. Begin with this example: it is complete and can be kept as it is.`,
  text: t`The lesson`,
  preview: t`Preview`,
  keep: t`Keep`,
  kept: (title: string): string => t`Kept. “${title}” is in the list above.`,
  how: t`How it is written`,
  notJson: (why: string): string =>
    t`The lesson is not JSON (${why}). Mend it there: a lesson is one JSON object, as in the example.`,
};

/** How a lesson is written: each field, what it says, and what is accepted. */
export const FIELDS: readonly (readonly [field: string, says: string])[] = [
  [
    'id',
    t`its name in lists: small letters, digits and hyphens, up to 60; the same id replaces your earlier one`,
  ],
  ['title', t`for you; the trainees see it after the end, since it may give the answer away`],
  ['task', t`what the trainees are told`],
  ['mode', t`"cooling" or "heating"`],
  ['altitudeM', t`height above sea level, 0 to 3500; 0 where it is left out`],
  ['outdoor', t`temperatureC, 15 to 46 in cooling and −15 to 20 in heating; humidityPct, 5 to 100`],
  [
    'room',
    t`temperatureC, 10 to 35, and humidityPct, 15 to 80, at the start; volumeM3, 40 to 2000: a large room changes slowly; sensibleW, what people, sun and machines give off; moistureKgH`,
  ],
  ['setpointC', t`10 to 35; some 3 K past the room is full demand`],
  ['fan', t`"quiet", "low", "medium" or "high"`],
  [
    'faults',
    t`up to 8, each with a kind and a size; with afterS it comes so many seconds after the beginning`,
  ],
  [
    'airflow',
    t`source: "fan-table" (the printed table), "entered" (somebody typed it, times factor), or "none"`,
  ],
  ['placed', t`true where the set-up says already where the probes hang`],
  ['cause', t`the answers that are right, one to six of those below; "nothing" stands alone`],
  [
    'lookFor',
    t`what you say afterwards. Where somebody may go to a real unit, say the caution as well.`,
  ],
];
export const KINDS = t`Kinds of faults, and their sizes`;
export const CAUSES = t`Answers`;
/** "dirty-wheel: 0 to 1" */
export const kindWords = ({
  kind,
  least,
  most,
}: {
  kind: string;
  least: number;
  most: number;
}): string => (least === most ? t`${kind}: no size` : t`${kind}: ${least} to ${most}`);
