/** What the evidence is, and what it says: the coil's air, the items with their uncertainty, the order of causes. */
import { describe, expect, it } from 'vitest';
import { likelyCauses } from '../../server/measure/expectation/causes.ts';
import { CAUSES } from '../../server/measure/expectation/causes-table.ts';
import { coilAir, contactFactor } from '../../server/measure/expectation/coil-air.ts';
import {
  type Evidence,
  evidenceOf,
  type Item,
  type Measured,
  type Seen,
  type VisitFacts,
} from '../../server/measure/expectation/evidence.ts';
import { chargeFactors } from '../../simulator/outdoor-unit.ts';
import { randomStream } from '../../simulator/random.ts';

const SEA_PA = 101_325;
const item = (value: number, u: number): Item => ({ value, u });

describe('air through a coil', () => {
  it('is the cooling coil of the Handbook when all of it touches the coil', () => {
    // ASHRAE Handbook—Fundamentals 2021 (SI), ch. 1, example 3: 30 °C, 50 % leaves saturated at 10 °C;
    // 64.3 − 29.5 kJ/kg, W from 13.3 to 7.66 g/kg, printed to three digits.
    const entering = { temperatureC: 30, humidityRatio: 0.0133 };
    const made = coilAir('cooling', entering, SEA_PA, {
      ...{ totalW: 64_300 - 29_500, dryAirKgs: 1, contact: 1 },
    });
    expect(made.differenceK).toBeGreaterThan(19.7);
    expect(made.differenceK).toBeLessThan(20.3);
    // Its latent part: 2501 kJ/kg × (13.3 − 7.66) g/kg of 34.8 kJ/kg.
    expect(made.sensibleHeatRatio).toBeCloseTo(1 - (2501 * (0.0133 - 0.00766)) / 34.8, 1);
    const leaving = { temperatureC: 10, humidityRatio: 0.00766 };
    expect(contactFactor(entering, leaving, SEA_PA)).toBeCloseTo(1, 2);
  });

  it.each([0.65, 0.8, 0.95])('and back: a contact factor of %s is found again', (contact) => {
    const entering = { temperatureC: 26.7, humidityRatio: 0.0112 };
    const work = { totalW: 4000, dryAirKgs: 0.2, contact };
    const { differenceK, sensibleHeatRatio } = coilAir('cooling', entering, SEA_PA, work);
    const dropW = ((1 - sensibleHeatRatio) * 20_000) / 2.501e6;
    const leaving = {
      temperatureC: entering.temperatureC - differenceK,
      humidityRatio: entering.humidityRatio - dropW,
    };
    expect(contactFactor(entering, leaving, SEA_PA)).toBeCloseTo(contact, 2);
  });

  it('takes no moisture out of dry air, and none in heating', () => {
    const dry = { temperatureC: 27, humidityRatio: 0.004 };
    expect(
      coilAir('cooling', dry, SEA_PA, { totalW: 2000, dryAirKgs: 0.2 }).sensibleHeatRatio,
    ).toBe(1);
    const heated = coilAir('heating', dry, SEA_PA, { totalW: 4000, dryAirKgs: 0.15 });
    expect(heated.differenceK).toBeCloseTo(4000 / 0.15 / (1006 + 1860 * 0.004), 0);
    expect(contactFactor(dry, { temperatureC: 15, humidityRatio: 0.004 }, SEA_PA)).toBeNull();
  });
});

const UNSEEN: Seen = {
  ...{ fullDemand: null, otherHeads: null, cycling: null, coil: null, filter: null, probes: null },
};
const FACTS: VisitFacts = {
  ...{ mode: 'cooling', pressurePa: SEA_PA, isFlowMeasured: true, seen: UNSEEN },
  totalW: item(3600, 180),
  expectedW: item(4000, 120),
  capacityChange: null,
  return: { temperatureC: item(26, 0.17), humidityPct: item(50, 1.1) },
  supply: { temperatureC: item(13, 0.17), humidityPct: item(92, 1.1) },
  roomC: item(26.4, 0.17),
  flowM3s: item(0.14, 0.004),
  wantedFlowM3s: item(0.17, 0.006),
  powerW: item(900, 10),
  expectedPowerW: item(1000, 30),
  pushGainW: item(36, 40),
  spotK: item(0.65, 0.1),
};

describe('the evidence', () => {
  it('is ratios, each with the uncertainty of what it is made of', () => {
    const { measured } = evidenceOf(FACTS);
    expect(measured.capacityRatio?.value).toBeCloseTo(0.9, 6);
    expect(measured.capacityRatio?.u).toBeCloseTo(0.9 * Math.hypot(0.05, 0.03), 6);
    expect(measured.airflowRatio?.value).toBeCloseTo(0.14 / 0.17, 6);
    expect(measured.powerRatio?.value).toBeCloseTo(0.9, 6);
    expect(measured.pushGain?.value).toBeCloseTo(0.01, 6);
    expect(measured.recirculation?.value).toBeCloseTo(0.4 / 13.4, 6);
    expect(measured.unevenness?.value).toBeCloseTo(0.05, 6);
  });

  it('carries the probes’ errors through the coil’s line, as a Monte Carlo does (JCGM 101)', () => {
    const random = randomStream(7, 'evidence');
    const drawn = ({ value, u }: Item): Item => item(value + u * random.normal(), 0);
    const of = (facts: VisitFacts): Measured => evidenceOf(facts).measured;
    const trials = Array.from({ length: 4000 }, () =>
      of({
        ...FACTS,
        expectedW: drawn(FACTS.expectedW),
        wantedFlowM3s: drawn(item(0.17, 0.006)),
        return: {
          temperatureC: drawn(FACTS.return.temperatureC),
          humidityPct: drawn(item(50, 1.1)),
        },
        supply: {
          temperatureC: drawn(FACTS.supply.temperatureC),
          humidityPct: drawn(item(92, 1.1)),
        },
      }),
    );
    for (const name of ['differenceRatio', 'sensibleExcess', 'contactFactor'] as const) {
      const values = trials.flatMap((trial) => trial[name]?.value ?? []);
      const mean = values.reduce((sum, x) => sum + x, 0) / values.length;
      const sd = Math.sqrt(values.reduce((sum, x) => sum + (x - mean) ** 2, 0) / values.length);
      const said = of(FACTS)[name];
      expect(Math.abs((said?.value ?? NaN) - mean)).toBeLessThan(0.3 * sd);
      expect((said?.u ?? NaN) / sd).toBeGreaterThan(0.85);
      expect((said?.u ?? NaN) / sd).toBeLessThan(1.15);
    }
  });

  it('leaves out what is not known', () => {
    const { measured } = evidenceOf({
      ...FACTS,
      ...{ isFlowMeasured: false, powerW: null, pushGainW: null, roomC: null, spotK: null },
      supply: { temperatureC: item(13, 0.17), humidityPct: null },
    });
    const known = Object.entries(measured).flatMap(([name, x]) => (x === null ? [] : [name]));
    expect(known).toEqual(['capacityRatio']);
    const heating = evidenceOf({
      ...{ ...FACTS, mode: 'heating' },
      return: { temperatureC: item(20, 0.17), humidityPct: null },
      supply: { temperatureC: item(42, 0.17), humidityPct: null },
    });
    expect(heating.measured.differenceRatio).not.toBeNull();
    expect(heating.measured.sensibleExcess).toBeNull();
  });
});

const NOTHING: Measured = {
  ...{ capacityRatio: null, capacityChange: null, airflowRatio: null, differenceRatio: null },
  ...{ sensibleExcess: null, contactFactor: null, powerRatio: null, pushGain: null },
  ...{ recirculation: null, unevenness: null },
};
const evidence = (measured: Partial<Measured>, seen: Partial<Seen> = {}, more = {}): Evidence => ({
  ...{ mode: 'cooling', isFlowMeasured: true, measured: { ...NOTHING, ...measured } },
  ...{ seen: { ...UNSEEN, ...seen }, ...more },
});
const codes = (e: Evidence): string[] => likelyCauses(e).map(({ code }) => code);

describe('likely causes', () => {
  it('are none where nothing is known, or all is as it should be', () => {
    expect(codes(evidence({}))).toEqual([]);
    expect(
      codes(evidence({ capacityRatio: item(0.98, 0.04), airflowRatio: item(1, 0.03) })),
    ).toEqual([]);
    // The same figure, so unsure that a healthy unit explains it.
    expect(codes(evidence({ capacityRatio: item(0.85, 0.15) }))).toEqual([]);
  });

  const LITTLE_AIR = { airflowRatio: item(0.76, 0.03), differenceRatio: item(1.2, 0.04) };

  it('little air: the filter is looked at first, and what was seen of it counts', () => {
    const unseen = codes(evidence(LITTLE_AIR));
    expect(unseen.slice(0, 2).sort()).toEqual(['filter', 'wheel']);
    expect(codes(evidence(LITTLE_AIR, { filter: 'loaded' }))[0]).toBe('filter');
    expect(codes(evidence(LITTLE_AIR, { filter: 'clean' }))[0]).toBe('wheel');
    const open = { ...LITTLE_AIR, differenceRatio: item(1, 0.04), contactFactor: item(0.68, 0.03) };
    expect(codes(evidence(open, { filter: 'clean' }))[0]).toBe('coil');
  });

  it('with the table’s own flow in the figure, less air looks like more heat', () => {
    const told = { capacityRatio: item(1.25, 0.08), differenceRatio: item(1.24, 0.04) };
    expect(codes(evidence(told, {}, { isFlowMeasured: false }))).toContain('wheel');
  });

  const LITTLE_HEAT = { capacityRatio: item(0.66, 0.05), differenceRatio: item(0.75, 0.04) };

  it('little heat: first whether it was asked for, and who else takes', () => {
    expect(codes(evidence(LITTLE_HEAT, { fullDemand: 'not-shown' }))[0]).toBe('not-asked');
    const shown = { fullDemand: 'shown', otherHeads: 'running' } as const;
    expect(codes(evidence(LITTLE_HEAT, shown))[0]).toBe('other-heads');
    const alone = { fullDemand: 'shown', otherHeads: 'off' } as const;
    expect(codes(evidence(LITTLE_HEAT, alone))[0]).toBe('charge');
  });

  it('says what speaks for it and against it, as figures and as sentences', () => {
    const measured = { ...LITTLE_HEAT, powerRatio: item(0.4, 0.03) };
    const seen = { fullDemand: 'not-shown', otherHeads: 'running' } as const;
    const [first] = likelyCauses(evidence({ ...measured, pushGain: item(0, 0.01) }, seen));
    expect(first?.code).toBe('not-asked');
    expect(first?.for.map((sign) => sign.item)).toEqual(
      expect.arrayContaining(['capacityRatio', 'powerRatio', 'fullDemand']),
    );
    expect(first?.for[0]).toMatchObject({ u95: expect.any(Number) as number });
    const figure = first?.for.find((sign) => sign.item === 'capacityRatio');
    expect(figure).toMatchObject({
      value: 0.66,
      text: 'It delivers 66 ± 10 % of what is expected.',
    });
    expect(first?.against.map((sign) => sign.item)).toContain('pushGain');
  });

  it('a spread of the probes explains a lone odd figure, where nobody has checked them', () => {
    const odd = { capacityRatio: item(1.22, 0.04), sensibleExcess: item(-0.14, 0.02) };
    expect(codes(evidence(odd, { probes: 'unchecked' }))[0]).toBe('probes');
  });

  it('each has words, a source, and a caution; the refrigerant is for licensed persons', () => {
    for (const { name, look, caution, source } of Object.values(CAUSES)) {
      expect(name).toMatch(/^Likely /);
      for (const text of [look, caution]) expect(text).toMatch(/^[A-Z].*\.$/);
      expect(source.length).toBeGreaterThan(10);
    }
    expect(CAUSES.charge.caution).toMatch(/licensed/);
    for (const code of ['wheel', 'coil'] as const) expect(CAUSES[code].caution).toMatch(/lock/);
  });
});

describe('the table, against what was published', () => {
  // NREL/TP-5500-56354 (2013), single-speed units, cooling; ff = flow over rated flow.
  const byFlow = (ff: number): number => 0.718664047 + 0.41797409 * ff - 0.136638137 * ff ** 2;
  it.each(['wheel', 'filter'] as const)('%s: capacity goes with airflow', (code) => {
    const { airflowRatio, capacityRatio } = CAUSES[code].expects;
    for (const end of [0, 1] as const) {
      expect(Math.abs(capacityRatio[end] - byFlow(airflowRatio[end]))).toBeLessThan(0.03);
    }
  });

  it('charge: capacity and power of NIST TN 1848 (2014) lie in its row', () => {
    // 26.67 °C indoors and 35 °C outdoors; computed from the note's coefficients: 0.798 at −30 %.
    const { output, power } = chargeFactors(-0.3, false);
    expect(output).toBeCloseTo(0.798, 3);
    const { capacityRatio, powerRatio } = CAUSES.charge.expects;
    expect(output).toBeGreaterThan(capacityRatio[1]);
    expect(output).toBeLessThan(capacityRatio[0]);
    expect(power).toBeGreaterThan(powerRatio[1]);
    expect(power).toBeLessThan(powerRatio[0]);
    // Heating, 21.1 °C indoors and 8.33 °C outdoors: 0.724 at −30 %, 0.868 at −20 %.
    expect(chargeFactors(-0.3, true).output).toBeCloseTo(0.724, 3);
    expect(chargeFactors(-0.2, true).output).toBeCloseTo(0.868, 3);
  });
});
