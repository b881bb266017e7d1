/** A straight line with the covariance of its parameters: JCGM 100:2008, H.3. */
import { describe, expect, it } from 'vitest';
import { fitLine, predict } from '../../server/measure/line-fit.ts';
import { expectNear, expectWithin } from './near.ts';

describe('JCGM 100, H.3: the corrections of a thermometer', () => {
  // As in the open documentation of an uncertainty program; °C.
  const readC = [
    21.521, 22.012, 22.512, 23.003, 23.507, 23.999, 24.513, 25.002, 25.503, 26.01, 26.511,
  ];
  const correctionC = [
    -0.171, -0.169, -0.166, -0.159, -0.164, -0.165, -0.156, -0.157, -0.159, -0.161, -0.16,
  ];
  const line = fitLine(readC, correctionC, 20);

  it('intercept −0.1712, u 0.0029; slope 0.00218, u 0.00067; r −0.930', () => {
    expectNear(line.intercept, -0.17120379, 5e-9);
    expectNear(line.slope, 0.00218269774, 5e-12);
    expectNear(line.uIntercept, 0.0029, 5e-5);
    expectNear(line.uSlope, 0.000667938773, 5e-13);
    expectNear(line.covariance / (line.uIntercept * line.uSlope), -0.93, 0.0005);
    expectNear(line.residual, 1.10097e-4, 5e-10);
  });

  it('at 30 °C −0.1494, u 0.0041; without the covariance it would be 0.0073', () => {
    const { y, u } = predict(line, 30);
    expectNear(y, -0.1494, 5e-5);
    expectNear(u, 0.0041, 5e-5);
    expectNear(predict({ ...line, covariance: 0 }, 30).u, Math.hypot(0.0029, 0.0067), 2e-4);
  });

  it('does not depend on where the intercept is wanted', () => {
    const other = predict(fitLine(readC, correctionC, 0), 30);
    expectWithin(other.y, predict(line, 30).y, 1e-9);
    expectWithin(other.u, predict(line, 30).u, 1e-9);
  });
});

describe('a line through points of known uncertainty', () => {
  it('two checks: at each its own u, between less, beyond more', () => {
    const line = fitLine([22, 12], [0.1, 0.3], 22, [0.01, 0.03]);
    expect(predict(line, 22)).toEqual({ y: expect.closeTo(0.1, 12), u: expect.closeTo(0.01, 12) });
    expect(predict(line, 12)).toEqual({ y: expect.closeTo(0.3, 12), u: expect.closeTo(0.03, 12) });
    // Linear in two independent points: (2 y1 − y2) has u √(4·0.01² + 0.03²).
    expectWithin(predict(line, 32).u, Math.hypot(0.02, 0.03), 1e-12);
    expectWithin(predict(line, 17).u, Math.hypot(0.005, 0.015), 1e-12);
  });

  it('equal ones: as without, with the given u for the scatter', () => {
    const x = [1, 2, 3, 4];
    const y = [1.1, 1.9, 3.2, 3.9];
    const free = fitLine(x, y);
    const known = fitLine(x, y, 0, [0.2, 0.2, 0.2, 0.2]);
    const scatter = Math.sqrt(free.residual / 2);
    expectWithin(known.slope, free.slope, 1e-12);
    expectWithin(known.uSlope / 0.2, free.uSlope / scatter, 1e-12);
    expectWithin(known.covariance / 0.04, free.covariance / scatter ** 2, 1e-12);
  });

  it('refuses what makes no line', () => {
    expect(() => fitLine([1, 2], [1, 2])).toThrow('at least 3 points, not 2');
    expect(() => fitLine([1], [1], 0, [0.1])).toThrow('at least 2 points, not 1');
    expect(() => fitLine([1, 1], [1, 2], 0, [0.1, 0.1])).toThrow('the same x');
  });
});
