/**
 * Each check, tried on a house that keeps every rule and on one with known errors: the first must
 * pass, and the second must fail for the reasons it was made for, and for no other. A check that
 * cannot fail would be worse than none.
 */
import { createRequire } from 'node:module';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { CHECK, CHECKS, House } from './house.ts';
import { FORBIDDEN } from './forbidden-imports.ts';
import { LONG } from '../long.ts';

const SLOW_MS = 180_000;
const TYPE_ERROR = /^(\S+)\(\d+,\d+\): error (TS\d+)/gm;

/** The parts of a text that a pattern with one or two groups finds, sorted, each once. */
function found(text: string, pattern: RegExp): string[] {
  const all = [...text.matchAll(pattern)].map((match) => match.slice(1).join(' '));
  return [...new Set(all)].sort();
}

describe('npm run check', () => {
  it('runs each of its parts', () => {
    expect(CHECK.split(' && ').sort()).toEqual(CHECKS.map((name) => `npm run ${name}`).sort());
    expect(CHECKS.length).toBeGreaterThanOrEqual(5);
  });
});

describe.runIf(LONG)('a house that keeps every rule', () => {
  let house: House;
  beforeAll(() => {
    house = new House('good');
  });
  afterAll(() => house.remove());

  it.each(CHECKS)('passes %s', { timeout: SLOW_MS }, async (check) => {
    const { status, out, err } = await house.run(check);
    expect(status, out + err).toBe(0);
  });

  it('passes its tests', { timeout: SLOW_MS }, async () => {
    const { status, out, err } = await house.run('test');
    expect(out.trimEnd().split('\n').at(-1), out + err).toBe('2 passed, 0 failed');
    expect(status).toBe(0);
  });

  it('fails its tests when there is none to run', { timeout: SLOW_MS }, async () => {
    const { status, out } = await house.run('test', 'no-test-has-this-name');
    expect(out).toMatch(/No test was run\.\n0 passed, 1 failed\n$/);
    expect(status).toBe(1);
  });

  it('fails its tests, and says so, when the named browser is none', async () => {
    const { status, err } = await house.run('test', '', { CHROMIUM_PATH: '/no/browser' });
    expect(err).toMatch(/^CHROMIUM_PATH is "\/no\/browser", which is no program that runs here/);
    expect(status).toBe(1);
  });
});

describe.runIf(LONG)('a house with errors', () => {
  let house: House;
  beforeAll(() => {
    house = new House('good', 'bad');
  });
  afterAll(() => house.remove());

  it('fails the check of formatting', { timeout: SLOW_MS }, async () => {
    const { status, err } = await house.run('check:format');
    expect(found(err, /^\[warn\] (\S+\.\S+)$/gm)).toEqual(['server/measure/ill-formatted.ts']);
    expect(status).not.toBe(0);
  });

  it('fails the type check', { timeout: SLOW_MS }, async () => {
    const { status, out } = await house.run('check:types');
    expect(found(out, TYPE_ERROR)).toEqual([
      'server/measure/browser-name.ts TS2584',
      'server/measure/type-error.ts TS2322',
      'server/measure/unchecked-index.ts TS2322',
    ]);
    expect(status).not.toBe(0);
  });

  it('fails the check of components', { timeout: SLOW_MS }, async () => {
    const { status, out } = await house.run('check:svelte');
    expect(found(out, /(client\/\w+\.svelte):\d+:\d+\n(\w+)/g)).toEqual([
      'client/PropError.svelte Error',
      'client/TypeError.svelte Error',
      'client/Warning.svelte Warn',
    ]);
    expect(status).not.toBe(0);
  });

  it('fails the check of imports', { timeout: SLOW_MS }, async () => {
    const { status, out } = await house.run('check:imports');
    expect(found(out, /error ([\w-]+): (\S+)/g)).toEqual([
      'measure server/measure/reads-a-file.ts',
    ]);
    expect(status).not.toBe(0);
  });

  it('fails the linter', { timeout: SLOW_MS }, async () => {
    const { status, out } = await house.run('check:lint', '--format json');
    const messages = z.array(z.object({ line: z.number(), ruleId: z.string() }));
    const files = z
      .array(z.object({ filePath: z.string(), messages }))
      .parse(JSON.parse(out))
      .filter((file) => file.messages.length > 0);
    const errors = files.flatMap((file) => {
      const path = file.filePath.slice(house.path.length + 1).replaceAll('\\', '/');
      return file.messages.map(({ line, ruleId }) => `${path}:${line} ${ruleId}`);
    });
    expect(errors.sort()).toEqual([
      'client/ReachesTheServer.svelte:3 @typescript-eslint/no-restricted-imports',
      'server/http/casts.ts:2 @typescript-eslint/consistent-type-assertions',
      'server/http/casts.ts:3 @typescript-eslint/no-unsafe-assignment',
      'server/http/casts.ts:4 @typescript-eslint/no-explicit-any',
      'server/http/casts.ts:4 @typescript-eslint/no-unsafe-member-access',
      'server/http/casts.ts:4 @typescript-eslint/no-unsafe-return',
      'server/http/floating-promise.ts:5 @typescript-eslint/no-floating-promises',
      'server/http/floating-promise.ts:6 @typescript-eslint/no-misused-promises',
      'server/session/reads-the-clock.ts:2 no-restricted-properties',
      'server/session/reads-the-clock.ts:3 no-restricted-syntax',
      'server/session/reads-the-clock.ts:4 no-restricted-syntax',
      'server/session/reads-the-clock.ts:5 no-restricted-globals',
      'server/session/reads-the-clock.ts:6 no-restricted-globals',
      'server/session/reads-the-clock.ts:7 no-restricted-globals',
      'simulator/left-to-chance.ts:2 no-restricted-properties',
    ]);
    expect(status).not.toBe(0);
  });

  it('fails its tests, counting a file that cannot be loaded', { timeout: SLOW_MS }, async () => {
    const { status, out, err } = await house.run('test');
    expect(out.trimEnd().split('\n').at(-1), out + err).toBe('2 passed, 2 failed');
    expect(status).toBe(1);
  });
});

describe.runIf(LONG)('a house with an error in its browser tests', () => {
  let house: House;
  beforeAll(() => {
    house = new House('good', 'bad-browser');
  });
  afterAll(() => house.remove());

  it('fails the type check', { timeout: SLOW_MS }, async () => {
    const { status, out } = await house.run('check:types');
    expect(found(out, TYPE_ERROR)).toEqual(['tests/browser/type-error.ts TS2339']);
    expect(status).not.toBe(0);
  });
});

describe.runIf(LONG)('a house where every room reaches too far', () => {
  let house: House;
  beforeAll(() => {
    house = new House('good');
    for (const { file, text } of FORBIDDEN) house.add(file, text);
  });
  afterAll(() => house.remove());

  it('tries every rule there is', () => {
    const { forbidden } = z
      .object({ forbidden: z.array(z.object({ name: z.string(), severity: z.literal('error') })) })
      .parse(createRequire(import.meta.url)('./import-rules.cjs'));
    const tried = new Set(FORBIDDEN.flatMap(({ rules }) => rules));
    expect([...tried].sort()).toEqual(forbidden.map(({ name }) => name).sort());
  });

  it('fails each rule of the import check', { timeout: SLOW_MS }, async () => {
    const { status, out } = await house.run('check:imports');
    const expected = FORBIDDEN.flatMap(({ file, rules }) => rules.map((rule) => `${rule} ${file}`));
    expect(found(out, /error ([\w-]+): (\S+)/g)).toEqual([...new Set(expected)].sort());
    expect(status).not.toBe(0);
  });
});
