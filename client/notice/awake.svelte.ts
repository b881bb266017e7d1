/** Keeps the screen awake during a visit: a phone that hangs on a ladder must not go dark. */
import { GOES_DARK } from '../words/notice-trouble.ts';

export class Awake {
  isHeld = $state(false);
  /** Why it goes dark all the same, and what to do; null where it does not, or need not. */
  trouble = $state<string | null>(null);
  #isWanted = false;
  #isAsked = false;
  #lock: WakeLockSentinel | null = null;

  /** Whether this browser can do it, here. */
  get isPossible(): boolean {
    return 'wakeLock' in navigator;
  }

  /** The lock goes whenever the page is hidden: it is taken again. @returns what ends it */
  start(): () => void {
    const again = (): void => void this.#take();
    document.addEventListener('visibilitychange', again);
    return () => {
      document.removeEventListener('visibilitychange', again);
      this.keep(false);
    };
  }

  /** Keeps it awake, or lets it go dark. */
  keep(isWanted: boolean): void {
    this.#isWanted = isWanted;
    if (isWanted) void this.#take();
    else {
      this.trouble = null;
      this.isHeld = false;
      void this.#lock?.release();
      this.#lock = null;
    }
  }

  async #take(): Promise<void> {
    if (!this.#isWanted || this.#isAsked || this.#lock !== null) return;
    if (!this.isPossible) {
      this.trouble = isSecureContext ? GOES_DARK.notKnown : GOES_DARK.notHere;
      return;
    }
    if (document.visibilityState !== 'visible') return;
    this.#isAsked = true;
    try {
      const lock = await navigator.wakeLock.request('screen');
      this.#lock = lock;
      lock.addEventListener('release', () => {
        if (this.#lock !== lock) return;
        this.#lock = null;
        this.isHeld = false;
      });
      this.isHeld = true;
      this.trouble = null;
    } catch {
      this.trouble = GOES_DARK.refused;
    } finally {
      this.#isAsked = false;
    }
    // It was switched off while it was asked for.
    if (!this.#isWanted) this.keep(false);
  }
}
