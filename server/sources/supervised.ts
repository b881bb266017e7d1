/** One adapter under supervision: runs it, and after a failure runs it again after a pause. */
import type { Adapter, EventLine, Line, ProbeLink } from '../../adapters/contract.ts';
import { backOffMs } from './back-off.ts';
import type { Clock, TimerHandle } from './clock.ts';
import { errorText } from './error-text.ts';
import { Run, type RunState } from './run.ts';
import { outside } from './scope.ts';
import { sent } from '../words/sent.ts';

/** Who has run so long without a failure begins again with short pauses. */
const RAN_WELL_MS = 60_000;
/** So long a failed adapter may take to stop before it is started again. */
const STOP_LIMIT_MS = 5000;

/** Where everything that adapters say goes to. None of the calls should throw. */
export interface SourceSink {
  /**
   * Takes one line, of any shape: an outside plug-in is not bound by our types.
   * @param simulated whether the adapter makes its readings up.
   * @returns why it is refused, as a sentence, or null.
   */
  line(adapter: string, simulated: boolean, line: Line): string | null;
  link(adapter: string, probe: string, link: ProbeLink): void;
  /** The state of an adapter, or the text with it, has changed. */
  status(adapter: string, state: RunState, text: string | null): void;
}

export interface SupervisedOptions {
  readonly sink: SourceSink;
  readonly clock: Clock;
  /** From 0 to 1. */
  readonly random: () => number;
  /** Lines over this many a second are dropped; Infinity for a source of our own that may. */
  readonly linesPerS: number;
}

export class Supervised {
  readonly name: string;
  readonly #adapter: Adapter;
  readonly simulated: boolean;
  readonly #options: SupervisedOptions;
  #run: Run | null = null;
  #failures = 0;
  #pause: TimerHandle | null = null;
  #stopped = true;
  #shown = '';

  constructor(adapter: Adapter, options: SupervisedOptions) {
    this.#adapter = adapter;
    this.name = adapter.name;
    this.simulated = adapter.simulated === true;
    this.#options = options;
  }

  start(): void {
    if (!this.#stopped) return;
    this.#stopped = false;
    this.#begin();
  }

  /** Stops it for good, within `limitMs`. */
  async stop(limitMs: number): Promise<void> {
    this.#stopped = true;
    if (this.#pause !== null) this.#options.clock.clearTimer(this.#pause);
    this.#pause = null;
    await this.#run?.end(limitMs);
  }

  event(event: EventLine): void {
    this.#run?.event(event);
  }

  forget(probe: string): void {
    this.#run?.forget(probe);
  }

  #begin(): void {
    const { sink, clock, linesPerS } = this.#options;
    const run: Run = new Run(
      this.#adapter,
      {
        line: (line) => sink.line(this.name, this.simulated, line),
        link: (probe, link) => sink.link(this.name, probe, link),
        changed: () => this.#show(run.state, run.text),
        failed: (sentence) => void this.#restart(run, sentence),
        leftover: (error) => this.leftover(error),
      },
      clock,
      linesPerS,
    );
    this.#run = run;
    this.#show('starting', null);
    run.start();
  }

  async #restart(run: Run, failure: string): Promise<void> {
    const { clock, random } = this.#options;
    this.#failures = run.runningMs >= RAN_WELL_MS ? 1 : this.#failures + 1;
    const pauseMs = backOffMs(this.#failures, random());
    const next = sent`It is started again after a pause of ${Math.ceil(pauseMs / 1000)} s.`;
    this.#show('retrying', `${failure} ${next}`);
    const trouble = await run.end(STOP_LIMIT_MS);
    if (this.#stopped || run !== this.#run) return;
    if (trouble !== null) this.#show('retrying', `${failure} ${trouble} ${next}`);
    this.#pause = clock.setTimer(() => this.#begin(), pauseMs);
  }

  /** Takes an error that belongs to no run: of the adapter's module, or of a run that is over. */
  leftover(error: unknown): void {
    this.#run?.remarkLeftover(sent`Something that it left behind failed: ${errorText(error)}`);
  }

  #show(state: RunState, text: string | null): void {
    const shown = JSON.stringify([state, text]);
    if (this.#stopped || shown === this.#shown) return;
    this.#shown = shown;
    outside(() => this.#options.sink.status(this.name, state, text));
  }
}
