/** What the program says to people, found in its source: the keys of all tagged texts, and prose without a tag. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import ts from 'typescript';
import { ROOT } from '../program.ts';

/** A text of the program: its key, where it first stands, and who says it. */
export interface Said {
  key: string;
  file: string;
  by: 'page' | 'server' | 'adapter';
}

/** Folders and files of what is said in the language that is spoken (the tag `t`). */
export const WORDS = ['client/words', 'server/words', 'server/report'];
/** Of what the server sends in English (the tag `sent`). */
const SERVER = [
  ...['server/session', 'server/session.ts', 'server/measure', 'server/sources', 'server/store'],
  ...['server/photo', 'server/http', 'server/visit.ts', 'server/class', 'server/archive'],
];
/** Adapters know nothing of the server, so their texts have no tag: what has a word and a space counts. */
const ADAPTERS = [
  ...[
    'bluetooth',
    'bthome',
    'error-text',
    'keys',
    'linked-probe',
    'links',
    'once',
    'radio-central',
  ],
  ...['radio-host', 'radio-link', 'scan-ability', 'sentences'],
]
  .map((name) => `adapters/ble/${name}.ts`)
  .concat('adapters/push', 'adapters/replay', 'adapters/simulated/airflow-play.ts');

const TAGS: Readonly<Record<string, RegExp>> = {
  t: /\/language\.ts$/,
  sent: /\/sent\.ts$/,
};

/** The source files of folders and files, in order. */
export function sources(paths: readonly string[]): string[] {
  return paths.flatMap((path) =>
    path.endsWith('.ts')
      ? [path]
      : readdirSync(join(ROOT, path), { recursive: true, encoding: 'utf8' })
          .map((name) => `${path}/${name.replaceAll('\\', '/')}`)
          .filter((name) => name.endsWith('.ts') && !name.includes('/spanish/'))
          .toSorted(),
  );
}

const parsed = (file: string, source: string): ts.SourceFile =>
  ts.createSourceFile(file, source, ts.ScriptTarget.Latest, true);

/** A template, or a string, with numbered holes; null for anything else. */
function keyOf(node: ts.Node): string | null {
  if (ts.isStringLiteralLike(node)) return node.text;
  if (!ts.isTemplateExpression(node)) return null;
  return node.templateSpans.reduce(
    (key, { literal }, i) => `${key}{${i}}${literal.text}`,
    node.head.text,
  );
}

/** Strings that are put together with +, as one text. */
function joined(node: ts.Node): string | null {
  if (!ts.isBinaryExpression(node)) return keyOf(node);
  if (node.operatorToken.kind !== ts.SyntaxKind.PlusToken) return null;
  const [left, right] = [joined(node.left), joined(node.right)];
  if (left === null || right === null) return null;
  const holes = left.match(/\{\d+\}/g)?.length ?? 0;
  return left + right.replace(/\{(\d+)\}/g, (_, n: string) => `{${Number(n) + holes}}`);
}

/** The names under which a file has the tags. */
function tagsOf(file: ts.SourceFile): Set<string> {
  const names = new Set<string>();
  for (const statement of file.statements) {
    if (!ts.isImportDeclaration(statement) || !ts.isStringLiteral(statement.moduleSpecifier))
      continue;
    const bindings = statement.importClause?.namedBindings;
    if (bindings === undefined || !ts.isNamedImports(bindings)) continue;
    for (const { name, propertyName } of bindings.elements) {
      const from = TAGS[(propertyName ?? name).text];
      if (from?.test(statement.moduleSpecifier.text)) names.add(name.text);
    }
  }
  return names;
}

/** The keys of the tagged texts of a source. */
export function taggedIn(name: string, source: string): string[] {
  const file = parsed(name, source);
  const tags = tagsOf(file);
  const keys: string[] = [];
  const look = (node: ts.Node): void => {
    if (ts.isTaggedTemplateExpression(node) && tags.has(node.tag.getText())) {
      keys.push(keyOf(node.template) ?? '');
    }
    ts.forEachChild(node, look);
  };
  look(file);
  return keys;
}

/** Two words or more that begin as a sentence does, or end as one. */
const PROSE = /^\p{Lu}\S*\s+\S*\p{L}|\p{L}\S*\s+\S*\p{L}\S*\.$/u;
const WORD_AND_SPACE = /(?=.*\p{L}{2}).* /su;

/** Prose of a source that has no tag. @param isProse what counts as such */
export function untaggedIn(
  name: string,
  source: string,
  isProse = (text: string): boolean => PROSE.test(text),
): string[] {
  const file = parsed(name, source);
  const tags = tagsOf(file);
  const found: string[] = [];
  const look = (node: ts.Node): void => {
    if (ts.isImportDeclaration(node) || ts.isTypeNode(node)) return;
    if (ts.isTaggedTemplateExpression(node) && tags.has(node.tag.getText())) {
      // What stands in its holes may say something as well.
      if (ts.isTemplateExpression(node.template)) {
        for (const { expression } of node.template.templateSpans) look(expression);
      }
      return;
    }
    const text = joined(node);
    if (text !== null && isProse(text)) {
      found.push(text);
      if (ts.isTemplateExpression(node)) {
        for (const { expression } of node.templateSpans) look(expression);
      }
      return;
    }
    ts.forEachChild(node, look);
  };
  look(file);
  return found;
}

const read = (file: string): string => readFileSync(join(ROOT, file), 'utf8');

/** Every text of the program, once: what the server sends comes first. */
export function allSaid(): Said[] {
  const found = new Map<string, Said>();
  const add = (files: readonly string[], by: Said['by'], keysIn: typeof taggedIn): void => {
    for (const file of files) {
      for (const key of keysIn(file, read(file))) {
        if (!found.has(key)) found.set(key, { key, file, by });
      }
    }
  };
  add(sources(SERVER), 'server', taggedIn);
  add(sources(ADAPTERS), 'adapter', (file, source) =>
    untaggedIn(file, source, (text) => WORD_AND_SPACE.test(text)),
  );
  add(sources(WORDS), 'page', taggedIn);
  return [...found.values()];
}
