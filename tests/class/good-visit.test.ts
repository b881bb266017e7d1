/**
 * A good technician plays the lessons whose machine or measuring spot is at fault: traverse, walk along the
 * outlet, capture, push, capture again. The lesson's cause is among the first two that the verdict names.
 */
import { expect, it } from 'vitest';
import { LESSONS } from '../../server/class/lessons.ts';
import { healthySystemOf, systemOf } from '../../server/class/site.ts';
import { CAPACITY_FAULTS, type CapacityFault, FAULT_SIZES } from '../../simulator/faults.ts';
import { randomStream } from '../../simulator/random.ts';
import { causesNamed } from '../bench/fault-visits.ts';
import { LONG } from '../long.ts';

const isCapacityFault = (kind: string): kind is CapacityFault =>
  CAPACITY_FAULTS.some((each) => each === kind);
const OF_THE_MACHINE = LESSONS.filter(({ faults }) =>
  faults.some(({ kind, afterS = 0 }) => afterS === 0 && isCapacityFault(kind)),
);

function named(lesson: (typeof LESSONS)[number], seed: number): string[] | null {
  const [first] = lesson.faults;
  const fault =
    first === undefined ? null : { ...first, size: first.size ?? FAULT_SIZES[first.kind][0] };
  return causesNamed(
    {
      ...{ healthy: healthySystemOf(lesson), parameters: systemOf(lesson), fault },
      ...{ looksAtFilter: true, metered: true },
    },
    seed,
    randomStream(seed, 'good visit'),
  );
}

it.each(OF_THE_MACHINE.map((lesson) => [lesson.id, lesson] as const))('%s', (_, lesson) => {
  for (let seed = 1; seed <= (LONG ? 5 : 1); seed++) {
    const two = named(lesson, seed)?.slice(0, 2) ?? [];
    expect(two.some((code) => lesson.cause.some((cause) => cause === code))).toBe(true);
  }
});

it('names nothing where nothing is wrong', () => {
  const healthy = LESSONS.filter(({ id }) => id === 'healthy' || id === 'altitude');
  for (const lesson of healthy) expect(named(lesson, 1) ?? []).toEqual([]);
});
