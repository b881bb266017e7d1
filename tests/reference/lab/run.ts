/** Runs the real command `analyse` over a visit log, as a person would. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import type { Line } from '../../../adapters/contract.ts';
import { type Snapshot, snapshotSchema, type UnitSnapshot } from '../../../server/protocol.ts';
import { UNIT } from './convert.ts';

export const ROOT = fileURLToPath(new URL('../../..', import.meta.url));
export const LAUNCHER = join(ROOT, 'server/launch.mjs');

/**
 * Runs `analyse` and hands over each snapshot, checked against the protocol, as it is printed.
 * @returns the exit status, and what stood on standard error
 */
export async function analyse(
  lines: readonly Line[],
  everyS: number,
  take: (snapshot: Snapshot) => void,
): Promise<{ status: number | null; errors: string }> {
  const folder = await mkdtemp(join(tmpdir(), 'plateau-lab-'));
  try {
    const log = join(folder, 'visit.ndjson');
    await writeFile(log, lines.map((line) => JSON.stringify(line) + '\n').join(''));
    const child = spawn(process.execPath, [LAUNCHER, 'analyse', log, '--every', String(everyS)], {
      cwd: ROOT,
      stdio: ['ignore', 'pipe', 'pipe'],
    });
    const ended = once(child, 'close');
    let errors = '';
    child.stderr.setEncoding('utf8').on('data', (text: string) => (errors += text));
    for await (const line of createInterface({ input: child.stdout })) {
      // The command prints captures too; snapshots are what these tests look at.
      if (line.startsWith('{"type":"snapshot"')) take(snapshotSchema.parse(JSON.parse(line)));
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

/** The figures of a capacity, which must be there. */
export function figures({
  capacity,
}: UnitSnapshot): Record<'totalW' | 'sensibleW' | 'latentW', number> {
  const { totalW, sensibleW, latentW } = capacity;
  if (totalW === null || sensibleW === null || latentW === null) throw new Error('no figure');
  return { totalW, sensibleW, latentW };
}
