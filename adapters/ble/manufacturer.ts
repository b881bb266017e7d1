/** Manufacturer data, as it is advertised. */

/**
 * The number that begins it, lowest byte first; the Bluetooth SIG gives them out.
 * @param hex the data as text; null: there is none
 * @returns null also where it is cut
 */
export function companyOf(hex: string | null): number | null {
  const bytes = Buffer.from(hex ?? '', 'hex');
  return bytes.length < 2 ? null : bytes.readUInt16LE(0);
}
