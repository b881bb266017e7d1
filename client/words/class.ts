/** What the instructor's room says: picking a lesson, leading it, and who stands where. Pure. */
import type { ClassState, TraineeItem } from '../../server/protocol/class.ts';
import { sourceWords } from './airflow.ts';
import { duration } from './times.ts';
import { SHORT_WORDS, VERDICT_MARKS } from './verdict-word.ts';
import { STATE_WORDS } from './settling.ts';
import { t as say } from '../../server/words/language.ts';

export const CLASS = {
  title: say`Class`,
  lead: say`Lead a class`,
  back: say`Back to the record`,
  intro: say`Each trainee joins on a phone or laptop and commissions the same simulated unit, in a visit of their own. You see who stands where. At the end everybody sees what was true.`,
  simulated: say`Everything in a class is simulated. No real air is measured.`,
  lost: say`The class could not be read. What is shown may be old. It is tried again.`,
  reading: say`Reading the class.`,
};

export const PICK = {
  title: say`Pick a lesson`,
  lessons: say`Lessons`,
  own: say`Your own`,
  builtIn: say`Built in`,
  surprise: say`Surprise me`,
  surpriseWhat: say`One of all lessons, drawn by chance. What it is stays folded away from you, too.`,
  task: say`What the trainees are told`,
  cause: say`The right answer`,
  lookFor: say`What to look for`,
  open: say`Open the class`,
  openWhat: say`The air stands still until you let it run: everybody can join first.`,
  refused: say`Files that are no lessons`,
};

/** "Cooling" */
export const modeWord = (mode: 'cooling' | 'heating'): string =>
  ({ cooling: say`Cooling`, heating: say`Heating` })[mode];

/** The code and the address, to be read from the back of a room. */
export const WELCOME = {
  title: say`Join here`,
  code: say`Class code`,
  address: say`Address`,
  how: say`Open the address, then enter the code and your name.`,
  hidden: say`Code and address`,
};

export const LEAD = {
  title: say`The lesson`,
  show: say`Show what it is`,
  run: say`Run`,
  freeze: say`Freeze`,
  speed: say`Speed of the class`,
  added: say`Added while it ran`,
  addFault: say`Add a fault`,
  end: say`End the lesson`,
  endTitle: say`End the lesson?`,
  endWhat: say`The air stands still for good. Everybody sees what was true, and nobody can change anything any more.`,
  endAct: say`End it`,
  close: say`Close the class`,
  closeTitle: say`Close the class?`,
  closeWhat: say`All visits of the trainees are gone, and so is this page of results. Print it first if you want to keep it.`,
  closeAct: say`Close it`,
};

export const SPEEDS = [1, 2, 5, 10, 30, 60] as const;
/** "10×" */
export const speedText = (speed: number): string => `${speed}×`;

/** How long the class has run, and how its time goes. */
export function classTime({ t, startT, speed, frozen }: ClassTime): string {
  const run = duration((t - startT) / 1000);
  if (frozen && t <= startT) return say`Not begun: the air stands still until you let it run.`;
  if (frozen) return say`Frozen at ${run}.`;
  return speed === 1
    ? say`Running, ${run} in.`
    : say`Running ${speedText(speed)} as fast, ${run} in.`;
}
export type ClassTime = Pick<ClassState, 't' | 'startT' | 'speed' | 'frozen'>;

/** Who is in. */
export const TRAINEES = {
  title: say`Who is in`,
  none: say`Nobody yet. They join with the code above.`,
  name: say`Name`,
  page: say`Page`,
  probes: say`Probes`,
  checked: say`Side by side`,
  airflow: say`Airflow`,
  state: say`State`,
  figure: say`Capacity`,
  captures: say`Captures`,
  verdict: say`Verdict`,
  decision: say`Decided`,
  act: say`Send away`,
  here: say`open`,
  away: say`away`,
  yes: say`checked`,
  no: say`not checked`,
  noAirflow: say`none`,
  dash: '—',
  decided: say`yes`,
  undecided: say`not yet`,
  sendAway: say`Send away`,
  sendAwayOf: (name: string): string => say`Send away: ${name}`,
  sendAwayTitle: (name: string): string => say`Send ${name} away?`,
  sendAwayWhat: say`Their visit is gone. They can join again, from the beginning.`,
};

/** "2 of 4" */
export const placedWords = ({ placed, probes }: Pick<TraineeItem, 'placed' | 'probes'>): string =>
  say`${Math.min(placed, probes)} of ${probes}`;

/** Where a trainee's airflow comes from, in the page's words. */
export const airflowOf = ({ airflow }: Pick<TraineeItem, 'airflow'>): string =>
  airflow === null ? TRAINEES.noAirflow : sourceWords(airflow);

/** "Steady", or a dash. */
export const stateOf = ({ state }: Pick<TraineeItem, 'state'>): string =>
  state === null ? TRAINEES.dash : STATE_WORDS[state];

/** "● meets": a shape beside the word. */
export function verdictText(verdict: string | null): string {
  const known = Object.entries(SHORT_WORDS).find(([code]) => code === verdict);
  if (known === undefined) return TRAINEES.dash;
  const mark = Object.entries(VERDICT_MARKS).find(([code]) => code === verdict);
  return `${mark?.[1] ?? ''} ${known[1]}`;
}

/** How many are in, and how many of them have their page open. */
export function inWords(trainees: readonly Pick<TraineeItem, 'here'>[]): string {
  const here = trainees.filter((each) => each.here).length;
  const all =
    trainees.length === 1 ? say`1 trainee is in.` : say`${trainees.length} trainees are in.`;
  return here === trainees.length ? all : say`${all} Pages open: ${here}.`;
}
