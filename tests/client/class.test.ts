/** What the class's page works out by itself: words for sizes and results, and where a refused field stands. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { fieldIn } from '../../client/class/lesson-field.ts';
import { classTime, inWords, placedWords, verdictText } from '../../client/words/class.ts';
import { pictureRows, pictureWords, wholeWords } from '../../client/words/class-result.ts';
import { addedWords, faultName, severity } from '../../client/words/fault.ts';
import { courseWords, FIELDS } from '../../client/words/lesson.ts';
import { scalesFor } from '../../client/words/scales.ts';
import { paceWords } from '../../client/words/trainee.ts';
import { lessonSchema } from '../../server/class/lesson.ts';
import type { Result } from '../../server/protocol/class.ts';
import { FAULT_KINDS, FAULT_SIZES } from '../../simulator/faults.ts';
import { ROOT } from '../program.ts';

const SCALES = scalesFor({ temperature: 'C', flow: 'm3h', power: 'kW' });
const plain = (text: string): string => text.replace(/[\u00a0\u202f]/g, ' ');
const T0 = 1_700_000_000_000;

/** A result with a capture of that figure where the truth was 2000 W. */
function resultWith(valueW: number | null, change: Partial<Result> = {}): Result {
  const found = (value: number) => ({
    ...{ value, u95: 100, truth: 2000 },
    inside: Math.abs(value - 2000) <= 100,
  });
  return {
    captures:
      valueW === null
        ? []
        : [{ from: T0, to: T0, total: found(valueW), sensible: found(valueW), latent: null }],
    ...{ airflow: null, decision: null, right: null, decidedS: null, capturedS: null },
    ...change,
  };
}
const named = (result: Result | null, name = 'Ana') => ({ name, result });

describe('how bad a fault is', () => {
  test.each([
    ['dirty-wheel', 0, 'none'],
    ['dirty-wheel', 0.2, 'slight'],
    ['dirty-wheel', 0.7, 'heavy'],
    ['dirty-wheel', 1, 'severe'],
    // Over the range of its own, not over 1.
    ['low-charge', 0.5, 'severe'],
    ['cycling', 0.1, 'none'],
    ['drifting-probe', 20, 'severe, reads ever higher'],
    ['drifting-probe', -4, 'slight, reads ever lower'],
    ['drifting-probe', 0, 'none'],
    ['swapped-probes', 1, 'there'],
  ] as const)('%s of size %d: %s', (kind, size, word) => {
    const [least, most] = FAULT_SIZES[kind];
    expect(severity(size, { least, most })).toBe(word);
  });

  test('every kind has a name, and what was added says since when', () => {
    expect(FAULT_KINDS.filter((kind) => faultName(kind) === kind)).toEqual([]);
    const fault = { kind: 'clogged-filter', size: 0.7, t: T0 + 720_000 };
    expect(plain(addedWords(fault, T0, { least: 0, most: 1 }))).toBe(
      'Loaded filter: heavy, from 12 min on',
    );
  });
});

describe('what came out', () => {
  test('the class as a whole counts the last captures and the decisions', () => {
    const right = { decision: { cause: 'wheel', t: T0 }, right: true };
    const wrong = { decision: { cause: 'coil', t: T0 }, right: false };
    const all = [resultWith(2050, right), resultWith(2300, wrong), resultWith(null)];
    expect(wholeWords(all.map((result) => ({ result })))).toEqual([
      '2 of 3 captured; of these, 1 had the truth inside their own interval.',
      '1 of 3 named it; 1 decided nothing.',
    ]);
    expect(wholeWords([{ result: resultWith(null) }])).toEqual([
      'Nobody captured a figure.',
      'Nobody decided what is the matter.',
    ]);
  });

  test('a row of the picture is the capture over its own truth', () => {
    const [over, none] = pictureRows([named(resultWith(2300)), named(resultWith(null), 'Ben')]);
    expect(over).toEqual({ name: 'Ana', part: 1.15, u95: 0.05, inside: false });
    expect(none?.part).toBeNull();
    expect(over && plain(pictureWords(over))).toBe('Ana: 115 % ± 5 % of the truth, ◇ outside');
  });

  test('over a truth of next to nothing no ratio is drawn', () => {
    const result = resultWith(30);
    const [capture] = result.captures;
    if (capture !== undefined) capture.total.truth = 10;
    expect(pictureRows([named(result)])[0]?.part).toBeNull();
  });
});

test('the time of a class is said as it goes, to the instructor and to a trainee', () => {
  const at = (s: number, speed: number, frozen: boolean) => ({
    ...{ t: T0 + 1000 * s, startT: T0, speed, frozen },
  });
  const said = (s: number, speed: number, frozen: boolean): string[] =>
    [classTime(at(s, speed, frozen)), paceWords({ phase: 'open', ...at(s, speed, frozen) })].map(
      plain,
    );
  expect(said(0, 1, true)[0]).toMatch(/^Not begun/);
  expect(said(0, 1, true)[1]).toMatch(/^Not begun/);
  expect(said(600, 10, true)).toEqual(['Frozen at 10 min.', 'The instructor has frozen the air.']);
  expect(said(600, 10, false)).toEqual([
    'Running 10× as fast, 10 min in.',
    'The air runs 10× as fast.',
  ]);
  expect(paceWords({ phase: 'ended', ...at(600, 10, true) })).toBe('The lesson has ended.');
});

test('where somebody stands is said in words', () => {
  expect(placedWords({ placed: 2, probes: 5 })).toBe('2 of 5');
  expect(verdictText('falls-short')).toBe('▼ falls short');
  expect(verdictText(null)).toBe('—');
  expect(inWords([{ here: true }, { here: false }])).toBe('2 trainees are in. Pages open: 1.');
});

test('the course of a lesson in words', () => {
  const point = (elapsedS: number, totalW: number) => ({
    ...{ elapsedS, totalW, sensibleW: totalW, latentW: 0, flowM3s: 0.1 },
    ...{ sensibleHeatRatio: 1, compressorShare: 1 },
  });
  const preview = { course: [point(0, 3000), point(600, 1500), point(1200, 2000)], healthyW: 4000 };
  const said = courseWords(preview, SCALES.power).map(plain).join(' ');
  expect(said).toContain('In 20 min the true total goes from 3.00 kW to 2.00 kW');
  expect(said).toContain('between 1.50 kW and 3.00 kW');
  expect(said).toContain('this one gives 50 % of what it should');
});

describe('a lesson that is written', () => {
  const EXAMPLE = readFileSync(join(ROOT, 'server/class/example-lesson.json'), 'utf8');
  const at = (text: string, refusal: string): string | null => {
    const found = fieldIn(text, refusal);
    return found === null ? null : text.slice(found.from, found.to);
  };

  test('each of its fields is explained', () => {
    const explained = FIELDS.map(([field]) => field);
    const fixed = ['type', 'version']; // as the example has them
    expect([...fixed, ...explained].toSorted()).toEqual(Object.keys(lessonSchema.shape).toSorted());
  });

  test('a refusal shows where its field stands', () => {
    expect(at(EXAMPLE, 'setpointC: 3 is outside 10 to 35')).toBe('"setpointC"');
    // Of the second fault, not of the first.
    const size = fieldIn(EXAMPLE, 'faults.1.size: 1.5 is outside 0 to 1');
    expect(size?.from).toBe(EXAMPLE.indexOf('"size"', EXAMPLE.indexOf('dirty-wheel')));
    expect(at(EXAMPLE, 'room.temperatureC: 3 is outside')).toBe('"temperatureC"');
    expect(fieldIn(EXAMPLE, 'room.temperatureC: 3')?.from).toBeGreaterThan(
      EXAMPLE.indexOf('"room"'),
    );
  });

  test('of a field that is missing, what holds it is shown; of no field, nothing', () => {
    expect(at(EXAMPLE, 'outdoor.pressure: is not a field')).toBe('"outdoor"');
    expect(fieldIn(EXAMPLE, 'The lesson is not understood.')).toBeNull();
    expect(fieldIn('', 'title: is missing')).toBeNull();
  });
});
