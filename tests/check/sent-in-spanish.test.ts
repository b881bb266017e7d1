/**
 * What the server sends in English is found again and said in Spanish: every sentence of it, with each kind of
 * thing that stands in holes.
 */
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { speak, translated } from '../../server/words/language.ts';
import { filled } from '../../server/words/sentences.ts';
import { SENT, SPANISH } from '../../server/words/spanish/index.ts';

beforeAll(() => speak({ language: 'es', locale: 'es-MX', catalog: SPANISH, sent: SENT }));
afterAll(() => speak({ language: 'en', locale: 'en-US' }));

/** What stands in a hole, the same in Spanish where it is no text of the server. */
const KINDS: Readonly<Record<string, (n: number) => [english: string, spanish: string]>> = {
  'a name': (n) => same(`Zaguán ${n}`),
  'a name of more words': (n) => same(`Sala ${n}, izquierda`),
  'a number': (n) => same(String(n + 2)),
  'a figure with its unit': (n) => same(`${n + 1}.25\u202fkW`),
  'a time': (n) => same(`${n + 10}:05:30`),
  'a duration': (n) => [`${n + 2} days`, `${n + 2} días`],
  'a place': () => ['supply', 'suministro'],
  'a sentence': () => ['It cycles.', 'Está en ciclos.'],
};
function same(text: string): [string, string] {
  return [text, text];
}

const KEYS = Object.keys(SENT);
/** Holes that nothing but a space or a sign parts: words of their own never stand in both. */
const BESIDE = /\}.{0,3}\{/;
const OF_WORDS = ['a name of more words', 'a duration', 'a place', 'a sentence'];
const holesIn = (key: string): number => key.match(/\{\d+\}/g)?.length ?? 0;

describe('every sentence of the server', () => {
  test('is said in Spanish as it is', () => {
    const wrong = KEYS.filter((key) => holesIn(key) === 0 && translated(key) !== SENT[key]);
    expect(wrong).toEqual([]);
  });

  test.each(Object.entries(KINDS))('is said in Spanish with %s in its holes', (what, kind) => {
    const wrong: string[] = [];
    for (const key of KEYS) {
      if (holesIn(key) === 0 || (BESIDE.test(key) && OF_WORDS.includes(what))) continue;
      const holes = Array.from({ length: holesIn(key) }, (_each, n) => kind(n));
      const english = filled(
        key,
        holes.map(([text]) => text),
      );
      const spanish = filled(
        SENT[key] ?? '',
        holes.map(([, text]) => text),
      );
      const said = translated(english);
      if (said !== spanish) wrong.push(`${english} -> ${said}`);
    }
    expect(wrong).toEqual([]);
  });
});

/** What fields are called in a sentence: one that is refused is found by it (client/setup/wrong-field.ts). */
const CALLED = [
  ...['The airflow', 'The source', 'The accuracy', 'The fan table', 'The figures', 'The width'],
  ...['The length', 'The louver angle', 'The power of the fan', 'The outdoor temperature'],
];
const REFUSES = /^(?: is missing|: “| is empty| has a heading|, line|: nothing)/;

test('a refusal begins with what its field is called', () => {
  const wrong = CALLED.flatMap((called) =>
    Object.entries(SPANISH).filter(
      ([key, spanish]) =>
        key.startsWith(called) &&
        REFUSES.test(key.slice(called.length)) &&
        !spanish.startsWith(SPANISH[called] ?? '-'),
    ),
  );
  expect(wrong).toEqual([]);
});
