/**
 * Keeps the radio process: starts it, gives it orders and waits for the answers, and replaces it when
 * it ends, hangs, or talks nonsense. Nothing here waits for it without a limit.
 */
import { type ChildProcess, fork } from 'node:child_process';
import type { Clock, TimerHandle } from './clock.ts';
import { type Answer, type Order, type Said, saidSchema, type Settings } from './radio-messages.ts';

/** An order that has no answer by then has hung the process, ms; its own limits are shorter. */
const ANSWER_MS = { connect: 7000, other: 8000 };
/** A process that has not said a word by then never will; after its first word it says one a second. */
const FIRST_WORD_MS = 20_000;
const SILENCE_MS = 10_000;
const LOOK_MS = 1000;
/**
 * Between two processes, ms: the system needs about two seconds to end the links of a killed one. It
 * doubles while they end soon after their start.
 */
const PAUSE = { unlinked: 100, first: 2000, longest: 60_000 };
const SOON_MS = 15_000;
/** So many messages of no known kind, and it is not the process that it should be. */
const MOST_NONSENSE = 20;
/** How long it may take to end in order, ms. */
const END_MS = 1200;

/** What can be asked of the radio, the number left out. */
export type Asked = WithoutAsk<Extract<Order, { ask: number }>>;
type WithoutAsk<T> = T extends unknown ? Omit<T, 'ask'> : never;

interface RadioErrorOptions {
  readonly down?: boolean;
  readonly hung?: boolean;
  readonly why?: Answer['why'];
}

/** An order that was not carried out. */
export class RadioError extends Error {
  override readonly name = 'RadioError';
  /** Whether it went down with its process: nothing is linked any more. */
  readonly down: boolean;
  /** Whether the process went down because of it. */
  readonly hung: boolean;
  /** What the probe has to do with it, where that is known. */
  readonly why: Answer['why'];

  constructor(text: string, { down = false, hung = false, why }: RadioErrorOptions = {}) {
    super(text);
    this.down = down;
    this.hung = hung;
    this.why = why;
  }
}

/** What the adapter needs of a radio. */
export interface Radio {
  start(): void;
  /** Has it done, and waits for the answer. @throws RadioError */
  ask(order: Asked): Promise<Answer>;
  /** Gives an order that has no answer. */
  tell(order: Extract<Order, { do: 'scan' }>): void;
  /** Ends the process and starts another. */
  replace(): void;
  stop(): Promise<void>;
}

export interface RadioListener {
  /** What the radio says, its answers left out. */
  said(message: Said): void;
  /** A process has begun: nothing is linked in it, and nothing is known of its state. */
  begun(): void;
  /** A process has ended, and all links with it; null: it was to. */
  ended(why: string | null): void;
}

export interface RadioHostOptions {
  /** The built adapters/ble/radio.ts. */
  readonly file: string;
  /** Modules that the process loads before anything else, as `--import` does. */
  readonly imports: readonly string[];
  readonly settings: () => Settings;
  readonly clock: Clock;
  readonly listener: RadioListener;
}

interface Waiting {
  readonly resolve: (answer: Answer) => void;
  readonly reject: (error: RadioError) => void;
  readonly isConnect: boolean;
  timer: TimerHandle;
}

export class RadioHost implements Radio {
  readonly #options: RadioHostOptions;
  readonly #clock: Clock;
  readonly #waiting = new Map<number, Waiting>();
  #child: ChildProcess | null = null;
  #asked = 0;
  #startedT = 0;
  #heardT = 0;
  #lookedT = 0;
  #hasSpoken = false;
  #nonsense = 0;
  #hasLinked = false;
  #early = 0;
  #look: TimerHandle | null = null;
  #pause: TimerHandle | null = null;
  #stopped = true;

  constructor(options: RadioHostOptions) {
    this.#options = options;
    this.#clock = options.clock;
  }

  start(): void {
    this.#stopped = false;
    this.#begin();
    this.#lookedT = this.#clock.now();
    this.#look = this.#clock.setTimer(() => this.#lookAfter(), LOOK_MS);
  }

  ask(order: Asked): Promise<Answer> {
    return new Promise((resolve, reject) => {
      if (this.#child === null) {
        reject(new RadioError('the radio is being started', { down: true }));
        return;
      }
      const ask = (this.#asked += 1);
      const isConnect = order.do === 'connect';
      this.#hasLinked ||= isConnect;
      const limitMs = isConnect ? ANSWER_MS.connect : ANSWER_MS.other;
      const timer = this.#clock.setTimer(() => this.#overdue(ask, limitMs), limitMs);
      this.#waiting.set(ask, { resolve, reject, isConnect, timer });
      this.#send({ ...order, ask });
    });
  }

  tell(order: Extract<Order, { do: 'scan' }>): void {
    this.#send(order);
  }

  replace(): void {
    this.#drop(null);
  }

  async stop(): Promise<void> {
    this.#stopped = true;
    for (const timer of [this.#look, this.#pause]) {
      if (timer !== null) this.#clock.clearTimer(timer);
    }
    const child = this.#child;
    if (child === null) return;
    this.#child = null;
    this.#failAll();
    await new Promise<void>((resolve) => {
      const timer = this.#clock.setTimer(() => child.kill('SIGKILL'), END_MS);
      const end = (): void => {
        this.#clock.clearTimer(timer);
        resolve();
      };
      child.once('exit', end);
      child.once('error', end);
      // It ends its links and itself when nobody listens any more.
      if (child.connected) child.disconnect();
      else if (child.exitCode !== null || child.signalCode !== null) end();
      else child.kill('SIGKILL');
    });
  }

  #begin(): void {
    const { file, imports, settings, listener } = this.#options;
    this.#pause = null;
    this.#startedT = this.#heardT = this.#clock.now();
    this.#hasSpoken = false;
    this.#nonsense = 0;
    this.#hasLinked = false;
    const child = fork(file, [JSON.stringify(settings())], {
      execArgv: imports.flatMap((module) => ['--import', module]),
      // The library prints advice that is not for people who see only this program.
      stdio: ['ignore', 'ignore', 'ignore', 'ipc'],
    });
    this.#child = child;
    child.on('message', (message) => {
      if (child === this.#child) this.#take(message);
    });
    child.on('error', (error) => {
      if (child === this.#child) this.#drop(`It could not be started: ${error.message}`);
    });
    child.on('exit', (code, signal) => {
      if (child === this.#child) this.#drop(`It ended by itself (${signal ?? `status ${code}`}).`);
    });
    listener.begun();
  }

  /** An order has no answer yet. */
  #overdue(ask: number, limitMs: number): void {
    const waiting = this.#waiting.get(ask);
    if (waiting === undefined) return;
    if (!waiting.isConnect && [...this.#waiting.values()].some(({ isConnect }) => isConnect)) {
      // It waits behind a connect, which holds everything up: that has a limit of its own.
      waiting.timer = this.#clock.setTimer(() => this.#overdue(ask, limitMs), limitMs);
      return;
    }
    this.#waiting.delete(ask);
    this.#drop('It did not answer.');
    const text = `the radio did not answer for ${limitMs / 1000} s`;
    waiting.reject(new RadioError(text, { down: true, hung: true }));
  }

  #take(message: unknown): void {
    this.#heardT = this.#clock.now();
    this.#hasSpoken = true;
    const checked = saidSchema.safeParse(message);
    if (!checked.success) {
      this.#nonsense += 1;
      if (this.#nonsense >= MOST_NONSENSE) this.#drop('It said what cannot be understood.');
      return;
    }
    const said = checked.data;
    if (said.say === 'pulse') return;
    if (said.say !== 'answer') {
      this.#options.listener.said(said);
      return;
    }
    const waiting = this.#waiting.get(said.ask);
    if (waiting === undefined) return;
    this.#waiting.delete(said.ask);
    this.#clock.clearTimer(waiting.timer);
    if (said.error === null) waiting.resolve(said);
    else waiting.reject(new RadioError(said.error, { why: said.why }));
  }

  #lookAfter(): void {
    const now = this.#clock.now();
    this.#look = this.#clock.setTimer(() => this.#lookAfter(), LOOK_MS);
    // The computer slept, or its clock was set: that is not the radio's silence.
    if (Math.abs(now - this.#lookedT) > 3 * LOOK_MS) this.#heardT = now;
    this.#lookedT = now;
    const limitMs = this.#hasSpoken ? SILENCE_MS : FIRST_WORD_MS;
    if (this.#child !== null && now - this.#heardT > limitMs) {
      this.#drop(`Nothing was heard of it for ${limitMs / 1000} s.`);
    }
  }

  #send(order: Order): void {
    const child = this.#child;
    // A process that has just ended is noticed by its `exit`.
    if (child?.connected === true) child.send(order, () => undefined);
  }

  /** Lets go of the process, whatever it does, and starts another after a pause. */
  #drop(why: string | null): void {
    const child = this.#child;
    if (child === null || this.#stopped) return;
    this.#child = null;
    child.kill('SIGKILL');
    const soon = why !== null && this.#clock.now() - this.#startedT < SOON_MS;
    this.#early = soon ? this.#early + 1 : 0;
    const first = why === null && !this.#hasLinked ? PAUSE.unlinked : PAUSE.first;
    const pauseMs = Math.min(PAUSE.longest, first * 2 ** Math.max(0, this.#early - 1));
    this.#pause = this.#clock.setTimer(() => this.#begin(), pauseMs);
    this.#options.listener.ended(why);
    this.#failAll();
  }

  #failAll(): void {
    for (const { reject, timer } of this.#waiting.values()) {
      this.#clock.clearTimer(timer);
      reject(new RadioError('the radio was started anew', { down: true }));
    }
    this.#waiting.clear();
  }
}
