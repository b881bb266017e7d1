/** Lessons as data: what is taken, and what is said of what is not. */
import fc from 'fast-check';
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { DECISIONS } from '../../server/class/decisions.ts';
import { checkLesson, type Lesson, readLesson } from '../../server/class/lesson.ts';
import { LESSONS, pick } from '../../server/class/lessons.ts';
import { preview } from '../../server/class/preview.ts';
import { DECISION_WORDS } from '../../server/words/decisions.ts';
import { FAULT_KINDS, FAULT_MODES, FAULT_SIZES, FROM_THE_START } from '../../simulator/faults.ts';
import { randomStream } from '../../simulator/random.ts';
import { runs } from '../long.ts';

const text = readFileSync(
  new URL('../../server/class/example-lesson.json', import.meta.url),
  'utf8',
);
const example = JSON.parse(text) as Record<string, unknown>;
const refused = (change: Record<string, unknown>): string | null => {
  const checked = checkLesson({ ...example, ...change });
  return 'refusal' in checked ? checked.refusal : null;
};

describe('a lesson', () => {
  it('is read from a file', () => {
    expect(readLesson(text)).toEqual({ lesson: example });
  });

  it.each([
    [{ type: 'visit' }, 'type: "visit" is not accepted: it is "lesson"'],
    [{ version: 2 }, 'version: 2 is not accepted: it is 1'],
    [{ id: 'Attic office' }, 'id: is not accepted: it has small letters'],
    [{ titel: 'x' }, 'titel: is not a field of a lesson: there it has type, version, id, title'],
    [{ title: undefined }, 'title: is missing'],
    [{ mode: 'drying' }, 'mode: "drying" is not accepted: it is "cooling" or "heating"'],
    [{ altitudeM: 9000 }, 'altitudeM: 9000 is too large: at most 3500 is accepted'],
    [{ setpointC: '21' }, 'setpointC: "21" is a string, not a number'],
    [
      { outdoor: { temperatureC: -3, humidityPct: 50 } },
      'outdoor.temperatureC: -3 is outside 15 to 46, the range in cooling',
    ],
    [
      { faults: [{ kind: 'dirty-wheel', size: 1.5 }] },
      'faults.0.size: 1.5 is outside 0 to 1, the sizes of "dirty-wheel"',
    ],
    [{ faults: [{ kind: 'dirty-wheel' }] }, 'faults.0.size: is missing'],
    [
      { faults: [{ kind: 'dirty-wheel', sise: 1 }] },
      'faults.0.sise: is not a field of a lesson: there it has kind, size, afterS',
    ],
    [{ faults: [{ kind: 'gremlin', size: 1 }] }, 'faults.0.kind: "gremlin" is not accepted: it is'],
    [
      { faults: [{ kind: 'frost', size: 0.5 }] },
      'faults.0.kind: "frost" is not accepted in cooling: it is of heating only',
    ],
    [
      { faults: [{ kind: 'frost', size: 0.5, afterS: 60 }] },
      'faults.0.afterS: 60 is not accepted: "frost" is there from the start or not at all',
    ],
    [
      { airflow: { source: 'none', factor: 2 } },
      'airflow.factor: 2 is not accepted beside the source "none"',
    ],
    [{ cause: [] }, 'cause: [] is too small: at least 1 is accepted'],
    [{ cause: ['gremlin'] }, 'cause.0: "gremlin" is not accepted: it is "nothing" or'],
    [{ cause: ['nothing', 'wheel'] }, 'cause: ["nothing","wheel"] is not accepted'],
  ])('is refused in a sentence: %j', (change, sentence) => {
    expect(refused(change)).toContain(sentence);
  });

  it.each([
    ['{"type":', 'The file is not JSON'],
    ['[]', 'The file does not hold a JSON object'],
    [' '.repeat(60_000), 'The file has 60000 characters: a lesson has at most 50000.'],
  ])('is one JSON object: %#', (file, sentence) => {
    const read = readLesson(file);
    expect('refusal' in read ? read.refusal : '').toContain(sentence);
  });
});

describe('the built-in lessons', () => {
  it('have names of their own, and a right answer for each decision there is', () => {
    expect(new Set(LESSONS.map(({ id }) => id)).size).toBe(LESSONS.length);
    const right = new Set(LESSONS.flatMap(({ cause }) => cause));
    expect([...right].sort()).toEqual([...DECISIONS].sort());
    expect(Object.keys(DECISION_WORDS).sort()).toEqual([...DECISIONS].sort());
  });

  it('can be written down and read again', () => {
    for (const lesson of LESSONS) expect(readLesson(JSON.stringify(lesson))).toEqual({ lesson });
  });

  it('are picked by chance, each of them', () => {
    const random = randomStream(1, 'pick');
    const picked = new Set(Array.from({ length: 400 }, () => pick(random).id));
    expect(picked.size).toBe(LESSONS.length);
    expect(pick({ uniform: () => 0.999999 }).id).toBe(LESSONS.at(-1)?.id);
  });
});

const between = (min: number, max: number) => fc.double({ min, max, noNaN: true });

/** Any lesson that the schema takes. */
const anyLesson = fc.constantFrom('cooling', 'heating').chain((mode) => {
  const kinds = FAULT_KINDS.filter((kind) => (FAULT_MODES[kind] ?? mode) === mode);
  const fault = fc.constantFrom(...kinds).chain((kind) =>
    fc.record({
      kind: fc.constant(kind),
      size: between(...FAULT_SIZES[kind]),
      afterS: FROM_THE_START.includes(kind) ? fc.constant(0) : between(0, 300),
    }),
  );
  return fc.record({
    ...{ type: fc.constant('lesson'), version: fc.constant(1), id: fc.constant('any') },
    ...{ title: fc.constant('Any'), task: fc.constant('Any'), lookFor: fc.constant('Any') },
    mode: fc.constant(mode),
    altitudeM: between(0, 3500),
    outdoor: fc.record({
      temperatureC: mode === 'cooling' ? between(15, 46) : between(-15, 20),
      humidityPct: between(5, 100),
    }),
    room: fc.record({
      temperatureC: between(10, 35),
      humidityPct: between(15, 80),
      volumeM3: between(40, 2000),
      sensibleW: between(-4000, 5000),
      moistureKgH: between(0, 5),
    }),
    setpointC: between(10, 35),
    fan: fc.constantFrom('quiet', 'low', 'medium', 'high'),
    faults: fc.array(fault, { maxLength: 4 }),
    airflow: fc.constant({ source: 'fan-table' }),
    placed: fc.boolean(),
    cause: fc.constant(['nothing']),
  });
});

it('any lesson that is taken can be played, and its truth is finite', () => {
  fc.assert(
    fc.property(anyLesson, (any) => {
      const checked = checkLesson(any);
      if ('refusal' in checked) throw new Error(checked.refusal);
      const { course, healthyW } = preview(checked.lesson satisfies Lesson, 10);
      expect(course.length).toBe(61);
      expect(healthyW).toSatisfy(Number.isFinite);
      for (const { sensibleHeatRatio, ...point } of course) {
        for (const value of Object.values(point)) expect(value).toSatisfy(Number.isFinite);
        expect(sensibleHeatRatio ?? 0).toSatisfy(Number.isFinite);
      }
    }),
    { numRuns: runs(300) },
  );
});
