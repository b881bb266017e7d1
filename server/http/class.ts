/** The calls of a class: for who leads it, and for each trainee. */
import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import * as z from 'zod';
import exampleLesson from '../class/example-lesson.json' with { type: 'json' };
import { itemOf, type Classroom } from '../class/classroom.ts';
import { MOST_SPEED } from '../class/clock.ts';
import { DECISIONS } from '../class/decisions.ts';
import { ADDABLE, FAULT_KINDS } from '../class/faults.ts';
import { checkLesson, type Lesson } from '../class/lesson.ts';
import { LESSONS } from '../class/lessons.ts';
import { preview } from '../class/preview.ts';
import { classSchema, lessonsSchema, mineSchema, previewSchema } from '../protocol/class.ts';
import { answers, badRequest, conflict, notFound } from './answers.ts';
import type { Stage } from './stage.ts';
import { sent } from '../words/sent.ts';

/** The lessons that instructors have written. */
export interface LessonShelf {
  list: () => Promise<{ lessons: Lesson[]; refused: { file: string; why: string }[] }>;
  /** Keeps one, or another version of it. @returns why not, or null */
  keep: (lesson: Lesson) => Promise<string | null>;
}

export interface ClassDesk {
  room: Classroom;
  shelf: LessonShelf;
  /** From 0 to 1, for a lesson that is picked by chance. */
  random: () => number;
}

const MOST_SEED = 2 ** 31 - 1;
const idParam = z.object({ trainee: z.string().min(1).max(40) });
const house = { for: 'house' } as const;
const change = { 200: classSchema, 400: answers[400], 404: answers[404], 409: answers[409] };

export function classRoutes(plain: FastifyInstance, { room, shelf, random }: ClassDesk): void {
  const app = plain.withTypeProvider<ZodTypeProvider>();

  app.get(
    '/api/class',
    {
      config: house,
      schema: { summary: 'The class: who stands where', response: { 200: classSchema } },
    },
    () => room.state(),
  );

  app.get(
    '/api/class/lessons',
    {
      config: house,
      schema: { summary: 'The lessons there are', response: { 200: lessonsSchema } },
    },
    async () => {
      const { lessons, refused } = await shelf.list();
      return {
        lessons: [
          ...LESSONS.map((lesson) => itemOf(lesson, false)),
          ...lessons.map((lesson) => itemOf(lesson, true)),
        ],
        refused,
        faults: [...ADDABLE],
      };
    },
  );

  app.get(
    '/api/class/lessons/example',
    {
      config: house,
      schema: {
        summary: 'A lesson to begin with, for whoever writes one',
        response: { 200: z.looseObject({ type: z.literal('lesson') }) },
      },
    },
    () => ({ ...exampleLesson, type: 'lesson' as const }),
  );

  app.put(
    '/api/class/lessons',
    {
      config: house,
      schema: {
        summary: 'Keeps a lesson that an instructor has written: the lesson is the body',
        body: z.unknown(),
        response: { 200: lessonsSchema.shape.lessons, 400: answers[400] },
      },
    },
    async ({ body }) => {
      const lesson = read(body);
      if (LESSONS.some(({ id }) => id === lesson.id)) {
        throw badRequest(sent`id: "${lesson.id}" is a lesson that is built in: choose another id`);
      }
      refuse(await shelf.keep(lesson));
      return (await shelf.list()).lessons.map((each) => itemOf(each, true));
    },
  );

  app.post(
    '/api/class/preview',
    {
      config: house,
      schema: {
        summary:
          'The true course of a lesson, before it is given: of one there is, or of one in the body',
        body: z.object({
          lesson: z.union([z.string(), z.looseObject({})]),
          minutes: z.number().int().min(1).max(120).default(40),
        }),
        response: { 200: previewSchema, 400: answers[400], 404: answers[404] },
      },
    },
    async ({ body: { lesson, minutes } }) => {
      const { course, healthyW } = preview(
        typeof lesson === 'string' ? await found(lesson) : read(lesson),
        minutes,
      );
      return { course: [...course], healthyW };
    },
  );

  app.post(
    '/api/class',
    {
      config: house,
      schema: {
        summary: 'Opens a class; its time stands still until it is let go',
        body: z.object({
          lesson: z.string().nullable().describe('null: one that is picked by chance'),
          seed: z.number().int().min(0).max(MOST_SEED).optional(),
        }),
        response: change,
      },
    },
    async ({ body }) => {
      const isSurprise = body.lesson === null;
      const lesson = body.lesson === null ? await drawn() : await found(body.lesson);
      const seed = body.seed ?? Math.floor(random() * MOST_SEED);
      clash(room.open(lesson, seed, isSurprise));
      return room.state();
    },
  );

  app.put(
    '/api/class',
    {
      config: house,
      schema: {
        summary: 'Lets the time of the class go, faster, or stand still',
        body: z.object({ speed: z.number().min(1).max(MOST_SPEED), frozen: z.boolean() }).partial(),
        response: change,
      },
    },
    async ({ body }) => {
      clash(room.pace(body));
      return room.state();
    },
  );

  app.post(
    '/api/class/faults',
    {
      config: house,
      schema: {
        summary: 'Adds a fault for all, or changes its size; 0 takes it away',
        body: z.object({ kind: z.enum(FAULT_KINDS), size: z.number() }),
        response: change,
      },
    },
    async ({ body: { kind, size } }) => {
      refuse(room.fault(kind, size));
      return room.state();
    },
  );

  app.post(
    '/api/class/end',
    {
      config: house,
      schema: { summary: 'Ends the lesson: what was true is told', response: change },
    },
    async () => {
      clash(room.end());
      return room.state();
    },
  );

  app.delete(
    '/api/class',
    {
      config: house,
      schema: {
        summary: 'Closes the class: the visits of all trainees are gone',
        response: change,
      },
    },
    async () => {
      room.close();
      return room.state();
    },
  );

  app.delete(
    '/api/class/trainees/:trainee',
    {
      config: house,
      schema: { summary: 'Sends a trainee away', params: idParam, response: change },
    },
    async ({ params }) => {
      if (!room.sendAway(params.trainee)) {
        throw notFound(sent`trainee: there is no "${params.trainee}" in this class`);
      }
      return room.state();
    },
  );

  app.get(
    '/api/class/mine',
    {
      schema: {
        summary: 'The lesson of a trainee, and once it has ended what was true',
        response: { 200: mineSchema, 404: answers[404] },
      },
    },
    async (request) => room.mine(traineeOf(request)) ?? none(),
  );

  app.put(
    '/api/class/mine/decision',
    {
      schema: {
        summary: 'What a trainee holds to be the matter',
        body: z.object({ cause: z.enum(DECISIONS) }),
        response: { ...answers, 200: mineSchema },
      },
    },
    async (request) => {
      const id = traineeOf(request);
      clash(room.decide(id, request.body.cause));
      return room.mine(id) ?? none();
    },
  );

  async function found(id: string): Promise<Lesson> {
    const own = (await shelf.list()).lessons;
    const lesson = [...LESSONS, ...own].find((each) => each.id === id);
    if (lesson === undefined) throw notFound(sent`lesson: there is no "${id}"`);
    return lesson;
  }

  async function drawn(): Promise<Lesson> {
    const all = [...LESSONS, ...(await shelf.list()).lessons];
    return all[Math.floor(random() * all.length)] ?? none();
  }
}

const READS = new Set(['GET', 'HEAD', 'OPTIONS']);
/** Not of a trainee's visit: who they are, and the class itself, which says so on its own. */
const NOT_OF_IT = ['/api/session', '/api/class'];
const ENDED = sent`The lesson has ended: what you found stands, and nothing of this was taken.`;

/** Once a lesson has ended no trainee changes what they found. To be called before the routes are added. */
export function sealEnded(app: FastifyInstance, room: Classroom): void {
  app.addHook('preValidation', async ({ method, routeOptions, who: { session } }) => {
    if (READS.has(method) || NOT_OF_IT.some((path) => routeOptions.url?.startsWith(path))) return;
    if ((session?.trainee ?? null) !== null && room.hasEnded) throw conflict(ENDED);
  });
}

/** What serves the visit of a trainee. */
export function stageOfTrainee(room: Classroom, id: string): Stage | null {
  const trainee = room.trainee(id);
  if (trainee === null) return null;
  const { visit, source } = trainee;
  return {
    visit,
    push: async (readings) => readings.map(() => ONLY_LESSON),
    told: (event) => trainee.told(event),
    forgot: (probe) => source.forget?.(probe),
    setKey: () => ONLY_LESSON,
    warm: (probe) => source.warm(probe),
  };
}

const ONLY_LESSON = sent`probe: in a class the probes are those of the lesson; nothing of this was taken`;

function traineeOf({ who: { session } }: FastifyRequest): string {
  return session?.trainee ?? none();
}

function none(): never {
  throw notFound(sent`You are in no class: join one with its code.`);
}

function read(value: unknown): Lesson {
  const checked = checkLesson(value);
  if ('refusal' in checked) throw badRequest(checked.refusal);
  return checked.lesson;
}

function refuse(why: string | null): void {
  if (why !== null) throw badRequest(why);
}
function clash(why: string | null): void {
  if (why !== null) throw conflict(why);
}
