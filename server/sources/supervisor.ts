/**
 * The supervisor of the adapters: starts and stops them, and sees to it that none of them takes
 * anything down with it. An adapter that throws (also from a timer, a socket or a promise that
 * nobody awaits, see scope.ts), floods or hangs is stopped and started again after a pause that
 * doubles from 1 s to 60 s; its state and a sentence go to the sink. One that falls silent is left
 * alone, with a sentence: its probes go stale by themselves.
 */
import type { Adapter, EventLine } from '../../adapters/contract.ts';
import { systemClock, type Clock } from './clock.ts';
import { loadPlugIn, unavailableAdapter, type PlugInRequest } from './load-plug-in.ts';
import { Account } from './scope.ts';
import { Supervised, type SourceSink } from './supervised.ts';
import { sent } from '../words/sent.ts';

export type { SourceSink } from './supervised.ts';
export { parsePlugIn } from './load-plug-in.ts';
export { installErrorNet } from './scope.ts';

const LINES_PER_S = 20_000;
/** Stopping may take so long for one adapter, and for all of them together. */
const STOP_ONE_MS = 2000;
const STOP_ALL_MS = 4000;

export interface SupervisorOptions {
  readonly sink: SourceSink;
  readonly clock?: Clock;
  /** From 0 to 1; for the pauses. */
  readonly random?: () => number;
}

export interface AddOptions {
  /** Lines over this many a second are dropped. Default: 20,000; Infinity for a replay. */
  readonly linesPerS?: number;
}

export class Supervisor {
  readonly #sink: SourceSink;
  readonly #clock: Clock;
  readonly #random: () => number;
  readonly #adapters = new Map<string, Supervised>();

  constructor({ sink, clock = systemClock, random = Math.random }: SupervisorOptions) {
    this.#sink = sink;
    this.#clock = clock;
    this.#random = random;
  }

  /**
   * Adds an adapter, which is started by `startAll`.
   * @throws Error when there is one of that name.
   */
  add(adapter: Adapter, { linesPerS = LINES_PER_S }: AddOptions = {}): void {
    if (this.#adapters.has(adapter.name)) {
      throw new Error(
        sent`There are two adapters of the name "${adapter.name}"; rename one of them.`,
      );
    }
    const options = { sink: this.#sink, clock: this.#clock, random: this.#random, linesPerS };
    this.#adapters.set(adapter.name, new Supervised(adapter, options));
  }

  /**
   * Loads an adapter from outside and adds it. Never rejects: what cannot be loaded, or has a name
   * that is taken, is added as an adapter that is `unavailable` and says why.
   * @param cwd what a path is relative to.
   */
  async addPlugIn(request: PlugInRequest, cwd: string = process.cwd()): Promise<void> {
    const account = new Account();
    const loaded = await loadPlugIn(request, cwd, account, this.#clock);
    const adapter = this.#adapters.has(loaded.name)
      ? this.#nameTaken(loaded.name, request)
      : loaded;
    this.add(adapter);
    account.answer((error) => this.#adapters.get(adapter.name)?.leftover(error));
  }

  #nameTaken(name: string, { source }: PlugInRequest): Adapter {
    let free = 2;
    while (this.#adapters.has(`${name}-${free}`)) free += 1;
    const sentence = sent`The adapter ${source} cannot be used: there is an adapter "${name}" already; give it another name.`;
    return unavailableAdapter(`${name}-${free}`, sentence);
  }

  /** Starts every adapter that is not started yet; how that goes is told to the sink. */
  startAll(): void {
    for (const adapter of this.#adapters.values()) adapter.start();
  }

  /** Stops those whose readings are made up, and starts them again: another visit has begun. */
  async beginAgain(): Promise<void> {
    for (const adapter of this.#adapters.values()) {
      if (!adapter.simulated) continue;
      await adapter.stop(STOP_ONE_MS);
      adapter.start();
    }
  }

  /** Tells every adapter that wants to know what a person did. */
  event(event: EventLine): void {
    for (const adapter of this.#adapters.values()) adapter.event(event);
  }

  /** Tells every adapter that wants to know that a person has forgotten a probe. */
  forget(probe: string): void {
    for (const adapter of this.#adapters.values()) adapter.forget(probe);
  }

  /** Stops all adapters, the last added first, in at most 4 s: one that hangs is left behind. */
  async stopAll(): Promise<void> {
    const until = this.#clock.now() + STOP_ALL_MS;
    for (const adapter of [...this.#adapters.values()].reverse()) {
      const left = until - this.#clock.now();
      await adapter.stop(Math.max(0, Math.min(STOP_ONE_MS, left)));
    }
  }
}
