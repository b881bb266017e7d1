/** Where readings come from: what each source is called, and how it is. */
import { counted, t } from '../../server/words/language.ts';

/** Those of this program by their way, others by their own name. */
const NAMES: Record<string, string> = {
  ble: 'Bluetooth',
  push: 'HTTP',
  replay: t`the visit log`,
  simulated: t`the simulation`,
};

export const sourceName = (adapter: string): string => NAMES[adapter] ?? adapter;

export const SOURCES = {
  title: t`Sources`,
  notKnown: t`not known`,
  states: {
    starting: t`starting`,
    running: t`running`,
    unavailable: t`not available`,
    retrying: t`trying again`,
  },
  unreadable: (messages: number): string =>
    counted(
      messages,
      t`One message from the server could not be read. Reload the page: it may be older than the server.`,
      t`${messages} messages from the server could not be read. Reload the page: it may be older than the server.`,
    ),
};
