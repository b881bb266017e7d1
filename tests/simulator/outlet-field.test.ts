/** The field of an opening against sums over many small squares, each worked out here. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EVEN, type OpeningParameters, OutletField } from '../../simulator/outlet-field.ts';

const part = (min: number, max: number): fc.Arbitrary<number> =>
  fc.double({ min, max, noNaN: true });

const opening: fc.Arbitrary<OpeningParameters> = fc
  .record({
    sections: fc.array(fc.record({ widthM: part(0.03, 0.3), lengthM: part(0.3, 1) }), {
      minLength: 1,
      maxLength: 2,
    }),
    freeArea: part(0.6, 1),
    endPower: part(0, 0.3),
    sidePower: part(0, 0.3),
    deadM: part(0, 0.03),
    jet: fc.record({ at: part(0, 1), width: part(0.08, 0.4), strength: part(0, 5) }),
    supportM: part(0.005, 0.03),
    louverDeg: part(0, 60),
    share: part(0.7, 1.3),
    slopeK: part(-3, 3),
  })
  .map(({ sections, freeArea, jet, supportM, share, ...shape }) => ({
    sections,
    freeArea,
    shape: {
      ...EVEN,
      ...shape,
      jets: [{ section: 0, ...jet }],
      supports: [{ section: 0, atM: 0.15, widthM: supportM }],
      shares: [share],
    },
  }));

/** Sums over the middles of squares, each by its area. */
function integrals(field: OutletField, flowM3s: number): { flow: number; meanC: number } {
  const [along, across] = [3001, 133];
  let flow = 0;
  let heat = 0;
  field.parameters.sections.forEach(({ lengthM, widthM }, section) => {
    const area = (lengthM * widthM) / along / across;
    for (let i = 0; i < along; i++) {
      const x = ((i + 0.5) / along) * lengthM;
      const temperatureC = field.temperatureC(12, section, x);
      for (let j = 0; j < across; j++) {
        const y = ((j + 0.5) / across) * widthM;
        const passes = area * field.velocityMs(flowM3s, section, x, y);
        flow += passes;
        heat += passes * temperatureC;
      }
    }
  });
  return { flow: flow * field.parameters.freeArea, meanC: heat / flow };
}

describe('the field of an opening', () => {
  it('passes just the flow, and its air is the supply’s in the mean', () => {
    fc.assert(
      fc.property(opening, part(0.05, 0.3), (parameters, flowM3s) => {
        const { flow, meanC } = integrals(new OutletField(parameters), flowM3s);
        expect(Math.abs(flow / flowM3s - 1)).toBeLessThan(1e-3);
        expect(Math.abs(meanC - 12)).toBeLessThan(0.01);
      }),
      { numRuns: 8 },
    );
  });

  it('has what its shape says: dead ends, a support, a jet off center, a side that the louver favors', () => {
    const field = new OutletField({
      sections: [{ widthM: 0.06, lengthM: 0.8 }],
      freeArea: 1,
      shape: {
        ...EVEN,
        deadM: 0.03,
        jets: [{ section: 0, at: 0.25, width: 0.1, strength: 1 }],
        supports: [{ section: 0, atM: 0.5, widthM: 0.02 }],
        louverDeg: 30,
      },
    });
    const at = (x: number, y = 0.03): number => field.velocityMs(0.15, 0, x, y);
    expect(at(0.01)).toBe(0);
    expect(at(0.79)).toBe(0);
    expect(at(0.5)).toBe(0);
    expect(at(0.2) / at(0.7)).toBeCloseTo(2, 1);
    // 0.8 sin 30° × what lies between ± half of the width.
    expect(at(0.7, 0.0599) / at(0.7, 0.0001)).toBeCloseTo(1.2 / 0.8, 1);
  });

  it('is averaged by a head over as much of its disk as the opening covers', () => {
    fc.assert(
      fc.property(opening, part(0.02, 0.12), part(0, 1), part(0, 1), (parameters, headM, p, q) => {
        const field = new OutletField(parameters);
        const [size] = parameters.sections;
        if (size === undefined) return;
        const alongM = p * size.lengthM;
        const acrossM = q * size.widthM;
        const n = 150;
        let sum = 0;
        let count = 0;
        for (let i = 0; i < n; i++) {
          for (let j = 0; j < n; j++) {
            const dx = ((i + 0.5) / n - 0.5) * headM;
            const dy = ((j + 0.5) / n - 0.5) * headM;
            const [x, y] = [alongM + dx, acrossM + dy];
            if (Math.hypot(dx, dy) > headM / 2) continue;
            if (x < 0 || y < 0 || x > size.lengthM || y > size.widthM) continue;
            sum += field.velocityMs(0.15, 0, x, y);
            count++;
          }
        }
        const mean = field.headMs(0.15, headM, { section: 0, alongM, acrossM });
        const scale = field.headMs(0.15, 10, { section: 0, alongM: 0, acrossM: 0 });
        expect(Math.abs(mean - sum / count)).toBeLessThan(0.05 * Math.max(mean, scale));
      }),
      { numRuns: 30 },
    );
  });
});
