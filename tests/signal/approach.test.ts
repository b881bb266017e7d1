/** The approach to a plateau against curves whose plateau and time constant are known. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { Approach, below, LEAST_MEANS } from '../../server/signal/approach.ts';
import { Hover } from '../../server/signal/hover.ts';
import { randomStream } from '../../simulator/random.ts';
import { noise } from './noise.ts';

const STEP_S = 5;
const N = 32;
const WINDOW_S = N * STEP_S;
/** Neighbours of the grid differ by this factor. */
const GRID = 1.44;

/** Means over blocks of an exponential are one themselves. */
const rise = (plateau: number, start: number, tauS: number, n = N): Float64Array =>
  Float64Array.from({ length: n }, (_, i) => plateau + start * Math.exp((-i * STEP_S) / tauS));

/** Fitted twice, as a record is: the second time it is known how its means hover about the first fit. */
function fitTwice(fit: Approach, y: Float64Array): boolean {
  const hover = new Hover();
  const known = y.filter((v) => v === v);
  hover.begin(
    0,
    known.reduce((sum, v) => sum + v / known.length, 0),
    false,
  );
  if (!fit.fit(y, y.length, STEP_S, hover)) return false;
  hover.see(0, fit.rest, y.length);
  return fit.fit(y, y.length, STEP_S, hover);
}

function fitted(y: Float64Array): Approach {
  const fit = new Approach();
  expect(fitTwice(fit, y)).toBe(true);
  return fit;
}

describe('an exponential without noise', () => {
  // From a twentieth of the window to as long as the window.
  test.each([8, 11, 16, 22, 30, 43, 60, 80, 100, 130, 160])(
    'a time constant of %i s, and its plateau',
    (tauS) => {
      const fit = fitted(rise(2500, -800, tauS));
      expect(fit.identified).toBe(true);
      expect(fit.tauS / tauS).toBeLessThan(GRID);
      expect(fit.tauS / tauS).toBeGreaterThan(1 / GRID);
      const { value, u95 } = fit.plateau();
      expect(Math.abs(value - 2500)).toBeLessThan(u95);
      // What is off, and its interval, are small beside what it has still to go, or has gone.
      const togo = 800 * Math.exp(-WINDOW_S / tauS);
      expect(Math.abs(value - 2500)).toBeLessThan(0.3 * togo + 0.03 * 800);
    },
  );

  test.each([11.48, 100.1])('a time constant of the grid, %f s: to a thousandth', (tauS) => {
    const fit = fitted(rise(2500, -800, tauS));
    expect(Math.abs(fit.plateau().value / 2500 - 1)).toBeLessThan(1e-3);
    expect(fit.rms).toBeLessThan(0.2);
  });

  test.each([60, 100, 160])('how long it takes with %i s', (tauS) => {
    const fit = fitted(rise(2500, -800, tauS));
    // From the end of the last mean on; within half a time constant, as the grid is.
    const trueS = tauS * Math.log((800 * Math.exp(-(WINDOW_S - STEP_S / 2) / tauS)) / 50);
    expect(Math.abs(fit.inS(50) - Math.max(0, trueS))).toBeLessThan(0.5 * tauS);
  });

  test('means that are not known do no harm', () => {
    const y = rise(2500, -800, 60);
    for (const i of [3, 4, 11, 25]) y[i] = NaN;
    const { value, u95 } = fitted(y).plateau();
    expect(Math.abs(value - 2500)).toBeLessThan(u95);
    expect(u95).toBeLessThan(200);
  });

  test('of too few means nothing is said', () => {
    const fit = new Approach();
    expect(fitTwice(fit, rise(2500, -800, 60, LEAST_MEANS - 1))).toBe(false);
    expect(fitTwice(fit, new Float64Array(N).fill(NaN))).toBe(false);
  });
});

describe('what the window cannot tell', () => {
  test.each([700, 1800, 5000])('a time constant of %i s is not identified', (tauS) => {
    expect(fitted(rise(2500, -800, tauS)).identified).toBe(false);
  });

  test('nor is a straight line, and it will not stay where it is', () => {
    const fit = fitted(Float64Array.from({ length: N }, (_, i) => 2000 + 10 * i));
    expect(fit.identified).toBe(false);
    expect(fit.staysWithin(60, 600)).toBeLessThan(0.01);
    expect(fit.aheadWithin(600)).toBeGreaterThan(500);
  });
});

describe('a constant', () => {
  test('is one: it stays, and is there', () => {
    for (const level of [2500, -900, 1e-3]) {
      const fit = fitted(new Float64Array(N).fill(level));
      expect(Math.abs(fit.plateau().value / level - 1)).toBeLessThan(1e-3);
      expect(fit.plateau().u95).toBeLessThan(1e-3 * Math.abs(level) + 1e-6);
      expect(fit.staysWithin(0.01 * Math.abs(level), 600)).toBeGreaterThan(0.9);
      expect(fit.aheadWithin(600)).toBeLessThan(0.01 * Math.abs(level) + 1);
      expect(fit.inS(0.01 * Math.abs(level))).toBe(0);
      expect(fit.identified).toBe(true);
    }
  });

  test('with scatter: its mean', () => {
    const random = randomStream(2, 'constant');
    const fit = fitted(Float64Array.from({ length: N }, () => 2500 + 20 * random.normal()));
    expect(Math.abs(fit.plateau().value - fit.level)).toBeLessThan(10);
    expect(fit.identified).toBe(true);
  });
});

/**
 * How often the plateau's interval holds the truth where it is known how the figure hovers. It is laid
 * out for 95 %; between the time constants of the grid it is wider than it need be. Time constants are
 * lognormal about 80 s as the tool takes them to be.
 */
describe('its interval over 1,000 seeded curves', () => {
  test.each([
    { what: 'a constant, white', start: 0, likeness: 0, scatter: 5 },
    { what: 'a constant, white', start: 0, likeness: 0, scatter: 20 },
    { what: 'a constant, AR(1) 0.3', start: 0, likeness: 0.3, scatter: 20 },
    { what: 'a constant, AR(1) 0.6', start: 0, likeness: 0.6, scatter: 20 },
    { what: 'a rise, white', start: -500, likeness: 0, scatter: 5 },
    { what: 'a rise, white', start: -500, likeness: 0, scatter: 20 },
    { what: 'a rise, AR(1) 0.3', start: -500, likeness: 0.3, scatter: 20 },
    { what: 'a rise, AR(1) 0.6', start: -500, likeness: 0.6, scatter: 20 },
  ])('$what, $scatter W', ({ what, start, likeness, scatter }) => {
    const fit = new Approach();
    const hover = new Hover();
    for (let look = 0; look < 300; look++) {
      hover.begin(0, 2500, true);
      const random = randomStream(look, `hover ${what} ${scatter}`);
      hover.see(
        0,
        noise(64, likeness, random).map((v) => scatter * v),
        64,
      );
    }
    hover.begin(0, 2500, true);
    let held = 0;
    const off: number[] = [];
    const claimed: number[] = [];
    for (let run = 0; run < 1000; run++) {
      const random = randomStream(run, `${what} ${scatter}`);
      const y = rise(2500, start, 80 * Math.exp(0.7 * random.normal()));
      noise(N, likeness, random).forEach((v, i) => (y[i] = (y[i] ?? NaN) + scatter * v));
      fit.fit(y, N, STEP_S, hover);
      if (!fit.identified) continue;
      const { value, u95 } = fit.plateau();
      off.push(Math.abs(value - 2500));
      claimed.push(u95);
      if (Math.abs(value - 2500) <= u95) held++;
    }
    expect(off.length).toBeGreaterThan(900);
    expect(held / off.length).toBeGreaterThan(0.94);
    // Longer means than were seen may hover too, and a constant may be the end of a slow rise: wider
    // than it need be, but by no more than this.
    const quantile = (values: number[], q: number): number =>
      values.sort((a, b) => a - b)[Math.floor(q * values.length)] ?? NaN;
    expect(quantile(claimed, 0.5)).toBeLessThan((start === 0 ? 3 : 1.3) * quantile(off, 0.95));
  });
});

describe('what must not matter', () => {
  const curves = fc
    .record({
      level: fc.double({ min: 500, max: 8000, noNaN: true }),
      start: fc.double({ min: -0.5, max: 0.5, noNaN: true }),
      tauS: fc.double({ min: 10, max: 300, noNaN: true }),
      scatter: fc.double({ min: 0.001, max: 0.03, noNaN: true }),
      seed: fc.nat(),
    })
    .map(({ level, start, tauS, scatter, seed }) => {
      const random = randomStream(seed, 'curve');
      return rise(level, start * level, tauS).map((v) => v + scatter * level * random.normal());
    });

  test('the unit: all scales with the values', () => {
    fc.assert(
      fc.property(curves, fc.double({ min: 0.01, max: 100, noNaN: true }), (y, by) => {
        const [one, other] = [fitted(y), fitted(y.map((v) => by * v))];
        const close = 1e-3 * Math.abs(one.level); // the bisection's own step
        expect(Math.abs(other.plateau().value / by - one.plateau().value)).toBeLessThan(close);
        expect(Math.abs(other.plateau().u95 / by - one.plateau().u95)).toBeLessThan(close);
        expect(other.rms / by / one.rms).toBeCloseTo(1, 6);
        expect(other.tauS).toBe(one.tauS);
        expect(other.identified).toBe(one.identified);
        const limit = 0.02 * Math.abs(one.level);
        expect(other.staysWithin(by * limit, 600)).toBeCloseTo(one.staysWithin(limit, 600), 6);
      }),
      { seed: 4, numRuns: 200 },
    );
  });

  test('up or down: mirrored at nought, or at its level, it is the same', () => {
    fc.assert(
      fc.property(curves, (y) => {
        const [one, negative] = [fitted(y), fitted(y.map((v) => -v))];
        const upside = fitted(y.map((v) => 2 * one.level - v));
        const close = 1e-3 * Math.abs(one.level);
        const off = one.plateau().value - one.level;
        expect(Math.abs(negative.plateau().value + one.plateau().value)).toBeLessThan(close);
        expect(Math.abs(upside.plateau().value - upside.level + off)).toBeLessThan(close);
        for (const other of [negative, upside]) {
          expect(Math.abs(other.plateau().u95 - one.plateau().u95)).toBeLessThan(close);
          expect(other.rms / one.rms).toBeCloseTo(1, 6);
          expect(other.tauS).toBe(one.tauS);
          expect(other.inS(0.02 * one.level)).toBeCloseTo(one.inS(0.02 * one.level), 3);
        }
      }),
      { seed: 5, numRuns: 200 },
    );
  });

  test('a constant added moves the plateau with it, and nothing of the scatter', () => {
    // What is taken to be usual are parts of the level, so the weights of the fits may differ.
    fc.assert(
      fc.property(curves, fc.double({ min: 0, max: 1000, noNaN: true }), (y, more) => {
        const [one, other] = [fitted(y), fitted(y.map((v) => v + more))];
        expect(other.level - one.level).toBeCloseTo(more, 6);
        expect(other.rms).toBeCloseTo(one.rms, 5);
        if (!one.identified || !other.identified) return;
        const apart = Math.abs(other.plateau().value - more - one.plateau().value);
        expect(apart).toBeLessThan(Math.max(one.plateau().u95, other.plateau().u95));
      }),
      { seed: 6, numRuns: 200 },
    );
  });
});

/** Abramowitz and Stegun, Handbook of Mathematical Functions, Table 26.1 (from memory, to 7 digits). */
describe('the normal distribution function', () => {
  test.each([
    [0, 0.5],
    [0.5, 0.6914625],
    [1, 0.8413447],
    [1.5, 0.9331928],
    [2, 0.9772499],
    [2.5, 0.9937903],
    [3, 0.9986501],
  ])('at %f: %f, and below by symmetry', (z, printed) => {
    expect(Math.abs(below(z) - printed)).toBeLessThan(1.3e-7); // 26.2.17: 7.5e-8, and half a digit
    expect(Math.abs(below(-z) - (1 - printed))).toBeLessThan(1.3e-7);
  });

  // Quantiles that common tables print (from memory).
  test.each([
    [0.9, 1.281552],
    [0.95, 1.644854],
    [0.975, 1.959964],
    [0.99, 2.326348],
    [0.995, 2.575829],
    [0.999, 3.090232],
  ])('%f lie below %f', (p, z) => {
    expect(Math.abs(below(z) - p)).toBeLessThan(2e-7);
  });

  test('far out it is nought and one', () => {
    expect([below(-50), below(50), below(-Infinity), below(Infinity)]).toEqual([0, 1, 0, 1]);
  });
});
