/** Which part of the page is in front: it stands in the address, so that the way back is the browser's. */
import { type Looked, partOf, type ViewName } from './view-address.ts';

export class View {
  #part = $state.raw(partOf(location.hash));

  get name(): ViewName {
    return this.#part.name;
  }
  get looked(): Looked {
    return this.#part.looked;
  }

  /** Follows the address. @returns what ends it */
  start(): () => void {
    const follow = (): void => {
      this.#part = partOf(location.hash);
    };
    addEventListener('hashchange', follow);
    return () => removeEventListener('hashchange', follow);
  }
}
