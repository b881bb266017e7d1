/**
 * By what a site or a unit is known again, across vans: a hash of what was said of it. A unit by its model
 * and serial number, else by its place: the site's address (or title) and the unit's name there; and in any
 * case by the van's own names for both, which tie the visits of one record together.
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
}

/** What people know a site by; null: nothing was said. */
function placeOf({ title, address }: Whereabouts): string | null {
  const place = plain(address) || plain(title);
  return place === '' ? null : place;
}

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
  const serial = plain(unit.serial);
  const place = placeOf(at);
  return {
    bySerial: serial === '' ? null : hashOf('serial', plain(unit.model), serial),
    byPlace: place === null ? null : hashOf('unit', place, plain(unit.name) || unit.id),
    byVan: hashOf('own unit', at.van, at.site, unit.id),
  };
}
