/** Text that a probe sends: shown to people, so it must be fit for that. */

/** Longer ones are cut: they stand in a list, beside figures. */
const LONGEST = 60;
/** Controls, what turns the direction of writing or cannot be seen, and what stands for broken text. */
const UNFIT = /[\p{Cc}\p{Cf}\p{Zl}\p{Zp}\p{Co}\p{Cn}\u{FFFD}]+/gu;

/**
 * UTF-8 text on one line, of at most 60 characters. Some probes fill up with zeros: the text ends at
 * the first.
 * @returns null where it is none, or nothing can be seen of it
 */
export function decodeText(bytes: Uint8Array): string | null {
  const zero = bytes.indexOf(0);
  let text;
  try {
    text = new TextDecoder('utf-8', { fatal: true }).decode(
      zero < 0 ? bytes : bytes.subarray(0, zero),
    );
  } catch {
    return null;
  }
  const line = text.replace(UNFIT, ' ').replace(/\s+/gu, ' ').trim();
  return line === '' ? null : [...line].slice(0, LONGEST).join('').trimEnd();
}
