/** On which paper and in which units a report is asked for. */
import { describe, expect, it } from 'vitest';
import { paperOf, refusedWords, reportUnits } from '../../client/words/report.ts';
import { scalesFor } from '../../client/words/scales.ts';

describe('the report', () => {
  it.each([
    ['en-US', 'letter'],
    ['es-MX', 'letter'],
    ['fr-CA', 'letter'],
    ['en', 'letter'], // most who say no more are there
    ['en-GB', 'a4'],
    ['de-DE', 'a4'],
    ['no language', 'a4'],
  ] as const)('for %s is on %s', (language, paper) => expect(paperOf(language)).toBe(paper));

  it('is in the units of the power that is read', () => {
    const [temperature, flow] = ['C', 'm3h'] as const;
    expect(reportUnits(scalesFor({ temperature, flow, power: 'Btuh' }))).toBe('ip');
    expect(reportUnits(scalesFor({ temperature, flow, power: 'kW' }))).toBe('si');
  });

  it('says why there is none', () => {
    expect(refusedWords(404, 'visit: there is none')).toBe('visit: there is none');
    expect(refusedWords(500, null)).toContain('status 500');
  });
});
