/** A class, as it is sent: to who leads it, and to each trainee. Times are ms of the class's own time. */
import * as z from 'zod/mini';

const num = z.number();
const nullable = z.nullable(num);

/** A figure that was found, its 95 % interval, and what was true meanwhile. */
export const foundSchema = z.object({
  value: num,
  u95: nullable,
  /** Null where nobody knows: before the lesson's time, or in no air. */
  truth: nullable,
  /** Whether the truth lies within the interval; null where one of them is not known. */
  inside: z.nullable(z.boolean()),
});

/** One capture of a trainee beside the truth, W. */
export const foundCaptureSchema = z.object({
  from: num,
  to: num,
  total: foundSchema,
  sensible: foundSchema,
  /** Null in heating. */
  latent: z.nullable(foundSchema),
});

/** What a trainee holds to be the matter. */
export const decisionSchema = z.object({ cause: z.string(), t: num });

export const resultSchema = z.object({
  captures: z.array(foundCaptureSchema),
  /** The airflow that was measured last, m³/s. */
  airflow: z.nullable(foundSchema),
  decision: z.nullable(decisionSchema),
  /** Whether that is right; null where nothing was decided. */
  right: z.nullable(z.boolean()),
  /** From their joining, or the beginning, to the decision, and to the first capture, s of the class's time. */
  decidedS: nullable,
  capturedS: nullable,
});

/** Where a trainee stands. */
export const traineeSchema = z.object({
  id: z.string(),
  name: z.string(),
  joinedT: num,
  /** Whether a page of theirs is open. */
  here: z.boolean(),
  /** Probes that hang somewhere, of all. */
  placed: num,
  probes: num,
  checked: z.boolean(),
  /** Where the airflow comes from; null: it is not known. */
  airflow: z.nullable(z.string()),
  state: z.nullable(z.enum(['waiting', 'settling', 'steady', 'cycling'])),
  totalW: nullable,
  totalU95W: nullable,
  captures: num,
  verdict: z.nullable(z.string()),
  decision: z.nullable(decisionSchema),
  /** Once the lesson has ended. */
  result: z.nullable(resultSchema),
});

export const lessonItemSchema = z.object({
  id: z.string(),
  title: z.string(),
  task: z.string(),
  mode: z.enum(['cooling', 'heating']),
  /** What is right, and what to look for. */
  cause: z.array(z.string()),
  lookFor: z.string(),
  /** Whether an instructor has written it. */
  own: z.boolean(),
});

export const addedFaultSchema = z.object({ kind: z.string(), size: num, t: num });

export const PHASES = ['none', 'open', 'ended'] as const;

/** For who leads it. */
export const classSchema = z.object({
  phase: z.enum(PHASES),
  /** Lets trainees in while it is open. */
  code: z.nullable(z.string()),
  lesson: z.nullable(lessonItemSchema),
  /** Whether the lesson was picked by chance: then the page hides which one it is. */
  surprise: z.boolean(),
  startT: num,
  t: num,
  speed: num,
  frozen: z.boolean(),
  /** What was added while it ran. */
  faults: z.array(addedFaultSchema),
  trainees: z.array(traineeSchema),
});

/** For a trainee. */
export const mineSchema = z.object({
  phase: z.enum(PHASES),
  name: z.string(),
  task: z.string(),
  mode: z.enum(['cooling', 'heating']),
  startT: num,
  t: num,
  speed: num,
  frozen: z.boolean(),
  /** What can be decided. */
  decisions: z.array(z.string()),
  decision: z.nullable(decisionSchema),
  /** Once the lesson has ended: what was true, and what became of it. */
  lesson: z.nullable(lessonItemSchema),
  result: z.nullable(resultSchema),
});

export const lessonsSchema = z.object({
  lessons: z.array(lessonItemSchema),
  /** Files that are no lessons, with why. */
  refused: z.array(z.object({ file: z.string(), why: z.string() })),
  /** What can be added while a lesson runs, with the least and the most of its size. */
  faults: z.array(
    z.object({
      kind: z.string(),
      least: num,
      most: num,
      /** The only mode in which it occurs; null: in both. */
      mode: z.nullable(z.enum(['cooling', 'heating'])),
    }),
  ),
});

export const previewSchema = z.object({
  course: z.array(
    z.object({
      elapsedS: num,
      totalW: num,
      sensibleW: num,
      latentW: num,
      flowM3s: num,
      sensibleHeatRatio: nullable,
      compressorShare: num,
    }),
  ),
  /** What a healthy unit would give at the end, asked for all it has, W. */
  healthyW: num,
});

export type Found = z.infer<typeof foundSchema>;
export type FoundCapture = z.infer<typeof foundCaptureSchema>;
export type Result = z.infer<typeof resultSchema>;
export type TraineeItem = z.infer<typeof traineeSchema>;
export type LessonItem = z.infer<typeof lessonItemSchema>;
export type ClassState = z.infer<typeof classSchema>;
export type Mine = z.infer<typeof mineSchema>;
export type Lessons = z.infer<typeof lessonsSchema>;
export type LessonPreview = z.infer<typeof previewSchema>;
