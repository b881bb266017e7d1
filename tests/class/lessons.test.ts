/** Each built-in lesson does what its title says, judged by the truth beside that of its healthy twin. */
import { describe, expect, it } from 'vitest';
import { type Lesson } from '../../server/class/lesson.ts';
import { LESSONS } from '../../server/class/lessons.ts';
import { type CoursePoint, preview } from '../../server/class/preview.ts';
import { changesOf, healthySystemOf, systemOf, UNIT } from '../../server/class/site.ts';
import type { ProbeReading } from '../../simulator/probe.ts';
import { System } from '../../simulator/system.ts';
import { pressureAtAltitudePa } from '../../server/measure/moist-air.ts';

const MINUTES = 30;
const lesson = (id: string): Lesson => {
  const found = LESSONS.find((each) => each.id === id);
  if (found === undefined) throw new Error(`there is no lesson ${id}`);
  return found;
};
const healthyTwin = (of: Lesson): Lesson => ({ ...of, faults: [] });
const at = (course: readonly CoursePoint[], minute: number): CoursePoint =>
  course[minute * 6] as CoursePoint;

/** What is so after 20 minutes, over what is so of the twin. */
function besideTwin(id: string) {
  const [ill, well] = [lesson(id), healthyTwin(lesson(id))].map((of) =>
    at(preview(of, MINUTES).course, 20),
  ) as [CoursePoint, CoursePoint];
  return {
    flow: ill.flowM3s / well.flowM3s,
    total: ill.totalW / well.totalW,
    share: ill.compressorShare / well.compressorShare,
    ratio: (ill.sensibleHeatRatio ?? NaN) - (well.sensibleHeatRatio ?? NaN),
  };
}

/** The latest readings of probes after 20 minutes, and the system. */
function played(of: Lesson): { system: System; last: (probe: string) => ProbeReading } {
  const system = new System(systemOf(of), 1, 0);
  for (const { afterS, parameters } of changesOf(of)) system.become(parameters, 1000 * afterS);
  const readings = system.advance(1_200_000);
  const last = (probe: string) =>
    readings.findLast((reading) => reading.probe === probe) as ProbeReading;
  return { system, last };
}

describe('the lesson', () => {
  it.each(['healthy', 'healthy-heating', 'altitude'])(
    '%s gives what a healthy unit gives',
    (id) => {
      const { end, healthyW } = preview(lesson(id), MINUTES);
      expect(end.totalW / healthyW).toBeGreaterThan(0.97);
      expect(end.totalW / healthyW).toBeLessThan(1.03);
    },
  );

  it('dirty-wheel moves less air by the size of the dirt, and gives less', () => {
    const { flow, total } = besideTwin('dirty-wheel');
    expect(flow).toBeCloseTo(1 - 0.35 * 0.8, 2);
    expect(total).toBeLessThan(0.97);
  });

  it('loaded-filter moves less air, and gives less', () => {
    const { flow, total } = besideTwin('loaded-filter');
    expect(flow).toBeCloseTo(1 - 0.25 * 0.9, 2);
    expect(total).toBeLessThan(0.98);
  });

  it('dirty-coil loses more than its airflow explains', () => {
    const [coil, filter] = [besideTwin('dirty-coil'), besideTwin('loaded-filter')];
    expect(coil.flow).toBeGreaterThan(filter.flow + 0.05);
    expect(coil.total).toBeLessThan(filter.total);
  });

  it('low-charge gives much less with the same air, and no less compressor', () => {
    const { flow, total, share } = besideTwin('low-charge');
    expect(flow).toBeCloseTo(1, 2);
    expect(total).toBeLessThan(0.8);
    expect(share).toBeCloseTo(1, 1);
  });

  it('other-heads leaves it a part of a compressor that gives all it has', () => {
    const { total } = besideTwin('other-heads');
    expect(total).toBeLessThan(0.7);
    const { course } = preview(lesson('other-heads'), MINUTES);
    expect(at(course, 20).compressorShare).toBeCloseTo(1, 2);
  });

  it('turned-down asks for less, and gives all when it is pushed', () => {
    const { total, share } = besideTwin('turned-down');
    expect(share).toBeLessThan(0.65);
    expect(total).toBeLessThan(0.75);
    const { system } = played(lesson('turned-down'));
    const before = system.truth(UNIT).totalW;
    system.setpoint(UNIT, 16);
    system.advance(2_000_000);
    expect(system.truth(UNIT).totalW).toBeGreaterThan(1.3 * before);
  });

  it('recirculation cools its own return below the room', () => {
    const { system, last } = played(lesson('recirculation'));
    const { room, return: taken } = system.truth(UNIT);
    expect(room.temperatureC - taken.temperatureC).toBeGreaterThan(3);
    expect((last('p4').temperatureC ?? NaN) - (last('p1').temperatureC ?? NaN)).toBeGreaterThan(2);
  });

  it('uneven-outlet warms a probe that hangs right of the middle, not the air', () => {
    const { total } = besideTwin('uneven-outlet');
    expect(total).toBeCloseTo(1, 6);
    const [uneven, even] = [played(lesson('uneven-outlet')), played(lesson('healthy'))].map(
      ({ last }) => last('p2').temperatureC ?? NaN,
    ) as [number, number];
    expect(uneven - even).toBeCloseTo(7 / 4, 1);
  });

  it('fan-by-itself slows down while it is measured, and nobody touched it', () => {
    const { course } = preview(lesson('fan-by-itself'), MINUTES);
    expect(at(course, 5).flowM3s).toBeGreaterThan(0.16);
    expect(at(course, 25).flowM3s).toBeLessThan(0.1);
  });

  it('reheat takes out water, and hardly cools', () => {
    const { end } = preview(lesson('reheat'), MINUTES);
    expect(end.latentW).toBeGreaterThan(1000);
    expect(end.sensibleW).toBeLessThan(0.2 * end.latentW);
  });

  it('altitude moves the same volume of thinner air', () => {
    const high = lesson('altitude');
    const [up, down] = [high, { ...high, altitudeM: 0 }].map((of) => played(of).system) as [
      System,
      System,
    ];
    expect(up.parameters.pressurePa).toBe(Math.round(pressureAtAltitudePa(2000)));
    const [a, b] = [up.truth(UNIT), down.truth(UNIT)];
    expect(a.flowM3s / b.flowM3s).toBeCloseTo(1, 1);
    expect(a.dryAirKgS / b.dryAirKgS).toBeLessThan(0.82);
  });

  it('wet-probe reads damper and colder than the supply is', () => {
    const { system, last } = played(lesson('wet-probe'));
    const { supply } = system.truth(UNIT);
    const dry = played(healthyTwin(lesson('wet-probe'))).last('p2');
    expect(last('p2').temperatureC).toBeLessThan(supply.temperatureC - 0.5);
    expect(last('p2').humidityPct).toBeGreaterThan((dry.humidityPct ?? NaN) + 5);
  });

  it('swapped-probes has the cold air at the probe that is called Return', () => {
    const { last } = played(lesson('swapped-probes'));
    expect(last('p1').temperatureC).toBeLessThan((last('p2').temperatureC ?? NaN) - 8);
    expect(lesson('swapped-probes').placed).toBe(true);
  });

  it('drifting-probe walks off while the air stays', () => {
    const { total } = besideTwin('drifting-probe');
    expect(total).toBeCloseTo(1, 6);
    const [walks, stays] = [lesson('drifting-probe'), lesson('healthy')].map(
      (of) => played(of).last('p2').temperatureC ?? NaN,
    ) as [number, number];
    expect(walks - stays).toBeCloseTo(6 / 3, 1);
  });

  it('wrong-airflow is a healthy machine', () => {
    expect(systemOf(lesson('wrong-airflow'))).toEqual(healthySystemOf(lesson('wrong-airflow')));
    expect(lesson('wrong-airflow').airflow).toEqual({ source: 'entered', factor: 1.4 });
  });

  it('cycling starts and stops again and again', () => {
    const { course } = preview(lesson('cycling'), 60);
    const runs = course.map(({ compressorShare }) => compressorShare > 0.05);
    const starts = runs.filter((on, i) => on && runs[i - 1] === false).length;
    expect(starts).toBeGreaterThanOrEqual(3);
  });

  it('defrost heats less and less, turns cold, and heats again within half an hour', () => {
    const { course } = preview(lesson('defrost'), MINUTES);
    const coldAt = course.findIndex(({ totalW }) => totalW < 0);
    expect(coldAt).toBeGreaterThan(6 * 8);
    expect(at(course, 10).totalW).toBeLessThan(0.97 * at(course, 5).totalW);
    expect(course.slice(coldAt).some(({ totalW }) => totalW > 2500)).toBe(true);
  });

  it('filter-in-mid-run changes at a quarter of an hour, and not before', () => {
    const { course } = preview(lesson('filter-in-mid-run'), MINUTES);
    const twin = preview(healthyTwin(lesson('filter-in-mid-run')), MINUTES).course;
    expect(course.slice(0, 90)).toEqual(twin.slice(0, 90));
    expect(at(course, 16).flowM3s / at(twin, 16).flowM3s).toBeCloseTo(0.75, 2);
  });
});

it('is played for one minute at least, and four hours at most', () => {
  expect(() => preview(lesson('healthy'), 0)).toThrow('minutes: 0 is outside 1 to 240');
  expect(() => preview(lesson('healthy'), 241)).toThrow(RangeError);
});
