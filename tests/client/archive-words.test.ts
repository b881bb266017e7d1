/** What the page says of an archive: where it points, and how the sending to it stands. Pure. */
import { describe, expect, test } from 'vitest';
import { archivePartOf, placeAt } from '../../client/archive/address.ts';
import { axisOf, PART, yearMarks } from '../../client/archive/picture.ts';
import { sendingWords } from '../../client/words/archive-sending.ts';
import { wholeWords } from '../../client/words/archive-types.ts';
import { entryWords } from '../../client/words/office.ts';
import { byDue, driftWords } from '../../client/words/probe-book.ts';
import { HUMIDITY } from '../../client/words/scales.ts';
import type { AmongUnits, BookProbe, Sending } from '../../server/protocol/archive.ts';
import { visitsAt } from '../../client/view-address.ts';

describe('an address', () => {
  test('names a place, and what is looked at there', () => {
    expect(archivePartOf('')).toMatchObject({ place: 'visits', which: null });
    expect(archivePartOf('#record')).toMatchObject({ place: 'visits' });
    expect(archivePartOf(visitsAt('7', '8')).looked).toMatchObject({ visit: '7', beside: '8' });
    expect(archivePartOf(placeAt('units', 12))).toMatchObject({ place: 'units', which: '12' });
    const type = 'Slim 35/b 100%';
    expect(archivePartOf(placeAt('types', type))).toMatchObject({ place: 'types', which: type });
    expect(archivePartOf('#types/100%')).toMatchObject({ which: '100%' });
  });
});

describe('the sending', () => {
  const none: Sending = {
    ...{ archive: null, waiting: 0, visit: null, sentBytes: 0, bytes: 0 },
    ...{ confirmedT: null, trouble: null },
  };
  const on = { ...none, archive: 'https://archive.example.org' };
  test.each<[Sending, string | null]>([
    [none, null],
    [on, 'All finished visits are in the archive.'],
    [{ ...on, waiting: 1 }, '1 visit waits for the archive.'],
    [{ ...on, waiting: 3 }, '3 visits wait for the archive.'],
    [
      { ...on, waiting: 2, visit: 'v', sentBytes: 40, bytes: 100 },
      'A visit is on its way to the archive: 40\u202f%.',
    ],
    [{ ...on, waiting: 2, trouble: 'The line is down.' }, 'The line is down.'],
  ])('is said as it stands', (sending, words) => {
    expect(sendingWords(sending)).toBe(words);
  });
});

describe('the probe book', () => {
  const probe = (id: string, dueT: number | null): BookProbe => ({
    ...{ probe: id, name: '', serial: '', checks: 0, checkedT: null, agreed: null },
    ...{ calibratedT: dueT, dueT },
  });
  test('has those first that are overdue, then those that nobody has said anything of', () => {
    const probes = [probe('later', 900), probe('unknown', null), probe('b', 90), probe('a', 50)];
    expect(byDue(probes, 100).map((each) => each.probe)).toEqual(['a', 'b', 'unknown', 'later']);
  });
  test('says whether a drift is clear', () => {
    const drift = { perYear: 1, u95PerYear: 0.2, now: 2, u95Now: 0.5, isClear: true };
    expect(driftWords(drift, HUMIDITY)[0]).toMatch(/^It drifts: \+1\.0.±.0\.2/);
    expect(driftWords({ ...drift, isClear: false }, HUMIDITY)[0]).toMatch(/^No clear drift/);
    expect(driftWords(null, HUMIDITY)).toHaveLength(1);
  });
});

test('units of a type: one that lies outside is no part of how much they differ', () => {
  const unit = (lies: AmongUnits['lies']): AmongUnits => ({
    ...{ unit: 1, name: '', title: '', t: 0, value: 1, u95: 0.1, z: 0, lies },
  });
  const said = (spread: number, ...lies: AmongUnits['lies'][]): string =>
    wholeWords({ mean: 1, u95Mean: 0.04, spread, units: lies.map(unit) }, PART);
  expect(said(0, 'within', 'edge')).toMatch(
    /^2 units, mean 100.*\. They differ by no more than their ± explain\.$/,
  );
  expect(said(0, 'within', 'low')).toMatch(/\. Those inside differ by no more than/);
  expect(said(0.05, 'within', 'edge')).toMatch(/\. They differ among themselves by 5/);
  expect(said(0.05, 'within', 'high')).toMatch(/\. Those inside differ among themselves by 5/);
});

test.each([
  ['made', 'token 1f: van, "Van 7"', 'Office: made token 1f for Van 7, van'],
  ['withdrew', 'token 1f: reader, "A "B" C"', 'Office: withdrew token 1f of A "B" C, reader'],
  ['deleted', 'visit 12 of van ab', 'Office: deleted visit 12'],
  ['erased', 'what is personal of site 3', 'Office: erased what is personal of site 3'],
  ['mended', 'token 1f: van, "Van 7"', 'Office: mended token 1f: van, "Van 7"'],
])('the audit says who %s %s', (did, what, says) => {
  expect(entryWords({ t: 0, who: 'Office', did, what })).toBe(says);
});

describe('a picture', () => {
  test('has an axis of whole steps around its figures', () => {
    const { low, high, marks } = axisOf([0.52, 1.31], PART, 5);
    expect(low).toBeCloseTo(0.4, 9);
    expect(high).toBeCloseTo(1.4, 9);
    expect(marks.map((mark) => Math.round(100 * mark))).toEqual([40, 60, 80, 100, 120, 140]);
    expect(axisOf([5, 5], PART, 5).high).toBeGreaterThan(5);
    expect(axisOf([], PART, 5).high).toBeGreaterThan(0);
  });
  test('marks years, no more than fit', () => {
    const at = (year: number): number => new Date(year, 5, 1).getTime();
    expect(yearMarks(at(2020), at(2024), 9).map((t) => new Date(t).getFullYear())).toEqual([
      2021, 2022, 2023, 2024,
    ]);
    expect(yearMarks(at(2000), at(2024), 5).length).toBeLessThanOrEqual(5);
  });
});
