/** Every state of a class that a person can meet on the page: of who leads it, and of a trainee. */
import type { Page } from 'playwright-core';
import type {
  ClassState,
  Found,
  LessonItem,
  LessonPreview,
  Lessons,
  Mine,
  Result,
  TraineeItem,
} from '../../server/protocol/class.ts';
import { DECISIONS } from '../../server/class/decisions.ts';
import { LESSONS } from '../../server/class/lessons.ts';
import { itemOf } from '../../server/class/classroom.ts';
import { T0 } from '../client/fixtures.ts';

export interface ClassShown {
  name: string;
  /** What the server answers, by path. */
  served: Record<string, unknown>;
  /** The part of the page. */
  at: string;
  open?: (page: Page) => Promise<unknown>;
  /** What is there when it has come. */
  there: string | RegExp;
}

const MIN = 60_000;
const [LESSON = null] = LESSONS.filter(({ id }) => id === 'dirty-wheel').map((lesson) =>
  itemOf(lesson, false),
);
const OWN: LessonItem | null =
  LESSON === null ? null : { ...LESSON, id: 'attic-office', title: 'The attic office', own: true };

const LESSON_LIST: Lessons = {
  lessons: [...(OWN === null ? [] : [OWN]), ...LESSONS.map((lesson) => itemOf(lesson, false))],
  refused: [{ file: 'basement.json', why: 'fan: "fast" is not one of quiet, low, medium, high' }],
  faults: [
    { kind: 'clogged-filter', least: 0, most: 1, mode: null },
    { kind: 'drifting-probe', least: -20, most: 20, mode: null },
    { kind: 'swapped-probes', least: 1, most: 1, mode: null },
  ],
};
const PREVIEW: LessonPreview = {
  course: Array.from({ length: 241 }, (_, i) => ({
    ...{ elapsedS: 10 * i, totalW: 3300 - 2 * i, sensibleW: 2300 - i, latentW: 1000 - i },
    ...{ flowM3s: 0.14, sensibleHeatRatio: 0.7, compressorShare: 1 },
  })),
  healthyW: 3800,
};

const found = (value: number, u95: number, truth: number): Found => ({
  ...{ value, u95, truth },
  inside: Math.abs(value - truth) <= u95,
});
const RESULT: Result = {
  captures: [2960, 2700].map((value, i) => ({
    ...{ from: T0 - (10 - i) * MIN, to: T0 - (5 - i) * MIN },
    total: found(value, 140, 2740),
    sensible: found(0.7 * value, 100, 1950),
    latent: found(0.3 * value, 60, 790),
  })),
  airflow: found(0.131, 0.006, 0.129),
  decision: { cause: 'wheel', t: T0 },
  ...{ right: true, decidedS: 1500, capturedS: 900 },
};
const NOTHING: Result = {
  ...{ captures: [], airflow: null, decision: null },
  ...{ right: null, decidedS: null, capturedS: null },
};
const TRAINEES: TraineeItem[] = [
  {
    ...{ id: 't1', name: 'Ana', joinedT: T0, here: true, placed: 2, probes: 5, checked: true },
    ...{ airflow: 'sweep', state: 'steady', totalW: 2700, totalU95W: 140, captures: 2 },
    ...{ verdict: 'falls-short', decision: { cause: 'wheel', t: T0 }, result: null },
  },
  {
    id: 't2',
    name: 'Benedict of the long name on the second floor',
    ...{ joinedT: T0, here: false, placed: 0, probes: 5, checked: false, airflow: null },
    ...{ state: 'waiting', totalW: null, totalU95W: null, captures: 0, verdict: null },
    ...{ decision: null, result: null },
  },
];
const OPEN: ClassState = {
  ...{ phase: 'open', code: '40178253', lesson: LESSON, surprise: false },
  ...{ startT: T0 - 25 * MIN, t: T0, speed: 10, frozen: false },
  ...{ faults: [{ kind: 'clogged-filter', size: 0.7, t: T0 - 5 * MIN }], trainees: TRAINEES },
};
const NONE: ClassState = {
  ...{ phase: 'none', code: null, lesson: null, surprise: false, startT: 0, t: 0, speed: 1 },
  ...{ frozen: true, faults: [], trainees: [] },
};
const ENDED: ClassState = {
  ...OPEN,
  ...{ phase: 'ended', code: null, frozen: true },
  trainees: TRAINEES.map((trainee, i) => ({ ...trainee, result: i === 0 ? RESULT : NOTHING })),
};
const led = (told: ClassState): Record<string, unknown> => ({
  '/api/class': told,
  '/api/class/lessons': LESSON_LIST,
  '/api/class/lessons/example': { type: 'lesson', version: 1, id: 'attic-office' },
  '/api/class/preview': PREVIEW,
  '/api/phones': {
    ...{ lan: true, phones: [], codes: 0 },
    urls: ['http://192.0.2.17:4747', 'http://workbench.example:4747'],
  },
});

const press = (name: string | RegExp) => (page: Page) =>
  page.getByRole('button', { name }).first().click();

/** Of who leads it. */
export const LED: ClassShown[] = [
  { name: 'no class', served: led(NONE), at: '#class', there: 'Surprise me' },
  {
    ...{ name: 'lesson chosen', served: led(NONE), at: '#class' },
    open: (page) => page.getByRole('radio', { name: /^Dirty blower wheel/ }).check(),
    there: /^So this one gives/,
  },
  {
    ...{ name: 'lesson written', served: led(NONE), at: '#class' },
    open: async (page) => {
      await page.getByText('Write a lesson').click();
      await page.getByText('How it is written').click();
      await page.getByLabel('The lesson', { exact: true }).fill('{ "type": ');
      await page.getByRole('button', { name: 'Keep', exact: true }).click();
    },
    there: /^The lesson is not JSON/,
  },
  { name: 'class open', served: led(OPEN), at: '#class', there: '4017 8253' },
  {
    ...{ name: 'surprise', served: led({ ...OPEN, surprise: true, trainees: [] }), at: '#class' },
    there: 'Show what it is',
  },
  {
    ...{ name: 'fault form', served: led(OPEN), at: '#class' },
    ...{ open: press('Add a fault'), there: 'How bad' },
  },
  {
    ...{ name: 'end asked', served: led(OPEN), at: '#class' },
    ...{ open: press('End the lesson'), there: 'End the lesson?' },
  },
  { name: 'class ended', served: led(ENDED), at: '#class', there: 'How close the class came' },
];

const MINE: Mine = {
  ...{ phase: 'open', name: 'Ana', task: LESSON?.task ?? '', mode: 'cooling' },
  ...{ startT: T0 - 25 * MIN, t: T0, speed: 10, frozen: false },
  ...{ decisions: [...DECISIONS], decision: { cause: 'filter', t: T0 - MIN } },
  ...{ lesson: null, result: null },
};
const mine = (told: Mine): Record<string, unknown> => ({
  '/api/session': { role: 'trainee', id: 'phone-1', name: 'Ana', lan: true },
  '/api/class/mine': told,
});

/** Of a trainee. */
export const JOINED: ClassShown[] = [
  { name: 'task', served: mine(MINE), at: '#figure', there: 'Your task' },
  {
    ...{ name: 'frozen', served: mine({ ...MINE, frozen: true }), at: '#probes' },
    there: 'The instructor has frozen the air.',
  },
  { name: 'decide', served: mine(MINE), at: '#decide', there: /^You decided/ },
  { name: 'own record', served: mine(MINE), at: '#record', there: 'This screen' },
  {
    name: 'own result',
    served: mine({ ...MINE, phase: 'ended', lesson: LESSON, result: RESULT }),
    ...{ at: '#result', there: 'What you captured' },
  },
  {
    name: 'own result: nothing',
    served: mine({ ...MINE, phase: 'ended', lesson: LESSON, result: NOTHING }),
    ...{ at: '#result', there: 'You captured nothing.' },
  },
];

/** Shows a state of a class on a page that is fed by the test. @param serve takes what the server answers */
export async function showClass(
  page: Page,
  serve: (served: Record<string, unknown>) => void,
  { served, at, open, there }: ClassShown,
): Promise<void> {
  await page.keyboard.press('Escape'); // what was open
  serve(served);
  // Away and back: what was chosen before is not.
  await page.evaluate(() => (location.hash = '#airflow'));
  await page.getByRole('heading', { level: 1, name: 'Airflow' }).waitFor();
  await page.evaluate((hash) => (location.hash = hash), at);
  await open?.(page);
  await page.getByText(there).filter({ visible: true }).first().waitFor({ timeout: 20_000 });
}
