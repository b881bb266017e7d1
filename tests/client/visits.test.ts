import { describe, expect, it } from 'vitest';
import { choosingBeside, partOf, visitsAt, visitsLike } from '../../client/view-address.ts';
import { scalesFor } from '../../client/words/scales.ts';
import {
  daysBetween,
  foundWords,
  sameUnits,
  visitDifference,
  visitMarks,
  visitName,
  whenWords,
} from '../../client/words/visits.ts';
import type { VisitItem } from '../../server/protocol.ts';
import { captureWith } from './fixtures.ts';

const SCALES = scalesFor({ temperature: 'C', flow: 'm3h', power: 'kW' });
const noon = new Date(2026, 4, 4, 12, 0).getTime();

const item = (change: Partial<VisitItem> = {}): VisitItem => ({
  ...{ id: 'visit-1', kind: 'visit', title: '', site: 's', address: '', customer: '' },
  ...{ technician: '', why: '', simulated: false, begunT: noon, lastT: noon + 3_600_000 },
  ...{ units: [], captures: 0 },
  ...change,
});

describe('a visit in the list', () => {
  it('is called by its title, else its address, else its units', () => {
    const units = ['Reading room', 'Hall'];
    expect(visitName(item({ title: 'Library', address: '4 Wrenfold Lane', units }))).toBe(
      'Library',
    );
    expect(visitName(item({ address: '4 Wrenfold Lane', units }))).toBe('4 Wrenfold Lane');
    expect(visitName(item({ units }))).toBe('Reading room, Hall');
    expect(visitName(item())).toBe('Untitled visit');
  });

  it('says when it was, and on which day it ended where that was another', () => {
    expect(whenWords(item())).toBe('May 4, 2026, 12:00 to 13:00');
    expect(whenWords(item({ lastT: noon + 20 * 3_600_000 }))).toBe(
      'May 4, 2026, 12:00 to May 5, 2026, 08:00',
    );
    expect(whenWords(item({ begunT: null, lastT: null }))).toBe('nothing read yet');
  });

  it('is marked where its figures are not of a visit that is over', () => {
    expect(visitMarks(item({ simulated: true }), 'visit-1')).toEqual(['Live now', 'Simulated']);
    expect(visitMarks(item({ kind: 'import' }), 'visit-2')).toEqual(['From a log']);
  });

  it('what was found is said, and what to do where nothing was', () => {
    expect(foundWords(0, 100, false)).toBe('Nothing recorded yet.');
    expect(foundWords(0, 100, true)).toContain('fewer words');
    expect(foundWords(1, 100, true)).toBe('1 visit found, newest first.');
    expect(foundWords(100, 100, false)).toContain('The newest 100');
  });
});

describe('days of a search', () => {
  it('hold the whole first and last day, by the clock of the person who looks', () => {
    const { since, until } = daysBetween('2026-05-04', '2026-05-04');
    expect(since).toBe(new Date(2026, 4, 4).getTime());
    expect(until).toBe(new Date(2026, 4, 5).getTime() - 1);
  });
  it('are open where nothing is entered', () => {
    expect(daysBetween('', '')).toEqual({ since: null, until: null });
  });
});

describe('two visits beside each other', () => {
  const told = (captures: ReturnType<typeof captureWith>[], units: Record<string, string>) => ({
    captures,
    unitDetails: Object.fromEntries(Object.entries(units).map(([id, name]) => [id, { name }])),
  });

  it('units are the same by name, whatever their ids; struck captures are no result', () => {
    const struck = captureWith({ struck: { t: noon } });
    const first = told([captureWith(), struck], { u1: 'Reading room', u2: 'Hall' });
    const second = told([captureWith({ unit: 'u7' })], { u7: 'reading room ', u2: 'Cellar' });
    expect(sameUnits(first, second)).toEqual([
      {
        ...{ name: 'Reading room', ids: ['u1', 'u7'] },
        ...{ first: [captureWith()], second: [captureWith({ unit: 'u7' })] },
      },
    ]);
  });

  it('the difference is the second less the first, its interval the root of the sum of squares', () => {
    // JCGM 100:2008, 5.1.2, independent quantities: √(120² + 160²) = 200 W.
    const first = captureWith({ totalW: 2600, sensibleW: 2000, latentW: 600, totalU95W: 120 });
    const second = captureWith({ totalW: 2900, sensibleW: 2200, latentW: 700, totalU95W: 160 });
    const words = visitDifference(first, second, SCALES);
    expect(words.total).toBe('+0.30\u00a0±\u00a00.20\u202fkW');
    expect(words.worth).toContain('a real change, as measured');
    expect(words.worth).toContain('independent');
    expect(visitDifference(second, first, SCALES).total).toBe('−0.30\u00a0±\u00a00.20\u202fkW');
  });

  it('within its interval it is no change; without one nothing is said of it', () => {
    const first = captureWith({ totalW: 2600 });
    expect(visitDifference(first, captureWith({ totalW: 2650 }), SCALES).worth).toContain(
      'no change at all',
    );
    const bare = captureWith({ totalW: 2900, totalU95W: null });
    const words = visitDifference(first, bare, SCALES);
    expect(words.total).not.toContain('±');
    expect(words.worth).toContain('nobody can tell');
  });

  it('cooling and heating are not compared', () => {
    const words = visitDifference(captureWith(), captureWith({ latentW: null }), SCALES);
    expect(words).toMatchObject({ total: null, parts: null });
  });
});

describe('the address of a place', () => {
  const id = 'visit-2026-05-04T12-00-00-000Z';
  it.each([
    ['', 'figure'],
    ['#figure', 'figure'],
    ['#doubts', 'figure'],
    ['#probes', 'probes'],
    ['#side-by-side', 'probes'],
    ['#walk', 'probes'],
    ['#airflow', 'airflow'],
    ['#verdict', 'verdict'],
    ['#record', 'record'],
    ['#constructor', 'figure'],
  ])('%s', (hash, place) => {
    expect(partOf(hash)).toEqual({ place, looked: null });
  });
  it.each([
    [visitsAt(), {}],
    [visitsAt(id), { visit: id }],
    [choosingBeside(id), { visit: id, choosing: true }],
    [visitsLike('4 Wrenfold Lane/east'), { search: '4 Wrenfold Lane/east' }],
    [visitsAt(id, 'a/b %'), { visit: id, beside: 'a/b %' }],
    ['#visits/%', { visit: '%' }],
  ])('%s', (hash, looked) => {
    expect(partOf(hash)).toEqual({
      place: 'record',
      looked: { visit: null, beside: null, choosing: false, search: '', ...looked },
    });
  });
});
