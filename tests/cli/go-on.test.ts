/** A live visit's record is on the disk within a second, whatever comes in between. */
import { afterEach, beforeEach, expect, onTestFinished, test, vi } from 'vitest';
import { z } from 'zod';
import { goOn } from '../../server/cli/go-on.ts';
import { readDatabase } from '../../server/store/database.ts';
import { reading, stage, T0 } from '../store/stage.ts';

/** No more than this is lost in a power cut (server/store/README.md), ms. */
const MOST_LOST_MS = 1000;
const STEP_MS = 250;
const row = z.object({ t: z.number() });

beforeEach(() => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout', 'setInterval', 'clearInterval'] });
});
afterEach(() => {
  vi.useRealTimers();
});

test('while readings come, all that is older than a second has been synced', () => {
  const { open, pass, dataDir } = stage();
  const record = open();
  const ticks: number[] = [];
  let nowMs = 0;
  const visit = { untilSecond: () => 1000 - (nowMs % 1000), tick: () => void ticks.push(nowMs) };
  const end = goOn(visit, () => record.tick());
  onTestFinished(() => {
    end();
    record.close();
  });
  record.add({ type: 'unit', id: 'u1', name: 'Study' });
  const ages: number[] = [];
  for (let i = 1; i <= 40; i++) {
    nowMs += STEP_MS;
    pass(STEP_MS);
    vi.advanceTimersByTime(STEP_MS);
    record.add(reading(i));
    // In the system's hands at once; on the disk only with a sync, which notes its time.
    expect(record.write()).toBe(true);
    const db = readDatabase(dataDir);
    const { t } = row.parse(db?.prepare('SELECT written_t AS t FROM visit').get());
    db?.close();
    ages.push(T0 + nowMs - t);
  }
  expect(Math.max(...ages)).toBeLessThanOrEqual(MOST_LOST_MS);
  // It is not synced with each reading either: that would wear the disk, and take the time of the rest.
  expect(ages.filter((age) => age === 0).length).toBeLessThanOrEqual(11);
  expect(ticks.length).toBeGreaterThanOrEqual(9);
});
