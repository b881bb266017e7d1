/** Which part of the page is in front: it stands in the address, so that the way back is the browser's. */

export type ViewName = 'figure' | 'probes';

const PROBES = '#probes';
const named = (): ViewName => (location.hash === PROBES ? 'probes' : 'figure');

export class View {
  name = $state<ViewName>(named());

  /** Follows the address. @returns what ends it */
  start(): () => void {
    const follow = (): void => {
      this.name = named();
    };
    addEventListener('hashchange', follow);
    return () => removeEventListener('hashchange', follow);
  }
}
