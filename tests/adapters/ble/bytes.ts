/** Bytes as they are printed in documents: `hex('64 08')`. */
export function hex(text: string): Uint8Array {
  return Uint8Array.from(Buffer.from(text.replaceAll(' ', ''), 'hex'));
}
