/** Numbers in bytes, as probes send them. */

/** The kinds of number, and how many bytes each takes. */
export const BYTES_OF = {
  uint8: 1,
  int8: 1,
  uint16: 2,
  int16: 2,
  uint24: 3,
  int24: 3,
  uint32: 4,
  int32: 4,
  float32: 4,
} as const;
export type NumberType = keyof typeof BYTES_OF;
/** Which byte comes first: the lowest (`little`, as in all of Bluetooth) or the highest. */
export type ByteOrder = 'little' | 'big';

/**
 * One number.
 * @param at the place of its first byte
 * @returns null where the bytes end before it does
 */
export function readNumber(
  bytes: Uint8Array,
  at: number,
  type: NumberType,
  order: ByteOrder = 'little',
): number | null {
  const length = BYTES_OF[type];
  if (at < 0 || at + length > bytes.length) return null;
  if (type === 'float32') {
    const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
    return view.getFloat32(at, order === 'little');
  }
  let value = 0;
  for (let i = 0; i < length; i++) {
    // Not by shifting: that would make 32 bits signed.
    value = value * 256 + (bytes[order === 'big' ? at + i : at + length - 1 - i] ?? 0);
  }
  const [, high] = numberRange(type);
  return value > high ? value - 256 ** length : value;
}

/** The lowest and the highest number that a type holds. */
export function numberRange(type: NumberType): readonly [number, number] {
  if (type === 'float32') return [-3.4028234663852886e38, 3.4028234663852886e38];
  const all = 256 ** BYTES_OF[type];
  return type.startsWith('u') ? [0, all - 1] : [-all / 2, all / 2 - 1];
}
