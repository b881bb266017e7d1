/** Finds what foreign code leaves behind: timers, sockets, servers and child processes of its own. */
import { AsyncLocalStorage, createHook } from 'node:async_hooks';

/** What keeps a process alive, by Node's names for the resources. */
const KINDS = new Set([
  'Timeout',
  'Immediate',
  'FSEVENTWRAP',
  'STATWATCHER',
  'PIPEWRAP',
  'PIPESERVERWRAP',
  'PROCESSWRAP',
  'TCPWRAP',
  'TCPSERVERWRAP',
  'UDPWRAP',
  'WORKER',
]);

export interface Resources {
  /** Runs code whose resources are watched, also those that it makes later. */
  run<T>(work: () => T): T;
  /** The kinds of what is alive, one entry a resource. */
  alive(): string[];
  /** Ends the watching. */
  end(): void;
}

export function watchResources(): Resources {
  const mine = new AsyncLocalStorage<true>();
  const alive = new Map<number, string>();
  const hook = createHook({
    init(id, kind) {
      if (KINDS.has(kind) && mine.getStore() === true) alive.set(id, kind);
    },
    destroy(id) {
      alive.delete(id);
    },
  }).enable();
  return {
    run: (work) => mine.run(true, work),
    alive: () => [...alive.values()],
    end: () => hook.disable(),
  };
}
