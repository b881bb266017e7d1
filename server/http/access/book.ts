/**
 * Who has been let in: one-time codes, and the sessions that they were turned into. A session ends with its
 * visit, when it is withdrawn, and with the server. Kept in memory only, tokens as their hashes: what is
 * stolen from the disk lets nobody in.
 */
import { createHash, randomBytes, randomInt } from 'node:crypto';
import type { Code, Phone, Role } from '../../protocol/access.ts';
import { sent } from '../../words/sent.ts';
import { Tries } from './tries.ts';

/** A code is good for so long, ms. */
const CODE_MS = 10 * 60_000;
const CODE_DIGITS = 8;
/** Codes that wait, and sessions: more than there are people in a house or a class. */
const MOST_CODES = 20;
const MOST_SESSIONS = 200;
const TOKEN_BYTES = 32;

/** Why sessions end by themselves; short enough for the frame that closes a line. */
export const ENDED = {
  visit: sent`The visit has ended. Ask at the computer for a new code.`,
  lesson: sent`The class has ended.`,
  sentAway: sent`The instructor has taken you out of the class.`,
} as const;

/** What a session is for: the live visit of the house, or the visit of a trainee in a class. */
export interface Session extends Phone {
  /** The trainee whose visit it is; null: the house's. */
  readonly trainee: string | null;
}

/** What a code lets in that is of a class: a trainee; null where it is no such code. */
export type OfClass = (
  code: string,
  name: string,
  address: string,
) => { trainee: string } | 'full' | null;

/** Why somebody was not let in. */
export type Refused = { why: 'wrong' } | { why: 'wait'; waitS: number } | { why: 'full' };

interface Held {
  session: Session;
  hash: string;
}

export interface Clocks {
  /** ms since the epoch, for people. */
  now: () => number;
  /** ms of a clock that nobody sets, for limits. */
  steady: () => number;
}

export class AccessBook {
  readonly #clocks: Clocks;
  readonly #tries: Tries;
  /** By the digits. */
  readonly #codes = new Map<string, { role: Role; until: number }>();
  /** By the hash of the token. */
  readonly #sessions = new Map<string, Held>();
  readonly #enders = new Set<(session: Session, why: string) => void>();
  #count = 0;

  constructor(clocks: Clocks) {
    this.#clocks = clocks;
    this.#tries = new Tries(clocks.steady);
  }

  /** Calls back when a session has ended, with why, as a sentence. */
  onEnd(ended: (session: Session, why: string) => void): void {
    this.#enders.add(ended);
  }

  /** Makes a code that one phone can use once. The oldest goes where there are too many. */
  newCode(role: Role): Code {
    this.#forgetOld();
    const code = this.freshDigits();
    this.#codes.set(code, { role, until: this.#clocks.steady() + CODE_MS });
    const [oldest] = this.#codes.keys();
    if (this.#codes.size > MOST_CODES && oldest !== undefined) this.#codes.delete(oldest);
    return { code, role, untilT: this.#clocks.now() + CODE_MS };
  }

  /** Digits that are nobody's code. */
  freshDigits(): string {
    for (;;) {
      const code = String(randomInt(10 ** CODE_DIGITS)).padStart(CODE_DIGITS, '0');
      if (!this.#codes.has(code)) return code;
    }
  }

  get waiting(): number {
    this.#forgetOld();
    return this.#codes.size;
  }

  /**
   * Turns a code into a session.
   * @param other asked where it is no code of this book, as that of a class: what it lets in as, or null
   * @returns the token, to be told once; or why not
   */
  join(
    code: string,
    name: string,
    address: string,
    other: OfClass = () => null,
  ): { token: string; session: Session } | Refused {
    const waitMs = this.#tries.waitMs(address);
    if (waitMs > 0) return { why: 'wait', waitS: Math.ceil(waitMs / 1000) };
    if (this.#sessions.size >= MOST_SESSIONS) return { why: 'full' };
    this.#forgetOld();
    const digits = code.replace(/\D/g, '');
    const found = this.#codes.get(digits);
    if (found !== undefined) {
      this.#codes.delete(digits);
      return this.#letIn({ name, address, role: found.role, trainee: null });
    }
    const trainee = other(digits, name, address);
    if (trainee === 'full') return { why: 'full' };
    if (trainee !== null) {
      return this.#letIn({ name, address, role: 'trainee', trainee: trainee.trainee });
    }
    this.#tries.wrong(address);
    return { why: 'wrong' };
  }

  /** Whose token that is, from that address; null: nobody's. A token holds for the address that it was given to. */
  of(token: string, address: string): Session | null {
    const session = this.#sessions.get(hashOf(token))?.session;
    if (session === undefined || session.address !== address) return null;
    session.lastT = this.#clocks.now();
    return session;
  }

  /** That one is there still: who only watches asks for nothing. */
  heard(session: Session): void {
    session.lastT = this.#clocks.now();
  }

  /** Those who have been let in, the first first. */
  get sessions(): Session[] {
    return [...this.#sessions.values()].map(({ session }) => session);
  }

  /** Says whether a page of it is open. */
  watching(id: string, here: boolean): void {
    const session = this.sessions.find((each) => each.id === id);
    if (session !== undefined) session.here = here;
  }

  /** Ends one. @returns whether there was one of that id */
  end(id: string, why: string): boolean {
    return this.#end((session) => session.id === id, why) > 0;
  }

  /** Ends all of the house's visit, and the codes that wait for it. */
  endVisit(why: string): void {
    this.#codes.clear();
    this.#end(({ trainee }) => trainee === null, why);
  }

  /** Ends all of a class, or of one trainee. */
  endClass(why: string, of: string | null = null): void {
    this.#end(({ trainee }) => trainee !== null && (of === null || trainee === of), why);
  }

  #end(which: (session: Session) => boolean, why: string): number {
    const ended = [...this.#sessions.values()].filter(({ session }) => which(session));
    for (const { session, hash } of ended) {
      this.#sessions.delete(hash);
      for (const tell of this.#enders) tell(session, why);
    }
    return ended.length;
  }

  #letIn(of: Pick<Session, 'name' | 'address' | 'role' | 'trainee'>): {
    token: string;
    session: Session;
  } {
    const token = randomBytes(TOKEN_BYTES).toString('base64url');
    const t = this.#clocks.now();
    const session = { ...of, id: `phone-${++this.#count}`, sinceT: t, lastT: t, here: false };
    const hash = hashOf(token);
    this.#sessions.set(hash, { session, hash });
    return { token, session };
  }

  #forgetOld(): void {
    const now = this.#clocks.steady();
    for (const [code, { until }] of this.#codes) if (until <= now) this.#codes.delete(code);
  }
}

const hashOf = (token: string): string => createHash('sha256').update(token).digest('base64');
