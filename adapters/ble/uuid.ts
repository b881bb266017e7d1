/** Bluetooth's names for services and characteristics, in one spelling. */

/** What a short number stands for: it, in place of the first eight digits. */
const BASE = '00001000800000805f9b34fb';

/**
 * One spelling for one UUID: four hexadecimal digits where Bluetooth has given it a short number
 * (`181a`), else all 32, in lower case and without hyphens.
 * @param text 4, 8 or 32 digits; hyphens, `0x` and capitals do not matter
 * @returns null where it is no UUID
 */
export function normalUuid(text: string): string | null {
  const digits = text.toLowerCase().replace(/^0x/, '').replaceAll('-', '');
  if (!/^(?:[\da-f]{4}|[\da-f]{8}|[\da-f]{32})$/.test(digits)) return null;
  if (digits.length === 4) return digits;
  const long = digits.length === 8 ? digits + BASE : digits;
  return long.startsWith('0000') && long.endsWith(BASE) ? long.slice(4, 8) : long;
}
