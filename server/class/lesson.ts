/**
 * A lesson: what a class finds, as data. Which machine in which weather, what is wrong with it or with the
 * measurement, what the trainees are told, and which answer is right. README.md says how to write one.
 */
import * as z from 'zod';
import { FAULT_KINDS, FAULT_MODES, FAULT_SIZES, FROM_THE_START } from '../../simulator/faults.ts';
import { LARGE_HEAD } from '../../simulator/parts.ts';
import { type Complaint, sentence } from '../visit-log/schema.ts';
import { DECISIONS } from './decisions.ts';

/** What a file may have, in characters: a lesson has some two thousand. */
const LONGEST = 50_000;
const FAN_SPEEDS = LARGE_HEAD.fanSpeeds.map(({ name }) => name);
/** Where both a machine and the physics of its simulation work, °C. */
const OUTDOOR_C = { cooling: [15, 46], heating: [-15, 20] } as const;

const text = (most: number): z.ZodString => z.string().min(1).max(most);
const between = (least: number, most: number): z.ZodNumber => z.number().min(least).max(most);

const faultSchema = z
  .strictObject({
    kind: z.enum(FAULT_KINDS),
    /** As `Fault` in simulator/faults.ts says; left out only where there is but one. */
    size: z.number().optional(),
    /** When it comes, s after the lesson begins; left out: it is there from the start. */
    afterS: between(0, 14_400).optional(),
  })
  .superRefine(({ kind, size, afterS = 0 }, context) => {
    const [least, most] = FAULT_SIZES[kind];
    const refuse = (path: string, message: string): void =>
      context.addIssue({ code: 'custom', path: [path], message });
    if (size === undefined ? least !== most : size < least || size > most) {
      refuse('size', `is outside ${least} to ${most}, the sizes of "${kind}"`);
    }
    if (afterS > 0 && FROM_THE_START.includes(kind)) {
      refuse('afterS', `is not accepted: "${kind}" is there from the start or not at all`);
    }
  });

const airflowSchema = z
  .strictObject({
    /** The set-up holds the printed fan table, a figure that was typed in, or nothing. */
    source: z.enum(['fan-table', 'entered', 'none']),
    /** What was typed, over what is right at the speed that is set. */
    factor: between(0.3, 3).optional(),
  })
  .superRefine(({ source, factor }, context) => {
    if (source === 'entered' || factor === undefined) return;
    const message = `is not accepted beside the source "${source}": only an entered airflow has one`;
    context.addIssue({ code: 'custom', path: ['factor'], message });
  });

export const lessonSchema = z
  .strictObject({
    type: z.literal('lesson'),
    version: z.literal(1),
    id: text(60).regex(/^[a-z0-9]+(-[a-z0-9]+)*$/),
    title: text(120),
    task: text(1000),
    mode: z.enum(['cooling', 'heating']),
    altitudeM: between(0, 3500).default(0),
    outdoor: z.strictObject({ temperatureC: between(-15, 46), humidityPct: between(5, 100) }),
    room: z.strictObject({
      temperatureC: between(10, 35),
      humidityPct: between(15, 80),
      volumeM3: between(40, 2000).default(400),
      /** People, sun and machines; negative: what draws heat from the room beside its own walls. */
      sensibleW: between(-4000, 5000).optional(),
      moistureKgH: between(0, 5).optional(),
    }),
    setpointC: between(10, 35),
    fan: z.enum(FAN_SPEEDS),
    faults: z.array(faultSchema).max(8).default([]),
    airflow: airflowSchema.default({ source: 'fan-table' }),
    placed: z.boolean().default(false),
    cause: z.array(z.enum(DECISIONS)).min(1).max(6),
    lookFor: text(2000),
  })
  .superRefine(({ mode, outdoor, faults, cause }, context) => {
    const refuse = (path: (string | number)[], message: string): void =>
      context.addIssue({ code: 'custom', path, message });
    const [least, most] = OUTDOOR_C[mode];
    if (outdoor.temperatureC < least || outdoor.temperatureC > most) {
      refuse(['outdoor', 'temperatureC'], `is outside ${least} to ${most}, the range in ${mode}`);
    }
    faults.forEach(({ kind }, i) => {
      const only = FAULT_MODES[kind];
      if (only === undefined || only === mode) return;
      refuse(['faults', i, 'kind'], `is not accepted in ${mode}: it is of ${only} only`);
    });
    if (cause.includes('nothing') && cause.length > 1) {
      refuse(['cause'], 'is not accepted: "nothing" stands alone');
    }
  });

export type Lesson = z.infer<typeof lessonSchema>;

/** Which fields there are, by the field that they are in. */
const FIELDS: Readonly<Record<string, readonly string[]>> = {
  '': Object.keys(lessonSchema.shape),
  outdoor: Object.keys(lessonSchema.shape.outdoor.shape),
  room: Object.keys(lessonSchema.shape.room.shape),
  faults: Object.keys(faultSchema.shape),
  airflow: Object.keys(airflowSchema.shape),
};

/**
 * Reads the text of a lesson file.
 * @returns the lesson, or a sentence: the field, what was given, what is accepted
 */
export function readLesson(file: string): { lesson: Lesson } | { refusal: string } {
  if (file.length > LONGEST) {
    return { refusal: `The file has ${file.length} characters: a lesson has at most ${LONGEST}.` };
  }
  let value: unknown;
  try {
    value = JSON.parse(file);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return { refusal: `The file is not JSON (${why}): a lesson is one JSON object.` };
  }
  return checkLesson(value);
}

/** Checks a parsed lesson. @returns it with what was left out, or a sentence as `readLesson` */
export function checkLesson(value: unknown): { lesson: Lesson } | { refusal: string } {
  const parsed = lessonSchema.safeParse(value);
  if (parsed.success) return { lesson: parsed.data };
  const issue = parsed.error.issues[0];
  return { refusal: issue === undefined ? 'The lesson is not understood.' : worded(value, issue) };
}

function worded(value: unknown, issue: z.core.$ZodIssue): string {
  if (issue.code === 'unrecognized_keys') {
    const [key = ''] = issue.keys;
    const fields = FIELDS[String(issue.path[0] ?? '')] ?? [];
    const path = [...issue.path, key].map(String).join('.');
    return `${path}: is not a field of a lesson: there it has ${fields.join(', ')}`;
  }
  if (issue.code === 'invalid_format') {
    return `id: is not accepted: it has small letters, digits and hyphens, as in "dirty-wheel"`;
  }
  if (issue.path.length === 0 && issue.code === 'invalid_type') {
    return 'The file does not hold a JSON object: a lesson is one.';
  }
  return sentence(value, complaintOf(issue));
}

/** The library's complaint as the one that `sentence` words. */
function complaintOf(issue: z.core.$ZodIssue): Complaint {
  const { code, path, message } = issue;
  return {
    ...{ code, path, message },
    minimum: 'minimum' in issue ? issue.minimum : undefined,
    maximum: 'maximum' in issue ? issue.maximum : undefined,
    expected: 'expected' in issue ? issue.expected : undefined,
    values: 'values' in issue ? issue.values : undefined,
  };
}
