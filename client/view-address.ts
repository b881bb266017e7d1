/** The addresses of the places of a visit. Pure. */

/** The places, in the order in which a visit goes through them. */
export const PLACES = ['probes', 'airflow', 'figure', 'verdict', 'record'] as const;
export type Place = (typeof PLACES)[number];

/** What of the earlier visits is looked at: nothing (the list), one visit, or two. */
export interface Looked {
  visit: string | null;
  beside: string | null;
  /** Whether a second one is being looked for. */
  choosing: boolean;
  /** The words that the list is searched by, at first. */
  search: string;
}

export interface Part {
  place: Place;
  /** Whether it is where phones are let in. */
  phones?: true;
  /** Whether it is where a class is led. */
  class?: true;
  /** Null: this visit. */
  looked: Looked | null;
}

const VISITS = '#visits';
const CHOOSE = 'beside';
/** No visit has this id: what follows is looked for. */
const SEARCH = 'search:';
/** Where phones are let in, a part of the record. */
export const PHONES = '#phones';
/** Where a class is led, a part of the record. */
export const CLASS = '#class';
/** The form for what holds for the whole visit: it lies over any place. */
export const SETTINGS = '#settings';

/** Where something stands that is pointed at from elsewhere. */
const WITHIN: ReadonlyMap<string, Place> = new Map([
  ['side-by-side', 'probes'],
  ['walk', 'probes'],
  ['measure', 'airflow'],
  ['me', 'record'],
  ['decide', 'verdict'],
  ['result', 'verdict'],
  ...PLACES.map((place): [string, Place] => [place, place]),
]);

/** Which place an address names. @param hash with its "#" */
export function partOf(hash: string): Part {
  const [part = '', visit = null, second = null] = hash.split('/').map(decoded);
  if (part === PHONES) return { place: 'record', looked: null, phones: true };
  if (part === CLASS) return { place: 'record', looked: null, class: true };
  if (part !== VISITS) return { place: WITHIN.get(part.slice(1)) ?? 'figure', looked: null };
  if (visit?.startsWith(SEARCH) === true) {
    const search = visit.slice(SEARCH.length);
    return { place: 'record', looked: { visit: null, beside: null, choosing: false, search } };
  }
  const choosing = second === CHOOSE;
  const beside = choosing ? null : second;
  return { place: 'record', looked: { visit, beside, choosing, search: '' } };
}

function decoded(text: string): string {
  try {
    return decodeURIComponent(text);
  } catch {
    return text; // an address that somebody typed
  }
}

/** The address of visits: of the list, of one, of two beside each other. */
export const visitsAt = (...ids: string[]): string =>
  [VISITS, ...ids.map(encodeURIComponent)].join('/');
/** The address of those that are found by some words. */
export const visitsLike = (words: string): string => visitsAt(`${SEARCH}${words}`);
/** The address where a second visit is chosen. */
export const choosingBeside = (id: string): string => visitsAt(id, CHOOSE);
