import { describe, expect, test } from 'vitest';
import { student95 } from '../../server/measure/student.ts';

describe('Student’s t for 95 %, two-sided', () => {
  // JCGM 100:2008, Table G.2, column p = 95 (from memory of the document; printed to two decimals).
  test.each([
    [1, 12.71],
    [2, 4.3],
    [3, 3.18],
    [4, 2.78],
    [5, 2.57],
    [6, 2.45],
    [7, 2.36],
    [8, 2.31],
    [9, 2.26],
    [10, 2.23],
    [12, 2.18],
    [15, 2.13],
    [20, 2.09],
    [25, 2.06],
    [30, 2.04],
    [40, 2.02],
    [50, 2.01],
    [100, 1.984],
  ])('%i degrees of freedom: %f', (degrees, printed) => {
    // 100 is printed to three decimals.
    expect(Math.abs(student95(degrees) - printed)).toBeLessThan(degrees === 100 ? 6e-4 : 5.1e-3);
  });

  // NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.6.7.2 (from memory of the document).
  test.each([
    [1, 12.706],
    [2, 4.303],
    [3, 3.182],
    [4, 2.776],
    [9, 2.262],
    [29, 2.045],
    [60, 2.0],
    [80, 1.99],
  ])('%i degrees of freedom, to three decimals: %f', (degrees, printed) => {
    expect(Math.abs(student95(degrees) - printed)).toBeLessThan(6e-4);
  });

  test('falls towards that of the normal distribution, without a step where the way of working changes', () => {
    for (let n = 1; n < 200; n++) expect(student95(n + 1)).toBeLessThan(student95(n));
    expect(student95(60) - student95(61)).toBeLessThan(1.2 * (student95(59) - student95(60)));
    expect(student95(1e9)).toBeCloseTo(1.96, 3);
  });

  test('of one figure nothing is known', () => {
    expect([student95(0), student95(NaN)]).toEqual([Infinity, Infinity]);
  });
});
