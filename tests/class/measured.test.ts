/** What a trainee’s own server makes of a lesson, beside what is true: the errors that the lessons are about. */
import { describe, expect, it } from 'vitest';
import { setUpLines } from '../../adapters/simulated/set-up.ts';
import { toldAirflow } from '../../adapters/simulated/told-airflow.ts';
import type { Lesson } from '../../server/class/lesson.ts';
import { LESSONS } from '../../server/class/lessons.ts';
import { airflowOf, systemOf, UNIT } from '../../server/class/site.ts';
import type { UnitSnapshot } from '../../server/protocol.ts';
import { System } from '../../simulator/system.ts';
import { TestVisit } from '../session/visit.ts';

const T0 = 1_777_885_200_000;
const SOURCE = { adapter: 'simulated', simulated: true };
const MINUTES = 20;

/** The lesson’s probes placed as their labels say: the figure after twenty minutes, and the truth. */
function measured(id: string): { unit: UnitSnapshot; total: number; sensible: number } {
  const lesson = LESSONS.find((each) => each.id === id) as Lesson;
  const parameters = systemOf(lesson);
  const system = new System(parameters, { air: 3, probes: 4 }, T0);
  const told = (unit: string) => {
    const found = parameters.units.find((each) => each.id === unit);
    return found && toldAirflow(found, parameters.mode, 3, airflowOf(lesson));
  };
  const visit = new TestVisit([]);
  for (const line of setUpLines(parameters, told, T0, true)) visit.take(line, SOURCE);
  for (const reading of system.advance(T0 + MINUTES * 60_000)) {
    visit.take({ type: 'reading', ...reading }, SOURCE);
  }
  visit.session.advanceTo(T0 + MINUTES * 60_000);
  const unit = visit.snapshots.at(-1)?.units[UNIT] as UnitSnapshot;
  const { totalW, sensibleW } = system.truth(UNIT);
  return {
    unit,
    total: (unit.capacity?.totalW ?? NaN) / totalW,
    sensible: (unit.capacity?.sensibleW ?? NaN) / sensibleW,
  };
}

describe('a trainee who takes what the lesson offers', () => {
  it.each(['healthy', 'altitude', 'healthy-heating', 'low-charge'])(
    'finds what is true, within the interval: %s',
    (id) => {
      const { unit, total } = measured(id);
      const u95 = (unit.capacity?.totalU95W ?? NaN) / (unit.capacity?.totalW ?? NaN);
      expect(Math.abs(total - 1)).toBeLessThan(u95);
      // The errors of unchecked probes, and no more: a flow taken for one of mass is a fifth off.
      expect(Math.abs(total - 1)).toBeLessThan(0.15);
    },
  );

  it('finds too much with the airflow of another unit, or of a clean wheel', () => {
    expect(measured('wrong-airflow').total).toBeGreaterThan(1.25);
    expect(measured('dirty-wheel').total).toBeGreaterThan(1.25);
  });

  it('finds the right total with a wet probe, and too much that is sensible', () => {
    const { total, sensible } = measured('wet-probe');
    expect(total).toBeGreaterThan(0.9);
    expect(total).toBeLessThan(1.1);
    expect(sensible).toBeGreaterThan(1.05);
  });

  it('finds less than nothing with swapped probes', () => {
    expect(measured('swapped-probes').total).toBeLessThan(-0.8);
  });

  it('finds too little with a probe that has walked off', () => {
    expect(measured('drifting-probe').total).toBeLessThan(0.92);
  });
});
