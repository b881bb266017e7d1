/**
 * What the page says stands in client/words, so that whoever rewords or translates it finds one folder:
 * no component has text of its own, in its markup or in what a screen reader or a tooltip says.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'svelte/compiler';
import { describe, expect, test } from 'vitest';
import { ROOT } from '../program.ts';

/** Folders whose words are still with their components. One that is done leaves this list. */
const STILL_TO_MOVE = [...['chart', 'figure', 'notice', 'probes', 'record', 'setup']].map(
  (folder) => `client/${folder}/`,
);
/** Components in them whose words have moved. */
const MOVED = ['client/setup/Cautions.svelte'];

/** Attributes and properties that are read by people. */
const READ_BY_PEOPLE = new Set([
  ...['aria-label', 'aria-valuetext', 'alt', 'placeholder', 'title'],
  ...['act', 'label'], // of components of ours
]);
const LETTERS = /\p{L}{2}/u;

/** The texts of a component that are not in client/words. */
function ownWords(source: string): string[] {
  const found: string[] = [];
  const look = (node: unknown, attribute: string | null): void => {
    if (Array.isArray(node)) {
      for (const each of node) look(each, attribute);
      return;
    }
    if (typeof node !== 'object' || node === null) return;
    const { type, name, data, value } = node as Record<string, unknown>;
    const isRead = attribute === null || READ_BY_PEOPLE.has(attribute);
    if (type === 'Text' && typeof data === 'string' && isRead && LETTERS.test(data)) {
      found.push(data.trim());
    }
    // What is worked out in the markup: {wide ? 'All of it' : 'All'}
    if (type === 'Literal' && typeof value === 'string' && isRead && LETTERS.test(value)) {
      if (isSaid(value, attribute)) found.push(value);
    }
    const within = type === 'Attribute' && typeof name === 'string' ? name : attribute;
    for (const [key, inner] of Object.entries(node)) {
      if (key !== 'metadata' && key !== 'parent') look(inner, within);
    }
  };
  look(parse(source, { modern: true }).fragment, null);
  return found;
}

/** In an expression of the markup a small word alone may be a key of the program: 'open', 'p1'. */
const isSaid = (text: string, attribute: string | null): boolean =>
  attribute !== null || /^\p{Lu}|\s/u.test(text);

const components = readdirSync(join(ROOT, 'client'), { recursive: true, encoding: 'utf8' })
  .filter((path) => path.endsWith('.svelte'))
  .map((path) => `client/${path.replaceAll('\\', '/')}`)
  .toSorted();
const isToMove = (path: string): boolean =>
  STILL_TO_MOVE.some((folder) => path.startsWith(folder)) && !MOVED.includes(path);

describe('the words of the page', () => {
  test.each(components.filter((path) => !isToMove(path)))('%s has none of its own', (path) => {
    expect(ownWords(readFileSync(join(ROOT, path), 'utf8'))).toEqual([]);
  });

  test.each(STILL_TO_MOVE)('%s is still on the list for a reason', (folder) => {
    const inside = components.filter((path) => path.startsWith(folder) && isToMove(path));
    expect(inside.some((path) => ownWords(readFileSync(join(ROOT, path), 'utf8')).length > 0)).toBe(
      true,
    );
  });
});

test.each<[string, string[]]>([
  ['<p>Not yet</p>', ['Not yet']],
  ['<button aria-label="Close it">×</button>', ['Close it']],
  ["<p>{late ? 'Late by far' : NOW}</p>", ['Late by far']],
  ["<input title={on ? 'on' : OFF} />", ['on']],
  ['<p class="not said">{words} <b>±</b> {a}:</p>', []],
  ['{#if state === \'open\'}<i role="status">{SAID}</i>{/if}', []],
])('finds what is said in %s', (source, said) => {
  expect(ownWords(source)).toEqual(said);
});
