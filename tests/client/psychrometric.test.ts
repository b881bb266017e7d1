/** What is said of the psychrometric picture, and the trail on it. */
import { describe, expect, it } from 'vitest';
import { type TrailPoint, trailWith } from '../../client/figure/air-trail.ts';
import { gridFor, processWords, roundTemperature } from '../../client/words/psychrometric.ts';
import { scalesFor } from '../../client/words/scales.ts';
import { IP_GRID, SI_GRID } from '../../server/measure/psychrometric-chart.ts';

const SI = scalesFor({ temperature: 'C', flow: 'm3h', power: 'kW' });
const IP = scalesFor({ temperature: 'F', flow: 'cfm', power: 'Btuh' });
const from = { temperatureC: 26.6, humidityRatio: 0.0108 };
const plain = (text: string): string => text.replaceAll('\u202f', ' ');

describe('the process in words', () => {
  it('cools and dries, in the units that are read', () => {
    const to = { temperatureC: 14.6, humidityRatio: 0.0094 };
    expect(plain(processWords(from, to, SI))).toBe(
      'From return 26.6 °C, 10.80 g/kg to supply 14.6 °C, 9.40 g/kg: 12.0 K colder, 1.40 g/kg drier.',
    );
    expect(plain(processWords(from, to, IP))).toBe(
      'From return 79.9 °F, 75.6 gr/lb to supply 58.3 °F, 65.8 gr/lb: 21.6 °F colder, 9.8 gr/lb drier.',
    );
  });

  it('heats and leaves the moisture alone', () => {
    const to = { temperatureC: 41.6, humidityRatio: 0.0108 };
    expect(plain(processWords(from, to, SI))).toContain('15.0 K warmer, as moist as before.');
  });

  it('has round numbers of its own in each system of units', () => {
    expect(gridFor(SI)).toBe(SI_GRID);
    expect(gridFor(IP)).toBe(IP_GRID);
    expect(roundTemperature(IP_GRID.fromC + 8 * IP_GRID.stepC, IP)).toBe('80');
  });
});

describe('the trail', () => {
  const at = (s: number): TrailPoint => ({ t: s * 1000, from, to: from });
  const over = (...seconds: number[]): number[] =>
    seconds
      .reduce<readonly TrailPoint[]>((trail, s) => trailWith(trail, at(s)), [])
      .map(({ t }) => t / 1000);

  it('takes a point now and then', () => expect(over(0, 1, 4, 5, 9, 10)).toEqual([0, 5, 10]));
  it('goes back ten minutes', () => {
    const kept = over(...Array.from({ length: 200 }, (_, i) => 10 * i));
    expect(kept[0]).toBe(1390);
    expect(kept.at(-1)).toBe(1990);
  });
  it('begins anew after a silence, and where a replay jumps back', () => {
    expect(over(0, 5, 60)).toEqual([60]);
    expect(over(100, 105, 20)).toEqual([20]);
  });
});
