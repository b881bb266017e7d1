/** Runs the real command `analyse` over a visit log, as a person would. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Line } from '../../../adapters/contract.ts';
import {
  captureSchema,
  type Snapshot,
  snapshotSchema,
  type UnitSnapshot,
} from '../../../server/protocol.ts';
import { UNIT } from './convert.ts';

export const ROOT = fileURLToPath(new URL('../../..', import.meta.url));
export const LAUNCHER = join(ROOT, 'server/launch.mjs');

/**
 * Runs `analyse`, checks each line that it prints against the protocol, and hands over the snapshots.
 * @returns the exit status, and what stood on standard error
 */
export async function analyse(
  log: readonly Line[],
  everyS: number,
  take: (snapshot: Snapshot) => void,
): Promise<{ status: number | null; errors: string }> {
  const folder = await mkdtemp(join(tmpdir(), 'plateau-lab-'));
  try {
    const file = join(folder, 'visit.ndjson');
    await writeFile(file, log.map((line) => JSON.stringify(line) + '\n').join(''));
    const child = spawn(process.execPath, [LAUNCHER, 'analyse', file, '--every', String(everyS)], {
      cwd: ROOT,
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    const ended = once(child, 'close');
    let errors = '';
    child.stderr.setEncoding('utf8').on('data', (text: string) => (errors += text));
    let rest = '';
    // By the chunk: a promise a line would cost more than all else here.
    for await (const chunk of child.stdout.setEncoding('utf8')) {
      const lines = (rest + String(chunk)).split('\n');
      rest = lines.pop() ?? '';
      for (const line of lines) {
        const value: unknown = JSON.parse(line);
        if (line.startsWith('{"type":"snapshot"')) take(snapshotSchema.parse(value));
        else captureSchema.parse(value);
      }
    }
    await ended;
    return { status: child.exitCode, errors };
  } finally {
    await rm(folder, { recursive: true });
  }
}

/** The one unit of a laboratory's day. */
export function labUnit(snapshot: Snapshot): UnitSnapshot {
  const unit = snapshot.units[UNIT];
  if (unit === undefined) throw new Error(`no unit ${UNIT} at ${snapshot.t}`);
  return unit;
}

/** The figures of a capacity, which must be there; in heating there is no latent part: NaN. */
export function figures({
  capacity,
  mode,
}: UnitSnapshot): Record<'totalW' | 'sensibleW' | 'latentW', number> {
  const { totalW, sensibleW, latentW } = capacity;
  if (totalW === null || sensibleW === null || (latentW === null) !== (mode === 'heating')) {
    throw new Error('no figure');
  }
  return { totalW, sensibleW, latentW: latentW ?? NaN };
}
