/**
 * The process that holds the radio, and the only one that loads the Bluetooth library. It carries
 * orders out and says what it hears; it decides nothing. The library's `connect` may block it for
 * most of a minute, and whatever is outstanding when a link is lost never answers: the server kills
 * and replaces it when it has to (radio-host.ts). Started with its settings as JSON argument.
 */
import { errorText } from './error-text.ts';
import { loadNoble } from './noble-api.ts';
import { Central } from './radio-central.ts';
import { orderSchema, type Said, settingsSchema } from './radio-messages.ts';

const PULSE_MS = 1000;
/** The library would keep back the first advertisement of a probe, and any without a scan response. */
const TELL_ALL = 'NOBLE_REPORT_ALL_HCI_EVENTS';

function say(message: Said): void {
  // A server that has gone is noticed by `disconnect`.
  if (process.connected) process.send?.(message, undefined, undefined, () => undefined);
}

/** What the library throws while it takes in a broken packet; the packet is lost, no more. */
function fault(error: unknown): void {
  say({ say: 'fault', text: errorText(error).slice(0, 1000) });
}

/** The server ends this process; the library would, at a key that is meant for the server. */
const ignore = (): void => undefined;
/** To be called again whenever the library may have begun to listen: it gives way only to the last. */
function listenLast(): void {
  process.off('SIGINT', ignore);
  process.on('SIGINT', ignore);
}

process.on('uncaughtException', fault);
process.on('unhandledRejection', fault);
// Its handlers for `exit` end the links in order.
process.on('disconnect', () => process.exit(0));
if (!process.connected) process.exit(0); // it has gone already
setInterval(() => say({ say: 'pulse' }), PULSE_MS);
listenLast();

process.env[TELL_ALL] = '1';
const settings = settingsSchema.parse(JSON.parse(process.argv[2] ?? 'null'));
const noble = await loadNoble(settings);
if ('say' in noble) say(noble);
else {
  const central = new Central(noble, say);
  process.on('message', (message) => {
    const order = orderSchema.safeParse(message);
    if (order.success) central.carryOut(order.data);
    else fault(order.error);
  });
  central.onState(listenLast);
  say({ say: 'loaded' });
}
