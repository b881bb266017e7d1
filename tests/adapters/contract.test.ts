/** Every adapter against the one suite: Plateau's own, and the example of adapters/README.md. */
import { mkdtemp, readFile, rename, rm, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, expect, it, vi } from 'vitest';
import { createBleAdapter } from '../../adapters/ble/index.ts';
import type { Line } from '../../adapters/contract.ts';
import { createPushAdapter } from '../../adapters/push/index.ts';
import { createReplayAdapter } from '../../adapters/replay/index.ts';
import { createSimulatedAdapter } from '../../adapters/simulated/index.ts';
import { loadPlugIn } from '../../server/sources/load-plug-in.ts';
import { Account } from '../../server/sources/scope.ts';
import { testAdapter } from './conformance.ts';
import { recordingHost } from './recording-host.ts';

testAdapter({
  name: 'push',
  make: createPushAdapter,
  drive: (adapter) =>
    void adapter.push([{ type: 'reading', t: Date.now(), probe: 'a', temperatureC: 21.5 }]),
});

/** A recording of a minute at 20 Hz. */
async function* recording(): AsyncGenerator<Line> {
  yield { type: 'visit', version: 1, title: 'Cooper Yard, loft', mode: 'cooling' };
  yield { type: 'unit', id: 'u1', name: 'Loft' };
  yield { type: 'probe', id: 'p1', unit: 'u1', place: 'return' };
  for (let i = 0; i < 1200; i += 1) {
    const t = 1_777_885_200_000 + 50 * i;
    yield await Promise.resolve({ type: 'reading', t, probe: 'p1', temperatureC: 26 - i / 200 });
  }
}
testAdapter({ name: 'replay', make: () => createReplayAdapter({ open: recording, speed: 10 }) });

testAdapter({ name: 'simulated', make: () => createSimulatedAdapter({ everyMs: 20 }) });

const radioFile = fileURLToPath(new URL('ble-radio-child.mjs', import.meta.url));
testAdapter({ name: 'ble', make: () => createBleAdapter({ radioFile }) });

const folder = await mkdtemp(join(tmpdir(), 'plateau-adapter-'));
afterAll(() => rm(folder, { recursive: true }));
const readme = await readFile(new URL('../../adapters/README.md', import.meta.url), 'utf8');
const example = /```js\n([^]*?)```/.exec(readme)?.[1] ?? '';
const figures = join(folder, 'figures.txt');
await writeFile(join(folder, 'figures.mjs'), example);
await writeFile(figures, '21.4 48.0');
let written = 0;
let writtenT = Date.now();
/** Whole at once and later than the last, however fast they follow each other: each is a reading. */
async function writeFigures(): Promise<void> {
  written += 1;
  writtenT = Math.max(writtenT + 1, Date.now());
  await writeFile(`${figures}.new`, `${21 + (written % 5)} 48.0`);
  await utimes(`${figures}.new`, writtenT / 1000, writtenT / 1000);
  await rename(`${figures}.new`, figures);
}
const makeExample = () =>
  loadPlugIn(
    { source: './figures.mjs', options: { file: figures, everyMs: '10' } },
    folder,
    new Account(),
  );
testAdapter({
  name: 'the example of adapters/README.md',
  make: makeExample,
  drive: writeFigures,
});

it('the example of adapters/README.md waits for the rest of what is being written', async () => {
  const [adapter, host] = [await makeExample(), recordingHost()];
  await writeFile(figures, '');
  await utimes(figures, writtenT / 1000, writtenT / 1000);
  await adapter.start(host);
  expect(host.readings()).toEqual([]);
  // The rest may come so soon that the file's time is the same.
  await writeFile(figures, '21.4 48.0');
  await utimes(figures, writtenT / 1000, writtenT / 1000);
  await vi.waitFor(() => expect(host.readings().length).toBeGreaterThan(0), { timeout: 10_000 });
  host.abort();
  await adapter.stop();
  for (const reading of host.readings()) {
    expect(reading).toMatchObject({ temperatureC: 21.4, humidityPct: 48 });
  }
});
