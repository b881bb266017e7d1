/** The addresses of the parts of the page. Pure. */

export type ViewName = 'figure' | 'probes' | 'visits';

/** What of the record is looked at: nothing (the list), one visit, or two. */
export interface Looked {
  visit: string | null;
  beside: string | null;
  /** Whether a second one is being looked for. */
  choosing: boolean;
  /** The words that the list is searched by, at first. */
  search: string;
}

const PROBES = '#probes';
const VISITS = '#visits';
const CHOOSE = 'beside';
/** No visit has this id: what follows is looked for. */
const SEARCH = 'search:';

/** Which part an address names. @param hash with its "#" */
export function partOf(hash: string): { name: ViewName; looked: Looked } {
  const [part, visit = null, second = null] = hash.split('/').map(decoded);
  if (part !== VISITS) return { name: part === PROBES ? 'probes' : 'figure', looked: NOTHING };
  if (visit?.startsWith(SEARCH) === true) {
    return { name: 'visits', looked: { ...NOTHING, search: visit.slice(SEARCH.length) } };
  }
  const choosing = second === CHOOSE;
  const looked = { ...NOTHING, visit, beside: choosing ? null : second, choosing };
  return { name: 'visits', looked };
}
const NOTHING: Looked = { visit: null, beside: null, choosing: false, search: '' };

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
