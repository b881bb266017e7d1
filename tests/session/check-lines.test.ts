import { describe, expect, test } from 'vitest';
import { offsetAt, type OffsetLine, withPoint } from '../../server/session/check-lines.ts';
import { T0, TestVisit } from './visit.ts';

// JCGM 100:2008, H.3: a thermometer's correction as a straight line over temperature (t, b in °C).
const T = [21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511];
const B = [-0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16];

describe('offsets from several checks', () => {
  test('one check: the same everywhere, and away from where it was made', () => {
    const line = withPoint(null, { at: 25, offset: 0.2, u: 0.01 }, 'temperature');
    expect(offsetAt(line, 12)).toEqual({ offset: 0.2, u: 0.01, away: 13 });
  });

  test('two checks far apart: a line, known as well between as at them', () => {
    const warm = withPoint(null, { at: 25, offset: 0.2, u: 0.02 }, 'temperature');
    const both = withPoint(warm, { at: 11, offset: -0.08, u: 0.02 }, 'temperature');
    expect(offsetAt(both, 18).offset).toBeCloseTo(0.06, 12);
    expect(offsetAt(both, 18).u).toBeCloseTo(0.02 / Math.SQRT2, 12);
    expect(offsetAt(both, 18).away).toBe(0);
    expect(offsetAt(both, 8).away).toBe(3);
    expect(offsetAt(both, 8).u).toBeGreaterThan(0.02);
  });

  test('a check close to an earlier one replaces it', () => {
    const first = withPoint(null, { at: 25, offset: 0.2, u: 0.02 }, 'temperature');
    const again = withPoint(first, { at: 23, offset: 0.5, u: 0.02 }, 'temperature');
    expect(again.line).toBeNull();
    expect(offsetAt(again, 25).offset).toBe(0.5);
  });

  test('the published line of H.3 at 30 °C, from points that stand for its checks', () => {
    // All 11 points lie within 5 K, so they are put in as checks of another quantity's scale would be:
    // ten times further apart; intercept and slope scale with it. Published: −0.1494 °C at 30 °C.
    let line: OffsetLine | null = null;
    T.forEach((t, i) => {
      line = withPoint(line, { at: 100 * t, offset: B[i] ?? NaN, u: 0.0035 * 3 }, 'humidity');
    });
    expect(offsetAt(line ?? { points: [], line: null }, 3000).offset).toBeCloseTo(-0.1494, 4);
  });
});

test('probes checked in the warm and in the cold: an error that grows with temperature is taken off', () => {
  // The probes differ by 0.3 K at 25 °C and by −0.4 K at 12 °C, and their mean is right (an error that
  // they share no check can see).
  const off = (tC: number): number => (0.3 + (0.7 / 13) * (tC - 25)) / 2;
  const visit = new TestVisit();
  const together = (fromS: number, tC: number): void => {
    const event = (s: number, phase: 'start' | 'end') =>
      visit.take({ type: 'event', t: T0 + s * 1000, kind: 'check', phase, probes: ['r', 's'] });
    event(fromS, 'start');
    for (let s = fromS + 1; s < fromS + 240; s++) {
      visit.reading('r', s * 1000, { temperatureC: tC - off(tC), humidityPct: 50 });
      visit.reading('s', s * 1000, { temperatureC: tC + off(tC), humidityPct: 50 });
    }
    event(fromS + 240, 'end');
  };
  const measure = (fromS: number): number => {
    for (let s = fromS; s < fromS + 30; s++) {
      visit.reading('r', s * 1000, { temperatureC: 26 - off(26), humidityPct: 50 });
      visit.reading('s', s * 1000, { temperatureC: 13 + off(13), humidityPct: 90 });
    }
    const { return: ret, supply } = visit.unit();
    return (ret.temperatureC ?? NaN) - (supply.temperatureC ?? NaN);
  };
  together(0, 25);
  const one = measure(241);
  const widthOne = visit.unit().capacity.totalU95W ?? NaN;
  together(300, 12);
  const two = measure(541);
  // True difference: 13 K. One check in the warm leaves the error's change over 12 K.
  expect(Math.abs(one - 13)).toBeGreaterThan(0.25);
  expect(Math.abs(two - 13)).toBeLessThan(0.06);
  expect(visit.unit().capacity.totalU95W ?? NaN).toBeLessThan(widthOne);
});
