import { describe, expect, it } from 'vitest';
import { gathered, wayOn } from '../../client/words/doubts.ts';
import { doubtWith } from './fixtures.ts';

describe('doubts as things to do', () => {
  it('those of a kind stand together, each sentence once, in the order in which they came', () => {
    const wet = (name: string): Parameters<typeof doubtWith>[0] => ({
      code: 'humidity-saturated',
      text: `${name} reads 100 % or more.`,
      effect: 'The latent part comes out too small.',
      remedy: 'Dry it.',
    });
    const pressure = doubtWith({ code: 'pressure-assumed', remedy: 'Enter it.' });
    expect(gathered([doubtWith(wet('S1')), pressure, doubtWith(wet('S2'))])).toEqual([
      {
        code: 'humidity-saturated',
        texts: ['S1 reads 100 % or more.', 'S2 reads 100 % or more.'],
        effects: ['The latent part comes out too small.'],
        remedies: ['Dry it.'],
      },
      { code: 'pressure-assumed', texts: [], effects: [], remedies: ['Enter it.'] },
    ]);
  });

  it('different remedies of a kind are all kept', () => {
    const two = ['Call R.', 'Call S.'].map((remedy) => doubtWith({ code: 'late', remedy }));
    expect(gathered(two)[0]?.remedies).toEqual(['Call R.', 'Call S.']);
  });

  it('none are none', () => {
    expect(gathered([])).toEqual([]);
  });
});

describe('the way on from a doubt', () => {
  it('leads to where it is mended on the page, and nowhere where that is at the unit', () => {
    const hrefs = ['airflow-missing', 'return-missing', 'pressure-assumed', 'check-missing'].map(
      (code) => wayOn(code, '')?.href,
    );
    expect(hrefs).toEqual(['#airflow', '#probes', '#settings', '#side-by-side']);
    expect(wayOn('probe-stale', '')).toBeNull();
    expect(wayOn('limits-unknown', 'The ± of the airflow is not known.')?.href).toBe('#airflow');
    expect(wayOn('limits-unknown', 'The ± of a return probe is not known.')?.href).toBe('#probes');
  });
});
