/**
 * Traverses by their events. Expected flows are worked out here: velocity × area × free-area factor over
 * the factor for the ends, which tests/reference/airflow checks.
 */
import { describe, expect, it } from 'vitest';
import { endsExcess, pointsRule, sideRule } from '../../../server/measure/airflow/ends.ts';
import { T0 } from '../visit.ts';
import { HandVisit, OUTLET } from './hand.ts';

const SIDE = sideRule(0.07, 0.1).factor;
const END = {
  long: SIDE / (1 + endsExcess(0.07, 0.6)),
  short: SIDE / (1 + endsExcess(0.07, 0.3)),
};
/** Points of a row before the edges: along a section, and across it. */
const held = (columns: number, lengthM: number): number =>
  pointsRule(
    Array.from({ length: columns }, (_, i) => (i + 0.5) / columns),
    0.07,
    lengthM,
  ).factor * pointsRule([0.5], 0.07, 0.1).factor;
/** Sections 0.1 × 0.6 and 0.1 × 0.3 m, factor 0.9. */
const flow = (a: number, b: number): number => 0.9 * (0.06 * a * END.long + 0.03 * b * END.short);

function swept(a: number, b: number): HandVisit {
  const visit = new HandVisit();
  visit.traverse('start', { method: 'sweep' });
  visit.hold(20, a);
  visit.traverse('section');
  visit.hold(17, b);
  return visit;
}

describe('a sweep', () => {
  it('weighs sections by their area, and becomes the airflow of the unit', () => {
    const visit = swept(4, 2);
    expect(visit.now).toMatchObject({ phase: 'running', progress: 1, text: 'Enough. Tap End.' });
    visit.traverse('end');
    visit.hold(5, null);
    const [result] = visit.airflows;
    expect(result?.flowM3s).toBeCloseTo(flow(4, 2), 4);
    expect(result).toMatchObject({
      ...{ type: 'airflow', unit: 'u1', method: 'sweep', outlet: 'o1', used: true, probe: 'v' },
      ...{ basis: 'actual', plane: 'supply', from: T0 + 10_000 },
    });
    expect(visit.unit().airflow.source).toBe('sweep');
    expect(visit.unit().airflow.flowM3s).toBeCloseTo(flow(4, 2), 4);
    expect(visit.codes()).not.toContain('airflow-not-measured');
    expect(visit.unit().doubts.map((d) => d.code)).not.toContain('airflow-not-measured');
    // Its own uncertainty goes into the capacity's interval.
    expect(result?.u95M3s).toBeGreaterThan(0);
    expect(visit.events.map((e) => e.kind)).toEqual([
      'traverse',
      'traverse',
      'airflow',
      'traverse',
    ]);
  });

  it('a grille wider than the head takes a lane for each width of the head', () => {
    const sections = [{ widthM: 0.34, lengthM: 0.6 }];
    const visit = new HandVisit([{ type: 'outlet', id: 'o1', unit: 'u1', sections }]);
    visit.traverse('start', { method: 'sweep' });
    visit.hold(15, 3);
    // 0.34 m are five lanes of 70 mm: 5 × 0.6 m at 0.1 m/s are 30 s.
    expect(visit.now.text).toContain('in 5 lanes side by side');
    expect(visit.now.progress).toBeCloseTo(0.5, 1);
    visit.hold(17, 3);
    expect(visit.now.text).toBe('Enough. Tap End.');
  });

  it('a pause counts nothing, whatever the anemometer reads meanwhile', () => {
    const visit = new HandVisit();
    visit.traverse('start', { method: 'sweep' });
    visit.hold(10, 4);
    visit.traverse('pause');
    visit.hold(30, 9);
    expect(visit.now.phase).toBe('paused');
    visit.traverse('resume');
    visit.hold(10, 4);
    visit.traverse('section');
    visit.hold(16, 2);
    visit.traverse('end');
    expect(visit.airflows[0]?.flowM3s).toBeCloseTo(flow(4, 2), 4);
  });

  it('pauses by itself where the anemometer is taken out of the airstream, and says so', () => {
    const visit = new HandVisit();
    visit.traverse('start', { method: 'sweep' });
    visit.hold(20, 4);
    visit.hold(15, 0);
    expect(visit.now).toMatchObject({ warns: true });
    expect(visit.now.text).toContain('does not count');
    visit.hold(10, 4);
    visit.traverse('section');
    visit.hold(16, 2);
    visit.traverse('end');
    // One reading on either edge of the still time is a mean of both.
    expect(visit.airflows[0]?.flowM3s).toBeCloseTo(flow(4, 2), 2);
    expect(visit.airflows[0]?.warnings.join()).toContain('stood still');
  });

  it('a dropout counts nothing and is said; readings go on after it', () => {
    const visit = new HandVisit();
    visit.traverse('start', { method: 'sweep' });
    visit.hold(10, 4);
    visit.hold(20, null);
    expect(visit.now.text).toContain('No reading');
    visit.hold(10, 3);
    visit.traverse('section');
    visit.hold(16, 2);
    visit.traverse('end');
    // 10 s at 4 and 10 s at 3, but for the interval after the last reading.
    expect(visit.airflows[0]?.flowM3s).toBeCloseTo(flow(3.5, 2), 2);
    expect(visit.airflows[0]?.warnings.join()).toContain('no readings for');
  });

  it('too fast, too short and uneven are said', () => {
    const visit = new HandVisit();
    visit.traverse('start', { method: 'sweep' });
    visit.hold(4, 4);
    visit.traverse('section');
    visit.hold(8, 3);
    visit.hold(8, 2);
    visit.traverse('end');
    const said = visit.airflows[0]?.warnings.join(' ') ?? '';
    expect(said).toContain('Section 1: too fast');
    expect(said).toContain('Section 2: uneven');
  });

  it('a section that was left out counts as the other, hardly known', () => {
    const visit = new HandVisit();
    visit.traverse('start', { method: 'sweep' });
    visit.hold(20, 4);
    visit.traverse('end');
    const [result] = visit.airflows;
    expect(result?.flowM3s).toBeCloseTo(flow(4, 4), 4);
    expect(result?.warnings.join()).toContain('1 section was not measured');
    const whole = swept(4, 4);
    whole.traverse('end');
    expect(result?.u95M3s).toBeGreaterThan(1.3 * (whole.airflows[0]?.u95M3s ?? NaN));
  });

  it('repeats: two give the mean, and a third is asked for when they disagree', () => {
    const visit = swept(4, 2);
    visit.traverse('end');
    visit.traverse('start', { method: 'sweep' });
    visit.hold(20, 3);
    visit.traverse('section');
    visit.hold(16, 1.5);
    visit.traverse('end');
    const [first, second] = visit.airflows;
    expect(first?.warnings.join()).toContain('sweep it once more');
    expect(second?.each).toHaveLength(2);
    expect(second?.flowM3s).toBeCloseTo((flow(4, 2) + flow(3, 1.5)) / 2, 4);
    expect(second?.warnings.join()).toContain('sweep a third time');
    visit.take({ type: 'event', t: T0 + visit.at, kind: 'fan', unit: 'u1', speed: 'low' });
    visit.traverse('start', { method: 'sweep' });
    visit.hold(20, 2);
    visit.traverse('section');
    visit.hold(16, 1);
    visit.traverse('end');
    // Another fan speed is another series.
    expect(visit.airflows[2]?.each).toHaveLength(1);
  });

  it('is held against the fan table: another speed, less than it should be, or nothing to say', () => {
    const measured = (a: number): string => {
      const visit = new HandVisit([
        {
          ...{ type: 'unit', id: 'u1', coil: 'dry' },
          fanTable: {
            speeds: [
              { name: 'Low', dryM3s: 0.15 },
              { name: 'High', dryM3s: 0.3 },
            ],
            ...{ basis: 'actual', plane: 'supply', limitPct: 5 },
          },
        },
      ]);
      visit.take({ type: 'event', t: T0 + visit.at, kind: 'fan', unit: 'u1', speed: 'High' });
      visit.traverse('start', { method: 'sweep' });
      visit.hold(20, a);
      visit.traverse('section');
      visit.hold(17, a);
      visit.traverse('end');
      return visit.airflows[0]?.warnings.join(' ') ?? '';
    };
    const per = flow(1, 1);
    expect(measured(0.3 / per)).not.toContain('fan table');
    expect(measured(0.15 / per)).toContain('the flow of speed “Low”');
    expect(measured(0.22 / per)).toMatch(/27 ± \d+ % less than the fan table/);
  });

  it('air that goes the other way gives no airflow, and what was known stays', () => {
    const visit = new HandVisit();
    visit.traverse('start', { method: 'sweep' });
    visit.hold(20, -2);
    visit.traverse('section');
    visit.hold(16, -2);
    expect(visit.now.text).toContain('other way');
    visit.traverse('end');
    visit.hold(5, null);
    expect(visit.airflows).toEqual([]);
    expect(visit.now.text).toContain('no airflow');
    expect(visit.unit().airflow.source).toBe('entered');
  });

  it('one reading is enough for a flow, none is not', () => {
    const visit = new HandVisit();
    visit.traverse('start', { method: 'sweep' });
    visit.traverse('end');
    expect(visit.airflows).toEqual([]);
    expect(visit.now.text).toContain('Nothing was measured');
    visit.traverse('start', { method: 'sweep' });
    visit.hold(0.25, 3);
    visit.traverse('end');
    expect(visit.airflows[0]?.velocityMs).toBeGreaterThan(2);
  });

  it('cancelled, nothing is worked out', () => {
    const visit = swept(4, 2);
    visit.traverse('cancel');
    expect(visit.airflows).toEqual([]);
    expect(visit.now.phase).toBe('cancelled');
  });

  it('a section that is added to the outlet afterwards can be swept in the same traverse', () => {
    const visit = swept(4, 2);
    const sections = [
      { widthM: 0.1, lengthM: 0.6 },
      { widthM: 0.1, lengthM: 0.3 },
      { widthM: 0.1, lengthM: 0.3 },
    ];
    visit.take({ ...OUTLET, sections } as typeof OUTLET);
    visit.traverse('section', { section: 2 });
    visit.hold(16, 3);
    visit.traverse('end');
    const third = 0.9 * 0.03 * 3 * END.short;
    expect(visit.airflows[0]?.flowM3s).toBeCloseTo(flow(4, 2) + third, 4);
  });

  it('the clock set back by an hour in mid-sweep loses nothing', () => {
    const visit = new HandVisit();
    visit.traverse('start', { method: 'sweep' });
    visit.hold(10, 4);
    visit.at -= 3_600_000;
    const t = T0 + visit.at;
    visit.take({ type: 'event', kind: 'clock', t, shiftMs: -3_600_000 });
    visit.hold(10, 4);
    visit.traverse('section');
    visit.hold(16, 2);
    visit.traverse('end');
    expect(visit.airflows[0]?.flowM3s).toBeCloseTo(flow(4, 2), 3);
    expect(visit.airflows[0]?.from).toBe(T0 + 10_000 - 3_600_000);
  });

  it('what cannot be is refused, naming the field', () => {
    const visit = new HandVisit();
    expect(visit.traverse('end')).toContain('phase: no traverse is running');
    expect(visit.traverse('start', { outlet: 'x' })).toContain('outlet: there is no outlet "x"');
    expect(visit.traverse('start', { probe: 'x' })).toContain('probe: there is no probe "x"');
    expect(visit.traverse('start', { unit: 'u9' })).toContain('unit: there is no unit "u9"');
    visit.traverse('start', { method: 'sweep' });
    expect(visit.traverse('point', { row: 0, column: 0 })).toContain('a sweep has no points');
  });

  it('the anemometer that also hangs in the outlet is no monitor while it is in the hand', () => {
    const visit = new HandVisit([{ type: 'probe', id: 'v', unit: 'u1', place: 'outlet' }]);
    visit.hold(90, 4);
    expect(visit.unit().airflowFollows).toBe('v');
    visit.traverse('start', { method: 'sweep' });
    visit.hold(20, 8);
    expect(visit.unit().airflowFollows).toBeNull();
    visit.traverse('section');
    visit.hold(16, 8);
    visit.traverse('end');
    visit.hold(90, 6);
    expect(visit.unit().airflowFollows).toBe('v');
    expect(visit.unit().airflow.flowM3s).toBeCloseTo(flow(8, 8), 3);
  });
});

describe('a grid', () => {
  it('means of points that have settled, each section by its area', () => {
    const visit = new HandVisit();
    visit.traverse('start', { method: 'grid' });
    for (const [section, column, v] of [
      [0, 0, 3],
      [0, 1, 4],
      [0, 2, 5],
      [0, 3, 4],
      [1, 0, 2],
      [1, 1, 2],
      [1, 2, 2],
    ] as const) {
      visit.traverse('point', { section, row: 0, column });
      // On the way the vane reads something else; what it reads once it is there counts.
      visit.hold(1.5, 1);
      visit.hold(8, v);
    }
    expect(visit.now.points).toHaveLength(7);
    expect(visit.now.points.every((p) => p.settled)).toBe(true);
    expect(visit.now.text).toContain('Tap End');
    visit.traverse('end');
    const [result] = visit.airflows;
    const [long, short] = [held(4, 0.6), held(3, 0.3)];
    expect(result?.flowM3s).toBeCloseTo(0.9 * (0.06 * 4 * long + 0.03 * 2 * short), 3);
    expect(result).toMatchObject({ method: 'grid', used: true });
    expect(result?.variation).toBeGreaterThan(0.2);
    expect(result?.points).toHaveLength(7);
  });

  it('a probe that is lost at the last point leaves the others', () => {
    const visit = new HandVisit();
    visit.traverse('start', { method: 'grid' });
    for (const column of [0, 1, 2]) {
      visit.traverse('point', { section: 0, row: 0, column });
      visit.hold(8, 3);
    }
    visit.traverse('point', { section: 1, row: 0, column: 0 });
    visit.hold(10, null);
    expect(visit.now.text).toContain('No reading');
    visit.traverse('end');
    // Three of the four points of the long section; of the short one none.
    const long =
      pointsRule([0.125, 0.375, 0.625], 0.07, 0.6).factor * pointsRule([0.5], 0.07, 0.1).factor;
    expect(visit.airflows[0]?.flowM3s).toBeCloseTo(
      0.9 * 3 * (0.06 * long + 0.03 * held(3, 0.3)),
      4,
    );
    expect(visit.airflows[0]?.warnings.join()).toContain('1 section was not measured');
  });

  it('a point without its row is refused', () => {
    const visit = new HandVisit();
    visit.traverse('start', { method: 'grid' });
    expect(visit.traverse('point', { column: 0 })).toContain('row: is missing');
  });
});
