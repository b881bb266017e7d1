/** Texts, figures, days and paper in the language and the place that a person has chosen. */
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { languageFor, localeFor } from '../../client/live/language-for.ts';
import { readNumber, startText } from '../../client/words/entry.ts';
import { paperOf } from '../../client/words/report.ts';
import { written } from '../../server/words/figures.ts';
import { counted, speak, t, translated } from '../../server/words/language.ts';
import { FACTOR } from '../../server/words/scales.ts';
import { sent } from '../../server/words/sent.ts';

const SENT = {
  '{0} has sent nothing for {1}.': 'Desde hace {1}, {0} no envía nada.',
  '{0} days': '{0} días',
  'No live temperature in the {0} air.': 'Sin temperatura en el aire de {0}.',
  '{0} Cancel.': '{0} Cancele.',
  'It is too wet.': 'Está demasiado húmedo.',
  'Off by {0}.': 'Difiere en {0}.',
  'Their mean: {0}.': 'Su promedio: {0}.',
  'with {0} alone {1}': 'solo con {0}, {1}',
  'too fast. {0} s would do.': 'muy rápido. Bastan {0} s.',
};
const SPANISH = {
  ...SENT,
  Probes: 'Sondas',
  return: 'retorno',
  '{0} of {1}': 'de {1}: {0}',
  Empty: '',
};
const inSpanish = (locale: string): void =>
  speak({ language: 'es', locale, catalog: SPANISH, sent: SENT });

afterEach(() => speak({ language: 'en', locale: 'en-US' }));

describe('in English', () => {
  test('a text is what it is in the source', () => {
    expect(t`Probes`).toBe('Probes');
    expect(t`${1} of ${'two'}`).toBe('1 of two');
    expect(sent`${1} of ${'two'}.`).toBe('1 of two.');
    expect(translated('It is too wet.')).toBe('It is too wet.');
  });
  test('one has a sentence of its own', () => {
    expect([0, 1, 2].map((n) => counted(n, 'one', 'many'))).toEqual(['many', 'one', 'many']);
  });
});

describe('in Spanish', () => {
  beforeEach(() => inSpanish('es-ES'));

  test('a text is that of the catalog, its holes in their own order', () => {
    expect(t`Probes`).toBe('Sondas');
    expect(t`${1} of ${2}`).toBe('de 2: 1');
  });
  test('what stands in a hole is no pattern', () => {
    expect(t`${'{1}'} of ${'$&'}`).toBe('de $&: {1}');
  });
  test('what is not translated stays English', () => {
    expect([t`Empty`, t`Not there`]).toEqual(['Empty', 'Not there']);
  });
  test('a sentence of the server is said anew, with what stands in its holes', () => {
    expect(translated('Supply, left has sent nothing for 3 days.')).toBe(
      'Desde hace 3 días, Supply, left no envía nada.',
    );
    expect(translated('No live temperature in the return air.')).toBe(
      'Sin temperatura en el aire de retorno.',
    );
    expect(translated('It is too wet. Cancel.')).toBe('Está demasiado húmedo. Cancele.');
  });
  test('of several sentences each is said anew, those too that stand with one that is not known', () => {
    expect(translated('It is too wet. Off by 2 K. It is too wet.')).toBe(
      'Está demasiado húmedo. Difiere en 2 K. Está demasiado húmedo.',
    );
    expect(translated('The moon is full. It is too wet.')).toBe(
      'The moon is full. Está demasiado húmedo.',
    );
    expect(translated('It is too wet. Off by 2 K. Cancel.')).toBe(
      'Está demasiado húmedo. Difiere en 2 K. Cancele.',
    );
  });
  test('a list is said anew, item by item', () => {
    expect(translated('Their mean: with Left alone 2 kW; with Right alone 3 kW.')).toBe(
      'Su promedio: solo con Left, 2 kW; solo con Right, 3 kW.',
    );
  });
  test('a part of a sentence may begin one, with a capital', () => {
    expect(translated('Too fast. 9 s would do.')).toBe('Muy rápido. Bastan 9 s.');
  });
  test('a sentence that is not known comes out as it is', () => {
    expect(translated('The moon is full.')).toBe('The moon is full.');
  });
  test('the names of people’s things are kept', () => {
    expect(translated('Probes has sent nothing for 8 s.')).toContain('Probes');
  });
});

test.each([
  ['es-ES', '1,5', '12\u202f345,6', 'Difiere en 0,12 K.'],
  ['es-MX', '1.5', '12\u202f345.6', 'Difiere en 0.12 K.'],
])('figures in %s', (locale, short, long, sentence) => {
  inSpanish(locale);
  expect(written(1.5, 0.1)).toBe(short);
  expect(written(12_345.6, 0.1)).toBe(long);
  expect(startText(1.5, FACTOR)).toBe(short);
  expect(translated('Off by 0.12 K.')).toBe(sentence);
  expect([readNumber('1,5'), readNumber('1.5')]).toEqual([1.5, 1.5]);
});

test.each([
  ['es-MX', '14:05', /^4 may 2026$/],
  ['es-ES', '14:05', /^4 may 2026$/],
  ['en-US', '14:05', /^May 4, 2026$/],
])('a day and an hour in %s', async (locale, clock, date) => {
  inSpanish(locale);
  vi.resetModules();
  const fresh = await import('../../server/words/language.ts');
  fresh.speak({ language: 'es', locale });
  const { clockMinutes } = await import('../../server/words/times.ts');
  const { day } = await import('../../server/words/visits.ts');
  const at = new Date(2026, 4, 4, 14, 5).getTime();
  expect(clockMinutes(at)).toBe(clock);
  expect(day(at)).toMatch(date);
});

// Unicode CLDR, supplemental data, paperSize: US-Letter (from memory).
test.each([
  ...([
    ['es-MX', 'letter'],
    ['en-US', 'letter'],
    ['en-CA', 'letter'],
    ['es-CO', 'letter'],
  ] as const),
  ...([
    ['es-ES', 'a4'],
    ['es-AR', 'a4'],
    ['en-GB', 'a4'],
    ['es', 'a4'],
  ] as const),
])('paper in %s', (locale, paper) => {
  expect(paperOf(locale)).toBe(paper);
});

describe('the language of the page', () => {
  test.each([
    [null, ['es-MX', 'en'], 'es'],
    [null, ['de-DE', 'en-GB', 'es'], 'en'],
    [null, ['de-DE'], 'en'],
    [null, [], 'en'],
    ['es', ['en-US'], 'es'],
    ['en', ['es-MX'], 'en'],
  ] as const)('chosen %s, of %j: %s', (chosen, tags, language) => {
    expect(languageFor(chosen, tags)).toBe(language);
  });
  test.each([
    ['es', ['es-MX', 'en'], 'es-MX'],
    ['es', ['en-US'], 'es-US'],
    ['es', ['de-DE', 'es'], 'es'],
    ['en', ['es-ES'], 'en-ES'],
    ['en', [], 'en-US'],
  ] as const)('%s, of %j: %s', (language, tags, locale) => {
    expect(localeFor(language, tags)).toBe(locale);
  });
});
