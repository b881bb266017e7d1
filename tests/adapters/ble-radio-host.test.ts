/** The radio's process, kept by its host: real processes, each a few lines that behave in some way. */
import { rmSync, writeFileSync } from 'node:fs';
import { mkdtemp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, afterEach, expect, it, vi } from 'vitest';
import { RadioError, RadioHost } from '../../adapters/ble/radio-host.ts';
import type { Said } from '../../adapters/ble/radio-messages.ts';
import { fakeClock } from './fake-clock.ts';

const folder = await mkdtemp(join(tmpdir(), 'plateau-radio-'));
afterAll(() => rmSync(folder, { recursive: true }));

/** Long enough for a process to start on a busy machine; only a failing test waits so long. */
const PATIENCE = { timeout: 20_000, interval: 5 };
const hosts: RadioHost[] = [];
afterEach(async () => {
  for (const host of hosts.splice(0)) await host.stop();
});

let made = 0;
/** A host of processes that run this code; `say` sends a message, `ask` is what they are asked. */
function hostOf(code: string, imports: string[] = []) {
  made += 1;
  const file = join(folder, `radio-${made}.mjs`);
  const PRELUDE = `
    const say = (message) => process.send(message);
    process.on('disconnect', () => process.exit(0));
    setInterval(() => undefined, 1000);`;
  writeFileSync(file, `${PRELUDE}\n${code}`);
  const clock = fakeClock();
  const said: Said[] = [];
  const ended: (string | null)[] = [];
  let begun = 0;
  const host = new RadioHost({
    ...{ file, imports, clock, settings: () => ({ adapterIndex: 3, extended: true }) },
    listener: {
      said: (message) => void said.push(message),
      begun: () => void (begun += 1),
      ended: (why) => void ended.push(why),
    },
  });
  hosts.push(host);
  host.start();
  return { host, clock, said, ended, begun: () => begun };
}
const ANSWERS = `
  say({ say: 'loaded' });
  process.on('message', ({ ask, do: what, id }) => {
    if (what === 'read') say({ say: 'answer', ask, error: null, value: '6408', t: 1 });
    if (what === 'connect') say({ say: 'answer', ask, error: 'it is away: ' + id });
  });`;

it('carries orders there and answers back', async () => {
  const { host, said } = hostOf(ANSWERS);
  expect(await host.ask({ do: 'read', id: 'a', key: 'k' })).toMatchObject({ value: '6408' });
  await expect(host.ask({ do: 'connect', id: 'a' })).rejects.toThrow('it is away: a');
  expect(said).toEqual([{ say: 'loaded' }]);
});

it('starts it with its settings, and with modules that replace parts of it', async () => {
  const module = join(folder, 'imported.mjs');
  writeFileSync(module, 'globalThis.imported = "before all else";');
  const { said } = hostOf(`say({ say: 'fault', text: globalThis.imported + process.argv[2] });`, [
    module,
  ]);
  await vi.waitFor(() => expect(said).toHaveLength(1), PATIENCE);
  expect(said[0]).toMatchObject({ text: 'before all else{"adapterIndex":3,"extended":true}' });
});

/** Whether a process still runs. */
function runs(pid: number): boolean {
  try {
    return process.kill(pid, 0);
  } catch {
    return false;
  }
}

it('replaces one that does not answer, and says which order it was', async () => {
  const { host, clock, said, ended, begun } = hostOf(
    `say({ say: 'fault', text: String(process.pid) });`,
  );
  await vi.waitFor(() => expect(said).toHaveLength(1), PATIENCE);
  // Asked a little before the connect that then holds everything up.
  const read = host.ask({ do: 'read', id: 'a', key: 'k' }).catch((error: unknown) => error);
  await clock.advance(3000);
  const connect = host.ask({ do: 'connect', id: 'far' }).catch((error: unknown) => error);
  await clock.advance(6999);
  expect(ended).toEqual([]);
  await clock.advance(1);
  expect(ended).toEqual(['It did not answer.']);
  // The connect is to blame; the other went down with it.
  expect(await connect).toMatchObject({ down: true, hung: true });
  expect(await read).toMatchObject({ down: true, hung: false });
  const [first] = said;
  const pid = first?.say === 'fault' ? Number(first.text) : NaN;
  await vi.waitFor(() => expect(runs(pid)).toBe(false), PATIENCE);
  // The links of the old one take two seconds to end.
  expect(begun()).toBe(1);
  await clock.advance(2000);
  expect(begun()).toBe(2);
  await vi.waitFor(() => expect(said).toHaveLength(2), PATIENCE);
});

it('replaces one whose event loop stands still, also while nothing is asked of it', async () => {
  const { clock, said, ended, begun } = hostOf(
    `say({ say: 'loaded' }, () => 0); setTimeout(() => { for (;;); }, 50);`,
  );
  await vi.waitFor(() => expect(said).toHaveLength(1), PATIENCE);
  for (let i = 0; i < 13; i += 1) await clock.advance(1000);
  expect(ended).toEqual(['Nothing was heard of it for 10 s.']);
  expect(begun()).toBe(2);
});

it('replaces one that never says a word', async () => {
  const { clock, ended } = hostOf('');
  for (let i = 0; i < 19; i += 1) await clock.advance(1000);
  expect(ended).toEqual([]);
  for (let i = 0; i < 3; i += 1) await clock.advance(1000);
  expect(ended).toEqual(['Nothing was heard of it for 20 s.']);
});

it('does not take the sleep of the computer for its silence', async () => {
  const { host, clock, ended, said } = hostOf(`${ANSWERS} say({ say: 'pulse' });`);
  await vi.waitFor(() => expect(said).toHaveLength(1), PATIENCE);
  // Timers do not run while it sleeps; the first that does finds the clock hours ahead.
  const now = vi.spyOn(clock, 'now').mockReturnValue(clock.now() + 3_600_000);
  await clock.advance(1000);
  expect(ended).toEqual([]);
  expect(await host.ask({ do: 'read', id: 'a', key: 'k' })).toMatchObject({ error: null });
  now.mockRestore();
});

it('starts one anew that crashed, with growing pauses while it goes on crashing', async () => {
  const { clock, ended, begun } = hostOf(`process.kill(process.pid, 'SIGSEGV');`);
  for (const [n, pauseMs] of [2000, 4000, 8000, 16_000].entries()) {
    await vi.waitFor(() => expect(ended).toHaveLength(n + 1), PATIENCE);
    expect(ended.at(-1)).toBe('It ended by itself (SIGSEGV).');
    await clock.advance(pauseMs - 1);
    expect(begun()).toBe(n + 1);
    await clock.advance(1);
    expect(begun()).toBe(n + 2);
  }
});

it('says so of one that cannot even be started', async () => {
  const { ended } = hostOf(`this is no program`);
  await vi.waitFor(() => expect(ended).toEqual(['It ended by itself (status 1).']), PATIENCE);
});

it('passes over what it does not understand, and replaces one that says nothing else', async () => {
  const { said, ended } = hostOf(`
    say({ say: 'loaded' });
    const nonsense = [null, 1, [], 'x', { say: 'no such' }, { say: 'value', id: 'a' },
      { say: 'value', id: 'a', key: 'k', t: 1, bytes: 'zz' }, { say: 'heard' },
      { say: 'value', id: 'a', key: 'k', t: 1, bytes: 'ab'.repeat(5000) }];
    for (const message of nonsense) say(message);
    say({ say: 'scanning', on: true });
    process.on('message', () => { for (let i = 0; i < 20; i += 1) say({ nonsense: i }); });`);
  await vi.waitFor(() => expect(said).toHaveLength(2), PATIENCE);
  expect(said.map(({ say }) => say)).toEqual(['loaded', 'scanning']);
  expect(ended).toEqual([]);
  hosts.at(-1)?.tell({ do: 'scan', wanted: { services: [], companies: [] } });
  await vi.waitFor(() => expect(ended).toEqual(['It said what cannot be understood.']), PATIENCE);
});

it('ends in order with it, and by force with one that does not end', async () => {
  const orderly = hostOf(`say({ say: 'loaded' });`);
  await vi.waitFor(() => expect(orderly.said).toHaveLength(1), PATIENCE);
  const waiting = orderly.host.ask({ do: 'read', id: 'a', key: 'k' });
  const ended = orderly.host.stop();
  await expect(waiting).rejects.toThrow(RadioError);
  await ended;

  const stubborn = hostOf(`say({ say: 'loaded' }); process.removeAllListeners('disconnect');`);
  await vi.waitFor(() => expect(stubborn.said).toHaveLength(1), PATIENCE);
  let gone = false;
  const forced = stubborn.host.stop().then(() => (gone = true));
  await new Promise((resolve) => setTimeout(resolve, 100));
  expect(gone).toBe(false);
  await stubborn.clock.advance(1200);
  await forced;
  expect([orderly.ended, stubborn.ended]).toEqual([[], []]);
});
