/**
 * What the page says stands in client/words, so that whoever rewords or translates it finds one folder:
 * no component has text of its own, in its markup or in what a screen reader or a tooltip says.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'svelte/compiler';
import { describe, expect, test } from 'vitest';
import { ROOT } from '../program.ts';

/** Attributes and properties that are read by people. */
const READ_BY_PEOPLE = new Set([
  ...['aria-label', 'aria-valuetext', 'alt', 'placeholder', 'title'],
  ...['act', 'label'], // of components of ours
]);
/** Prose that no person reads, in programs. */
const NOT_READ = new Set([
  'The page has no element with the id "page".', // of a page that was built wrong
]);
/** What the names of attributes stand on. */
const ATTRIBUTES = new Set(['Attribute', 'StyleDirective', 'ClassDirective']);
const LETTERS = /\p{L}{2}/u;
/** Two words or more that begin as a sentence does, or end as one. */
const PROSE = /^\p{Lu}\S*\s+\S*\p{L}|\p{L}\S*\s+\S*\p{L}\S*\.$/u;

/** A node of a parsed component, its kind and its parts. */
type Node = Readonly<Record<string, unknown>>;
const isNode = (value: unknown): value is Node => typeof value === 'object' && value !== null;
/** The parts of a node that may hold others: `metadata` and `parent` lead back into the tree. */
const partsOf = (node: Node): unknown[] =>
  Object.entries(node).flatMap(([key, part]) =>
    key === 'metadata' || key === 'parent' ? [] : [part],
  );
/** The text between the expressions of a template. */
function templateText({ quasis }: Node): string {
  const pieces = Array.isArray(quasis) ? quasis : [];
  return pieces
    .map((piece) => (isNode(piece) && isNode(piece['value']) ? String(piece['value']['raw']) : ''))
    .join('…');
}
/** A string that a program holds, null where the node is something else. */
function stringOf(node: Node): string | null {
  const { type, value } = node;
  if (type === 'Literal' && typeof value === 'string') return value;
  return type === 'TemplateLiteral' ? templateText(node) : null;
}

/** The texts of a component's markup. */
function ownWords(source: string): string[] {
  const found: string[] = [];
  const look = (node: unknown, attribute: string | null): void => {
    if (!isNode(node)) return;
    const { type, name, data } = node;
    if (attribute === null || READ_BY_PEOPLE.has(attribute)) {
      if (type === 'Text' && typeof data === 'string' && LETTERS.test(data)) {
        found.push(data.trim());
      }
      // What is worked out in the markup: {wide ? 'All of it' : 'All'}
      const text = stringOf(node);
      if (text !== null && LETTERS.test(text) && isSaid(text, attribute)) found.push(text);
    }
    const within =
      typeof type === 'string' && ATTRIBUTES.has(type) && typeof name === 'string'
        ? name
        : attribute;
    for (const part of partsOf(node)) look(part, within);
  };
  look(parse(source, { modern: true }).fragment, null);
  return found;
}

/** In an expression of the markup a small word alone may be a key of the program: 'open', 'p1'. */
const isSaid = (text: string, attribute: string | null): boolean =>
  attribute !== null || /^\p{Lu}|\s/u.test(text);

/** The strings of a component's scripts that read as prose. */
function ownProse(source: string): string[] {
  const found: string[] = [];
  const look = (node: unknown): void => {
    if (!isNode(node)) return;
    const text = stringOf(node);
    if (text !== null && PROSE.test(text)) found.push(text);
    for (const part of partsOf(node)) look(part);
  };
  const { instance, module } = parse(source, { modern: true });
  look(instance);
  look(module);
  return found;
}

const files = readdirSync(join(ROOT, 'client'), { recursive: true, encoding: 'utf8' })
  .map((path) => `client/${path.replaceAll('\\', '/')}`)
  .toSorted();
const textOf = (path: string): string => readFileSync(join(ROOT, path), 'utf8');
const components = files.filter((path) => path.endsWith('.svelte'));
const programs = files.filter((path) => path.endsWith('.ts') && !path.startsWith('client/words/'));

describe('the words of the page', () => {
  test.each(components)('%s has none of its own', (path) => {
    const source = textOf(path);
    expect([...ownWords(source), ...ownProse(source)]).toEqual([]);
  });

  test.each(programs)('%s has no prose of its own', (path) => {
    const found = ownProse(`<script lang="ts">${textOf(path)}</script>`);
    expect(found.filter((text) => !NOT_READ.has(text))).toEqual([]);
  });
});

test.each<[string, string[]]>([
  ['<p>Not yet</p>', ['Not yet']],
  ['<button aria-label="Close it">×</button>', ['Close it']],
  ["<p>{late ? 'Late by far' : NOW}</p>", ['Late by far']],
  ["<input title={on ? 'on' : OFF} />", ['on']],
  ['<p>{`$' + '{n} probes`}</p>', ['… probes']],
  ['<i style:width="calc(100% - {n}px)"></i>', []],
  ['<p class="not said">{words} <b>±</b> {a}:</p>', []],
  ['{#if state === \'open\'}<i role="status">{SAID}</i>{/if}', []],
])('finds what is said in %s', (source, said) => {
  expect(ownWords(source)).toEqual(said);
});

test.each<[string, string[]]>([
  ["const WORDS = { late: 'Late by far' };", ['Late by far']],
  ["said = 'it is late.';", ['it is late.']],
  ['said = `The probe $' + '{name} is late.`;', ['The probe … is late.']],
  ["on('Escape'); load('./a b.ts'); log('two words');", []],
])('finds what is said by %s', (script, said) => {
  expect(ownProse(`<script lang="ts">${script}</script>`)).toEqual(said);
});
