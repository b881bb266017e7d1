/** What pictures are taken, and what becomes of them: apart from the codecs, which few need. */

/** What is taken: bytes, and pixels. */
export const MOST_BYTES_IN = 8 * 1024 * 1024;
export const MOST_PIXELS = 16_000_000;

/** A JPEG of at most `MOST_PHOTO_BYTES`, or why there is none, as a sentence. */
export type Reencoded = { jpeg: Uint8Array; width: number; height: number } | { refusal: string };
