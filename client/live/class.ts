/** The calls of a class: of who leads it, and of a trainee. */
import * as z from 'zod/mini';
import {
  classSchema,
  type ClassState,
  lessonItemSchema,
  type LessonItem,
  type LessonPreview,
  type Lessons,
  lessonsSchema,
  type Mine,
  mineSchema,
  previewSchema,
} from '../../server/protocol/class.ts';
import { CLASS } from '../words/class.ts';
import { TRAINEE } from '../words/trainee.ts';
import { ask, sending } from './ask.ts';
import type { Asked } from './visits.ts';

const CLASS_AT = '/api/class';
/** What a lesson gets wrong is said with the names of its fields: they stand in what was written. */
const asItIs = { refused: (error: string): string => (/[.!?]$/.test(error) ? error : `${error}.`) };

/** Who stands where. */
export const classState = (): Promise<Asked<ClassState>> =>
  ask(CLASS_AT, {}, classSchema, { noAnswer: CLASS.lost });

/** The lessons there are, and the faults that can be added. */
export const lessons = (): Promise<Asked<Lessons>> => ask(`${CLASS_AT}/lessons`, {}, lessonsSchema);

/** The lesson that whoever writes one begins with, as text. */
export async function exampleLesson(): Promise<Asked<string>> {
  const { got, trouble } = await ask(`${CLASS_AT}/lessons/example`, {}, z.looseObject({}));
  return got === null ? { got, trouble } : { got: JSON.stringify(got, null, 2), trouble: null };
}

/** The true course of a lesson. @param lesson its id, or one that has been written */
export const previewOf = (lesson: string | object): Promise<Asked<LessonPreview>> =>
  ask(`${CLASS_AT}/preview`, sending('POST', { lesson }), previewSchema, asItIs);

/** Keeps a lesson that has been written. */
export const keepLesson = (lesson: object): Promise<Asked<LessonItem[]>> =>
  ask(`${CLASS_AT}/lessons`, sending('PUT', lesson), z.array(lessonItemSchema), asItIs);

const change = (path: string, init: RequestInit): Promise<Asked<ClassState>> =>
  ask(CLASS_AT + path, init, classSchema);

/** Opens a class. @param lesson its id; null: one that is drawn by chance */
export const openClass = (lesson: string | null): Promise<Asked<ClassState>> =>
  change('', sending('POST', { lesson }));
/** Lets its time go, faster, or stand still. */
export const paceClass = (pace: { speed?: number; frozen?: boolean }): Promise<Asked<ClassState>> =>
  change('', sending('PUT', pace));
/** Adds a fault for all, or changes its size. */
export const addFault = (kind: string, size: number): Promise<Asked<ClassState>> =>
  change('/faults', sending('POST', { kind, size }));
/** Ends the lesson. */
export const endLesson = (): Promise<Asked<ClassState>> => change('/end', sending('POST'));
/** Closes the class: the visits of all trainees are gone. */
export const closeClass = (): Promise<Asked<ClassState>> => change('', sending('DELETE'));
/** Sends one away. */
export const sendAway = (trainee: string): Promise<Asked<ClassState>> =>
  change(`/trainees/${encodeURIComponent(trainee)}`, sending('DELETE'));

/** The lesson of the trainee who uses this page. */
export const myLesson = (): Promise<Asked<Mine>> =>
  ask(`${CLASS_AT}/mine`, {}, mineSchema, { noAnswer: TRAINEE.lost });
/** Decides what is the matter. */
export const decide = (cause: string): Promise<Asked<Mine>> =>
  ask(`${CLASS_AT}/mine/decision`, sending('PUT', { cause }), mineSchema);
