import { describe, expect, it } from 'vitest';
import { readEntry, readNumber, startText } from '../../client/words/entry.ts';
import { refusalWords } from '../../client/words/refusals.ts';
import { scalesFor } from '../../client/words/scales.ts';

const us = scalesFor({ temperature: 'F', flow: 'cfm', power: 'Btuh' });
/** Thin spaces as plain ones, to be read here. */
const plain = (text: string): string => text.replace(/[\u202f\u00a0]/g, ' ');

describe('what is typed into a form', () => {
  it('reads numbers as people write them', () => {
    expect(readNumber(' 0,15 ')).toBe(0.15);
    expect(readNumber('12 000')).toBe(12_000);
    expect(readNumber('−3.5')).toBe(-3.5);
    expect(readNumber('')).toBeNull();
    expect(readNumber('12 cfm')).toBeNull();
  });

  it('a field starts with the value rounded as the page shows it', () => {
    // 0.3048 m a foot, 3386.389 Pa an inch of mercury (NIST SP 811, B.8)
    expect(startText(0.151, us.flow)).toBe('320');
    expect(startText(98_475, us.pressure)).toBe('29.08');
    expect(startText(0, us.flow)).toBe('0');
    expect(startText(null, us.flow)).toBe('');
  });

  const field = { name: 'The airflow', scale: us.flow, least: us.flow.read(1), most: 10 };
  it('a field that is empty holds nothing; a number comes in SI', () => {
    expect(readEntry('  ', field)).toEqual({ si: null, refusal: null });
    expect(readEntry('320', field).si).toBeCloseTo(0.15102, 5);
  });

  it('what it cannot read or take it refuses, in the unit of the field', () => {
    expect(readEntry('half a degree', field).refusal).toBe(
      'The airflow: “half a degree” is not a number. Enter it in cfm.',
    );
    // 10 m³/s × 60 ÷ 0.3048³ = 21 189 cfm
    expect(plain(readEntry('0.5', field).refusal ?? '')).toBe(
      'The airflow cannot be 0.5 cfm. Enter 1 to 21 189 cfm, and check the unit.',
    );
  });

  it("a refusal of the server comes in the form's words", () => {
    expect(refusalWords('pressurePa: 3 is too small: at least 50000 is accepted')).toBe(
      'The barometric pressure (in Pa): 3 is too small: at least 50000 is accepted.',
    );
    expect(refusalWords('limits.temperatureC: is missing')).toBe(
      'The temperature accuracy (in K): is missing.',
    );
    expect(refusalWords('There is no unit "u9".')).toBe('There is no unit "u9".');
  });
});
