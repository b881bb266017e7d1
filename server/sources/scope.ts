/**
 * Whose code is running: every adapter runs in a scope of its own, which its timers, sockets and
 * promises inherit. What they throw later, when nobody is left to catch it, reaches the process;
 * there the scope tells whom to charge with it.
 *
 * What this cannot do: stop code that never yields (the process has one thread), and, on Node before
 * 24, find the owner of an error thrown straight inside a `queueMicrotask` callback.
 */
import { AsyncLocalStorage } from 'node:async_hooks';
import { inspect } from 'node:util';
import { sent } from '../words/sent.ts';

/** Answers for code that runs in its scope. */
export interface Owner {
  /** Told of an error that nothing else has caught. Must not throw. */
  charge(error: unknown): void;
}

/** An owner that is known before the one who answers: keeps the first error until then. */
export class Account implements Owner {
  #listener: Owner['charge'] | null = null;
  #early: { error: unknown } | null = null;

  charge(error: unknown): void {
    if (this.#listener !== null) this.#listener(error);
    else this.#early ??= { error };
  }

  /** Says who answers from now on, and for what has happened so far. */
  answer(listener: Owner['charge']): void {
    this.#listener = listener;
    if (this.#early !== null) listener(this.#early.error);
    this.#early = null;
  }
}

const owners = new AsyncLocalStorage<Owner | undefined>();

/** Runs foreign code on the account of `owner`, and whatever that code sets going. */
export function inScope<T>(owner: Owner, work: () => T): T {
  return owners.run(owner, work);
}

/** Runs our own code on nobody's account, also when an adapter has called us. */
export function outside<T>(work: () => T): T {
  return owners.run(undefined, work);
}

/** As Node does without a handler: says what happened and ends the process with status 1. */
function reportAndExit(error: unknown): void {
  process.stderr.write(`${inspect(error)}\n`);
  process.exit(1);
}

/** An adapter does not end the server: whoever calls that from its scope has an error instead. */
function refuseToEnd(call: string): void {
  if (owners.getStore() !== undefined) {
    throw new Error(sent`It called ${call}, which would end the whole server`);
  }
}

/**
 * Catches errors that nothing else has caught and charges each to the owner of its scope. To be
 * called once, by the shell.
 * @param fatal called for an error that belongs to no adapter; must end the process. By default it
 *   prints the error and exits with status 1.
 * @returns undoes it.
 */
export function installErrorNet(fatal: (error: unknown) => void = reportAndExit): () => void {
  const onError = (error: unknown): void => {
    const owner = owners.getStore();
    if (owner === undefined) fatal(error);
    else outside(() => owner.charge(error));
  };
  process.on('uncaughtException', onError);
  process.on('unhandledRejection', onError);
  const exit = process.exit.bind(process);
  const abort = process.abort.bind(process);
  process.exit = (code): never => {
    refuseToEnd('process.exit');
    return exit(code);
  };
  process.abort = (): never => {
    refuseToEnd('process.abort');
    return abort();
  };
  return () => {
    process.exit = exit;
    process.abort = abort;
    process.off('uncaughtException', onError);
    process.off('unhandledRejection', onError);
  };
}
