/**
 * Memory of a class: 40 trainees, each with a visit, three hours of class time at 60 times the pace. Every
 * quarter of an hour what is left once garbage is collected: the heap, and the buffers, which are the past
 * of the visits (six columns a unit, doubled when full, two days at most).
 */
import { setTimeout as pause } from 'node:timers/promises';
import { Classroom } from '../../server/class/classroom.ts';
import { LESSONS } from '../../server/class/lessons.ts';
import { every } from '../../server/cli/clocks.ts';
import { left } from './heap-left.ts';

const TRAINEES = 40;
const SPEED = 60;
const QUARTERS = 12;
const QUARTER_MS = (15 * 60_000) / SPEED;
/** After so many the windows of signals and settling are full. */
const FILLED = 3;
const CODE = '12345678';
const PERSON = { adapter: null, simulated: false };
const PLACES = [
  ['p1', { unit: 'u1', place: 'return' }],
  ['p2', { unit: 'u1', place: 'supply' }],
  ['p3', { place: 'outdoor' }],
] as const;

export async function print(): Promise<void> {
  const lesson = LESSONS.find(({ id }) => id === 'healthy');
  if (lesson === undefined) throw new Error('there is no such lesson');
  const room = new Classroom({
    ...{ now: Date.now, steady: () => performance.now(), newCode: () => CODE, every },
    ...{ isHere: () => true, left: () => undefined },
  });
  room.open(lesson, 1, false);
  for (let i = 0; i < TRAINEES; i++) {
    const joined = room.join(CODE, `Trainee ${i}`, 'here');
    const id = joined === null || joined === 'full' ? '' : joined.trainee;
    for (const [probe, at] of PLACES) {
      room.trainee(id)?.visit.line({ type: 'probe', id: probe, ...at }, PERSON);
    }
  }
  room.pace({ speed: SPEED, frozen: false });
  const heaps: number[] = [];
  console.log(`memory of a class, ${TRAINEES} trainees  heap, MB  buffers, MB`);
  for (let quarter = 1; quarter <= QUARTERS; quarter++) {
    await pause(QUARTER_MS);
    const { heap, buffers } = left();
    heaps.push(heap);
    console.log(
      `after ${String(15 * quarter).padStart(3)} min${heap.toFixed(1).padStart(33)}${buffers.toFixed(1).padStart(13)}`,
    );
  }
  room.close();
  const hours = (QUARTERS - FILLED) / 4;
  const growth = ((heaps.at(-1) ?? NaN) - (heaps[FILLED - 1] ?? NaN)) / hours;
  console.log(
    `from ${15 * FILLED} min on: ${growth.toFixed(2)} MB more an hour, of all ${TRAINEES} together`,
  );
  process.exit(0); // the simulations have timers of their own
}
