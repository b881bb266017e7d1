/**
 * The report of a visit of eight hours with 16 probes at 4 units, by the command as it is built, and what
 * of that is the visit worked out again (wanted: under 2 s in all).
 */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { readVisit } from '../../server/cli/report-visit.ts';
import { drawReport } from '../../server/report/draw/pdf.ts';
import { reportOf } from '../../server/report/report-of.ts';
import { readDatabase } from '../../server/store/database.ts';
import { linesOf } from '../../server/store/visit-lines.ts';
import { VisitRecord } from '../../server/store/visit-record.ts';
import { newestVisit } from '../../server/store/visits.ts';
import { aligned, spreadOf } from './harness.ts';
import { LiveStage } from './live-stage.ts';
import { build, LAUNCH } from './own-server.ts';

const HOURS = 8;

function recordVisit(dataDir: string): void {
  const clocks = { now: () => 0, monotonic: () => performance.now() };
  const record = new VisitRecord({ dataDir, id: 'visit-1', kind: 'visit', ...clocks });
  const stage = new LiveStage({ units: 4, probes: 4, hz: 1, watched: false }, record);
  for (let minute = 0; minute < HOURS * 60; minute++) {
    if (minute % 120 === 119) stage.change();
    stage.feed(stage.bodies(60));
    record.tick();
  }
  stage.end();
  record.close();
}

/** ms for reading and working out, for the content, for the drawing. */
async function parts(dataDir: string): Promise<number[]> {
  const db = readDatabase(dataDir);
  const found = db && newestVisit(db);
  if (db === null || found === null) throw new Error('nothing was recorded');
  const t0 = performance.now();
  const visit = readVisit(linesOf(db, found.key), found);
  const t1 = performance.now();
  const content = reportOf(visit, 'si');
  const t2 = performance.now();
  await drawReport(content, { paper: 'a4', madeT: 0 });
  const t3 = performance.now();
  db.close();
  return [t1 - t0, t2 - t1, t3 - t2];
}

function wholeCommand(dataDir: string): number {
  const t = performance.now();
  const out = join(dataDir, 'report.pdf');
  const { status } = spawnSync(process.execPath, [
    LAUNCH,
    'report',
    '--data',
    dataDir,
    '--out',
    out,
  ]);
  if (status !== 0) throw new Error('the command failed');
  return performance.now() - t;
}

export async function print(rounds = 7): Promise<void> {
  const dataDir = mkdtempSync(join(tmpdir(), 'plateau-bench-'));
  try {
    build();
    recordVisit(dataDir);
    const took: number[][] = [[], [], [], []];
    for (let round = 0; round < rounds; round++) {
      const all = [...(await parts(dataDir)), wholeCommand(dataDir)];
      all.forEach((ms, i) => took[i]?.push(ms));
    }
    const names = ['worked out again', 'content', 'drawn', 'the whole command'];
    const rows = [['report of 8 h, 16 series, ms', 'median', 'low', 'high']];
    names.forEach((name, i) => {
      const { median, low, high } = spreadOf(took[i] ?? []);
      rows.push([name, ...[median, low, high].map((ms) => ms.toFixed(0))]);
    });
    process.stdout.write(`${aligned(rows)}\n`);
  } finally {
    rmSync(dataDir, { recursive: true, force: true });
  }
}
