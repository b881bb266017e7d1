/** What a trainee of a class reads: the banner, the task, the decision and the own result. Pure. */
import type { Mine } from '../../server/protocol/class.ts';
import { duration } from './times.ts';
import { t as say } from '../../server/words/language.ts';

export const TRAINEE = {
  label: say`The class`,
  who: (name: string): string => say`Class · ${name} · simulated`,
  task: say`Task`,
  taskTitle: say`Your task`,
  hide: say`Hide it`,
  decide: say`Decide`,
  result: say`Your result`,
  ended: say`The lesson has ended.`,
  /** Why nothing can be changed any more. */
  sealed: say`The lesson has ended: look at everything, but nothing can be changed any more.`,
  lost: say`The class could not be read. It is tried again.`,
  yours: say`This visit is yours and simulated. It is kept only while the class is open; nothing of it goes into a record.`,
};

/** How the time of the class goes. */
export function paceWords({ phase, t, startT, speed, frozen }: Pace): string {
  if (phase !== 'open') return TRAINEE.ended;
  if (frozen && t <= startT) return say`Not begun yet: the air stands still.`;
  if (frozen) return say`The instructor has frozen the air.`;
  return speed === 1 ? say`Running in real time.` : say`The air runs ${speed}× as fast.`;
}
export type Pace = Pick<Mine, 'phase' | 't' | 'startT' | 'speed' | 'frozen'>;

export const DECIDE = {
  title: say`What is the matter?`,
  what: say`Decide for one. You can change it until the lesson ends.`,
  none: say`Nothing decided yet.`,
  decided: (answer: string, afterS: number): string =>
    say`You decided, ${duration(afterS)} into the lesson: ${answer}.`,
  act: say`Decide for this`,
};

export const MY_RESULT = {
  title: say`Your result`,
  captures: say`What you captured`,
  noCaptures: say`You captured nothing.`,
  total: say`Total`,
  sensible: say`Sensible`,
  latent: say`Latent`,
  yours: say`Yours`,
  truth: say`True`,
  inside: say`Truth inside your ±`,
  airflow: say`Airflow you measured last`,
  flow: say`Airflow`,
  noAirflow: say`You measured no airflow.`,
  decision: say`What you decided`,
  noDecision: say`You decided nothing.`,
  right: say`The right answer`,
  lookFor: say`What to look for`,
};
/** "Capture 2" */
export const captureName = (number: number): string => say`Capture ${number}`;
