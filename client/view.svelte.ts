/** Which place of the visit is in front: it stands in the address, so that the way back is the browser's. */
import { type Looked, partOf, type Place, SETTINGS } from './view-address.ts';

export class View {
  #part = $state.raw(partOf(location.hash));
  /** Whether the settings of the visit lie over it. */
  settings = $state(location.hash === SETTINGS);
  /** The address behind the settings. */
  #behind = location.hash === SETTINGS ? '#record' : location.hash;

  get place(): Place {
    return this.#part.place;
  }
  get looked(): Looked | null {
    return this.#part.looked;
  }

  get phones(): boolean {
    return this.#part.phones === true;
  }
  /** Whether a class is led. */
  get class(): boolean {
    return this.#part.class === true;
  }

  /** Follows the address. @returns what ends it */
  start(): () => void {
    const follow = (): void => {
      this.settings = location.hash === SETTINGS;
      if (this.settings) return;
      this.#behind = location.hash;
      this.#part = partOf(location.hash);
    };
    addEventListener('hashchange', follow);
    return () => removeEventListener('hashchange', follow);
  }

  /** Takes the settings away: what lay behind them is still there. */
  closeSettings(): void {
    this.settings = false;
    history.replaceState(null, '', this.#behind === '' ? '#figure' : this.#behind);
  }
}
