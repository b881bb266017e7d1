/** What was told of openings in recorded visits. */
import * as z from 'zod';
import type { OutletLine } from '../../adapters/contract.ts';
import { outletSchema } from '../visit-log/schema.ts';
import { all, type Database } from './database.ts';

/** Visits that are looked at, the newest. */
const MOST_VISITS = 100;

export interface ToldOutlet {
  visit: string;
  title: string;
  /** When the visit began, ms. */
  t: number;
  /** The name of the line's unit. */
  unitName: string;
  line: OutletLine;
}

/**
 * The lines of openings of all visits but one, the newest visit first, each in the order in which it was
 * told. A piece of a photo is never read: there may be very many, and they are large.
 */
export function outletLines(db: Database, but: string): ToldOutlet[] {
  const find = db.prepare(
    `SELECT visit.id AS visit, visit.title, visit.begun_t AS t, line.line,
       COALESCE((SELECT name FROM visit_unit WHERE visit_unit.visit = visit.key
         AND visit_unit.unit = json_extract(line.line, '$.unit')), '') AS unitName
     FROM line JOIN (SELECT * FROM visit WHERE id <> ? AND begun_t IS NOT NULL
       ORDER BY begun_t DESC LIMIT ?) AS visit ON visit.key = line.visit
     WHERE CASE WHEN EXISTS (SELECT 1 FROM photo_piece
         WHERE photo_piece.visit = line.visit AND line_n = line.n) THEN 0
       ELSE line.line GLOB '{"type":"outlet",*' END
     ORDER BY visit.begun_t DESC, visit.key DESC, line.n`,
  );
  return all(find, toldRow, but, MOST_VISITS);
}

const toldRow = z
  .object({ visit: z.string(), title: z.string(), t: z.number() })
  .extend({ unitName: z.string(), line: z.string() })
  .transform(({ line, ...row }) => ({ ...row, line: outletSchema.parse(JSON.parse(line)) }));
