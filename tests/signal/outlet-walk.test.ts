/** Walking the outlet: against profiles of which mean and deviation are known in closed form. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { OutletWalk } from '../../server/signal/outlet-walk.ts';
import { randomStream } from '../../simulator/random.ts';

const T = 12;
const W = 0.0081;

/** There and back in `seconds` along `profile` (position 0 to 1, K off 12 °C), read with a lag. */
function walk(
  profile: (x: number) => number,
  { seconds = 120, lagS = 15, spotK = 0, noiseK = 0, perK = 0.0005 } = {},
): OutletWalk {
  const outlet = new OutletWalk(1);
  const random = randomStream(3, `walk ${lagS} ${noiseK}`);
  let read = profile(0);
  for (let s = 0; s < seconds; s++) {
    const x = (2 * (s + 0.5)) / seconds;
    const off = profile(x < 1 ? x : 2 - x);
    read = off + Math.exp(-1 / lagS) * (read - off);
    const moving = {
      temperatureC: T + read + noiseK * random.normal(),
      humidityRatio: W + perK * read,
    };
    outlet.second(moving, [{ temperatureC: T + spotK, humidityRatio: W + perK * spotK }]);
  }
  return outlet;
}

describe('a walk there and back', () => {
  test('along an even outlet there is nothing to find', () => {
    const result = walk(() => 0).result();
    expect(result?.spotK).toBeCloseTo(0, 12);
    expect(result?.biases[0]?.temperatureK).toBeCloseTo(0, 12);
  });

  test('a probe that stays at a spot is off by that spot, in both quantities', () => {
    // A straight profile from −1 to +1 K: mean 0, standard deviation 1/√3 (a rectangular distribution).
    const result = walk((x) => 2 * x - 1, { spotK: 0.7 }).result();
    expect(result?.biases[0]?.temperatureK).toBeCloseTo(0.7, 1);
    expect(result?.biases[0]?.humidityRatio).toBeCloseTo(0.7 * 0.0005, 5);
    expect(result?.spotK).toBeGreaterThan(0.9 / Math.sqrt(3));
    expect(result?.spotK).toBeLessThan(1.1 / Math.sqrt(3));
  });

  test('of any smooth profile and any usual lag: the mean within a tenth of what it differs by', () => {
    fc.assert(
      fc.property(
        fc.double({ min: -1.5, max: 1.5, noNaN: true }),
        fc.double({ min: -1.5, max: 1.5, noNaN: true }),
        fc.double({ min: 5, max: 30, noNaN: true }),
        (a, b, lagS) => {
          // Means over 0…1: of the cosine and the sine below 0 and 2/π.
          const profile = (x: number): number =>
            a * Math.cos(Math.PI * x) + b * Math.sin(Math.PI * x);
          const mean = (2 * b) / Math.PI;
          const result = walk(profile, { lagS }).result();
          const size = Math.hypot(a, b);
          expect(Math.abs((result?.biases[0]?.temperatureK ?? NaN) + mean)).toBeLessThan(
            0.1 * size + 1e-9 + 3 * (result?.uLagK ?? NaN),
          );
        },
      ),
    );
  });

  test('there and back the lag is found out: the deviation is right for a quick and a slow probe', () => {
    for (const lagS of [6, 25]) {
      // ±2 K in a straight line: 4 K/√12 = 1.155 K.
      const { spotK = NaN } = walk((x) => 4 * x - 2, { lagS, noiseK: 0.05 }).result() ?? {};
      expect(spotK).toBeGreaterThan(0.8 * 1.155);
      expect(spotK).toBeLessThan(1.2 * 1.155);
    }
  });

  test('one way only: the lag that is not known is said', () => {
    const oneWay = new OutletWalk(1);
    let read = -1;
    for (let s = 0; s < 60; s++) {
      const off = (2 * (s + 0.5)) / 60 - 1;
      read = off + Math.exp(-1 / 25) * (read - off);
      oneWay.second({ temperatureC: T + read, humidityRatio: NaN }, [
        { temperatureC: T, humidityRatio: NaN },
      ]);
    }
    const result = oneWay.result();
    expect(result?.uLagK).toBeGreaterThan(0.1);
    expect(Math.abs(result?.biases[0]?.temperatureK ?? NaN)).toBeLessThan(
      2 * (result?.uLagK ?? NaN),
    );
    expect(result?.biases[0]?.humidityRatio).toBeNaN();
  });

  test('what the air does everywhere at once is no difference', () => {
    const outlet = new OutletWalk(1);
    for (let s = 0; s < 90; s++) {
      const temperatureC = 12 + 0.02 * s;
      outlet.second({ temperatureC, humidityRatio: W }, [{ temperatureC, humidityRatio: W }]);
    }
    expect(outlet.result()?.spotK).toBeCloseTo(0, 9);
  });

  test('too short, or hardly heard: nothing', () => {
    expect(walk((x) => x, { seconds: 40 }).result()).toBeNull();
    const gaps = new OutletWalk(1);
    for (let s = 0; s < 100; s++) {
      gaps.second({ temperatureC: s % 2 === 0 ? 12 : NaN, humidityRatio: W }, [
        { temperatureC: 12, humidityRatio: W },
      ]);
    }
    expect(gaps.audible).toBe(false);
    expect(gaps.result()).toBeNull();
  });

  test('it is settled when what it reads stays, and what was before it goes does not count', () => {
    const outlet = new OutletWalk(1);
    const stays = { temperatureC: 12, humidityRatio: W };
    for (let s = 0; s < 20; s++) {
      outlet.second({ temperatureC: 26 - s * 0.7, humidityRatio: W }, [stays]);
    }
    expect(outlet.settled).toBe(false);
    for (let s = 0; s < 15; s++) outlet.second(stays, [stays]);
    expect(outlet.settled).toBe(true);
    outlet.go();
    for (let s = 0; s < 60; s++) outlet.second(stays, [stays]);
    expect(outlet.result()?.biases[0]?.temperatureK).toBeCloseTo(0, 12);
  });
});
