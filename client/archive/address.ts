/** The addresses of the places of an archive. Pure. */
import { type Looked, partOf } from '../view-address.ts';

export const ARCHIVE_PLACES = ['visits', 'units', 'types', 'probes', 'office'] as const;
export type ArchivePlace = (typeof ARCHIVE_PLACES)[number];

export interface ArchivePart {
  place: ArchivePlace;
  /** Which visits, at that place. */
  looked: Looked;
  /** Which unit, type or probe; null: the list of them. */
  which: string | null;
}

const LIST: Looked = { visit: null, beside: null, choosing: false, search: '' };

/** Which place an address names. @param hash with its "#" */
export function archivePartOf(hash: string): ArchivePart {
  const slash = hash.indexOf('/');
  const name = hash.slice(1, slash < 0 ? undefined : slash);
  const rest = slash < 0 ? '' : hash.slice(slash + 1);
  const place = ARCHIVE_PLACES.find((each) => each === name) ?? 'visits';
  if (place === 'visits') return { place, looked: partOf(hash).looked ?? LIST, which: null };
  return { place, looked: LIST, which: rest === '' ? null : decoded(rest) };
}

function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text; // an address that somebody typed
  }
}

/** The address of a place, or of one unit, type or probe there. */
export const placeAt = (place: ArchivePlace, which?: string | number): string =>
  which === undefined ? `#${place}` : `#${place}/${encodeURIComponent(which)}`;
