/**
 * A photo as lines of a visit log: pieces of base64 that follow one another, each with the photo's id (the
 * beginning of the SHA-256 of its bytes), because a line is at most `MAX_LINE` characters long.
 */
import type { PhotoLine } from '../../adapters/contract.ts';

/** Bytes of a piece: a multiple of three, so that pieces of base64 can be read one by one. */
const PIECE_BYTES = 9000;
/** Characters of one. */
export const PIECE_CHARS = (PIECE_BYTES / 3) * 4;
export const MOST_PIECES = 28;
/** Of one photo. */
export const MOST_PHOTO_BYTES = PIECE_BYTES * MOST_PIECES;

/** The lines of a photo. @param id see `photoId` */
export function piecesOf(id: string, photo: Uint8Array): PhotoLine[] {
  const bytes = Buffer.from(photo.buffer, photo.byteOffset, photo.byteLength);
  const of = Math.ceil(bytes.length / PIECE_BYTES);
  return Array.from({ length: of }, (_, part) => ({
    ...{ type: 'photo', id, part, of },
    data: bytes.toString('base64', part * PIECE_BYTES, (part + 1) * PIECE_BYTES),
  }));
}

/** Puts photos together again, one after another: never more than one is held. */
export class Pieces {
  #id = '';
  #of = 0;
  #data: Buffer[] = [];

  /** @returns the photo where this was its last piece; null where it goes on, or pieces are missing */
  take({ id, part, of, data }: PhotoLine): Uint8Array | null {
    if (part === 0) {
      this.#id = id;
      this.#of = of;
      this.#data = [];
    }
    if (id !== this.#id || of !== this.#of || part !== this.#data.length) {
      this.#id = '';
      this.#data = [];
      return null;
    }
    this.#data.push(Buffer.from(data, 'base64'));
    if (this.#data.length < of) return null;
    const photo = Buffer.concat(this.#data);
    this.#id = '';
    this.#data = [];
    return photo;
  }
}
