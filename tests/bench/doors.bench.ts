/**
 * How long everybody else waits while one request does its worst: what `GET /api/health` takes meanwhile
 * (wanted: 99 in 100 answers within 100 ms), and what the request costs.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { quantile, watchHealth } from './health-watch.ts';
import { hostileBodies } from './hostile.ts';
import { build, startOn } from './own-server.ts';

/** A unit with a probe at each place, as the readings every half hour name them. */
const SET_UP: [string, object][] = [
  [
    '/api/units/u1',
    { airflow: { source: 'entered', flowM3s: 0.2, basis: 'actual', plane: 'supply' } },
  ],
  ['/api/probes/ra', { unit: 'u1', place: 'return' }],
  ['/api/probes/sa', { unit: 'u1', place: 'supply' }],
];

async function withServer(work: (url: string) => Promise<void>): Promise<void> {
  const data = mkdtempSync(join(tmpdir(), 'plateau-bench-'));
  const server = await startOn(data);
  await work(server.url);
  await server.end();
  rmSync(data, { recursive: true, force: true });
}

export async function print(): Promise<void> {
  build();
  process.stdout.write('health while one request does its worst: p50, p99, longest, ms\n');
  for (const { name, type, body } of hostileBodies(Date.now())) {
    await withServer(async (url) => {
      for (const [path, put] of SET_UP) {
        const headers = { 'content-type': 'application/json' };
        await fetch(url + path, { method: 'PUT', headers, body: JSON.stringify(put) });
      }
      const watch = await watchHealth(url);
      const begun = performance.now();
      const headers = { 'content-type': type };
      const answer = await fetch(`${url}/api/readings`, { method: 'POST', headers, body });
      await answer.text();
      const tookS = (performance.now() - begun) / 1000;
      const took = await watch.end();
      const [p50, p99, most] = [0.5, 0.99, 1].map((part) => quantile(took, part).toFixed(0));
      process.stdout.write(
        `  ${name.padEnd(40)} ${p50?.padStart(5)} ${p99?.padStart(5)} ${most?.padStart(5)}` +
          `   of ${took.length}; the request: ${answer.status}, ${tookS.toFixed(1)} s\n`,
      );
    });
  }
}
