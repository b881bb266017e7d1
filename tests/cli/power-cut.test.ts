/**
 * The power fails: of every file only what was synced is left. What has been acknowledged is there,
 * but for readings of the last second.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, beforeAll, expect, test } from 'vitest';
import { plateau, ROOT, type RunningServer, startServer, tempFolder } from '../program.ts';

const CUTS = 4;

const folder = tempFolder();
const library = join(folder.path, 'power-cut.so');
const source = join(ROOT, 'tests/store/power-cut.c');
const compiled =
  process.platform === 'linux' &&
  spawnSync('cc', ['-shared', '-fPIC', '-o', library, source, '-ldl']).status === 0;
if (!compiled) console.warn('No C compiler: the test of a power cut is left out.');

let server: RunningServer | null = null;
beforeAll(() => plateau(['build']), 60_000);
afterEach(async () => {
  await server?.end('SIGKILL');
  folder.remove();
});

test.runIf(compiled)(
  `${CUTS} power cuts: every event is there, every reading older than a second`,
  async () => {
    let dataDir = join(folder.path, 'first');
    const notes = new Set<string>();
    const readings = new Map<string, number>();
    let lost = 0;
    for (let cut = 0; cut < CUTS; cut++) {
      const disk = join(folder.path, `disk-${cut}`);
      mkdirSync(disk);
      const env = { LD_PRELOAD: library, POWER_CUT_DISK: disk };
      server = await startServer('start', ['--port', '0', '--data', dataDir], env);
      const { url } = server;
      const end = Date.now() + 1500 + cut * 370;
      while (Date.now() < end) {
        const t = Date.now();
        const line = JSON.stringify({
          type: 'reading',
          t,
          probe: 'p1',
          temperatureC: 20 + (t % 997) / 100,
        });
        const headers = { 'content-type': 'application/x-ndjson' };
        await fetch(`${url}/api/readings`, { method: 'POST', headers, body: line });
        readings.set(line, t);
        if (readings.size % 10 !== 0) continue;
        const text = `note ${t}`;
        const told = await fetch(`${url}/api/events`, {
          method: 'POST',
          headers: { 'content-type': 'application/json' },
          body: JSON.stringify({ kind: 'note', text }),
        });
        if (told.ok) notes.add(text);
      }
      const cutT = Date.now();
      await server.end('SIGKILL');
      dataDir = disk; // what the disk holds when the power is back
      const { out, err } = await plateau(['export', '--data', dataDir]);
      expect(err).toBe('');
      for (const note of notes) expect(out).toContain(note);
      for (const [line, t] of readings) {
        if (out.includes(line)) continue;
        readings.delete(line);
        lost++;
        expect(cutT - t).toBeLessThan(1500); // a second, and what the machine is late
      }
    }
    expect(notes.size).toBeGreaterThan(CUTS);
    expect(readings.size).toBeGreaterThan(100);
    // The test would see it: readings of the last moments are lost.
    expect(lost).toBeGreaterThan(0);
  },
  60_000,
);
