/** The encryption of BTHome v2: AES-128-CCM with a tag of four bytes and nothing besides. */
import { createDecipheriv } from 'node:crypto';

export const KEY_BYTES = 16;
const COUNTER_BYTES = 4;
const TAG_BYTES = 4;
/** The service's UUID, as it stands in the frame. */
const UUID_BYTES = [0xd2, 0xfc];

/** An encrypted frame, taken apart. */
export interface Sealed {
  /** Device information, the frame's first byte. */
  information: number;
  ciphertext: Uint8Array;
  /** Counts the sender's frames, as sent. */
  counter: Uint8Array;
  tag: Uint8Array;
}

/**
 * Takes apart what follows device information (and address).
 * @returns null where it is too short to hold one object
 */
export function takeApart(information: number, rest: Uint8Array): Sealed | null {
  const end = rest.length - COUNTER_BYTES - TAG_BYTES;
  if (end < 2) return null;
  return {
    information,
    ciphertext: rest.subarray(0, end),
    counter: rest.subarray(end, end + COUNTER_BYTES),
    tag: rest.subarray(end + COUNTER_BYTES),
  };
}

/**
 * Decrypts a frame.
 * @param address the sender's, six bytes as it is written
 * @returns null where key, address or any byte of the frame is not the sender's
 */
export function decrypt(key: Uint8Array, address: Uint8Array, sealed: Sealed): Uint8Array | null {
  const { information, ciphertext, counter, tag } = sealed;
  const nonce = Uint8Array.from([...address, ...UUID_BYTES, information, ...counter]);
  const decipher = createDecipheriv('aes-128-ccm', key, nonce, { authTagLength: TAG_BYTES });
  decipher.setAuthTag(tag);
  try {
    const plain = decipher.update(ciphertext);
    decipher.final();
    return plain;
  } catch {
    // All else was checked before: the tag does not fit.
    return null;
  }
}

/**
 * A key as a person enters it: 32 hexadecimal digits; spaces, hyphens, colons and capitals do not
 * matter.
 * @returns null where it is none
 */
export function parseKey(text: string): Uint8Array | null {
  const digits = text.replace(/[\s:-]/g, '');
  return /^[\da-f]{32}$/i.test(digits) ? Uint8Array.from(Buffer.from(digits, 'hex')) : null;
}

/** An address as it is written, `00:aa:01:01:00:01`, as bytes; null where it is none. */
export function parseAddress(text: string): Uint8Array | null {
  const digits = text.replace(/[:-]/g, '');
  return /^[\da-f]{12}$/i.test(digits) ? Uint8Array.from(Buffer.from(digits, 'hex')) : null;
}
