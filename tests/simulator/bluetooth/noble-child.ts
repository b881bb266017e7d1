/**
 * A process with the real radio library and nothing of ours above it: does what the test asks by
 * message, and says what the library says. Arguments: the folder of the project; `extended` for
 * controllers of Bluetooth 5.
 */
import type { Peripheral } from '@abandonware/noble';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import type { EventEmitter } from 'node:events';

export type Ask = { ask: number } & (
  | { do: 'state' | 'scan' | 'scan without duplicates' }
  | {
      do: 'connect' | 'disconnect' | 'discover';
      id: string;
      timeout?: number; /* of supervision, in units of 10 ms */
    }
  | { do: 'read' | 'subscribe' | 'describe'; id: string; uuid: string }
  | { do: 'read handle'; id: string; handle: number }
  | { do: 'write handle'; id: string; handle: number; hex: string }
);
export type Said =
  | { ask: number; answer: unknown }
  | { ask: number; error: string }
  | {
      event: 'discover';
      id: string;
      hex: string;
      name: string | null;
      services: string[];
      rssi: number;
    }
  | { event: 'data'; id: string; uuid: string; hex: string }
  | { event: 'handle'; id: string; handle: number; hex: string }
  | { event: 'disconnect'; id: string; reason: number }
  | { event: 'state'; state: string }
  | { event: 'scanStop' | 'scanStart' }
  | { event: 'uncaught'; text: string }
  | { event: 'warning'; text: string };

/** What the library has besides what its types say. */
type Noble = typeof import('@abandonware/noble') & EventEmitter & { state: string };
type Full = Peripheral & {
  connectAsync(options: object): Promise<void>;
};

const [, , root = '', extended] = process.argv;
const load = createRequire(join(root, 'package.json'))(
  '@abandonware/noble/with-custom-binding',
) as (options: { extended: boolean }) => Noble;
const say = (message: Said): void => void process.send?.(message);

process.on('uncaughtException', (error) => say({ event: 'uncaught', text: error.message }));
// Else the extended form is told of when the name has come, and with it the services have gone.
if (extended === 'extended') process.env['NOBLE_REPORT_ALL_HCI_EVENTS'] = '1';
const noble = load({ extended: extended === 'extended' });
const peripherals = new Map<string, Full>();
noble.on('warning', (text: string) => say({ event: 'warning', text }));
process.on('disconnect', () => process.exit(0));
process.on('message', (message) => {
  const ask = message as Ask;
  carryOut(ask).then(
    (answer) => say({ ask: ask.ask, answer: answer ?? null }),
    (error: unknown) => say({ ask: ask.ask, error: String(error) }),
  );
});

noble.on('stateChange', (state) => say({ event: 'state', state }));
noble.on('scanStop', () => say({ event: 'scanStop' }));
noble.on('scanStart', () => say({ event: 'scanStart' }));
noble.on('discover', (found) => {
  const { id, advertisement, rssi } = found;
  if (!peripherals.has(id)) follow(id, found);
  const data = advertisement.serviceData.find(({ uuid }) => uuid === 'fcd2')?.data;
  const services = [...advertisement.serviceUuids];
  const name = advertisement.localName ?? null;
  say({ event: 'discover', id, hex: data?.toString('hex') ?? '', name, services, rssi });
});

function follow(id: string, peripheral: Full): void {
  peripherals.set(id, peripheral);
  peripheral.on('disconnect', (reason: unknown) =>
    say({ event: 'disconnect', id, reason: Number(reason) }),
  );
  peripheral.on('handleNotify', (handle: number, data: Buffer) =>
    say({ event: 'handle', id, handle, hex: data.toString('hex') }),
  );
}

function known(id: string): Full {
  const peripheral = peripherals.get(id);
  if (peripheral === undefined) throw new Error(`nothing was heard of ${id}`);
  return peripheral;
}

async function carryOut(ask: Ask): Promise<unknown> {
  switch (ask.do) {
    case 'state':
      // What was waiting when this was asked comes first: the process may have been blocked until now.
      for (let i = 0; i < 3; i++) await new Promise(setImmediate);
      return noble.state;
    case 'scan':
      return noble.startScanningAsync([], true);
    case 'scan without duplicates':
      return noble.startScanningAsync([], false);
    case 'connect':
      return known(ask.id).connectAsync({ timeout: ask.timeout ?? 100 });
    case 'disconnect':
      return known(ask.id).disconnectAsync();
    case 'discover':
      return discover(known(ask.id));
    case 'read':
      return (await find(ask.id, ask.uuid).readAsync()).toString('hex');
    case 'subscribe': {
      const { id, uuid } = ask;
      const characteristic = find(id, uuid);
      characteristic.on('data', (data: Buffer) =>
        say({ event: 'data', id, uuid, hex: data.toString('hex') }),
      );
      return characteristic.subscribeAsync();
    }
    case 'describe': {
      const descriptors = await find(ask.id, ask.uuid).discoverDescriptorsAsync();
      const values: Record<string, string> = {};
      for (const each of descriptors) {
        values[each.uuid] = (await each.readValueAsync()).toString('hex');
      }
      return values;
    }
    case 'read handle':
      return (await known(ask.id).readHandleAsync(ask.handle)).toString('hex');
    case 'write handle':
      return known(ask.id).writeHandleAsync(ask.handle, Buffer.from(ask.hex, 'hex'), false);
  }
}

/** Discovers all; besides what the library makes of it, the handles that it passes on. */
async function discover(peripheral: Full): Promise<unknown> {
  const services = await peripheral.discoverServicesAsync([]);
  const found: { service: string; uuid: string; properties: string[]; handle: number }[] = [];
  for (const service of services) {
    let handles: { valueHandle: number }[] = [];
    service.once('characteristicsDiscovered', (all: { valueHandle: number }[]) => (handles = all));
    const characteristics = await service.discoverCharacteristicsAsync([]);
    characteristics.forEach(({ uuid, properties }, i) => {
      found.push({ service: service.uuid, uuid, properties, handle: handles[i]?.valueHandle ?? 0 });
    });
  }
  return found;
}

function find(id: string, uuid: string) {
  for (const { characteristics } of known(id).services ?? []) {
    // Of several only the last is ever called back.
    const found = characteristics?.findLast((each) => each.uuid === uuid);
    if (found !== undefined) return found;
  }
  throw new Error(`${id} has no ${uuid}`);
}
