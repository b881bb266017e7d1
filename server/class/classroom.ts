/**
 * The class: one lesson at a time, its clock, its faults, and the trainees over it. Each has a simulation of
 * their own, of one seed: the air is the same until somebody does something to it, and what one does (a
 * setpoint, a check, a probe in the hand) is not done to the others. The probes are each one's own.
 */
import { createSimulatedAdapter } from '../../adapters/simulated/index.ts';
import {
  type FaultKind,
  FAULT_MODES,
  FAULT_SIZES,
  FROM_THE_START,
} from '../../simulator/faults.ts';
import type { SystemParameters } from '../../simulator/system.ts';
import type { ClassState, LessonItem, Mine } from '../protocol/class.ts';
import { ClassClock } from './clock.ts';
import { DECISIONS, DECISION_OF, type Decision } from './decisions.ts';
import type { Lesson } from './lesson.ts';
import { airflowOf, changesOf, systemOf, systemWith } from './site.ts';
import { type Every, Trainee } from './trainee.ts';
import { sent } from '../words/sent.ts';

/** More than sit in a classroom. */
export const MOST_TRAINEES = 60;
/** Readings are handed over so often, ms: what hangs on it is how late a second is. */
const EVERY_MS = 100;

export interface ClassroomOptions {
  /** ms since the epoch. */
  now: () => number;
  /** ms of a clock that nobody sets. */
  steady: () => number;
  every: Every;
  /** Digits that are no other code. */
  newCode: () => string;
  /** Whether a page of that trainee is open. */
  isHere: (trainee: string) => boolean;
  /** Called when trainees have to leave: all (null), or one. */
  left: (trainee: string | null) => void;
}

/** A lesson that is given. */
interface Given {
  lesson: Lesson;
  surprise: boolean;
  seed: number;
  code: string;
  clock: ClassClock;
  startT: number;
  ended: boolean;
  added: { kind: FaultKind; size: number; t: number }[];
  trainees: Map<string, Trainee>;
}

export class Classroom {
  readonly #options: ClassroomOptions;
  #given: Given | null = null;
  #count = 0;

  constructor(options: ClassroomOptions) {
    this.#options = options;
  }

  /**
   * Opens a class: its time stands still until `pace` lets it go.
   * @param seed of the air; the same gives the same lesson
   * @returns why not, as a sentence, or null
   */
  open(lesson: Lesson, seed: number, surprise: boolean): string | null {
    if (this.#given !== null)
      return sent`A class is open: close it before you begin another lesson.`;
    const { now, steady, newCode } = this.#options;
    const startT = Math.ceil(now() / 1000) * 1000;
    this.#given = {
      ...{ lesson, surprise, seed, startT, code: newCode(), ended: false, added: [] },
      ...{ clock: new ClassClock(startT, steady), trainees: new Map() },
    };
    return null;
  }

  /** Lets its time go on, faster, or stand still. @returns why not, or null */
  pace(change: { speed?: number | undefined; frozen?: boolean | undefined }): string | null {
    const given = this.#given;
    if (given === null) return NONE;
    if (given.ended) return ENDED;
    given.clock.set({
      ...(change.speed === undefined ? {} : { speed: change.speed }),
      ...(change.frozen === undefined ? {} : { frozen: change.frozen }),
    });
    return null;
  }

  /** Adds a fault, or changes its size; for all, at this moment. @returns why not, or null */
  fault(kind: FaultKind, size: number): string | null {
    const given = this.#given;
    if (given === null) return NONE;
    if (given.ended) return ENDED;
    const [least, most] = FAULT_SIZES[kind];
    if (!(size >= least && size <= most)) return sent`size: ${size} is outside ${least} to ${most}`;
    if (FROM_THE_START.includes(kind)) {
      return sent`kind: "${kind}" is there from the start of a lesson or not at all`;
    }
    const { mode } = given.lesson;
    if ((FAULT_MODES[kind] ?? mode) !== mode)
      return sent`kind: "${kind}" does not occur in ${mode}`;
    const { t } = given.clock;
    given.added = [...given.added.filter((each) => each.kind !== kind), { kind, size, t }];
    const parameters = this.#parametersAt(given, t);
    for (const { source } of given.trainees.values()) source.become(parameters);
    return null;
  }

  /** Ends the lesson: time stands still, and what was true is told. @returns why not, or null */
  end(): string | null {
    const given = this.#given;
    if (given === null) return NONE;
    given.clock.set({ frozen: true });
    given.ended = true;
    return null;
  }

  /** Closes the class: the visits of all trainees are gone. */
  close(): void {
    const given = this.#given;
    this.#given = null;
    if (given === null) return;
    for (const trainee of given.trainees.values()) trainee.end();
    this.#options.left(null);
  }

  /**
   * Lets somebody in that shows the code of the class. Who comes again from the same machine, by the same
   * name, has their visit back.
   * @returns null where it is not the code of an open class
   */
  join(code: string, name: string, address: string): { trainee: string } | 'full' | null {
    const given = this.#given;
    if (given === null || given.ended || code !== given.code) return null;
    const { trainees } = given;
    const again = [...trainees.values()].find(
      (each) => each.name === name && each.address === address,
    );
    if (again !== undefined) return { trainee: again.id };
    if (trainees.size >= MOST_TRAINEES) return 'full';
    const { every } = this.#options;
    const id = `t${++this.#count}`;
    const now = (): number => given.clock.t;
    const source = createSimulatedAdapter({
      parameters: systemOf(given.lesson),
      changes: this.#changes(given),
      ...{ seed: given.seed, probeSeed: given.seed + 7919 * this.#count },
      ...{ startT: given.startT, pace: now, now, everyMs: EVERY_MS },
      ...{ placed: given.lesson.placed, airflow: airflowOf(given.lesson) },
    });
    const visitId = `class-${given.startT}-${id}`;
    trainees.set(id, new Trainee({ id, name, address, visitId, now, source, every }));
    return { trainee: id };
  }

  /** Sends one away. @returns whether there was one of that id */
  sendAway(id: string): boolean {
    const trainee = this.#given?.trainees.get(id);
    if (trainee === undefined) return false;
    this.#given?.trainees.delete(id);
    trainee.end();
    this.#options.left(id);
    return true;
  }

  /** Whether the lesson is over: what was found stands. */
  get hasEnded(): boolean {
    return this.#given?.ended === true;
  }

  trainee(id: string): Trainee | null {
    return this.#given?.trainees.get(id) ?? null;
  }

  /** For who leads it. */
  state(): ClassState {
    const given = this.#given;
    if (given === null) return NO_CLASS;
    const { lesson, surprise, startT, clock, code, ended, added, trainees } = given;
    const right = ended ? rightOf(given) : null;
    return {
      ...{ phase: ended ? 'ended' : 'open', code: ended ? null : code, surprise },
      lesson: itemOf(lesson, false, rightOf(given)),
      ...{ startT, t: clock.t, speed: clock.speed, frozen: clock.frozen, faults: added },
      trainees: [...trainees.values()].map((trainee) =>
        trainee.stand(this.#options.isHere(trainee.id), right, startT),
      ),
    };
  }

  /** For a trainee; null where there is none of that id. */
  mine(id: string): Mine | null {
    const given = this.#given;
    const trainee = given?.trainees.get(id);
    if (given === null || trainee === undefined) return null;
    const { lesson, startT, clock, ended } = given;
    const { task, mode } = lesson;
    return {
      ...{ phase: ended ? 'ended' : 'open', name: trainee.name, task, mode, startT },
      ...{ t: clock.t, speed: clock.speed, frozen: clock.frozen },
      ...{ decisions: [...DECISIONS], decision: trainee.decision },
      lesson: ended ? itemOf(lesson, false, rightOf(given)) : null,
      result: ended ? trainee.result(rightOf(given), startT) : null,
    };
  }

  /** What one of them holds to be the matter. @returns why it is not taken, or null */
  decide(id: string, cause: Decision): string | null {
    const trainee = this.trainee(id);
    if (trainee === null) return NONE;
    if (this.#given?.ended === true) return ENDED;
    trainee.decide(cause);
    return null;
  }

  /** What the systems become, by the lesson and by what was added. */
  #changes(given: Given): { afterS: number; parameters: SystemParameters }[] {
    const { lesson, startT, added } = given;
    const times = [
      ...changesOf(lesson).map(({ afterS }) => startT + 1000 * afterS),
      ...added.map(({ t }) => t),
    ];
    return times
      .sort((a, b) => a - b)
      .map((t) => ({ afterS: (t - startT) / 1000, parameters: this.#parametersAt(given, t) }));
  }

  #parametersAt({ lesson, startT, added }: Given, t: number): SystemParameters {
    const more = added.filter((fault) => fault.t <= t);
    return systemWith(lesson, (t - startT) / 1000, more);
  }
}

const NONE = sent`There is no class: open one first.`;
const ENDED = sent`The lesson has ended: close the class, and begin another.`;

const NO_CLASS: ClassState = {
  ...{ phase: 'none', code: null, lesson: null, surprise: false },
  ...{ startT: 0, t: 0, speed: 1, frozen: true, faults: [], trainees: [] },
};

/** Which answers are right: those of the lesson, and those of what was added to it. */
function rightOf({ lesson, added }: Given): Decision[] {
  const more = added.filter(({ size }) => size > 0).map(({ kind }) => DECISION_OF[kind]);
  const own = more.length > 0 ? lesson.cause.filter((cause) => cause !== 'nothing') : lesson.cause;
  return [...new Set([...own, ...more])];
}

/** A lesson as it is listed. @param right what is right by now */
export function itemOf(lesson: Lesson, own: boolean, right = lesson.cause): LessonItem {
  const { id, title, task, mode, lookFor } = lesson;
  return { id, title, task, mode, lookFor, cause: [...right], own };
}
