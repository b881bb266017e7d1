/**
 * To be loaded before the process of the radio (`node --import`): puts the virtual controller in the
 * place of the one module by which the radio library reaches a real one. The library itself, and all
 * above it, is the real thing. The address of this module says in its query where the line to the
 * physics is: `…/hook.mjs?air=PATH`.
 */
import Module from 'node:module';
import { connect, type Socket } from 'node:net';
import { setTimeout as sleep } from 'node:timers/promises';
import { hexText } from '../bytes.ts';
import type { Heard } from '../scanner.ts';
import { socketClass } from './hci-socket.ts';
import { type FromAir, listen, say, toAir, type ToAir } from './line.ts';
import { Radio } from './radio.ts';

const REPLACED = '@abandonware/bluetooth-hci-socket';
/** Whoever started this process may still be about to listen, ms. */
const PATIENCE_MS = 10_000;
const RETRY_MS = 50;
/** What was heard is told in batches, ms. */
const TELL_MS = 50;

const path = new URL(import.meta.url).searchParams.get('air');
if (path === null) throw new Error(`${import.meta.url} does not say where the air is: ?air=PATH`);

const line = await reach(path);
line.on('error', () => undefined); // the other end has gone: then so will this process
const heard: { what: Heard['what']; address: string; hex: string }[] = [];
const radio = await begin(line);
line.unref(); // the world does not keep a process going that nobody needs
replaceSocket();
say(line, { ready: process.pid });

/** Connects to the line. */
async function reach(at: string): Promise<Socket> {
  for (let waited = 0; ; waited += RETRY_MS) {
    try {
      return await new Promise<Socket>((resolve, reject) => {
        const socket = connect(at, () => resolve(socket));
        socket.once('error', reject);
      });
    } catch (error) {
      if (waited >= PATIENCE_MS) throw error;
      await sleep(RETRY_MS);
    }
  }
}

/** Waits for the world, makes it, and from then on does what comes over the line. */
function begin(socket: Socket): Promise<Radio> {
  return new Promise((resolve, reject) => {
    let made: Radio | null = null;
    listen(socket, toAir, (message: ToAir) => {
      try {
        if ('world' in message) {
          made = new Radio(message.world, message.world.tells ? note : () => undefined);
          resolve(made);
        }
        if ('readings' in message) for (const each of message.readings) made?.take(each);
        if ('order' in message) made?.follow(message.order);
      } catch (error) {
        const said = error instanceof Error ? error : new Error(String(error));
        if (made === null) reject(said);
        else tell({ cannot: said.message });
      }
    });
    socket.once('close', () => reject(new Error('the line to the air was closed at once')));
  });
}

function note({ what, address, bytes }: Heard): void {
  if (heard.length === 0) setTimeout(() => tell({ heard: heard.splice(0) }), TELL_MS).unref();
  heard.push({ what, address, hex: hexText(bytes) });
}

function tell(message: FromAir): void {
  if (line.writable) say(line, message);
}

function replaceSocket(): void {
  // Elsewhere the library would use the system's own Bluetooth: these make it speak HCI.
  if (process.platform !== 'linux') {
    process.env['BLUETOOTH_HCI_SOCKET_USB_VID'] = '0';
    process.env['BLUETOOTH_HCI_SOCKET_USB_PID'] = '0';
  }
  const replacement = socketClass(radio);
  const original: unknown = Reflect.get(Module.prototype, 'require');
  if (typeof original !== 'function') throw new Error('this Node has no require to stand in for');
  Reflect.set(Module.prototype, 'require', function (this: unknown, id: string): unknown {
    return id === REPLACED ? replacement : Reflect.apply(original, this, [id]);
  });
}
