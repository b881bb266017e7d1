/** Whether this page is the one that its server has: a server may come back with a newer one. */

/** The page is asked for when what matters more has come, ms. */
const LATER_MS = 2000;

export class Running {
  /** Whether the server has another page by now. */
  isOld = $state(false);
  #timer: ReturnType<typeof setTimeout> | undefined;

  /** Looks soon; to be called whenever the server is there (again). */
  look(): void {
    clearTimeout(this.#timer);
    if (import.meta.env.PROD) this.#timer = setTimeout(() => void this.#look(), LATER_MS);
  }

  async #look(): Promise<void> {
    const script = document.querySelector('script[type=module][src]')?.getAttribute('src');
    if (!script) return;
    try {
      const response = await fetch('/index.html', { cache: 'no-store' });
      const page = await response.text();
      // The program's name holds a hash of all that belongs to it.
      if (response.ok && page.includes('id="page"')) this.isOld = !page.includes(script);
    } catch {
      // Gone again: it is looked at when it is back.
    }
  }
}
