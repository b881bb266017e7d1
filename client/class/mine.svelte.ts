/** The lesson of the trainee who uses this page: asked for anew while the page is open. */
import type { Mine } from '../../server/protocol/class.ts';
import { again } from '../live/again.ts';
import { decide, myLesson } from '../live/class.ts';
import { Asking } from '../record/asked.svelte.ts';

const EVERY_MS = 3000;

export class MyLesson {
  readonly #asking = new Asking<Mine>();
  /** Whether the task stands on the page in full. */
  isTaskOpen = $state(true);

  get mine(): Mine | null {
    return this.#asking.got;
  }
  get trouble(): string | null {
    return this.#asking.trouble;
  }
  get hasEnded(): boolean {
    return this.mine?.phase === 'ended';
  }

  /** Asks until it is ended. @returns what ends it */
  start(): () => void {
    return again(EVERY_MS, () => this.#asking.ask(myLesson));
  }

  /** Decides what is the matter. Answers null, or why it was not taken. */
  async decide(cause: string): Promise<string | null> {
    await this.#asking.ask(() => decide(cause));
    return this.trouble;
  }
}
