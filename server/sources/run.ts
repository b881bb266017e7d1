/**
 * One run of an adapter, from its start to its end: gives it its host, listens to it, and notices
 * when it fails. A run that has failed or ended is dead: its adapter may go on calling the host, but
 * nothing comes of it, so a restarted adapter never speaks with two voices.
 */
import type {
  Adapter,
  AdapterHost,
  AdapterStatus,
  EventLine,
  Line,
  ProbeLink,
} from '../../adapters/contract.ts';
import { within, type Clock, type TimerHandle } from './clock.ts';
import { asSentence, errorText } from './error-text.ts';
import { LineBudget } from './line-budget.ts';
import { isLink, isProbeId, isStatus } from './said.ts';
import { inScope, outside, type Owner } from './scope.ts';
import { StateText, type Subject } from './state-text.ts';
import { sent } from '../words/sent.ts';

/** An adapter that has not spoken by then is taken for hung. */
const START_LIMIT_MS = 30_000;
const TICK_MS = 1000;

export type RunState = 'starting' | AdapterStatus;

/** Where the output of a run goes. */
export interface RunOutput {
  line(line: Line): string | null;
  link(probe: string, link: ProbeLink): void;
  /** State or text may have changed. */
  changed(): void;
  /** The run has failed, for the reason in the sentence; it is dead and waits for `end`. */
  failed(sentence: string): void;
  /** A run that was over already left something behind that failed now. */
  leftover(error: unknown): void;
}

export class Run {
  readonly #adapter: Adapter;
  readonly #output: RunOutput;
  readonly #clock: Clock;
  readonly #budget: LineBudget;
  readonly #text = new StateText();
  readonly #stopping = new AbortController();
  readonly #owner: Owner = { charge: (error) => this.charge(error) };
  #live = true;
  #state: RunState = 'starting';
  #runningSince: number | null = null;
  #refused = 0;
  #droppedBefore = 0;
  #timer: TimerHandle | null = null;
  #stopped: Promise<string | null> | null = null;

  constructor(adapter: Adapter, output: RunOutput, clock: Clock, linesPerS: number) {
    this.#adapter = adapter;
    this.#output = output;
    this.#clock = clock;
    this.#budget = new LineBudget(linesPerS);
  }

  get state(): RunState {
    return this.#state;
  }

  /** What a person should know beside the state, or null. */
  get text(): string | null {
    return this.#text.at(this.#clock.now());
  }

  /** How long it has been running without a failure, ms; 0 while it does not run. */
  get runningMs(): number {
    return this.#runningSince === null ? 0 : this.#clock.now() - this.#runningSince;
  }

  /** Starts the adapter. Never throws: a failure is told to the output. */
  start(): void {
    const startedAt = this.#clock.now();
    this.#timer = this.#clock.setTimer(() => this.#tick(startedAt), TICK_MS);
    inScope(this.#owner, async () => this.#adapter.start(this.#host())).then(
      () => {
        if (this.#live && this.#state === 'starting') this.#become('running', null);
      },
      (error: unknown) => {
        const why = errorText(error);
        const atStart = this.#state === 'starting';
        this.#fail(atStart ? sent`It could not start: ${why}` : sent`It failed: ${why}`);
      },
    );
  }

  /** Passes on what a person did, if the adapter wants to know. */
  event(event: EventLine): void {
    this.#pass(() => this.#adapter.event?.(event));
  }

  /** Passes on that a person has forgotten a probe, if the adapter wants to know. */
  forget(probe: string): void {
    this.#pass(() => this.#adapter.forget?.(probe));
  }

  #pass(told: () => void): void {
    if (!this.#live) return;
    try {
      inScope(this.#owner, told);
    } catch (error) {
      this.charge(error);
    }
  }

  /** Takes an error that the adapter threw where nobody else could catch it. */
  charge(error: unknown): void {
    if (this.#live) this.#fail(sent`It failed: ${errorText(error)}`);
    else this.#output.leftover(error);
  }

  /** Adds to the text what an earlier run left behind. */
  remarkLeftover(sentence: string): void {
    this.#remark('leftover', sentence);
  }

  /**
   * Stops the adapter, once however often it is called.
   * @returns null, or in a sentence what went wrong. Fulfilled within `limitMs` in any case.
   */
  end(limitMs: number): Promise<string | null> {
    this.#die();
    this.#stopped ??= this.#stop();
    const late = (): string => sent`Its stop had not ended after ${limitMs / 1000} s.`;
    return within<string | null>(this.#clock, limitMs, this.#stopped, late);
  }

  async #stop(): Promise<string | null> {
    // The adapter may be calling us from inside its `start`: let that return first.
    await Promise.resolve();
    try {
      await inScope(this.#owner, async () => {
        this.#stopping.abort();
        await this.#adapter.stop();
      });
      return null;
    } catch (error) {
      return sent`Its stop failed: ${errorText(error)}`;
    }
  }

  #host(): AdapterHost {
    return {
      emit: (line) => this.#admit() ?? this.#hand(line),
      link: (probe, link) => {
        if (this.#admit() !== null) return;
        if (isProbeId(probe) && isLink(link)) outside(() => this.#output.link(probe, link));
        else this.#refuse(sent`A link needs a probe and one of connecting, connected, lost.`);
      },
      status: (state, text) => {
        if (this.#admit() === null) this.#status(state, text);
      },
      signal: this.#stopping.signal,
    };
  }

  /** @returns why a call of the adapter may not pass, or null when it may. */
  #admit(): string | null {
    const room = this.#budget.take(this.#clock.now());
    if (room && this.#live) return null;
    if (this.#budget.runaway) {
      // An endless loop keeps the whole process busy; only an error from here can end it.
      const sentence = sent`It sent lines in an endless loop, far more than ${this.#most()}.`;
      this.#fail(sentence);
      throw new Error(sentence);
    }
    if (!this.#live) return sent`The adapter has been stopped.`;
    return sent`It sends more than ${this.#most()}: this line was dropped.`;
  }

  #most(): string {
    return sent`${count(this.#budget.linesPerS)} lines a second`;
  }

  #hand(line: Line): string | null {
    let refusal: string | null;
    try {
      refusal = outside(() => this.#output.line(line));
    } catch (error) {
      // A fault of ours must not be charged to the adapter, nor take the server down.
      refusal = sent`Plateau could not take in a line: ${errorText(error)}`;
    }
    if (refusal !== null) this.#refuse(refusal);
    else if (line.type === 'reading') this.#text.reading(this.#clock.now());
    return refusal;
  }

  #refuse(reason: string): void {
    this.#refused += 1;
    const sentence =
      this.#refused === 1
        ? sent`1 line was refused, because: ${reason}`
        : sent`${count(this.#refused)} lines were refused, the last one because: ${reason}`;
    this.#remark('refused', sentence);
  }

  #status(state: unknown, text: unknown): void {
    if (!isStatus(state)) {
      this.#fail(sent`It gave a status that is none of running, unavailable, retrying.`);
      return;
    }
    const own = typeof text === 'string' && text.trim() !== '' ? asSentence(text) : null;
    this.#become(state, own ?? (state === 'running' ? null : sent`It gives no reason.`));
  }

  #become(state: AdapterStatus, own: string | null): void {
    if (state !== 'running') this.#runningSince = null;
    else this.#runningSince ??= this.#clock.now();
    this.#state = state;
    this.#text.own = own;
    outside(() => this.#output.changed());
  }

  #remark(subject: Subject, sentence: string): void {
    this.#text.remark(subject, sentence, this.#clock.now());
  }

  /** Once a second: what only the passing of time brings to light. */
  #tick(startedAt: number): void {
    const now = this.#clock.now();
    this.#timer = this.#clock.setTimer(() => this.#tick(startedAt), TICK_MS);
    this.#budget.turned(now);
    if (this.#budget.flooded) {
      this.#fail(sent`It kept sending more than ${this.#most()}.`);
    } else if (this.#state === 'starting' && now - startedAt >= START_LIMIT_MS) {
      this.#fail(sent`It had not started after ${START_LIMIT_MS / 1000} s.`);
    } else {
      this.#noteDropped();
      this.#output.changed();
    }
  }

  #noteDropped(): void {
    const { dropped, linesPerS } = this.#budget;
    if (dropped === this.#droppedBefore) return;
    this.#droppedBefore = dropped;
    const all = sent`${count(dropped)} lines over ${count(linesPerS)} a second were dropped`;
    this.#remark('dropped', sent`It sends too much: ${all}.`);
  }

  #fail(sentence: string): void {
    if (!this.#live) return;
    this.#die();
    outside(() => this.#output.failed(sentence));
  }

  #die(): void {
    this.#live = false;
    if (this.#timer !== null) this.#clock.clearTimer(this.#timer);
    this.#timer = null;
  }
}

function count(n: number): string {
  return n.toLocaleString('en');
}
