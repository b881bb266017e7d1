/** A class on the simulated adapter: a pace that is not the clock's, own probes in the same air, late joiners. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { AdapterHost, Line, Reading } from '../../adapters/contract.ts';
import {
  createSimulatedAdapter,
  type SimulatedAdapter,
  type SimulatedOptions,
} from '../../adapters/simulated/index.ts';
import { type Lesson } from '../../server/class/lesson.ts';
import { LESSONS } from '../../server/class/lessons.ts';
import { airflowOf, changesOf, healthySystemOf, systemOf, UNIT } from '../../server/class/site.ts';
import { checkLine } from '../../server/visit-log/schema.ts';

const T0 = 1_777_885_200_000;
const lesson = (id: string): Lesson => {
  const found = LESSONS.find((each) => each.id === id);
  if (found === undefined) throw new Error(`there is no lesson ${id}`);
  return found;
};

interface Trainee {
  adapter: SimulatedAdapter;
  lines: Line[];
}
let classT = T0;
const trainees: Trainee[] = [];

function join(of: Lesson, probeSeed: number, more: SimulatedOptions = {}): Trainee {
  const adapter = createSimulatedAdapter({
    ...{ parameters: systemOf(of), changes: changesOf(of), seed: 7, probeSeed },
    ...{ startT: T0, pace: () => classT, placed: of.placed, airflow: airflowOf(of), ...more },
  });
  const lines: Line[] = [];
  const host: AdapterHost = {
    emit: (line) => {
      lines.push(line);
      return null;
    },
    link: () => undefined,
    status: () => undefined,
    signal: new AbortController().signal,
  };
  void adapter.start(host);
  trainees.push({ adapter, lines });
  return { adapter, lines };
}

/** The class goes on to so many seconds after its beginning. */
function goTo(s: number): void {
  classT = T0 + 1000 * s;
  vi.advanceTimersByTime(250);
}
const readings = (lines: readonly Line[]): Reading[] =>
  lines.filter((line) => line.type === 'reading');
const meanOf = (trainee: Trainee, fromS: number, toS: number) =>
  trainee.adapter.truth(UNIT, T0 + 1000 * fromS, T0 + 1000 * toS);

beforeEach(() => {
  vi.useFakeTimers();
  classT = T0;
});
afterEach(() => {
  for (const { adapter } of trainees.splice(0)) void adapter.stop();
  vi.useRealTimers();
});

describe('a class', () => {
  it('stands still and runs as its pace says, whatever the clock does', () => {
    const { lines } = join(lesson('healthy'), 1);
    vi.advanceTimersByTime(60_000);
    expect(readings(lines)).toEqual([]);
    goTo(600);
    expect(readings(lines).at(-1)?.t).toBeGreaterThan(T0 + 598_000);
    const heard = lines.length;
    vi.advanceTimersByTime(60_000);
    expect(lines.length).toBe(heard);
    for (const line of lines) expect(checkLine(line)).toMatchObject({ line: { type: line.type } });
  });

  it('breathes the same air with probes of its own', () => {
    const [one, two] = [join(lesson('dirty-wheel'), 1), join(lesson('dirty-wheel'), 2)];
    for (let s = 10; s <= 600; s += 10) goTo(s);
    expect(meanOf(one, 300, 600)).toEqual(meanOf(two, 300, 600));
    expect(meanOf(one, 300, 600)?.seconds).toBe(300);
    const supply = ({ lines }: Trainee): number[] =>
      readings(lines).flatMap(({ probe, temperatureC }) =>
        probe === 'p2' ? [temperatureC ?? NaN] : [],
      );
    const mean = (of: number[]): number => of.reduce((sum, x) => sum + x, 0) / of.length;
    expect(Math.abs(mean(supply(one)) - mean(supply(two)))).toBeGreaterThan(0.02);
  });

  it('is joined late without what is past, in the same air', () => {
    const early = join(lesson('filter-in-mid-run'), 1);
    for (let s = 10; s <= 1200; s += 10) goTo(s);
    const late = join(lesson('filter-in-mid-run'), 2);
    expect(readings(late.lines)).toEqual([]);
    const told = late.lines.find((line) => line.type === 'event');
    expect(told?.t).toBe(T0 + 1_200_000);
    goTo(1260);
    expect(readings(late.lines)[0]?.t).toBeGreaterThanOrEqual(T0 + 1_200_000);
    expect(meanOf(late, 0, 1260)).toEqual(meanOf(early, 0, 1260));
    expect(meanOf(late, 1000, 1200)?.flowM3s).toBeLessThan(
      0.8 * (meanOf(late, 700, 900)?.flowM3s ?? NaN),
    );
  });

  it('is given a fault by its instructor, all at the same time, and by a restart too', () => {
    const all = [1, 2].map((seed) => join(lesson('healthy'), seed));
    goTo(300);
    const { units, ...site } = healthySystemOf(lesson('healthy'));
    const dirty = {
      ...site,
      units: units.map((unit) => ({ ...unit, head: { ...unit.head, fouling: 1 } })),
    };
    for (const { adapter } of all) adapter.become(dirty, T0 + 310_000);
    for (let s = 301; s <= 900; s += 1) goTo(s);
    const [one, two] = all.map((each) => meanOf(each, 0, 900));
    expect(one).toEqual(two);
    const [first] = all;
    if (first === undefined) throw new Error('nobody joined');
    const flow = (fromS: number, toS: number): number => meanOf(first, fromS, toS)?.flowM3s ?? NaN;
    expect(flow(400, 900) / flow(200, 310)).toBeLessThan(0.7);
    const before = meanOf(first, 0, 900);
    void first.adapter.stop();
    expect(meanOf(first, 0, 900)).toBeNull();
    void first.adapter.start({
      ...{ emit: () => null, link: () => undefined, status: () => undefined },
      signal: new AbortController().signal,
    });
    expect(meanOf(first, 0, 900)).toEqual(before);
  });

  it('places its probes where the lesson says that they hang, or leaves it to the trainee', () => {
    const places = ({ lines }: Trainee) =>
      lines.flatMap((line) => (line.type === 'probe' ? [`${line.name} ${line.place}`] : []));
    expect(places(join(lesson('swapped-probes'), 1))).toContain('Return return');
    expect(places(join(lesson('healthy'), 1))).toContain('Return undefined');
  });
});

describe('the airflow of a class', () => {
  const airflows = ({ lines }: Trainee) =>
    lines.flatMap((line) => (line.type === 'unit' && line.airflow ? [line.airflow] : []));
  const tables = ({ lines }: Trainee) =>
    lines.flatMap((line) => (line.type === 'unit' && line.fanTable ? [line.fanTable] : []));

  it('is the printed table, typed in for another unit, or nothing', () => {
    const table = join(lesson('altitude'), 1);
    expect(airflows(table)).toEqual([]);
    expect(tables(table)).toMatchObject([{ basis: 'standard', plane: 'supply' }]);
    expect(tables(table)[0]?.speeds.at(-1)?.wetM3s).toBeCloseTo(0.171, 2);
    const typed = join(lesson('wrong-airflow'), 1);
    expect(airflows(typed)).toMatchObject([{ source: 'entered' }]);
    expect((airflows(typed)[0]?.flowM3s ?? NaN) / 0.171).toBeCloseTo(1.4, 1);
    const none = join(lesson('healthy'), 1, { airflow: { source: 'none' } });
    expect([...airflows(none), ...tables(none)]).toEqual([]);
  });

  it('is told again by nobody when the fan speed is changed, and the fan obeys', () => {
    const typed = join(lesson('wrong-airflow'), 1);
    goTo(60);
    typed.adapter.event?.({ type: 'event', t: classT, kind: 'fan', unit: UNIT, speed: 'quiet' });
    goTo(120);
    expect(typed.lines.filter((line) => line.type === 'airflow')).toEqual([]);
    expect(meanOf(typed, 100, 120)?.flowM3s).toBeLessThan(0.1);
  });
});
