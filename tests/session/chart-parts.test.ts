/** The rows of the chart that a visit has recorded, part by part. */
import { expect, test } from 'vitest';
import type { HistoryPart } from '../../server/history.ts';
import { LiveVisit } from '../../server/visit.ts';
import { setUp, T0 } from './visit.ts';

const SOURCE = { adapter: 'test', simulated: false };

/** What is recorded of readings that are so far apart. */
function partsOf(readings: number, everyMs: number): { parts: HistoryPart[]; shown: number[] } {
  const visit = new LiveVisit(() => T0);
  const parts: HistoryPart[] = [];
  const shown: number[] = [];
  visit.recordTo({ add: () => undefined, chart: (part) => parts.push(part) });
  visit.watch((frame) => {
    if (frame.type === 'snapshot') shown.push(frame.t);
  });
  for (const line of setUp()) visit.line(line, SOURCE);
  for (let i = 0; i < readings; i++) {
    const t = T0 + i * everyMs;
    visit.line({ type: 'reading', t, probe: 'r', temperatureC: 20 + (i % 5) }, SOURCE);
  }
  visit.finish();
  return { parts, shown };
}

test.each([
  ['a probe that reads each second', 2000, 1000],
  ['a logger that reads every half hour', 100, 1_800_000],
])('of %s: each row once, some hundred a part', (_, readings, everyMs) => {
  const { parts, shown } = partsOf(readings, everyMs);
  expect(parts.flatMap(({ t }) => [...t])).toEqual(shown);
  for (const { t } of parts.slice(0, -1)) expect(t.length).toBe(600);
});
