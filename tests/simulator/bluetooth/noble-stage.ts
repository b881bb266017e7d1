/** For tests: the air, and a process with the real radio library in it. */
import { type ChildProcess, fork } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { build } from 'esbuild';
import { afterAll, afterEach, beforeAll, expect } from 'vitest';
import { AirHost, type AirOptions } from '../../../simulator/bluetooth/beneath/air-host.ts';
import type { FromAir } from '../../../simulator/bluetooth/beneath/line.ts';
import type { Ask, Said } from './noble-child.ts';

const root = fileURLToPath(new URL('../../..', import.meta.url));
/** What is asked may take so long; the library itself knows no limit, ms. */
const LIMIT_MS = 10_000;

type WithoutAsk<T> = T extends unknown ? Omit<T, 'ask'> : never;
export type Found = { service: string; uuid: string; properties: string[]; handle: number };

/** The library in its process. */
export class NobleProcess {
  readonly said: Said[] = [];
  readonly child: ChildProcess;
  #asked = 0;
  #changed: (() => void)[] = [];

  constructor(child: ChildProcess) {
    this.child = child;
    child.on('message', (message) => {
      this.said.push(message as Said);
      for (const each of this.#changed.splice(0)) each();
    });
  }

  /** Asks, and waits for the answer. @throws Error with the library's, or after a while */
  async ask(asked: WithoutAsk<Ask>, limitMs = LIMIT_MS): Promise<unknown> {
    const ask = ++this.#asked;
    this.child.send({ ...asked, ask });
    const said = await this.until(
      (each): each is Extract<Said, { ask: number }> => 'ask' in each && each.ask === ask,
      `an answer to ${asked.do}`,
      limitMs,
    );
    if ('error' in said) throw new Error(said.error);
    return said.answer;
  }

  /** Waits until it has said something, from the `from`th message on. */
  async until<T extends Said>(
    wanted: (said: Said) => said is T,
    what: string,
    limitMs = LIMIT_MS,
    from = 0,
  ): Promise<T> {
    const end = Date.now() + limitMs;
    for (;;) {
      const found = this.said.slice(from).find(wanted);
      if (found !== undefined) return found;
      const left = end - Date.now();
      if (left <= 0) throw new Error(`there never was ${what}`);
      await new Promise<void>((resolve) => {
        this.#changed.push(resolve);
        setTimeout(resolve, left);
      });
    }
  }

  /** Waits for an event, from the `from`th message on. */
  event<E extends Extract<Said, { event: string }>['event']>(
    event: E,
    fits: (said: Extract<Said, { event: E }>) => boolean = () => true,
    from = 0,
    limitMs = LIMIT_MS,
  ): Promise<Extract<Said, { event: E }>> {
    return this.until(
      (said): said is Extract<Said, { event: E }> =>
        'event' in said && said.event === event && fits(said as Extract<Said, { event: E }>),
      event,
      limitMs,
      from,
    );
  }
}

/** Builds once what the processes are made of; call it in a `describe`. */
export function useNoble() {
  let folder = '';
  const ends: (() => void)[] = [];
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'plateau-noble-'));
    await build({
      entryPoints: {
        hook: join(root, 'simulator/bluetooth/beneath/hook.ts'),
        child: join(root, 'tests/simulator/bluetooth/noble-child.ts'),
      },
      outdir: folder,
      outExtension: { '.js': '.mjs' },
      bundle: true,
      platform: 'node',
      format: 'esm',
      logLevel: 'error',
    });
  });
  afterEach(() => {
    for (const end of ends.splice(0).reverse()) end();
  });
  afterAll(() => rm(folder, { recursive: true }));

  /** Makes the air; its radio is in haste. */
  async function air(options: AirOptions): Promise<{ host: AirHost; said: FromAir[] }> {
    const said: FromAir[] = [];
    const host = new AirHost({ speed: 4, ...options, said: (message) => said.push(message) });
    await host.start();
    ends.push(() => host.stop());
    return { host, said };
  }

  /** Starts a process of the library in that air, and waits until it is on. */
  async function noble(
    host: AirHost,
    state: string | null = 'poweredOn',
    extended = false,
  ): Promise<NobleProcess> {
    const child = fork(join(folder, 'child.mjs'), [root, extended ? 'extended' : 'plain'], {
      execArgv: ['--import', host.import(pathToFileURL(join(folder, 'hook.mjs')))],
      stdio: ['ignore', 'ignore', 'inherit', 'ipc'],
    });
    ends.push(() => child.kill('SIGKILL'));
    const process = new NobleProcess(child);
    if (state === null) return process;
    await process.ask({ do: 'state' }, 10_000);
    await process.event('state', (said) => said.state === state);
    return process;
  }

  /** Scans until a device was heard, connects and discovers. */
  async function connected(noble: NobleProcess, id: string): Promise<Found[]> {
    await noble.ask({ do: 'scan' });
    await noble.event('discover', (said) => said.id === id);
    await noble.ask({ do: 'connect', id });
    const found = await noble.ask({ do: 'discover', id });
    expect(Array.isArray(found)).toBe(true);
    return found as Found[];
  }

  return { air, noble, connected };
}
