/**
 * The first-order uncertainty of a capacity (JCGM 100:2008) against a worked budget and published
 * figures. "Computed" is the printed equations worked out apart from this project, by `PERFECT_AIR`.
 */
import { describe, expect, it } from 'vitest';
import { capacity, type Flow } from '../../server/measure/capacity.ts';
import { humidityRatio, PERFECT_AIR, statePartials } from '../../server/measure/moist-air.ts';
import {
  type CapacityUncertainty,
  capacityUncertainty,
  meanCovariance,
  type ProbeShare,
  rectangular,
} from '../../server/measure/uncertainty.ts';
import { expectNear, expectWithin } from './near.ts';

const P = 101_325;

/** The example of capacity.test.ts: return 26.7 °C, 51 %; supply 12.0 °C, 94 %; 0.200 m³/s there. */
const EXAMPLE = { t1: 26.7, rh1: 51, t2: 12, rh2: 94, flowM3s: 0.2 };
type Inputs = typeof EXAMPLE;
const flow: Flow = { flowM3s: EXAMPLE.flowM3s, basis: 'actual', plane: 'supply' };

function point(tC: number, rhPct: number): { temperatureC: number; humidityRatio: number } {
  return { temperatureC: tC, humidityRatio: humidityRatio(tC, rhPct, P, PERFECT_AIR) };
}

function probe(tC: number, rhPct: number, uTemperature: number, uHumidity: number): ProbeShare {
  const { humidityRatio: W, wPerK, wPerPct } = statePartials(tC, rhPct, P, PERFECT_AIR);
  const temperatureC = tC;
  return { temperatureC, humidityRatio: W, uTemperature, uHumidity, wPerK, wPerHumidity: wPerPct };
}

/** Standard uncertainties of the example, from those of its inputs. */
function uncertaintyOf(u: Inputs & { pPa?: number }): CapacityUncertainty {
  const ret = point(EXAMPLE.t1, EXAMPLE.rh1);
  const supply = point(EXAMPLE.t2, EXAMPLE.rh2);
  const result = capacity('cooling', ret, supply, flow, P, PERFECT_AIR);
  return capacityUncertainty(
    result,
    {
      mode: 'cooling',
      ret,
      supply,
      flow,
      pPa: P,
      retCovariance: meanCovariance([probe(EXAMPLE.t1, EXAMPLE.rh1, u.t1, u.rh1)]),
      supplyCovariance: meanCovariance([probe(EXAMPLE.t2, EXAMPLE.rh2, u.t2, u.rh2)]),
      uFlowRelative: u.flowM3s / EXAMPLE.flowM3s,
      uPressurePa: u.pPa ?? 0,
    },
    PERFECT_AIR,
  );
}

const NONE: Inputs = { t1: 0, rh1: 0, t2: 0, rh2: 0, flowM3s: 0 };

describe('the budget of the worked example', () => {
  it('0.2 K and 1.5 % of each probe, 5 % of the flow: 0.3991, 0.1998, 0.2608 kW', () => {
    // Computed by first order; a Monte Carlo of 1e6 draws gave 0.3992, 0.1999, 0.2609.
    const u = uncertaintyOf({ t1: 0.2, rh1: 1.5, t2: 0.2, rh2: 1.5, flowM3s: 0.01 });
    expectNear(u.totalW, 399.1, 0.06, 'total');
    expectNear(u.sensibleW, 199.8, 0.06, 'sensible');
    expectNear(u.latentW, 260.8, 0.06, 'latent');
  });

  /** Computed sensitivities of the total, W per unit of the input (RH in %). */
  const SENSITIVITIES: readonly [keyof Inputs, perUnit: number, margin: number, step: number][] = [
    ['t1', 667.96, 0.01, 1e-3],
    ['rh1', 138.95, 0.006, 1e-2],
    ['t2', -611.51, 0.01, 1e-3],
    ['rh2', -55.27, 0.006, 1e-2],
    ['flowM3s', 27_597, 0.6, 1e-4],
  ];

  it.each(SENSITIVITIES)('sensitivity to %s: %d', (name, perUnit, margin, step) => {
    const totalW = (by: number): number => {
      const at = { ...EXAMPLE, [name]: EXAMPLE[name] + by };
      const q = { ...flow, flowM3s: at.flowM3s };
      return capacity('cooling', point(at.t1, at.rh1), point(at.t2, at.rh2), q, P, PERFECT_AIR)
        .totalW;
    };
    expectNear((totalW(step) - totalW(-step)) / (2 * step), perUnit, margin, 'by differences');
    // With one input uncertain, u of the total is the size of its sensitivity.
    const alone = uncertaintyOf({ ...NONE, [name]: step });
    expectNear(alone.totalW / step, Math.abs(perUnit), margin, 'by propagation');
  });

  it('nothing uncertain, nothing doubted; all doubled, twice as much', () => {
    expect(uncertaintyOf(NONE)).toEqual({ totalW: 0, sensibleW: 0, latentW: 0 });
    const once = uncertaintyOf({ t1: 0.1, rh1: 1, t2: 0.3, rh2: 2, flowM3s: 0.01, pPa: 100 });
    const twice = uncertaintyOf({ t1: 0.2, rh1: 2, t2: 0.6, rh2: 4, flowM3s: 0.02, pPa: 200 });
    expectWithin(twice.totalW, 2 * once.totalW, 1e-12);
    expectWithin(twice.latentW, 2 * once.latentW, 1e-12);
  });
});

describe('the parts of a budget', () => {
  it('a rectangular distribution: u = a/√3', () => {
    // JCGM 100:2008, 4.3.7 (from memory of it): copper's coefficient of expansion, known within
    // ±0.40e-6 /°C, has u = 0.23e-6 /°C.
    expectNear(rectangular(0.4), 0.23, 0.005);
    expectWithin(rectangular(0.5) * Math.sqrt(3), 0.5, 1e-15);
  });

  /** JCGM 100:2008, H.2: five readings each of voltage (V) and current (mA), as in open test data. */
  const VOLTAGE = [5.007, 4.994, 5.005, 4.99, 4.999];
  const CURRENT = [19.663, 19.639, 19.64, 19.685, 19.678];
  const exact = { uTemperature: 0, uHumidity: 0, wPerK: 0, wPerHumidity: 0 };

  it('type A of a mean: the readings of JCGM 100, H.2, as if they were probes', () => {
    // u 0.0032 V and 0.0095 mA, correlation −0.36 (unrounded −0.35531), as published.
    const probes = VOLTAGE.map((temperatureC, i) => ({
      ...exact,
      temperatureC,
      humidityRatio: CURRENT[i] ?? Number.NaN,
    }));
    const { tt, tw, ww } = meanCovariance(probes);
    expectNear(Math.sqrt(tt), 0.0032, 5e-5, 'u of the first');
    expectNear(Math.sqrt(ww), 0.0095, 5e-5, 'u of the second');
    expectNear(tw / Math.sqrt(tt * ww), -0.35531, 6e-6, 'correlation');
  });

  it('alike probes in the same air: the limits fall with √n', () => {
    const one = meanCovariance([probe(26.7, 51, 0.2, 1.5)]);
    const four = meanCovariance(Array.from({ length: 4 }, () => probe(26.7, 51, 0.2, 1.5)));
    expectWithin(four.tt, one.tt / 4, 1e-12);
    expectWithin(four.tw, one.tw / 4, 1e-12);
    expectWithin(four.ww, one.ww / 4, 1e-12);
  });

  it("one probe: its own temperature's error is in its W", () => {
    const { wPerK, wPerPct } = statePartials(26.7, 51, P, PERFECT_AIR);
    const { tt, tw, ww } = meanCovariance([probe(26.7, 51, 0.2, 1.5)]);
    expectWithin(tt, 0.04, 1e-12);
    expectWithin(tw, 0.04 * wPerK, 1e-12);
    expectWithin(ww, (0.2 * wPerK) ** 2 + (1.5 * wPerPct) ** 2, 1e-12);
  });

  it('a probe that tells no humidity counts for the temperature alone', () => {
    const both = probe(26.7, 51, 0.2, 1.5);
    const blind: ProbeShare = { ...both, humidityRatio: null };
    const { tt, tw, ww } = meanCovariance([both, blind]);
    const alone = meanCovariance([both]);
    expectWithin(tt, alone.tt / 2, 1e-12);
    expectWithin(tw, alone.tw / 2, 1e-12);
    expectWithin(ww, alone.ww, 1e-12);
    expect(meanCovariance([blind])).toEqual({ tt: alone.tt, tw: 0, ww: 0 });
  });
});
