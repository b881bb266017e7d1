/** A supervisor with a clock of the test, and adapters on strings. */
import type { Adapter, AdapterHost, EventLine, Line, Reading } from '../../adapters/contract.ts';
import { Supervisor, type AddOptions } from '../../server/sources/supervisor.ts';
import { fakeClock, settle } from './fake-clock.ts';
import { recordingSink } from './recording-sink.ts';

export const reading: Reading = { type: 'reading', t: 1.7e12, probe: 'p', temperatureC: 21 };
export const note: EventLine = { type: 'event', t: 1.7e12, kind: 'note', text: 'a door opened' };

export interface Puppet {
  /** `start` and `stop`, as they were called. */
  readonly calls: string[];
  /** The host of the latest start, or of an earlier one. */
  host(run?: number): AdapterHost;
}

/** Calls a host as a plug-in in JavaScript can: with anything. */
export function misuse(host: AdapterHost, call: 'link' | 'status', ...given: unknown[]): void {
  const method: unknown = Reflect.get(host, call);
  if (typeof method === 'function') Reflect.apply(method, host, given);
}

/** @param answer what the sink says to a line. */
export function createStage(answer?: (line: Line) => string | null) {
  const clock = fakeClock();
  const sink = recordingSink(answer);
  // Half of a pause is chance: without it the pauses are 1, 2, 4, 8, 16, 30, 30 s …
  const supervisor = new Supervisor({ sink, clock, random: () => 0 });

  function puppet(name: string, does: Partial<Adapter> = {}, options?: AddOptions): Puppet {
    const calls: string[] = [];
    const hosts: AdapterHost[] = [];
    const adapter: Adapter = {
      ...does,
      name,
      start(host) {
        calls.push('start');
        hosts.push(host);
        return does.start?.(host);
      },
      stop() {
        calls.push('stop');
        return does.stop?.();
      },
    };
    supervisor.add(adapter, options);
    return {
      calls,
      host(run = -1) {
        const host = hosts.at(run);
        if (host === undefined) throw new Error(`${name} was not started so often`);
        return host;
      },
    };
  }

  return {
    clock,
    sink,
    supervisor,
    puppet,
    start: async () => {
      supervisor.startAll();
      await settle();
    },
  };
}
