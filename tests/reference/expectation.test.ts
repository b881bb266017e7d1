/** What a unit should deliver, and whether it does, against published values. Sources stand beside each. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { normalCdf, probabilityAbove } from '../../server/measure/expectation/conformance.ts';
import {
  coolingFactor,
  flowFactor,
  heatingFactor,
} from '../../server/measure/expectation/curves.ts';
import { judge, type Judged, type TotalError } from '../../server/measure/expectation/judge.ts';
import { pressureAtAltitudePa } from '../../server/measure/moist-air.ts';
import {
  type Conditions,
  type Expected,
  expectedAt,
  type PublishedPoint,
} from '../../server/measure/expectation/published.ts';

describe('conformance', () => {
  it('JCGM 106’s examples (from memory): burst pressure and a Zener diode', () => {
    expect(probabilityAbove(507, 8.6, 490)).toBeCloseTo(0.976, 3);
    // An upper limit: below −5.40.
    expect(1 - probabilityAbove(-5.47, 0.05, -5.4)).toBeCloseTo(0.919, 3);
  });

  it('the normal distribution at points of any table', () => {
    for (const [z, p] of [
      [0, 0.5],
      [1, 0.841345],
      [1.96, 0.975002],
      [-1.644854, 0.05],
      [3, 0.99865],
    ] as const) {
      expect(normalCdf(z)).toBeCloseTo(p, 6);
    }
  });

  it('of measured and expected, both with their intervals (worked by hand from the formula)', () => {
    expect(judged(3200, 290, 3500, 0).probability).toBeCloseTo(0.63, 2);
    expect(judged(3500, 320, 3500, 350).probability).toBeCloseTo(0.937, 3);
    expect(judged(3600, 170, 3500, 180).verdict).toBe('meets');
    expect(judged(2600, 240, 3500, 350).probability).toBeCloseTo(0.003, 3);
    expect(judged(2600, 240, 3500, 350).verdict).toBe('falls-short');
    expect(judged(3200, 290, 3500, 0).verdict).toBe('cannot-tell');
    expect(judged(2600, 240, 3500, 350, { asked: false }).verdict).toBe('not-asked');
  });

  it('where other heads run and nobody knows what they take, it can meet, never fall short', () => {
    expect(judged(3600, 170, 3500, 180, { atMost: true }).verdict).toBe('meets');
    expect(judged(2600, 240, 3500, 350, { atMost: true }).verdict).toBe('cannot-tell');
  });

  it('an error of the return air that moves both counts with what is left of it', () => {
    // At 0.25 kg/s 1 K of wet bulb is 835 W of measured heat (ASHRAE Handbook, ch. 1 table 2: enthalpy of
    // saturated air 54.218 kJ/kg at 19 and 57.558 at 20 °C), and here 60 W of what is expected.
    const apart = judged(3300, 392, 3500, 0, { perIndoorK: 60 });
    const together = judged(3300, 392, 3500, 0, { perIndoorK: 60, of: 'r' });
    const z = (p: number): number => 150 / p;
    const left = 200 * (1 - (0.9 * 60) / 835);
    expect(apart.probability).toBeCloseTo(normalCdf(z(200)), 6);
    expect(together.probability).toBeCloseTo(normalCdf(z(left)), 3);
    expect(apart.expectedU).toBe(0);
    expect(together.expectedU).toBeCloseTo((200 * 60) / 835, 0);
  });

  it('says what would make it surer, and the verdict then', () => {
    const { prospects, ratioU95 } = judged(3200, 392, 3500, 0, { kind: 'airflow', of: null });
    expect(prospects.map(({ action }) => action)).toEqual(['traverse']);
    expect(prospects[0]?.ratioU95).toBeCloseTo(ratioU95 / 2, 3);
    expect(judged(3200, 392, 3500, 0).prospects).toEqual([]);
  });
});

interface How {
  asked?: boolean;
  atMost?: boolean;
  /** Of what the one error of the measured figure is. */
  kind?: TotalError['kind'];
  of?: string | null;
  perIndoorK?: number;
}

/** Watts, each with half of its 95 % interval. */
function judged(
  totalW: number,
  u95: number,
  expectedW: number,
  e95: number,
  how: How = {},
): Judged {
  const { asked = true, atMost = false, of = 'x', perIndoorK = 0 } = how;
  const kind = how.kind ?? (of === 'r' ? 'humidity' : 'pressure');
  const u = e95 / 1.96;
  return judge(
    'cooling',
    {
      ...{ totalW, scatterW: 0, dryAirKgs: 0.25, returnProbes: ['r'] },
      errors: [{ kind, of, totalW: u95 / 1.96 }],
    },
    {
      ...{ totalW: expectedW, relative: { u: u / expectedW, shape: 0 }, by: 'table' },
      ...{ perOutdoorK: 0, perIndoorK, altitudeFactor: 1, powerW: null },
    },
    { totalW: expectedW, u, atMost, limited: false },
    { outdoorU: 0, indoorC: 19.5, pPa: 101_325 },
    0.9,
    asked,
  );
}

describe('altitude', () => {
  it('takes off what less mass of indoor air takes off: 0.982, 0.972, 0.963 at 1000, 1500, 2000 m', () => {
    for (const [altitudeM, factor] of [
      [1000, 0.982],
      [1500, 0.972],
      [2000, 0.963],
    ] as const) {
      const part = pressureAtAltitudePa(altitudeM) / 101_325;
      expect(Math.abs(flowFactor('cooling', part) - factor)).toBeLessThan(0.001);
    }
  });

  it('airflow alone: the printed points of the single-speed curves (REFERENCES 7.3)', () => {
    for (const [part, cooling, heating] of [
      [1.1, 1.0131, 1.0121],
      [0.8, 0.9656, 0.9657],
      [0.5, 0.8935, 0.8891],
    ] as const) {
      expect(flowFactor('cooling', part)).toBeCloseTo(cooling, 4);
      expect(flowFactor('heating', part)).toBeCloseTo(heating, 4);
    }
  });
});

describe('the open curves', () => {
  it('cooling, ductless: the values of the collection (REFERENCES 7.4)', () => {
    for (const [wb, out, factor] of [
      [19.44, 35, 1],
      [19.44, 27.78, 1.0727],
      [19.44, 46.1, 0.8431],
      [15, 35, 0.9711],
      [22, 35, 1.0166],
    ] as const) {
      expect(coolingFactor(out, wb)).toBeCloseTo(factor, 3);
    }
    expect(coolingFactor(10, 19)).toBeNull();
    expect(coolingFactor(35, 25)).toBeNull();
  });

  it('heating: 1.000, 0.891 and 0.729; 24 °C inside takes off 0.030', () => {
    expect(heatingFactor(8.33, 21.11)).toBeCloseTo(1, 3);
    expect(heatingFactor(1.67, 21.11)).toBeCloseTo(0.8915, 3);
    expect(heatingFactor(-8.33, 21.11)).toBeCloseTo(0.729, 2);
    const off = (heatingFactor(8.33, 21.11) ?? NaN) - (heatingFactor(8.33, 24) ?? NaN);
    expect(off).toBeCloseTo(0.03, 3);
  });
});

describe('what is published', () => {
  const point = (
    outdoorC: number,
    wb: number,
    totalW: number,
    output: PublishedPoint['speed'] = 'maximum',
  ) => ({
    ...{ speed: output, outdoorC, indoorC: 27, indoorWetBulbC: wb, totalW },
  });
  const table = [
    point(30, 16, 3400),
    point(30, 20, 3800),
    point(35, 16, 3200),
    point(35, 20, 3600),
  ];
  const at = (outdoorC: number, indoorWetBulbC: number) => ({
    outdoorC,
    indoorC: 27,
    indoorWetBulbC,
  });

  const figure = (points: PublishedPoint[], at: Conditions): Expected => {
    const expected = expectedAt('cooling', { points }, at);
    if (typeof expected === 'string') throw new Error(expected);
    return expected;
  };

  it('is interpolated in both directions, and is itself at its points', () => {
    for (const p of table) {
      expect(figure(table, at(p.outdoorC, p.indoorWetBulbC)).totalW).toBe(p.totalW);
    }
    expect(figure(table, at(32.5, 18))).toMatchObject({ totalW: 3500, by: 'table' });
    fc.assert(
      fc.property(
        fc.double({ min: 30, max: 35, noNaN: true }),
        fc.double({ min: 16, max: 20, noNaN: true }),
        (o, w) => {
          // The table is a plane: 3400 − 40 (o − 30) + 100 (w − 16).
          expect(figure(table, at(o, w)).totalW).toBeCloseTo(
            3400 - 40 * (o - 30) + 100 * (w - 16),
            6,
          );
        },
      ),
    );
  });

  it('outside it is an estimate by the curve, and that is said; far outside nothing', () => {
    const out = figure(table, at(40, 18));
    expect(out.by).toBe('curve');
    expect(out.relative.u).toBeGreaterThan(0.1 / Math.sqrt(3));
    expect(expectedAt('cooling', { points: table }, at(5, 18))).toBe('outside');
    expect(
      expectedAt('cooling', { points: table }, { outdoorC: 33, indoorC: 27, indoorWetBulbC: null }),
    ).toBe('no-wet-bulb');
  });

  it('a fan that outweighs the figure leaves nothing to expect', () => {
    const gross = { points: [point(35, 19, 1000)], net: false, fanW: 1500 };
    expect(expectedAt('cooling', gross, at(35, 19))).toBe('nothing');
  });

  it('what it gives at most is what counts; without it the rated figure', () => {
    const points = [
      point(35, 19, 1000, 'minimum'),
      point(35, 19, 3500, 'rated'),
      point(35, 19, 4100),
    ];
    expect(figure(points, at(35, 19)).totalW).toBe(4100);
    expect(figure(points.slice(0, 2), at(35, 19)).totalW).toBe(3500);
    expect(expectedAt('cooling', { points: points.slice(0, 1) }, at(35, 19))).toBe('nothing');
  });
});
