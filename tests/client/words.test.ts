import { describe, expect, it } from 'vitest';
import { announcement } from '../../client/words/announcement.ts';
import { reasonsOf } from '../../client/words/reasons.ts';
import { scalesFor } from '../../client/words/scales.ts';
import { headline, lastFigure, settlingWords, trendOf } from '../../client/words/sentence.ts';
import { clockMinutes, duration, roughDuration } from '../../client/words/times.ts';
import { doubtWith, NO_AIR, T0, unitWith } from './fixtures.ts';

const { power } = scalesFor({ temperature: 'C', flow: 'm3h', power: 'kW' });
/** Thin spaces as plain ones, to be read here. */
const plain = (text: string): string => text.replace(/[\u202f\u00a0]/g, ' ');
const said = (...args: Parameters<typeof headline>): string => plain(headline(...args));

describe('the sentence', () => {
  it('says what is delivered and which way it goes', () => {
    expect(said('Reading room', unitWith(), 'climbing', power)).toBe(
      'Reading room: 2.64 kW of cooling, still climbing.',
    );
    expect(said('Reading room', unitWith(), 'falling', power)).toBe(
      'Reading room: 2.64 kW of cooling, still falling.',
    );
    expect(said('Reading room', unitWith(), 'level', power)).toBe(
      'Reading room: 2.64 kW of cooling, not steady yet.',
    );
  });

  it('believes the forecast before the trend', () => {
    const unit = unitWith({ settling: { plateauW: 2200 } });
    expect(said('Hall', unit, 'climbing', power)).toContain('still falling');
  });

  it('says since when it is steady', () => {
    const unit = unitWith({ settling: { state: 'steady', since: T0 } });
    expect(said('Hall', unit, null, power)).toBe(
      `Hall: 2.64 kW of cooling, steady since ${clockMinutes(T0)}.`,
    );
  });

  it('has words for heating, cycling and an unknown mode', () => {
    const heating = unitWith({ mode: 'heating', settling: { state: 'cycling' } });
    expect(said('Hall', heating, null, power)).toBe(
      'Hall: 2.64 kW of heating just now, cycling on and off.',
    );
    expect(said('Hall', unitWith({ mode: null }), 'level', power)).toBe(
      'Hall: 2.64 kW, not steady yet.',
    );
  });

  it('does not call the wrong direction cooling', () => {
    const unit = unitWith({ capacity: { totalW: -500, totalU95W: 60 } });
    expect(said('Hall', unit, 'level', power)).toBe(
      'Hall: 0.50 kW of heating, though it should be cooling.',
    );
  });

  it('claims nothing that the interval does not carry', () => {
    const unit = unitWith({ capacity: { totalW: 80, totalU95W: 110 } });
    expect(said('Hall', unit, 'level', power)).toBe('Hall: too little cooling to tell from none.');
  });

  it('says when there is no figure', () => {
    const unit = unitWith({ capacity: { totalW: null } });
    expect(said('Hall', unit, null, power)).toBe('Hall: no capacity figure yet.');
    const silent = { ...unit, return: NO_AIR, supply: NO_AIR };
    expect(said('Hall', silent, null, power)).toBe('Hall: waiting for readings.');
    const last = { t: T0, totalW: 2552, totalU95W: 347 };
    expect(said('Hall', silent, null, power, last)).toBe(
      `Hall: no figure now; last 2.55 ± 0.35 kW at ${clockMinutes(T0)}.`,
    );
    expect(said('Hall', null, null, power)).toBe('Hall: waiting for readings.');
  });
});

describe('settling', () => {
  it('gives the forecast with its interval and about when', () => {
    const unit = unitWith({ settling: { plateauW: 2710, plateauU95W: 83, steadyInS: 214 } });
    expect(plain(settlingWords(unit, T0, power))).toBe(
      'Heading for 2.71 ± 0.08 kW. Steady in about 4 min.',
    );
  });

  it('says that a steady figure can be written down', () => {
    const doubts = ['check-missing', 'airflow-not-measured', 'check-old'].map((code) =>
      doubtWith({ code }),
    );
    const unit = unitWith({ settling: { state: 'steady', plateauW: 2710 }, doubts });
    expect(plain(settlingWords(unit, T0 + 360_000, power))).toBe(
      'For 6 min. Its mean is 2.71 kW. This figure can be written down.',
    );
  });

  it.each([
    ['without an interval', { capacity: { totalU95W: null } }],
    ['with a doubt to mend first', { doubts: [doubtWith({ code: 'pressure-assumed' })] }],
    ['with a late probe', { doubts: [doubtWith({ code: 'probe-late' })] }],
  ])('a steady figure %s is not to be written down', (_, change) => {
    const unit = unitWith({ settling: { state: 'steady' }, ...change });
    expect(plain(settlingWords(unit, T0 + 360_000, power))).toBe(
      'For 6 min. Steady, but see below.',
    );
  });

  it('is announced without figures, so that it is read out only when it changes', () => {
    const late = (ageS: number): ReturnType<typeof unitWith> => {
      const text = `Supply right is late: its last reading is ${ageS} s old.`;
      const doubts = [doubtWith({ code: 'probe-late', probe: 'p2', text })];
      return unitWith({ doubts, capacity: { totalW: 2000 + ageS } });
    };
    const probes = { p2: { name: 'Supply right' } };
    const one = announcement('Hall', late(11), probes);
    expect(one).toBe('Hall: settling. Supply right is late.');
    expect(announcement('Hall', late(12), probes)).toBe(one);
  });
});

describe('the last figure', () => {
  it('is the last one that there was, with its interval', () => {
    const t = [T0, T0 + 1000, T0 + 2000];
    expect(lastFigure(t, [100, 200, null], [110, 220, null])).toEqual({
      t: T0 + 1000,
      totalW: 200,
      totalU95W: 20,
    });
    expect(lastFigure(t, [null, 200, null], [null, null, null])?.totalU95W).toBeNull();
    expect(lastFigure(t, [null, null, null], [null, null, null])).toBeNull();
  });
});

describe('the trend', () => {
  const t = Array.from({ length: 120 }, (_, i) => T0 + i * 1000);
  it('compares the last quarter of a minute with the one a minute ago', () => {
    expect(
      trendOf(
        t,
        t.map((_, i) => 1000 + 5 * i),
      ),
    ).toBe('climbing');
    expect(
      trendOf(
        t,
        t.map((_, i) => 3000 - 5 * i),
      ),
    ).toBe('falling');
    expect(
      trendOf(
        t,
        t.map((_, i) => 3000 + (i % 2)),
      ),
    ).toBe('level');
  });
  it('says nothing without a minute of figures', () => {
    expect(trendOf([], [])).toBeNull();
    expect(
      trendOf(
        t.slice(0, 10),
        t.slice(0, 10).map(() => 1),
      ),
    ).toBeNull();
    expect(
      trendOf(
        t,
        t.map(() => null),
      ),
    ).toBeNull();
  });
});

describe('why a figure is missing', () => {
  const noFlow = doubtWith({
    code: 'airflow-missing',
    text: 'No airflow is known.',
    remedy: 'Enter it.',
  });
  const late = doubtWith({ code: 'probe-late', probe: 'r', text: 'R is late.' });
  it('takes the reason out of the doubts', () => {
    const unit = unitWith({ capacity: { totalW: null, totalU95W: null }, doubts: [late, noFlow] });
    expect(reasonsOf(unit)).toEqual({ missing: [noFlow], others: [late] });
  });
  it('has a sentence where no doubt explains it', () => {
    const unit = unitWith({ capacity: { totalW: null, totalU95W: null } });
    expect(reasonsOf(unit).missing.map(({ text }) => text)).toEqual([
      'There are not enough readings yet.',
    ]);
  });
  it('during a side-by-side check, probes are not missed at their places', () => {
    const checking = doubtWith({ code: 'check-running', text: 'R and S are being checked.' });
    const gone = ['return-missing', 'supply-missing'].map((code) =>
      doubtWith({ code, text: code }),
    );
    const unit = unitWith({
      capacity: { totalW: null, totalU95W: null },
      doubts: [checking, ...gone, late],
    });
    expect(reasonsOf(unit)).toEqual({ missing: [checking], others: [late] });
    expect(said('Hall', unit, null, power)).toBe(
      'Hall: its probes are being checked side by side.',
    );
    expect(announcement('Hall', unit, { r: { name: 'R' } })).toBe(
      'Hall: settling. R and S are being checked. R is late.',
    );
  });
  it('leaves the doubts alone where nothing is missing', () => {
    expect(reasonsOf(unitWith({ doubts: [late] }))).toEqual({ missing: [], others: [late] });
  });
});

describe('times', () => {
  it.each([
    [0.4, '0 s'],
    [59.6, '1 min'],
    [214, '4 min'],
    [3600, '1 h'],
    [4815, '1 h 20 min'],
  ])('%d s is %s', (given, text) => {
    expect(plain(duration(given))).toBe(text);
  });

  it('rounds up what is only roughly known', () => {
    expect(plain(roughDuration(3))).toBe('10 s');
    expect(plain(roughDuration(61))).toBe('1 min');
    expect(plain(roughDuration(130))).toBe('3 min');
  });
});
