/** The photos of a visit: which are there as a whole, and how large they are. Their bytes are in the record. */
import type { PhotoLine } from '../../adapters/contract.ts';
import type { CapturePhoto } from '../protocol.ts';
import { sent } from '../words/sent.ts';

/** Of a visit, those included that were taken off their capture: they stay in the record. */
export const MOST_PHOTOS = 60;

interface Known {
  pieces: number;
  of: number;
  bytes: number;
}

export class Photos {
  readonly #known = new Map<string, Known>();

  /** Takes a piece: they come in their order. @returns why it was refused, naming the field, or null */
  take({ id, part, of, data }: PhotoLine): string | null {
    const known = this.#known.get(id);
    if (known === undefined && this.isFull) return FULL;
    if (known !== undefined && known.pieces === known.of) {
      return sent`id: the photo "${id}" is there already`;
    }
    // Of one that was broken off the pieces come again.
    const before = part === 0 ? { pieces: 0, of, bytes: 0 } : known;
    if (before === undefined || before.pieces !== part || before.of !== of) {
      return sent`part: ${part} of ${of} does not follow: the pieces of a photo come one after another, from 0 on`;
    }
    const padding = data.endsWith('==') ? 2 : Number(data.endsWith('='));
    const bytes = before.bytes + (data.length / 4) * 3 - padding;
    this.#known.set(id, { pieces: part + 1, of, bytes });
    return null;
  }

  get isFull(): boolean {
    return this.#known.size >= MOST_PHOTOS;
  }

  /** A photo of which all pieces are there, or null. */
  whole(id: string): CapturePhoto | null {
    const known = this.#known.get(id);
    return known?.pieces === known?.of && known !== undefined ? { id, bytes: known.bytes } : null;
  }
}

export const FULL = sent`photo: it would be one too many: a visit has at most ${MOST_PHOTOS} photos, those included that were taken off a capture; begin another visit for more`;
