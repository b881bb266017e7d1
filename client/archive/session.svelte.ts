/** Who looks at the archive: whoever has entered a token here. The server keeps it in a cookie. */
import { type ArchiveWho, archiveWhoSchema } from '../../server/protocol/archive.ts';
import { ask, sending } from '../live/ask.ts';
import type { Asked } from '../live/visits.ts';
import { ARCHIVE, TOKEN } from '../words/archive.ts';

const PATH = '/api/archive/session';
const NO_ANSWER = { noAnswer: ARCHIVE.noAnswer };

export class Session {
  /** Null: not known yet. */
  #who = $state.raw<ArchiveWho | null>(null);
  /** Whether a token was good here once, and is no more. */
  hasEnded = $state(false);

  get who(): ArchiveWho | null {
    return this.#who;
  }
  get isOwner(): boolean {
    return this.#who?.role === 'owner';
  }

  /** Asks the archive who this is. */
  async ask(): Promise<Asked<ArchiveWho>> {
    const answer = await ask(PATH, {}, archiveWhoSchema, NO_ANSWER);
    if (answer.got !== null) this.#become(answer.got);
    return answer;
  }

  /** Enters a token. Answers null, or why it does not open the archive. */
  async enter(token: string): Promise<string | null> {
    if (token.trim() === '') return TOKEN.none;
    const body = { token: token.trim() };
    const { got, trouble } = await ask(PATH, sending('POST', body), archiveWhoSchema, NO_ANSWER);
    if (got === null) return trouble;
    this.hasEnded = false;
    this.#who = got;
    return null;
  }

  /** Has this browser forget the token. Answers null, or why not. */
  async forget(): Promise<string | null> {
    const response = await fetch(PATH, { method: 'DELETE' }).catch(() => null);
    if (response?.ok !== true) return ARCHIVE.noAnswer;
    this.#who = { role: null, name: null, version: this.#who?.version ?? '' };
    return null;
  }

  #become(who: ArchiveWho): void {
    if (who.role === null && this.#who !== null && this.#who.role !== null) this.hasEnded = true;
    this.#who = who;
  }
}
