/** Files that describe probes with a layout of their own. */
import { readFileSync } from 'node:fs';
import { type DescribedProbe, parseDescription } from './described.ts';
import { errorText } from './error-text.ts';

/**
 * Reads the files.
 * @throws Error with a sentence: which file, which field, what is accepted
 */
export function readDescriptions(files: readonly string[]): DescribedProbe[] {
  return files.map((file) => {
    let json: unknown;
    try {
      json = JSON.parse(readFileSync(file, 'utf8'));
    } catch (error) {
      throw new Error(`The probe description ${file} cannot be read: ${errorText(error)}`);
    }
    const probe = parseDescription(json);
    if ('refusal' in probe) throw new Error(`The probe description ${file}: ${probe.refusal}`);
    return probe;
  });
}
