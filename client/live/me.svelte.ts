/**
 * Who uses this page: the owner at the computer itself, or a phone that a code has let in. Until the server
 * has said so it is not known, and the page goes on as if all were open: the server refuses what is not.
 */
import { getContext, setContext } from 'svelte';
import { type Who, whoSchema } from '../../server/protocol/access.ts';
import {
  CODE_DIGITS,
  NO_CODE_GIVEN,
  NO_NAME_GIVEN,
  SESSION_ENDED,
  SIGNED_OFF,
} from '../words/phones.ts';
import { translated } from '../../server/words/language.ts';
import { NO_ANSWER, noReasonWords, refusalWords } from '../words/refusals.ts';
import { refusalSchema } from './api.ts';

const PATH = '/api/session';
const KEY = Symbol('me');

/** Tells all components below who uses this page. */
export const setMe = (me: Me): Me => setContext(KEY, me);
/** Who uses this page; null where nobody above has said so. */
export const meAbove = (): Me | null => getContext<Me | undefined>(KEY) ?? null;

export class Me {
  #who = $state.raw<Who | null>(null);
  /** Why this phone is out, as a sentence; null: it is not, or never was in. */
  ended = $state<string | null>(null);

  /** What it may do; null: nothing, or not known yet. */
  get role(): Who['role'] {
    return this.#who?.role ?? null;
  }
  /** As in `by` of what is changed. */
  get id(): string | null {
    return this.#who?.id ?? null;
  }
  get name(): string {
    return this.#who?.name ?? '';
  }
  /** Whether it needs a code before it sees anything. */
  get isOut(): boolean {
    return this.ended !== null || (this.#who !== null && this.#who.role === null);
  }
  /** Whether it is at the computer itself; so it is taken before the server has said so. */
  get isOwner(): boolean {
    return this.#who === null || this.#who.role === 'owner';
  }
  /** Whether it has a visit of its own in a class: what is of the house's visits is not offered. */
  get isTrainee(): boolean {
    return this.role === 'trainee';
  }
  /** Whether it may lead a class. */
  get mayLead(): boolean {
    return this.isOwner || this.role === 'operator';
  }
  /** As what it was let in; null at the computer itself. */
  get let(): 'viewer' | 'operator' | 'trainee' | null {
    return this.role === 'owner' ? null : this.role;
  }

  /** Asks the server. @param why it may have ended, where that is known */
  async ask(why = ''): Promise<void> {
    const who = await answered();
    if (who === null) return; // not there: what was known stands
    const wasIn = this.let !== null && this.ended === null;
    if (wasIn && who.id !== this.id) this.ended = why === '' ? SESSION_ENDED : translated(why);
    this.#who = who;
  }

  /** Turns a code into a session. Answers null, or a sentence that begins with what its field is called. */
  async join(code: string, name: string): Promise<string | null> {
    if (code.replace(/\D/g, '').length < CODE_DIGITS) return NO_CODE_GIVEN;
    if (name.trim() === '') return NO_NAME_GIVEN;
    try {
      const response = await fetch(PATH, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify({ code, name: name.trim() }),
      });
      const said: unknown = await response.json().catch(() => null);
      const who = whoSchema.safeParse(said);
      if (response.ok && who.success) {
        this.#who = who.data;
        this.ended = null;
        return null;
      }
      const refusal = refusalSchema.safeParse(said);
      return refusal.success ? refusalWords(refusal.data.error) : noReasonWords(response.status);
    } catch {
      return NO_ANSWER;
    }
  }

  /** Signs this phone off: nothing of the visit stays on it. */
  async signOff(): Promise<string | null> {
    try {
      const response = await fetch(PATH, { method: 'DELETE' });
      if (!response.ok) return noReasonWords(response.status);
    } catch {
      return NO_ANSWER;
    }
    this.ended = SIGNED_OFF;
    await this.ask();
    return null;
  }

  /** At the computer itself: goes on as its owner. */
  goOn(): void {
    if (this.role === 'owner') this.ended = null;
  }
}

async function answered(): Promise<Who | null> {
  try {
    const response = await fetch(PATH, { cache: 'no-store' });
    const parsed = whoSchema.safeParse(await response.json());
    return parsed.success ? parsed.data : null;
  } catch {
    return null;
  }
}
