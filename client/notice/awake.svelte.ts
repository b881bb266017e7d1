/** Keeps the screen awake during a visit: a phone that hangs on a ladder must not go dark. */

const NOT_HERE =
  'The browser keeps the screen awake only for pages over https, or on the computer that runs the ' +
  'server. Set a longer time until the screen goes dark in the settings of this device.';
const NOT_KNOWN =
  'This browser cannot keep the screen awake. Set a longer time until the screen goes dark in the ' +
  'settings of this device.';
const REFUSED =
  'The device did not allow it, perhaps to save its battery. Connect it to power and come back to ' +
  'this page, or set a longer time until the screen goes dark in its settings.';

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
      this.trouble = isSecureContext ? NOT_KNOWN : NOT_HERE;
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
      this.trouble = REFUSED;
    } finally {
      this.#isAsked = false;
    }
    // It was switched off while it was asked for.
    if (!this.#isWanted) this.keep(false);
  }
}
