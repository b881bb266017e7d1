/**
 * Every package that comes with an installation is under a permissive licence, by the lock file.
 * What is only used to develop may also be under the MPL 2.0, a licence by file, not by program.
 */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';

/** SPDX identifiers. */
const PERMISSIVE = new Set([
  ...['MIT', 'ISC', 'Apache-2.0', '0BSD', 'BlueOak-1.0.0', 'CC0-1.0'],
  ...['BSD-2-Clause', 'BSD-3-Clause', 'Python-2.0'],
]);
const DEVELOPMENT = new Set([...PERMISSIVE, 'MPL-2.0']);
/** Packages that name their licence in the file LICENSE alone, which was read: MIT. */
const BY_FILE = ['node_modules/png-js'];
/** Fonts: the licence forbids only to sell the font by itself. */
const FONTS = /^node_modules\/@fontsource/;

const packageSchema = z.object({
  license: z.string().optional(),
  dev: z.boolean().optional(),
});
const { packages } = z
  .object({ packages: z.record(z.string(), packageSchema) })
  .parse(JSON.parse(readFileSync(new URL('../../package-lock.json', import.meta.url), 'utf8')));

/**
 * Whether an SPDX expression allows use under one of the licences: of `(A OR B)` one is enough, of
 * `A AND B` both are needed.
 */
function allowed(expression: string, licences: ReadonlySet<string>): boolean {
  const words = expression.replaceAll(/[()]/g, '').trim();
  return words
    .split(' OR ')
    .some((choice) => choice.split(' AND ').every((one) => licences.has(one.trim())));
}

/** Names of the packages that may not be there, each with its licence. */
function refused(all: typeof packages): string[] {
  return Object.entries(all)
    .filter(([path, { license = '', dev = false }]) => {
      if (path === '') return false; // the project itself
      if (FONTS.test(path) && license === 'OFL-1.1') return false;
      if (BY_FILE.includes(path) && license === '') return false;
      return !allowed(license, dev ? DEVELOPMENT : PERMISSIVE);
    })
    .map(([path, { license = 'no licence' }]) => `${path}: ${license}`);
}

describe('licences', () => {
  it('are permissive', () => {
    expect(Object.keys(packages).length).toBeGreaterThan(100);
    expect(refused(packages)).toEqual([]);
  });

  it.each(BY_FILE)('of %s is the MIT licence', (path) => {
    const text = readFileSync(new URL(`../../${path}/LICENSE`, import.meta.url), 'utf8');
    expect(text).toMatch(/^MIT License/);
    expect(text).toContain('Permission is hereby granted, free of charge');
  });

  it('would be refused if they were not', () => {
    const trial = {
      '': { license: 'UNLICENSED' },
      'node_modules/a': { license: 'GPL-3.0-only' },
      'node_modules/b': { license: 'MPL-2.0' },
      'node_modules/c': { license: 'MPL-2.0', dev: true },
      'node_modules/d': {},
      'node_modules/e': { license: '(MIT OR GPL-3.0-only)' },
      'node_modules/f': { license: 'MIT AND GPL-3.0-only' },
      'node_modules/g': { license: 'OFL-1.1' },
      'node_modules/@fontsource-variable/h': { license: 'OFL-1.1', dev: true },
    };
    expect(refused(trial)).toEqual([
      'node_modules/a: GPL-3.0-only',
      'node_modules/b: MPL-2.0',
      'node_modules/d: no licence',
      'node_modules/f: MIT AND GPL-3.0-only',
      'node_modules/g: OFL-1.1',
    ]);
  });
});
