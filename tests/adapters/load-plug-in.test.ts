/** `--adapter`: what loads, and the sentence for everything that does not. */
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadPlugIn, parsePlugIn } from '../../server/sources/load-plug-in.ts';
import { Account } from '../../server/sources/scope.ts';
import { fakeClock, settle } from './fake-clock.ts';
import { recordingHost } from './recording-host.ts';
import { createStage } from './stage.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'plateau-plug-in-'));
});
afterAll(() => rm(folder, { recursive: true }));

async function write(name: string, text: string): Promise<void> {
  await writeFile(join(folder, name), text);
}

/** Loads it, starts what comes of it, and returns what that says of itself. */
async function outcome(source: string, clock = fakeClock()) {
  const adapter = await loadPlugIn({ source, options: {} }, folder, new Account(), clock);
  const host = recordingHost();
  await adapter.start(host);
  await adapter.stop();
  return { name: adapter.name, ...host.statuses.at(-1) };
}

const GOOD = `export function createAdapter(options) {
  return { name: 'good', options, start(host) { host.status('running', JSON.stringify(this.options)) }, stop() {} };
}`;

describe('what follows --adapter', () => {
  it('is a source and its options, all of them texts', () => {
    expect(parsePlugIn('attic-probes')).toEqual({ source: 'attic-probes', options: {} });
    expect(parsePlugIn('./a.mjs,port=7,note=x=y,empty=')).toEqual({
      source: './a.mjs',
      options: { port: '7', note: 'x=y', empty: '' },
    });
  });

  it.each([
    ['', '--adapter needs the name of a package or the path of a module.'],
    [',a=1', '--adapter needs the name of a package or the path of a module.'],
    ['./a.mjs,port', '--adapter ./a.mjs: "port" must be of the form key=value.'],
    ['./a.mjs,=7', '--adapter ./a.mjs: "=7" must be of the form key=value.'],
    ['./a.mjs,b=1,b=2', '--adapter ./a.mjs: "b" is given twice.'],
  ])('is refused in a sentence when it is "%s"', (text, sentence) => {
    expect(() => parsePlugIn(text)).toThrow(sentence);
  });
});

describe('a plug-in', () => {
  it('is loaded from a path, with its options and its own `this`', async () => {
    await write('good.mjs', GOOD);
    const request = parsePlugIn('./good.mjs,port=7');
    const adapter = await loadPlugIn(request, folder, new Account());
    const host = recordingHost();
    await adapter.start(host);
    expect(adapter.name).toBe('good');
    expect(host.statuses).toEqual([{ state: 'running', text: '{"port":"7"}' }]);
    expect((await outcome('good.mjs')).state).toBe('running');
    expect((await outcome(join(folder, 'good.mjs'))).state).toBe('running');
  });

  it.each([
    ['./none.mjs', 'none', /: there is no file \/.*\/none\.mjs\.$/],
    ['no-such-package-here', 'no-such-package-here', /: there is no file and no installed package/],
    // A package that is there, and is no adapter.
    ['zod', 'zod', /: the module exports no function createAdapter\.$/],
  ])('that is not there or is something else is unavailable: %s', async (source, name, words) => {
    const said = await outcome(source);
    expect(said).toMatchObject({ name, state: 'unavailable' });
    expect(said.text).toMatch(words);
    expect(said.text?.startsWith(`The adapter ${source} cannot be used: `)).toBe(true);
  });

  it('that is a folder is unavailable', async () => {
    await mkdir(join(folder, 'a-folder'));
    expect((await outcome('./a-folder')).text).toMatch(
      /a-folder is no file; name the module in it\.$/,
    );
  });

  it.each([
    ['throws while loading', `throw new Error('rust in the hinges')`, /: rust in the hinges\.$/],
    ['is no JavaScript', `export function (`, /cannot be used: .+/],
    ['lacks something', `import 'no-such-package-here-either'`, /no-such-package-here-either/],
    [
      'exports another thing',
      `export const createAdapter = 7`,
      /exports no function createAdapter/,
    ],
    [
      'throws when it is made',
      `export const createAdapter = () => { throw new Error('it needs a port: port=N') }`,
      /: createAdapter failed: it needs a port: port=N\.$/,
    ],
    [
      'makes nothing',
      `export const createAdapter = () => {}`,
      /is no adapter: it must be an object\.$/,
    ],
    [
      'makes half an adapter',
      `export const createAdapter = () => ({ name: 'a b', start() {}, simulated: 'yes' })`,
      /is no adapter: name must be 1 to 40 letters.*; simulated must be true or false; stop must be a function\.$/,
    ],
    [
      'makes a promise',
      `export const createAdapter = async () => ({ name: 'late', start() {}, stop() {} })`,
      /is no adapter: name must be a text; start must be a function; stop must be a function\.$/,
    ],
  ])('that %s is unavailable', async (what, text, words) => {
    const file = `${what.replaceAll(' ', '-')}.mjs`;
    await write(file, text);
    const said = await outcome(`./${file}`);
    expect(said.state).toBe('unavailable');
    expect(said.text).toMatch(words);
  });

  it('that never finishes loading is given up', async () => {
    await write('endless.mjs', 'await new Promise(() => setTimeout(() => {}, 1e6).unref());');
    const clock = fakeClock();
    const said = outcome('./endless.mjs', clock);
    while (clock.waiting() === 0) await settle();
    await clock.advance(10_000);
    expect((await said).text).toMatch(/: it had not loaded after 10 s\.$/);
    expect(clock.waiting()).toBe(0);
  });
});

describe('the supervisor', () => {
  it('starts what was loaded, and shows what was not, beside the others', async () => {
    await write('good.mjs', GOOD);
    const { supervisor, puppet, start, sink } = createStage();
    puppet('push');
    await supervisor.addPlugIn(parsePlugIn('./good.mjs'), folder);
    await supervisor.addPlugIn(parsePlugIn('./none.mjs'), folder);
    await start();
    expect(sink.latest('push').state).toBe('running');
    expect(sink.latest('good').state).toBe('running');
    expect(sink.latest('none').state).toBe('unavailable');
    await supervisor.stopAll();
  });

  it('shows a plug-in whose name is taken under another', async () => {
    await write('good.mjs', GOOD);
    const { supervisor, start, sink } = createStage();
    for (let i = 0; i < 3; i += 1) await supervisor.addPlugIn(parsePlugIn('./good.mjs'), folder);
    await start();
    expect(sink.latest('good').state).toBe('running');
    const text =
      'The adapter ./good.mjs cannot be used: there is an adapter "good" already; give it another name.';
    expect(sink.latest('good-2')).toMatchObject({ state: 'unavailable', text });
    expect(sink.latest('good-3')).toMatchObject({ state: 'unavailable', text });
    await supervisor.stopAll();
  });
});
