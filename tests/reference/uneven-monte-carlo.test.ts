/**
 * Uneven air against Monte Carlo (JCGM 101:2008): an outlet whose spots are drawn from a normal
 * distribution, humidity going along at constant relative humidity, probes at a few of them, and the
 * errors of checked probes and of the airflow. The expected values are the shares of draws that an interval
 * of 95 % holds; nothing of them comes from the product.
 */
import { describe, expect, it } from 'vitest';
import { capacity, type Capacity, type Flow } from '../../server/measure/capacity.ts';
import { NORMAL, statement } from '../../server/measure/gum.ts';
import { humidityRatio, humidityRatioPartials } from '../../server/measure/moist-air.ts';
import {
  type BudgetInputs,
  capacityUncertainty,
  type PlaceProbe,
} from '../../server/measure/uncertainty.ts';
import { type Random, randomStream } from '../../simulator/random.ts';
import { placeProbe } from '../measure/place-probe.ts';

const DRAWS = 20_000;
const P = 101_325;
const RET = { tC: 26.7, rhPct: 51 };
const SUPPLY = { tC: 12, rhPct: 94 };
const FLOW: Flow = { flowM3s: 0.2, basis: 'actual', plane: 'supply' };
const FLOW_LIMIT = 0.05;
/** What a check leaves of a probe's own error, as standard uncertainties: K and % RH. */
const LEFT = { tC: 0.05, rhPct: 0.3 };
/** A person who has said how uneven it is counts for so many degrees of freedom. */
const DEGREES = 12;

interface Spot {
  tC: number;
  rhPct: number;
}
const mean = (values: readonly number[]): number =>
  values.reduce((sum, x) => sum + x, 0) / values.length;
function pointOf(spots: readonly Spot[]): { temperatureC: number; humidityRatio: number } {
  return {
    temperatureC: mean(spots.map(({ tC }) => tC)),
    humidityRatio: mean(spots.map(({ tC, rhPct }) => humidityRatio(tC, rhPct, P))),
  };
}
const TRUE = capacity('cooling', pointOf([RET]), pointOf([SUPPLY]), FLOW, P);

/** n probes of a place whose spots differ by `spotK`, with their errors. */
function hung(n: number, at: Spot, spotK: number, random: Random): Spot[] {
  return Array.from({ length: n }, () => ({
    tC: at.tC + spotK * random.normal() + LEFT.tC * random.normal(),
    rhPct: at.rhPct + LEFT.rhPct * random.normal(),
  }));
}
const probesOf = (spots: readonly Spot[]): PlaceProbe[] =>
  spots.map(({ tC, rhPct }) => placeProbe({ tC, rhPct, pPa: P, uT: LEFT.tC, uRh: LEFT.rhPct }));

interface Held {
  share: number;
  width: number;
}

/** @param saidK what is said of the place, `spotK` where it is said rightly */
function coverage(
  place: 'return' | 'supply',
  n: number,
  spotK: number,
  saidK: number,
  walkedLeft = NaN,
): Held {
  const random = randomStream(37, `${place} ${n} ${spotK} ${saidK}`);
  let held = 0;
  let width = 0;
  for (let i = 0; i < DRAWS; i++) {
    const rets = hung(place === 'return' ? n : 1, RET, place === 'return' ? spotK : 0, random);
    const sups = hung(place === 'supply' ? n : 1, SUPPLY, place === 'supply' ? spotK : 0, random);
    const flow = { ...FLOW, flowM3s: FLOW.flowM3s * (1 + random.between(-FLOW_LIMIT, FLOW_LIMIT)) };
    const ret = pointOf(rets);
    const supply = pointOf(sups);
    const got: Capacity = capacity('cooling', ret, supply, flow, P);
    const uneven = (at: Spot): NonNullable<BudgetInputs['retEvenness']> => ({
      spotK: saidK,
      degrees: DEGREES,
      wPerK: humidityRatioPartials(at.tC, at.rhPct, P).wPerK,
      walked: !Number.isNaN(walkedLeft),
    });
    const { totalU95W } = capacityUncertainty(got, {
      mode: 'cooling',
      ret,
      supply,
      flow,
      pPa: P,
      retProbes: probesOf(rets),
      supplyProbes: probesOf(sups),
      ...(place === 'return' ? { retEvenness: uneven(RET) } : { supplyEvenness: uneven(SUPPLY) }),
      flowRelative: statement(FLOW_LIMIT),
      pressurePa: { u: 0, shape: NORMAL },
      shared: [],
    });
    width += totalU95W / TRUE.totalW / DRAWS;
    if (Math.abs(got.totalW - TRUE.totalW) <= totalU95W) held++;
  }
  return { share: held / DRAWS, width };
}

describe.each(['supply', 'return'] as const)(`an uneven %s, ${DRAWS} draws a cell`, (place) => {
  it.each([0.5, 1, 1.5])('said rightly, %s K from spot to spot: 93 to 98 %', (spotK) => {
    const cells = [1, 2, 4].map((n) => coverage(place, n, spotK, spotK));
    for (const { share } of cells) {
      expect(share).toBeGreaterThan(0.93);
      expect(share).toBeLessThan(0.98);
    }
    // More probes make it narrower, about as 1/√n where the air is most of the doubt.
    const [one, two, four] = cells.map(({ width }) => width);
    expect(two).toBeLessThan(one ?? NaN);
    expect(four).toBeLessThan(two ?? NaN);
  });

  it('several probes find out what was said too small, a single one cannot', () => {
    const shares = [1, 2, 4, 8].map((n) => coverage(place, n, 1, 0.5).share);
    expect(shares[0]).toBeLessThan(0.8);
    for (let i = 1; i < shares.length; i++) expect(shares[i]).toBeGreaterThan(shares[i - 1] ?? NaN);
    expect(shares[3]).toBeGreaterThan(0.88);
  });
});

describe('+1 K in supply', () => {
  it('is −11 % at constant relative humidity, −4.8 % at constant W: why they are taken together', () => {
    const off = (spot: { temperatureC: number; humidityRatio: number }): number =>
      capacity('cooling', pointOf([RET]), spot, FLOW, P).totalW / TRUE.totalW - 1;
    const warm = { ...SUPPLY, tC: SUPPLY.tC + 1 };
    expect(off(pointOf([warm]))).toBeCloseTo(-0.111, 2);
    const dry = { ...pointOf([SUPPLY]), temperatureC: warm.tC };
    expect(off(dry)).toBeCloseTo(-0.048, 2);
    // And it is what the budget says of one spot.
    const inputs: BudgetInputs = {
      mode: 'cooling',
      ret: pointOf([RET]),
      supply: pointOf([SUPPLY]),
      flow: FLOW,
      pPa: P,
      retProbes: probesOf([RET]),
      supplyProbes: probesOf([SUPPLY]),
      supplyEvenness: {
        spotK: 0.01,
        degrees: 1e6,
        wPerK: humidityRatioPartials(SUPPLY.tC, SUPPLY.rhPct, P).wPerK,
        walked: false,
      },
      flowRelative: statement(0),
      pressurePa: statement(0),
      shared: [],
    };
    const { uSupplySpreadW } = capacityUncertainty(TRUE, inputs);
    const slope = (off(pointOf([{ ...SUPPLY, tC: SUPPLY.tC + 0.01 }])) * TRUE.totalW) / 0.01;
    expect(uSupplySpreadW / 0.01).toBeCloseTo(-slope, -1);
  });
});

describe('weights by the part of the flow', () => {
  it('a probe for three quarters of the outlet and one for the rest: mean and interval', () => {
    const sups = [SUPPLY, { ...SUPPLY, tC: 14 }];
    const [near, far] = probesOf(sups);
    if (near === undefined || far === undefined) throw new Error('two probes');
    const supplyProbes = [
      { ...near, flowShare: 3 },
      { ...far, flowShare: 1 },
    ];
    const of = (probes: readonly PlaceProbe[], spotK: number): number =>
      capacityUncertainty(TRUE, {
        mode: 'cooling',
        ret: pointOf([RET]),
        supply: pointOf([SUPPLY]),
        flow: FLOW,
        pPa: P,
        retProbes: probesOf([RET]),
        supplyProbes: probes,
        supplyEvenness: { spotK, degrees: 1e6, wPerK: 0, walked: false },
        flowRelative: statement(0),
        pressurePa: statement(0),
        shared: [],
      }).uSupplySpreadW;
    // Σw² = 10/16 against 1/2 of equal shares: what is known of the spots beforehand decides here.
    const equal = supplyProbes.map((p) => ({ ...p, flowShare: 1 }));
    expect(of(supplyProbes, 1) / of(equal, 1)).toBeCloseTo(Math.sqrt(10 / 16 / (1 / 2)), 3);
  });
});
