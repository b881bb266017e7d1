import { describe, expect, it } from 'vitest';
import { NO_FIGURE } from '../../client/words/figures.ts';
import { condensateWords, heatRatioWords } from '../../client/words/parts.ts';
import { scalesFor } from '../../client/words/scales.ts';
import { unitWith } from './fixtures.ts';

const { condensate } = scalesFor({ temperature: 'C', flow: 'm3h', power: 'kW' });
const capacityWith = (
  change: Parameters<typeof unitWith>[0] & object = {},
): ReturnType<typeof unitWith>['capacity'] => unitWith(change).capacity;

describe('the sensible heat ratio', () => {
  it.each([0, 0.75, 1, 1.03])('%d is said', (sensibleHeatRatio) => {
    expect(heatRatioWords(capacityWith({ capacity: { sensibleHeatRatio } }))).not.toBe(NO_FIGURE);
  });
  it.each([1.72, 1.06, -0.2, null])('%s is a dash', (sensibleHeatRatio) => {
    expect(heatRatioWords(capacityWith({ capacity: { sensibleHeatRatio } }))).toBe(NO_FIGURE);
  });
  it('without a capacity there is none', () => {
    expect(heatRatioWords(null)).toBe(NO_FIGURE);
  });
});

describe('the condensate', () => {
  it('is said where the latent part can be told from none', () => {
    expect(condensateWords(capacityWith(), condensate)).toBe('0.96\u202fkg/h');
    const noInterval = capacityWith({ capacity: { latentU95W: null } });
    expect(condensateWords(noInterval, condensate)).toBe('0.96\u202fkg/h');
  });
  it('is a dash where it cannot', () => {
    const change = { latentW: 60, latentU95W: 70, condensateKgh: 0.08 };
    expect(condensateWords(capacityWith({ capacity: change }), condensate)).toBe(NO_FIGURE);
    expect(condensateWords(null, condensate)).toBe(NO_FIGURE);
  });
});
