import { describe, expect, it } from 'vitest';
import {
  figure,
  lastPlace,
  NO_FIGURE,
  percent,
  ratio,
  signed,
  withInterval,
  withSign,
  written,
} from '../../client/words/figures.ts';
import { scalesFor, type Scale } from '../../client/words/scales.ts';

const si = scalesFor({ temperature: 'C', flow: 'm3h', power: 'kW' });
const us = scalesFor({ temperature: 'F', flow: 'cfm', power: 'Btuh' });
/** A scale that changes nothing and hides nothing. */
const plain: Scale = { sign: 'x', show: (x) => x, read: (x) => x, finest: 1e-9 };

describe('rounding to the interval', () => {
  it.each([
    // JCGM 100:2008, 7.2.2 and 7.2.4 (the 100 g standard): m = 100.021 47 g, U = 0.79 mg. From memory.
    [100.02147, 0.00079, '100.02147', '0.00079'],
    // JCGM 100:2008, 7.2.6: 10.057 62 Ω with 27 mΩ is rounded to 10.058 Ω. From memory.
    [10.05762, 0.027, '10.058', '0.027'],
    // By the rule: two digits that round up to three are still two.
    [5.4321, 0.0996, '5.43', '0.10'],
    [5432.1, 99.6, '5430', '100'],
    [54321, 996, '54\u202f300', '1000'],
    [-1.234, 0.12, '−1.23', '0.12'],
    [-0.001, 0.12, '0.00', '0.12'],
  ])('%d ± %d', (value, interval, shownValue, shownInterval) => {
    expect(figure(value, interval, plain)).toEqual({ value: shownValue, interval: shownInterval });
  });

  it('never shows a live figure finer than its scale', () => {
    expect(figure(2643.7, 96.4, si.power)).toEqual({ value: '2.64', interval: '0.10' });
    expect(figure(2643.7, 1180, si.power)).toEqual({ value: '2.6', interval: '1.2' });
    expect(figure(2643.7, 3.2, si.power)).toEqual({ value: '2.64', interval: '0.01' });
  });

  it('works in the shown unit', () => {
    // 2643.7 W / 0.29307107 = 9020.6 Btu/h, 110 W = 375.3 Btu/h (factor: NIST SP 811).
    expect(figure(2643.7, 110, us.power)).toEqual({ value: '9020', interval: '380' });
  });

  it('converts an interval without the offset of its scale', () => {
    expect(figure(20, 0.5, us.temperature)).toEqual({ value: '68.0', interval: '0.9' });
  });

  it.each([
    [0.12, 0.01],
    [0.99, 0.01],
    [0.996, 0.1],
    [12, 1],
    [380, 10],
  ])('the last place of %d', (interval, place) => {
    expect(lastPlace(interval, 1e-6)).toBeCloseTo(place, 9);
  });
});

describe('what is missing', () => {
  it.each([null, NaN, Infinity])('%s is a dash, never a number', (value) => {
    expect(withInterval(value, 10, si.power)).toBe(NO_FIGURE);
    expect(withSign(value, si.power)).toBe(NO_FIGURE);
    expect(percent(value)).toBe(NO_FIGURE);
    expect(ratio(value)).toBe(NO_FIGURE);
  });

  it('a value without an interval stands alone', () => {
    expect(withInterval(2643.7, null, si.power)).toBe('2.64\u202fkW');
    expect(withInterval(2643.7, NaN, si.power)).toBe('2.64\u202fkW');
  });
});

describe('ratios and differences', () => {
  it('a ratio has its interval, rounded with it', () => {
    expect(ratio(0.752, 0.031)).toBe('0.75\u00a0±\u00a00.03');
    expect(ratio(0.752, 0.234)).toBe('0.75\u00a0±\u00a00.23');
    expect(ratio(0.752)).toBe('0.75');
    expect(ratio(0.752, null)).toBe('0.75');
  });

  it('a difference says which way', () => {
    expect(signed(0.123, 0.041, si.offset)).toBe('+0.12\u00a0±\u00a00.04\u202fK');
    expect(signed(-0.123, null, si.offset)).toBe('−0.12\u202fK');
    expect(signed(0, null, si.offset)).toBe('0.00\u202fK');
    // What is written as nought has no direction.
    for (const nearly of [0.002, -0.002]) {
      expect(signed(nearly, 0.4, si.offset)).toBe('0.00\u00a0±\u00a00.40\u202fK');
    }
    expect(signed(null, 0.041, si.offset)).toBe(NO_FIGURE);
    // 0.1 K is 0.18 Fahrenheit degrees: a difference has no offset of 32.
    expect(signed(0.1, null, us.offset)).toBe('+0.18\u202f°F');
  });
});

describe('written', () => {
  it('groups long numbers only, and uses a true minus', () => {
    expect(written(9020, 10)).toBe('9020');
    expect(written(12345, 10)).toBe('12\u202f350');
    expect(written(-12.34, 0.1)).toBe('−12.3');
    expect(written(0.00001, 0.01)).toBe('0.00');
  });
});
