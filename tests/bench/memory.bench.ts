/**
 * Memory over a day: the live visit with 40 probes on 10 units through 24 hours of the visit's time,
 * with a new setpoint every two hours, recorded all along. After each hour what is left once garbage is collected: the
 * heap, and the buffers, which are the history (six columns a unit, doubled when full, two days at
 * most).
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { spreadOf } from './harness.ts';
import { left } from './heap-left.ts';
import { VisitRecord } from '../../server/store/visit-record.ts';
import { LiveStage } from './live-stage.ts';

const HOURS = 24;
/** The first hours fill what is bounded: events, captures, what the compiler keeps. */
const FILLED_H = 4;

export function print(): void {
  const dataDir = mkdtempSync(join(tmpdir(), 'plateau-bench-'));
  const clocks = { now: Date.now, monotonic: () => performance.now() };
  const record = new VisitRecord({ dataDir, id: 'visit-1', kind: 'visit', ...clocks });
  try {
    day(record);
  } finally {
    record.close();
    rmSync(dataDir, { recursive: true });
  }
}

function day(record: VisitRecord): void {
  const stage = new LiveStage({ units: 10, probes: 4, hz: 1, watched: true }, record);
  const heaps: number[] = [];
  console.log('memory, 10 units, 40 probes × 1 Hz  heap, MB  buffers, MB');
  for (let hour = 1; hour <= HOURS; hour++) {
    if (hour % 2 === 0) stage.change();
    for (let minute = 0; minute < 60; minute++) {
      stage.feed(stage.bodies(60));
      record.tick();
    }
    const { heap, buffers } = left();
    heaps.push(heap);
    console.log(
      `after ${String(hour).padStart(2)} h${heap.toFixed(2).padStart(34)}${buffers.toFixed(1).padStart(13)}`,
    );
  }
  const { low, high } = spreadOf(heaps.slice(FILLED_H));
  const growth = ((heaps.at(-1) ?? NaN) - (heaps[FILLED_H - 1] ?? NaN)) / (HOURS - FILLED_H);
  console.log(
    `from ${FILLED_H} h on: heap ${low.toFixed(2)} – ${high.toFixed(2)} MB, ` +
      `${(1000 * growth).toFixed(0)} kB more an hour`,
  );
}
