/** What a trainee of a class reads: the banner, the task, the decision and the own result. Pure. */
import type { Mine } from '../../server/protocol/class.ts';
import { duration } from './times.ts';

export const TRAINEE = {
  label: 'The class',
  who: (name: string): string => `Class · ${name} · simulated`,
  task: 'Task',
  taskTitle: 'Your task',
  hide: 'Hide it',
  decide: 'Decide',
  result: 'Your result',
  ended: 'The lesson has ended.',
  /** Why nothing can be changed any more. */
  sealed: 'The lesson has ended: look at everything, but nothing can be changed any more.',
  lost: 'The class could not be read. It is tried again.',
  yours:
    'This visit is yours and simulated. It is kept only while the class is open; nothing of it goes into a record.',
};

/** How the time of the class goes. */
export function paceWords({ phase, t, startT, speed, frozen }: Pace): string {
  if (phase !== 'open') return TRAINEE.ended;
  if (frozen && t <= startT) return 'Not begun yet: the air stands still.';
  if (frozen) return 'The instructor has frozen the air.';
  return speed === 1 ? 'Running in real time.' : `The air runs ${speed}× as fast.`;
}
export type Pace = Pick<Mine, 'phase' | 't' | 'startT' | 'speed' | 'frozen'>;

export const DECIDE = {
  title: 'What is the matter?',
  what: 'Decide for one. You can change it until the lesson ends.',
  none: 'Nothing decided yet.',
  decided: (answer: string, afterS: number): string =>
    `You decided, ${duration(afterS)} into the lesson: ${answer}.`,
  act: 'Decide for this',
};

export const MY_RESULT = {
  title: 'Your result',
  captures: 'What you captured',
  noCaptures: 'You captured nothing.',
  total: 'Total',
  sensible: 'Sensible',
  latent: 'Latent',
  yours: 'Yours',
  truth: 'True',
  inside: 'Truth inside your ±',
  airflow: 'Airflow you measured last',
  flow: 'Airflow',
  noAirflow: 'You measured no airflow.',
  decision: 'What you decided',
  noDecision: 'You decided nothing.',
  right: 'The right answer',
  lookFor: 'What to look for',
};
/** "Capture 2" */
export const captureName = (number: number): string => `Capture ${number}`;
