/** What others have changed while this page was open: for the line that says so, and for open forms. */
import { getContext, setContext } from 'svelte';
import type { Changed } from '../../server/protocol/access.ts';

/** More changes than this are not made while a form is open. */
const MOST = 200;
const OTHERS = Symbol('others');
const SHARED = Symbol('shared');

export class Others {
  #changes = $state.raw<readonly Changed[]>([]);
  /** How many were let go, being too old. */
  #gone = 0;

  /** The newest change; null: none yet. */
  get newest(): Changed | null {
    return this.#changes.at(-1) ?? null;
  }

  /** How many there have been: what comes later is news. */
  get count(): number {
    return this.#gone + this.#changes.length;
  }

  /** Takes a change that another has made. */
  take(change: Changed): void {
    const changes = [...this.#changes, { ...change, what: plain(change.what) }];
    this.#gone += Math.max(0, changes.length - MOST);
    this.#changes = changes.slice(-MOST);
  }

  /** The newest change of one of these things after the first `count`; null: there is none. */
  since(count: number, of: readonly string[]): Changed | null {
    const later = this.#changes.slice(Math.max(0, count - this.#gone));
    return later.findLast(({ what }) => of.includes(what)) ?? null;
  }
}

/** A path as a person would write it: ids may stand in it with their signs escaped. */
function plain(path: string): string {
  try {
    return decodeURIComponent(path);
  } catch {
    return path; // a script called it so
  }
}

/** For the components below. */
export const setOthers = (others: Others): Others => setContext(OTHERS, others);
export const othersAbove = (): Others | undefined => getContext<Others | undefined>(OTHERS);

/** What a form has to know of others who change the same thing. */
export interface SharedForm {
  /** What another has changed since the form was opened; null: nothing. */
  readonly change: Changed | null;
  /** Opens the form anew, with what they have entered. */
  again: () => void;
}
export const setShared = (shared: SharedForm): SharedForm => setContext(SHARED, shared);
export const sharedAbove = (): SharedForm | undefined => getContext<SharedForm | undefined>(SHARED);
