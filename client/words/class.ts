/** What the instructor's room says: picking a lesson, leading it, and who stands where. Pure. */
import type { ClassState, TraineeItem } from '../../server/protocol/class.ts';
import { sourceWords } from './airflow.ts';
import { duration } from './times.ts';
import { SHORT_WORDS, VERDICT_MARKS } from './verdict-word.ts';
import { STATE_WORDS } from './settling.ts';

export const CLASS = {
  title: 'Class',
  lead: 'Lead a class',
  back: 'Back to the record',
  intro:
    'Each trainee joins on a phone or laptop and commissions the same simulated unit, in a visit of their ' +
    'own. You see who stands where. At the end everybody sees what was true.',
  simulated: 'Everything in a class is simulated. No real air is measured.',
  lost: 'The class could not be read. What is shown may be old. It is tried again.',
  reading: 'Reading the class.',
};

export const PICK = {
  title: 'Pick a lesson',
  lessons: 'Lessons',
  own: 'Your own',
  builtIn: 'Built in',
  surprise: 'Surprise me',
  surpriseWhat: 'One of all lessons, drawn by chance. What it is stays folded away from you, too.',
  task: 'What the trainees are told',
  cause: 'The right answer',
  lookFor: 'What to look for',
  open: 'Open the class',
  openWhat: 'The air stands still until you let it run: everybody can join first.',
  refused: 'Files that are no lessons',
};

/** "Cooling" */
export const modeWord = (mode: 'cooling' | 'heating'): string =>
  ({ cooling: 'Cooling', heating: 'Heating' })[mode];

/** The code and the address, to be read from the back of a room. */
export const WELCOME = {
  title: 'Join here',
  code: 'Class code',
  address: 'Address',
  how: 'Open the address, then enter the code and your name.',
  hidden: 'Code and address',
};

export const LEAD = {
  title: 'The lesson',
  show: 'Show what it is',
  run: 'Run',
  freeze: 'Freeze',
  speed: 'Speed of the class',
  added: 'Added while it ran',
  addFault: 'Add a fault',
  end: 'End the lesson',
  endTitle: 'End the lesson?',
  endWhat:
    'The air stands still for good. Everybody sees what was true, and nobody can change anything any more.',
  endAct: 'End it',
  close: 'Close the class',
  closeTitle: 'Close the class?',
  closeWhat:
    'All visits of the trainees are gone, and so is this page of results. Print it first if you want to keep it.',
  closeAct: 'Close it',
};

export const SPEEDS = [1, 2, 5, 10, 30, 60] as const;
/** "10×" */
export const speedText = (speed: number): string => `${speed}×`;

/** How long the class has run, and how its time goes. */
export function classTime({ t, startT, speed, frozen }: ClassTime): string {
  const run = duration((t - startT) / 1000);
  if (frozen && t <= startT) return 'Not begun: the air stands still until you let it run.';
  if (frozen) return `Frozen at ${run}.`;
  return speed === 1 ? `Running, ${run} in.` : `Running ${speedText(speed)} as fast, ${run} in.`;
}
export type ClassTime = Pick<ClassState, 't' | 'startT' | 'speed' | 'frozen'>;

/** Who is in. */
export const TRAINEES = {
  title: 'Who is in',
  none: 'Nobody yet. They join with the code above.',
  name: 'Name',
  page: 'Page',
  probes: 'Probes',
  checked: 'Side by side',
  airflow: 'Airflow',
  state: 'State',
  figure: 'Capacity',
  captures: 'Captures',
  verdict: 'Verdict',
  decision: 'Decided',
  act: 'Send away',
  here: 'open',
  away: 'away',
  yes: 'checked',
  no: 'not checked',
  noAirflow: 'none',
  dash: '—',
  decided: 'yes',
  undecided: 'not yet',
  sendAway: 'Send away',
  sendAwayOf: (name: string): string => `Send away: ${name}`,
  sendAwayTitle: (name: string): string => `Send ${name} away?`,
  sendAwayWhat: 'Their visit is gone. They can join again, from the beginning.',
};

/** "2 of 4" */
export const placedWords = ({ placed, probes }: Pick<TraineeItem, 'placed' | 'probes'>): string =>
  `${Math.min(placed, probes)} of ${probes}`;

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
  const all = trainees.length === 1 ? '1 trainee is in.' : `${trainees.length} trainees are in.`;
  return here === trainees.length ? all : `${all} Pages open: ${here}.`;
}
