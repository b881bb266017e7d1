/**
 * Every text has its Spanish, with the same holes, and nothing is said that has no tag: whoever writes a new
 * sentence learns here that it needs one.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { SENT, SPANISH } from '../../server/words/spanish/index.ts';
import { ROOT } from '../program.ts';
import { allSaid, sources, taggedIn, untaggedIn, WORDS } from './said.ts';

/** Prose that is no sentence of ours, or is read and not said. */
const NOT_SAID = new Set(['No more fits into memory']);
const FOLDER = 'server/words/spanish';
const SIGNS = /[^\p{L}\p{N}]/gu;
/** The key of an entry of a catalog, as it is printed. */
const KEY = /^ {2}('(?:[^'\\]|\\.)*'|"(?:[^"\\]|\\.)*"|\w+):/gm;

const holesOf = (text: string): string[] => (text.match(/\{\d+\}/g) ?? []).toSorted();
/** The spaces at its ends, where a text is a part of another. */
const endsOf = (text: string): string => text.replace(/^(\s*)[\s\S]*?(\s*)$/, '$1|$2');
const textOf = (path: string): string => readFileSync(join(ROOT, path), 'utf8');

const said = allSaid();
const keys = said.map(({ key }) => key);
const translations = Object.entries(SPANISH).filter(([, spanish]) => spanish !== '');

describe('the Spanish texts', () => {
  test('are there for every key', () => {
    const untranslated = keys.filter((key) => (SPANISH[key] ?? '') === '');
    expect(untranslated).toEqual([]);
  });

  test('are of keys that the program has', () => {
    const stale = Object.keys(SPANISH).filter((key) => !keys.includes(key));
    expect(stale).toEqual([]);
  });

  test('have a place for every key, those of the server among what it sends', () => {
    expect(keys.filter((key) => !(key in SPANISH))).toEqual([]);
    const sent = said.filter(({ by }) => by !== 'page').map(({ key }) => key);
    expect(sent.filter((key) => !(key in SENT))).toEqual([]);
  });

  test('stand once', () => {
    const all = readdirSync(join(ROOT, FOLDER))
      .filter((name) => name !== 'index.ts' && name !== 'glossary.ts')
      .flatMap((name) => [...textOf(`${FOLDER}/${name}`).matchAll(KEY)])
      .map(([, key]) => key);
    expect(all.length).toBeGreaterThan(1000);
    expect(all.filter((key, i) => all.indexOf(key) !== i)).toEqual([]);
  });

  test('have the holes of their keys, and the spaces at their ends', () => {
    const wrong = translations.filter(
      ([key, spanish]) =>
        holesOf(key).join() !== holesOf(spanish).join() || endsOf(key) !== endsOf(spanish),
    );
    expect(wrong).toEqual([]);
  });
});

describe('what is said', () => {
  test.each(sources(WORDS))('%s has a tag on all of it', (file) => {
    const found = untaggedIn(file, textOf(file));
    expect(found.filter((text) => !NOT_SAID.has(text))).toEqual([]);
  });

  test('is more than signs', () => {
    expect(keys.filter((key) => key.replace(/\{\d+\}/g, '').replace(SIGNS, '') === '')).toEqual([]);
  });
});

const IMPORT = "import { t } from './language.ts';\n";
test.each<[string, string[], string[]]>([
  ['export const A = t`Not yet`;', ['Not yet'], []],
  // Source text that holds templates of its own.
  /* eslint-disable no-template-curly-in-string */
  ['export const A = (n: number) => t`${n} of ${n}`;', ['{0} of {1}'], []],
  ["export const A = 'Not yet';", [], ['Not yet']],
  ["export const A = 'It is ' + 'late.';", [], ['It is late.']],
  [
    "export const A = (on: boolean) => t`It is ${on ? 'Late by far' : t`late`}.`;",
    ['It is {0}.', 'late'],
    ['Late by far'],
  ],
  /* eslint-enable no-template-curly-in-string */
  ["export const A: 'a b' = 'x';", [], []],
])('finds in %s what is tagged, and what is not', (source, tagged, untagged) => {
  expect(taggedIn('a.ts', IMPORT + source)).toEqual(tagged);
  expect(untaggedIn('a.ts', IMPORT + source)).toEqual(untagged);
});

test('knows a tag by where it comes from', () => {
  expect(taggedIn('a.ts', "import { t as say } from '../words/language.ts'; say`Late`;")).toEqual([
    'Late',
  ]);
  expect(taggedIn('a.ts', "import { t } from './other.ts'; t`Late`;")).toEqual([]);
});
