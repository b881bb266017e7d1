/** Where readings come from: what each source is called, and how it is. */

/** Those of this program by their way, others by their own name. */
const NAMES: Record<string, string> = {
  ble: 'Bluetooth',
  push: 'HTTP',
  replay: 'the visit log',
  simulated: 'the simulation',
};

export const sourceName = (adapter: string): string => NAMES[adapter] ?? adapter;

export const SOURCES = {
  title: 'Sources',
  notKnown: 'not known',
  states: {
    starting: 'starting',
    running: 'running',
    unavailable: 'not available',
    retrying: 'trying again',
  },
  unreadable: (messages: number): string =>
    `${messages === 1 ? 'One message' : `${messages} messages`} from the server could not be read. ` +
    'Reload the page: it may be older than the server.',
};
