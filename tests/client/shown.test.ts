/** One number on one screen: what is printed adds up, and every place prints the same. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { noticeWords } from '../../client/words/notice.ts';
import { figure } from '../../client/words/figures.ts';
import { type Scale, scalesFor } from '../../client/words/scales.ts';
import { headline } from '../../client/words/sentence.ts';
import {
  figureText,
  type Parts,
  shownCapacity,
  shownParts,
  shownSum,
} from '../../client/words/shown.ts';
import { plain, T0, unitWith } from './fixtures.ts';
import { runs } from '../long.ts';

const kW = scalesFor({ temperature: 'C', flow: 'm3h', power: 'kW' }).power;
const btuh = scalesFor({ temperature: 'F', flow: 'cfm', power: 'Btuh' }).power;
const watt: Scale = { sign: 'W', show: (w) => w, read: (w) => w, finest: 1 };

/** A printed number read as a person reads it. */
const read = (text: string | null): number =>
  text === null ? NaN : Number(text.replace(/\u202f/g, '').replace('−', '-'));

const partsOf = (sensibleW: number, latentW: number, more: Partial<Parts> = {}): Parts => ({
  ...{ totalW: sensibleW + latentW, sensibleW, latentW },
  ...{ totalU95W: null, sensibleU95W: null, latentU95W: null },
  ...more,
});

describe('parts as they are printed', () => {
  const watts = fc.double({ min: -15_000, max: 15_000, noNaN: true });
  const u95 = fc.option(fc.double({ min: 0, max: 4000, noNaN: true }));

  it.each([kW, btuh, watt])('add up to the printed total, in $sign', (scale) => {
    fc.assert(
      fc.property(watts, watts, u95, u95, u95, (sensibleW, latentW, t, s, l) => {
        const u = { totalU95W: t, sensibleU95W: s, latentU95W: l };
        const { total, sensible, latent } = shownParts(partsOf(sensibleW, latentW, u), scale);
        // Whole numbers of the last printed place: no error of binary fractions is in the way.
        const place = t === null ? scale.finest : placeOf(total.interval, scale);
        const steps = (text: string | null): number => Math.round(read(text) / place);
        expect(steps(sensible.value) + steps(latent.value)).toBe(steps(total.value));
      }),
      { numRuns: runs(3000) },
    );
  });

  it.each([kW, btuh, watt])(
    'each is within a step of what it is, the total as if alone, in $sign',
    (scale) => {
      fc.assert(
        fc.property(watts, watts, u95, (sensibleW, latentW, totalU95W) => {
          const parts = partsOf(sensibleW, latentW, { totalU95W });
          const { total, sensible, latent } = shownParts(parts, scale);
          expect(total).toEqual(figure(parts.totalW, totalU95W, scale));
          const place = totalU95W === null ? scale.finest : placeOf(total.interval, scale);
          expect(Math.abs(read(sensible.value) - scale.show(sensibleW))).toBeLessThan(
            1.001 * place,
          );
          expect(Math.abs(read(latent.value) - scale.show(latentW))).toBeLessThan(1.001 * place);
        }),
        { numRuns: runs(3000) },
      );
    },
  );

  /** The place of the last digit of an interval of two digits at most. */
  function placeOf(interval: string | null, scale: Scale): number {
    return Math.max(10 ** (Math.floor(Math.log10(read(interval))) - 1), scale.finest);
  }

  it('the one that was rounded furthest gives way', () => {
    // 2.155 + 0.735 = 2.89: each alone would be 2.16 and 0.74.
    const shown = shownParts(partsOf(2156, 735.4), kW);
    expect([shown.total, shown.sensible, shown.latent].map(({ value }) => value)).toEqual([
      '2.89',
      '2.16',
      '0.73',
    ]);
  });

  it('an interval is never printed as nought, nor finer than the total', () => {
    const u = { totalU95W: 1180, sensibleU95W: 40, latentU95W: 300 };
    const shown = shownParts(partsOf(1980, 660, u), kW);
    expect(Object.values(shown)).toEqual([
      { value: '2.6', interval: '1.2' },
      { value: '2.0', interval: '0.1' },
      { value: '0.6', interval: '0.3' },
    ]);
  });

  it('in heating there is no latent part: sensible is the total', () => {
    const shown = shownParts({ ...partsOf(3456, 0), latentW: null }, kW);
    expect(shown.sensible).toEqual(shown.total);
    expect(shown.latent).toEqual({ value: null, interval: null });
  });

  it('parts that are none of this total are not bent into it', () => {
    const shown = shownParts(partsOf(2000, 500, { totalW: 2600 }), kW);
    expect([shown.total, shown.sensible, shown.latent].map(({ value }) => value)).toEqual([
      '2.60',
      '2.00',
      '0.50',
    ]);
  });
});

describe('the figure of a unit', () => {
  // The second now is another than the mean of the last ten.
  const unit = unitWith({
    capacity: { totalW: 2920, sensibleW: 2180, latentW: 740, condensateKgh: 1.08 },
    settling: {
      ...{ state: 'steady', since: T0, plateauW: 2850 },
      ...{ levelW: 2884, levelSensibleW: 2156, levelLatentW: 728 },
    },
  });
  const shown = shownParts(shownCapacity(unit), kW);

  it('is the same in the figure, the sentence and the notice', () => {
    const text = plain(figureText(shown.total, kW) ?? '');
    expect(text).toBe('2.88 ± 0.11 kW');
    expect(plain(headline('Hall', unit, null, kW))).toMatch(/ at 2\.88 kW of cooling\.$/);
    expect(plain(noticeWords('steady', 'Hall', unit, T0, kW).text)).toContain(text);
  });

  it('has parts, a ratio and water of the same seconds', () => {
    const { sensibleHeatRatio, condensateKgh } = shownCapacity(unit);
    expect(plain(`${figureText(shown.sensible, kW)}, ${figureText(shown.latent, kW)}`)).toBe(
      '2.15 ± 0.08 kW, 0.73 ± 0.07 kW',
    );
    expect(sensibleHeatRatio).toBeCloseTo(2156 / 2884, 12);
    expect(condensateKgh).toBeCloseTo((1.08 * 728) / 740, 12);
  });

  it('is none where the present second has none', () => {
    const none = unitWith({ capacity: { totalW: null }, settling: { levelW: 2600 } });
    expect(shownCapacity(none)).toMatchObject({ totalW: null, sensibleW: null, latentW: null });
    expect(figureText(shownParts(shownCapacity(none), kW).total, kW)).toBeNull();
  });

  it('of all units together is the sum of what each shows', () => {
    const units = { u1: unit, u2: unitWith() };
    const sum = { totalW: 5560, sensibleW: 1, latentW: 1, totalU95W: 160 };
    expect(shownSum({ units, sum })).toEqual({ totalW: 2884 + 2640, totalU95W: 160 });
    expect(shownSum({ units, sum: { ...sum, totalW: null } }).totalW).toBeNull();
  });
});
