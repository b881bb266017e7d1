import { describe, expect, it } from 'vitest';
import {
  ageWords,
  hangsAt,
  listed,
  rateWords,
  signalOf,
  summaryWords,
  troublesOf,
  valueWords,
  whereWords,
} from '../../client/words/probes.ts';
import { scalesFor } from '../../client/words/scales.ts';
import type { ProbeState } from '../../server/protocol.ts';
import { doubtWith, probeWith, T0, UNIT, unitWith, VISIT } from './fixtures.ts';

const si = scalesFor({ temperature: 'C', flow: 'm3h', power: 'kW' });
const us = scalesFor({ temperature: 'F', flow: 'cfm', power: 'Btuh' });
const plain = (text: string | null): string | null =>
  text?.replace(/[\u202f\u2002\u00a0]/g, ' ').replace(/ +/g, ' ') ?? null;
const visit = {
  ...VISIT,
  units: {
    u1: { ...UNIT, name: 'Study' },
  },
};

describe('a probe in words', () => {
  it('where it hangs', () => {
    expect(whereWords(probeWith(), visit)).toBe('return, Study');
    expect(whereWords(probeWith({ unit: 'u9' }), visit)).toBe('return, u9');
    expect(whereWords(probeWith({ unit: null, place: 'outdoor' }), visit)).toBe('outdoor');
    expect(whereWords(probeWith({ unit: null, place: null }), visit)).toBe('not placed');
  });

  it('outdoors is one place for all units; the others are their unit’s', () => {
    const yard = { unit: null, place: 'outdoor' } as const;
    expect(hangsAt(probeWith({ unit: 'u2', place: 'outdoor' }), yard)).toBe(true);
    expect(hangsAt(probeWith(), { unit: 'u1', place: 'return' })).toBe(true);
    expect(hangsAt(probeWith(), { unit: 'u2', place: 'return' })).toBe(false);
    expect(hangsAt(probeWith(), { unit: 'u1', place: 'supply' })).toBe(false);
  });

  it('what it reads, each quantity in the chosen unit', () => {
    const values = { temperatureC: 20, humidityPct: 50.4, velocityMs: 2.345, pressurePa: 98_300 };
    expect(plain(valueWords(probeWith({ values }), si))).toBe('20.0 °C 50 % 2.35 m/s 983 hPa');
    expect(plain(valueWords(probeWith({ values: { temperatureC: 20 } }), us))).toBe('68.0 °F');
    expect(plain(valueWords(probeWith({ values: { dewPointC: 9, powerW: 812 } }), si))).toBe(
      'dew point 9.0 °C 812 W',
    );
    expect(valueWords(probeWith({ values: {} }), si)).toBe('—');
  });

  it.each<[Partial<ProbeState>, number | null, string]>([
    [{}, T0 + 2000, 'heard now'],
    [{}, T0 + 40_000, 'heard 40 s ago'],
    [{ state: 'stale' }, T0 + 40_000, 'late, last heard 40 s ago'],
    [{ state: 'lost' }, T0 + 180_000, 'lost, last heard 3 min ago'],
    [{ state: 'connecting' }, T0 + 180_000, 'connecting, last heard 3 min ago'],
    [{ state: 'lost', lastT: null }, T0, 'no reading yet'],
    [{ state: 'connecting', lastT: null }, T0, 'connecting'],
    [{}, null, 'not live'],
  ])('when it was heard last: %j at %s', (change, t, words) => {
    expect(plain(ageWords(probeWith(change), t))).toBe(words);
  });

  it.each([
    [250, '4 a second'],
    [333, '3 a second'],
    [950, 'every 1 s'],
    [1000, 'every 1 s'],
    [2040, 'every 2 s'],
    [60_000, 'every 1 min'],
    [null, null],
  ])('how often it speaks: %s ms', (intervalMs, words) => {
    expect(plain(rateWords(probeWith({ intervalMs })))).toBe(words);
  });

  it.each([
    [-45, 4, '−45 dBm, strong'],
    [-60, 4, '−60 dBm, strong'],
    [-61, 3, '−61 dBm, good'],
    [-80, 2, '−80 dBm, fair'],
    [-90, 1, '−90 dBm, weak'],
    [-99, 0, '−99 dBm, very weak'],
  ])('how well it is heard: %s dBm', (signalDbm, bars, words) => {
    const signal = signalOf(probeWith({ signalDbm }));
    expect([signal?.bars, plain(signal?.words ?? null)]).toEqual([bars, words]);
  });

  it('nothing of a signal where it has none', () => {
    expect(signalOf(probeWith())).toBeNull();
  });
});

describe('what wants a hand', () => {
  const codes = (change: Partial<ProbeState>, doubts = [doubtWith({})]): string[] =>
    troublesOf('p1', probeWith(change), { u1: unitWith({ doubts }) }).map(({ code }) => code);

  it.each<[string, Partial<ProbeState>, string[]]>([
    ['nothing', {}, []],
    ['a place', { place: null, unit: null }, ['unplaced']],
    ['a key', { needs: 'key', state: 'lost', lastT: null, place: null }, ['key', 'unplaced']],
    ['to be found again', { state: 'lost' }, ['lost']],
    ['to be switched on', { state: 'lost', lastT: null }, ['unheard']],
    ['a look', { state: 'stale' }, ['late']],
    ['a moment', { state: 'connecting' }, ['connecting']],
    ['a battery', { batteryPct: 12 }, ['battery']],
    ['none yet', { batteryPct: 20 }, []],
  ])('%s', (_, change, expected) => {
    expect(codes(change)).toEqual(expected);
  });

  it('each says what is wrong and what to do, and names the probe', () => {
    const bad = probeWith({ state: 'stale', place: null, batteryPct: 3, name: 'Fernhill 2' });
    for (const { text, remedy } of troublesOf('p1', bad, {})) {
      expect(text).toMatch(/Fernhill 2.*\.$/);
      expect(remedy).toMatch(/\.$/);
    }
  });

  it('the doubts of its unit that name it, and none of another', () => {
    const doubts = [
      doubtWith({ code: 'probe-wet', probe: 'p1', text: 'R is probably wet.' }),
      doubtWith({ code: 'probe-wet', probe: 'p2' }),
      doubtWith({ code: 'check-missing' }),
    ];
    expect(codes({}, doubts)).toEqual(['probe-wet']);
  });

  it('none of those with which nothing need be done', () => {
    const doubts = ['humidity-saturated', 'humidity-range'].map((code) =>
      doubtWith({ code, probe: 'p1' }),
    );
    expect(codes({}, doubts)).toEqual([]);
  });

  it('each of two that disagree, and they are not in order', () => {
    const doubts = ['p1', 'p2'].map((probe) => doubtWith({ code: 'probes-differ', probe }));
    const list = listed(
      { p1: probeWith(), p2: probeWith(), p3: probeWith() },
      { u1: unitWith({ doubts }) },
    );
    expect(list.map(({ id, troubles }) => [id, troubles.length])).toEqual([
      ...[
        ['p1', 1],
        ['p2', 1],
        ['p3', 0],
      ],
    ]);
    expect(summaryWords(list)).toBe('3 probes: 2 that disagree, 1 in order.');
  });

  it('one sentence where its state and a doubt say the same', () => {
    const doubts = [doubtWith({ code: 'probe-stale', probe: 'p1' })];
    expect(codes({ state: 'stale' }, doubts)).toEqual(['late']);
    expect(codes({}, doubts)).toEqual(['probe-stale']); // its state has not come yet
  });
});

describe('the list', () => {
  const probes = {
    fine: probeWith(),
    lost: probeWith({ state: 'lost' }),
    doubtful: probeWith(),
    unplaced: probeWith({ place: null, unit: null }),
    locked: probeWith({ needs: 'key', state: 'lost' }),
    weary: probeWith({ batteryPct: 5 }),
  };
  const doubts = [doubtWith({ code: 'probe-wet', probe: 'doubtful' })];
  const units = { u1: unitWith({ doubts }) };
  const ids = (held: string[] | null): string[] => listed(probes, units, held).map(({ id }) => id);

  it('begins with what wants a hand', () => {
    expect(ids(null)).toEqual(['locked', 'unplaced', 'doubtful', 'lost', 'weary', 'fine']);
  });

  it('keeps the order that is held, new ones last', () => {
    expect(ids(['fine', 'gone', 'lost', 'unplaced'])).toEqual([
      ...['fine', 'lost', 'unplaced'],
      ...['locked', 'doubtful', 'weary'],
    ]);
  });

  it('in a sentence', () => {
    expect(summaryWords(listed(probes, units))).toBe(
      '6 probes: 1 to place, 2 not read, 1 in order.',
    );
    expect(summaryWords(listed({ fine: probes.fine }, units))).toBe('1 probe: 1 in order.');
  });
});
