/**
 * The keys of probes that encrypt what they broadcast: a file of its own in the data folder, readable
 * by its owner only. JSON, address (without colons) to 32 hexadecimal digits.
 */
import {
  chmodSync,
  mkdirSync,
  readFileSync,
  renameSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { dirname } from 'node:path';
import * as z from 'zod';
import { parseKey } from './bthome.ts';
import { errorText } from './error-text.ts';

const OWNER_ONLY = 0o600;
const OTHERS = 0o077;

const fileSchema = z.record(z.string(), z.string());

export class Keys {
  readonly #file: string | null;
  readonly #keys = new Map<string, { text: string; key: Uint8Array }>();

  /** @param file null: they are kept no longer than the program runs */
  constructor(file: string | null) {
    this.#file = file;
  }

  /**
   * Reads the file; one that there is not is no trouble.
   * @returns in a sentence what is wrong with it, or null. What is right in it is taken.
   */
  load(): string | null {
    this.#keys.clear();
    if (this.#file === null) return null;
    let json: unknown;
    try {
      // One that was copied, or made by hand, may be open to all.
      if ((statSync(this.#file).mode & OTHERS) !== 0) chmodSync(this.#file, OWNER_ONLY);
      json = JSON.parse(readFileSync(this.#file, 'utf8'));
    } catch (error) {
      if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null;
      return `The keys of probes cannot be read (${errorText(error)}): mend or remove ${this.#file}.`;
    }
    const parsed = fileSchema.safeParse(json);
    if (!parsed.success) {
      return `${this.#file} does not hold keys as {"00aa01010001": "32 hexadecimal digits"}: mend or remove it.`;
    }
    let wrong: string | null = null;
    for (const [address, text] of Object.entries(parsed.data)) {
      const refusal = this.#take(address, text);
      if (refusal !== null) wrong ??= `In ${this.#file}: ${refusal}`;
    }
    return wrong;
  }

  /** @param id the probe's address, in any spelling */
  of(id: string): Uint8Array | null {
    return this.#keys.get(plain(id))?.key ?? null;
  }

  /**
   * Keeps a key.
   * @param text 32 hexadecimal digits; null takes the key away
   * @returns a sentence that says what is wrong, or null. A wrong one changes nothing.
   */
  set(id: string, text: string | null): string | null {
    const before = this.#keys.get(plain(id));
    if (text === null) this.#keys.delete(plain(id));
    else {
      const refusal = this.#take(id, text);
      if (refusal !== null) return refusal;
    }
    try {
      this.#save();
      return null;
    } catch (error) {
      if (before === undefined) this.#keys.delete(plain(id));
      else this.#keys.set(plain(id), before);
      return `The key could not be written (${errorText(error)}): see to the data folder.`;
    }
  }

  #take(id: string, text: string): string | null {
    const key = parseKey(text);
    if (key === null) return `The key of ${id} is not 32 hexadecimal digits.`;
    this.#keys.set(plain(id), { text: Buffer.from(key).toString('hex'), key });
    return null;
  }

  #save(): void {
    if (this.#file === null) return;
    const json = Object.fromEntries([...this.#keys].map(([id, { text }]) => [id, text]));
    const aside = `${this.#file}.new`;
    mkdirSync(dirname(this.#file), { recursive: true, mode: 0o700 });
    // A left-over one would keep its own mode.
    rmSync(aside, { force: true });
    writeFileSync(aside, `${JSON.stringify(json, null, 2)}\n`, { mode: OWNER_ONLY, flag: 'wx' });
    renameSync(aside, this.#file);
  }
}

/** An address without its colons; a probe's id without what stands before and after the address. */
function plain(id: string): string {
  return id
    .toLowerCase()
    .replace(/^ble:|\/\d+$/g, '')
    .replaceAll(/[:-]/g, '');
}
