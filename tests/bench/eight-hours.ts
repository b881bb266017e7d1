/** The visit log of the benchmarks: eight hours, eight probes, one reading a second of each. */
import { createWriteStream, mkdirSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { finished } from 'node:stream/promises';
import type { Line } from '../../adapters/contract.ts';
import { randomStream } from '../../simulator/random.ts';

const SECONDS = 8 * 3600;
const T0 = 1_777_885_200_000;

/** Writes it and returns its path. The same bytes each time. */
export async function writeEightHours(): Promise<string> {
  const folder = join(tmpdir(), 'plateau-bench');
  mkdirSync(folder, { recursive: true });
  const path = join(folder, 'eight-hours.ndjson');
  const file = createWriteStream(path);
  const write = (line: Line): void => void file.write(`${JSON.stringify(line)}\n`);
  const limits = { temperatureC: 0.5, humidityPct: 2.5 };
  write({ type: 'visit', version: 1, pressurePa: 98_300, mode: 'cooling', simulated: true });
  for (const id of ['u1', 'u2']) {
    const airflow = { source: 'entered', flowM3s: 0.151, limitPct: 6 } as const;
    write({ type: 'unit', id, airflow: { ...airflow, basis: 'actual', plane: 'supply' } });
  }
  for (let p = 0; p < 8; p++) {
    const place = p % 2 === 0 ? 'return' : 'supply';
    write({ type: 'probe', id: `p${p}`, unit: p < 4 ? 'u1' : 'u2', place, limits });
  }
  const random = randomStream(1, 'eight hours');
  for (let s = 0; s < SECONDS; s++) {
    const settled = 1 - Math.exp(-s / 200);
    for (let p = 0; p < 8; p++) {
      const share = p % 2 === 0 ? 0 : settled;
      write({
        type: 'reading',
        t: T0 + s * 1000 + p * 100 + Math.floor(random.uniform() * 50),
        probe: `p${p}`,
        temperatureC: Number((26.6 - 12 * share + (random.uniform() - 0.5) * 0.1).toFixed(2)),
        humidityPct: Number((48 + 40 * share + random.uniform() - 0.5).toFixed(1)),
      });
    }
    if (file.writableNeedDrain)
      await new Promise<void>((resolve) => void file.once('drain', () => resolve()));
  }
  file.end();
  await finished(file);
  return path;
}
