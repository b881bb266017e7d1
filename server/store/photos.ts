/** The photos of the record: put together again from their lines, and checked by their ids. */
import { createHash } from 'node:crypto';
import * as z from 'zod';
import type { Line } from '../../adapters/contract.ts';
import { MOST_PIECES, Pieces } from '../visit-log/photo-pieces.ts';
import { checkLine } from '../visit-log/schema.ts';
import { all, type Database } from './database.ts';

/** The id of a photo: the beginning of the SHA-256 of its bytes, so that nothing can take its place. */
export const photoId = (photo: Uint8Array): string =>
  createHash('sha256').update(photo).digest('hex').slice(0, 32);

/** How a JPEG begins: the marker of its start, and of what comes next (ITU-T T.81, B.1.1.3). */
const isJpeg = (photo: Uint8Array): boolean =>
  photo[0] === 0xff && photo[1] === 0xd8 && photo[2] === 0xff;

const isWell = (id: string, photo: Uint8Array): boolean => photoId(photo) === id && isJpeg(photo);

/** Looks at photos as their lines come from outside. */
export class PhotoCheck {
  readonly #pieces = new Pieces();

  /** @returns why a line is not taken, naming the field: the last one of a photo that is not what it says */
  take(line: Line): string | null {
    if (line.type !== 'photo') return null;
    const photo = this.#pieces.take(line);
    if (photo === null || isWell(line.id, photo)) return null;
    return (
      `data: the photo "${line.id}" is no JPEG, or was changed: its SHA-256 is another; ` +
      'it is left out'
    );
  }
}

const lineRow = z.object({ line: z.string() });

/**
 * A photo of any visit.
 * @returns null where there is none, `damaged` where pieces of it are missing or were changed
 */
export function readPhoto(db: Database, id: string): Uint8Array | 'damaged' | null {
  // One that was broken off, and came again, stands behind its first pieces.
  const last = db.prepare(
    `SELECT line.line FROM photo_piece JOIN line
       ON line.visit = photo_piece.visit AND line.n = photo_piece.line_n
     WHERE photo_piece.id = ? ORDER BY line.visit DESC, line.n DESC LIMIT ${2 * MOST_PIECES}`,
  );
  const lines = all(last, lineRow, id).reverse();
  if (lines.length === 0) return null;
  const taken = lines.flatMap(({ line }) => {
    const checked = checkLine(JSON.parse(line));
    return 'refusal' in checked ? [] : [checked.line];
  });
  return photoOf(taken, id);
}

/** A photo put together again from the lines of its visit. */
export function photoOf(lines: Iterable<Line>, id: string): Uint8Array | 'damaged' {
  const pieces = new Pieces();
  let found: Uint8Array | null = null;
  for (const line of lines) {
    if (line.type !== 'photo') continue;
    const photo = pieces.take(line);
    if (photo !== null && isWell(id, photo)) found = photo;
  }
  return found ?? 'damaged';
}

/** The photos of captures that cannot be shown, by their ids. @param lines of one visit */
export function photosAmiss(lines: Iterable<Line>): string[] {
  const pieces = new Pieces();
  const well = new Set<string>();
  const amiss = new Set<string>();
  for (const line of lines) {
    if (line.type === 'photo') {
      const photo = pieces.take(line);
      if (photo === null) continue;
      if (isWell(line.id, photo)) well.add(line.id);
      else amiss.add(line.id);
    } else if (line.type === 'event' && line.kind === 'remark') {
      if (line.photo !== undefined && !well.has(line.photo)) amiss.add(line.photo);
    }
  }
  return [...amiss];
}
