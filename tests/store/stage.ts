/** A record in a folder of its own, for tests of the store. */
import { join } from 'node:path';
import { onTestFinished } from 'vitest';
import type { Line, Reading } from '../../adapters/contract.ts';
import { readDatabase } from '../../server/store/database.ts';
import { linesOf } from '../../server/store/visit-lines.ts';
import { VisitRecord } from '../../server/store/visit-record.ts';
import { allVisits } from '../../server/store/visits.ts';
import { tempFolder } from '../program.ts';

export const T0 = 1_777_885_200_000;

export interface Stage {
  folder: string;
  dataDir: string;
  /** Sets the clock that nobody sets, ms. */
  pass: (ms: number) => void;
  /** Another record of the folder. */
  open: (id?: string) => VisitRecord;
  /** What the database holds of a visit (default: the first). */
  lines: (id?: string) => Line[];
}

export function stage(): Stage {
  const temp = tempFolder();
  onTestFinished(() => temp.remove());
  const dataDir = join(temp.path, 'new', 'data');
  let passed = 0;
  return {
    folder: temp.path,
    dataDir,
    pass: (ms) => (passed += ms),
    open: (id = 'visit-1') =>
      new VisitRecord({
        ...{ dataDir, id, kind: 'visit' },
        ...{ now: () => T0 + passed, monotonic: () => passed },
      }),
    lines: (id) => {
      const db = readDatabase(dataDir);
      if (db === null) return [];
      const visit = allVisits(db).find((each) => id === undefined || each.id === id);
      const lines = visit === undefined ? [] : [...linesOf(db, visit.key)];
      db.close();
      return lines;
    },
  };
}

/** The `i`th reading of a visit, of four probes. */
export function reading(i: number): Reading {
  const probe = `p${i % 4}`;
  return {
    type: 'reading',
    t: T0 + i * 250,
    probe,
    temperatureC: 20 + (i % 50) / 10,
    humidityPct: 50,
  };
}
