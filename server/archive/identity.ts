/**
 * By what a site or a unit is known again, across vans: a hash of what was said of it. A site by its address,
 * else by its title and customer together ("Home" is many sites); a unit by its model and serial number, else
 * by its site and its name there; and both in any case by the van's own names for them, which tie the visits
 * of one record together.
 */
import { createHash } from 'node:crypto';

/** Spelling that tells nothing apart: case, punctuation, spaces. */
export const plain = (text: string): string =>
  text
    .normalize('NFKC')
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, ' ')
    .trim();

const hashOf = (...of: string[]): Buffer =>
  createHash('sha256').update(JSON.stringify(of)).digest();

export interface Whereabouts {
  van: string;
  /** The van's own name of the site. */
  site: string;
  title: string;
  address: string;
  customer: string;
}

/** What people know a site by; null: too little was said. */
function placeOf(at: Whereabouts): string | null {
  const [address, title, customer] = [plain(at.address), plain(at.title), plain(at.customer)];
  if (address !== '') return address;
  return title === '' || customer === '' ? null : `${title}, ${customer}`;
}

/** What is typed where a serial number is not known, in plain spelling. */
const NO_SERIAL = /^(n a|na|none|no|unknown|not known|not legible|illegible|0+|x+|)$/;

/** A serial number as it was typed; empty where none was. */
export const serialOf = (typed: string): string => (NO_SERIAL.test(plain(typed)) ? '' : typed);

export function siteHash(at: Whereabouts): Buffer {
  const place = placeOf(at);
  return place === null ? hashOf('own site', at.van, at.site) : hashOf('site', place);
}

export interface UnitHashes {
  bySerial: Buffer | null;
  byPlace: Buffer | null;
  byVan: Buffer;
}

export function unitHashes(
  at: Whereabouts,
  unit: { id: string; name: string; model: string; serial: string },
): UnitHashes {
  const serial = plain(serialOf(unit.serial));
  const place = placeOf(at);
  return {
    bySerial: serial === '' ? null : hashOf('serial', plain(unit.model), serial),
    byPlace: place === null ? null : hashOf('unit', place, plain(unit.name) || unit.id),
    byVan: hashOf('own unit', at.van, at.site, unit.id),
  };
}
