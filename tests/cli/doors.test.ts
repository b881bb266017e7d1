/** The real server while a request does its worst; how fast is measured by `npm run bench -- doors`. */
import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { quantile, watchHealth } from '../bench/health-watch.ts';
import { hostileBodies } from '../bench/hostile.ts';
import { built, type RunningServer, startServer, tempFolder } from '../program.ts';

const folder = tempFolder();
let server: RunningServer | null = null;
beforeAll(() => built(), 60_000);
afterEach(async () => {
  await server?.end('SIGKILL');
  folder.remove();
});

/** Promised are 100 ms; a machine that does other things at the same time is given more. */
const SOON_MS = 1000;
/** The others are in the benchmark. */
const WORST = ['newlines', '1, a line each', 'a list in a list in a list', 'every half hour'];

test('health is answered during any request, one after another; files are their owner’s', async () => {
  server = await startServer('start', ['--port', '0', '--data', folder.path]);
  const { url } = server;
  const bodies = hostileBodies(Date.now()).filter(({ name }) => WORST.includes(name));
  expect(bodies).toHaveLength(WORST.length);
  for (const { name, type, body } of bodies) {
    // That of half hours takes a while: enough of it.
    const limit = AbortSignal.timeout(5000);
    const watch = await watchHealth(url);
    const headers = { 'content-type': type };
    const answer = fetch(`${url}/api/readings`, { method: 'POST', headers, body, signal: limit });
    const status = await answer.then(
      async (response) => {
        await response.text();
        return response.status;
      },
      () => 'still at it',
    );
    const took = await watch.end();
    expect([200, 400, 'still at it'], name).toContain(status);
    expect(took.length, name).toBeGreaterThan(0);
    expect(quantile(took, 0.99), name).toBeLessThan(SOON_MS);
  }
  if (process.platform === 'win32') return;
  for (const file of readdirSync(folder.path)) {
    expect(statSync(join(folder.path, file)).mode & 0o077, file).toBe(0);
  }
}, 120_000);
