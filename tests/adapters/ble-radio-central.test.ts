/** The radio's own code, above a library of the test that behaves as the real one was seen to. */
import { EventEmitter } from 'node:events';
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Noble, NobleAdvertisement } from '../../adapters/ble/noble-api.ts';
import { Central } from '../../adapters/ble/radio-central.ts';
import type { Order, Said } from '../../adapters/ble/radio-messages.ts';

class Descriptor extends EventEmitter {
  readonly uuid: string;
  readonly #value: string;
  constructor(uuid: string, value: string) {
    super();
    this.uuid = uuid;
    this.#value = value;
  }
  readValue(): void {
    this.emit('valueRead', Buffer.from(this.#value, 'hex'));
  }
}

class Characteristic extends EventEmitter {
  uuid: string;
  properties: string[] | number;
  value = Buffer.from('6408', 'hex');
  answers = true;
  constructor(uuid: string, properties: string[] | number = ['read', 'notify']) {
    super();
    this.uuid = uuid;
    this.properties = properties;
  }
  read(): void {
    if (this.answers) this.emit('read', this.value, false);
  }
  subscribe(): void {
    if (this.answers) this.emit('notify', true);
  }
  discoverDescriptors(): void {
    this.emit('descriptorsDiscover', [
      new Descriptor('2902', '0000'),
      new Descriptor('2901', '6f7574'),
    ]);
  }
}

interface Raw {
  uuid: string;
  startHandle: number;
  valueHandle: number;
  endHandle: number;
  properties: number;
}

class Service extends EventEmitter {
  uuid: string;
  raw: Raw[] = [];
  characteristics: Characteristic[];
  constructor(uuid: string, characteristics: Characteristic[]) {
    super();
    this.uuid = uuid;
    this.characteristics = characteristics;
  }
  discoverCharacteristics(): void {
    this.emit('characteristicsDiscovered', this.raw);
    this.emit('characteristicsDiscover', this.characteristics);
  }
}

class Peripheral extends EventEmitter {
  id = '00aa01010001';
  address = '00:AA:01:01:00:01';
  connectable = true;
  advertisement: NobleAdvertisement = {
    ...{ localName: 'Air probe', serviceUuids: ['181a'], serviceData: [] },
  };
  rssi = 127;
  state = 'disconnected';
  services = [new Service('181a', [new Characteristic('2a6e'), new Characteristic('2a6f')])];
  /** What a connect does. */
  onConnect: () => void = () => this.linked();
  readonly calls: string[] = [];
  linked(): void {
    this.state = 'connected';
    this.emit('connect', undefined);
  }
  connect(): void {
    this.calls.push('connect');
    this.state = 'connecting';
    this.onConnect();
  }
  cancelConnect(): void {
    this.calls.push('cancelConnect');
    this.state = 'disconnected';
  }
  disconnect(): void {
    this.calls.push('disconnect');
    this.drop(22);
  }
  drop(reason: number): void {
    this.state = 'disconnected';
    this.emit('disconnect', reason);
  }
  discoverServices(): void {
    this.emit('servicesDiscover', this.services);
  }
  updateRssi(): void {
    this.emit('rssiUpdate', -48);
  }
}

/** What lies beneath, where the library speaks to the adapter itself. */
class Bindings {
  readonly stream = new EventEmitter();
  readonly client = { _security: 'low' };
  readonly _handles = { '00aa01010001': 64 };
  readonly _aclStreams = { 64: this.stream };
  readonly _gatts = { 64: this.client };
  /** The probe refuses a request. */
  refuse(request: number, reason: number): void {
    this.stream.emit('data', 4, Buffer.from([0x01, request, 0x10, 0x00, reason]));
  }
}

class FakeNoble extends EventEmitter implements Noble {
  readonly _bindings = new Bindings();
  scans = 0;
  readonly added: Characteristic[] = [];
  startScanning(): void {
    this.scans += 1;
  }
  addService(): never {
    throw new Error('not in this test');
  }
  addCharacteristics(_peripheral: string, _service: string, raw: Raw[]): Characteristic[] {
    this.added.push(...raw.map(({ uuid, properties }) => new Characteristic(uuid, properties)));
    return this.added;
  }
}

let noble: FakeNoble;
let said: Said[];
let central: Central;
let peripheral: Peripheral;
beforeEach(() => {
  vi.useFakeTimers();
  noble = new FakeNoble();
  said = [];
  central = new Central(noble, (message) => said.push(message));
  peripheral = new Peripheral();
  central.carryOut({ do: 'scan', wanted: { services: ['181a', 'fcd2'], companies: [0x1234] } });
});
afterEach(() => {
  vi.useRealTimers();
});

const ID = '00aa01010001';
const TEMPERATURE = '181a/2a6e';
let asked = 0;
/** Gives an order; the answer to it. */
async function ask(order: Record<string, unknown>, afterMs = 0) {
  asked += 1;
  central.carryOut({ id: ID, ...order, ask: asked } as Order);
  await vi.advanceTimersByTimeAsync(afterMs);
  const answer = said.find((message) => message.say === 'answer' && message.ask === asked);
  return answer?.say === 'answer' ? answer : null;
}
async function link(): Promise<void> {
  noble.emit('discover', peripheral);
  await ask({ do: 'connect' });
  await ask({ do: 'discover', services: ['181a', '180f'] });
}
const only = <S extends Said['say']>(say: S) =>
  said.filter((message): message is Extract<Said, { say: S }> => message.say === say);

describe('hearing', () => {
  it('tells a copy, in one spelling, of what is wanted only', () => {
    noble.emit('discover', peripheral);
    peripheral.advertisement.serviceUuids?.push('180f');
    expect(only('heard')).toEqual([
      {
        ...{
          say: 'heard',
          id: ID,
          address: '00:aa:01:01:00:01',
          passing: false,
          t: Date.now(),
          name: 'Air probe',
        },
        ...{ signalDbm: null, connectable: true, services: ['181a'], serviceData: [] },
        manufacturerData: null,
      },
    ]);
    const other = new Peripheral();
    other.id = 'other';
    other.advertisement = { serviceUuids: ['180d'], manufacturerData: Buffer.from('4c00', 'hex') };
    noble.emit('discover', other);
    expect(only('heard')).toHaveLength(1);
    other.advertisement.manufacturerData = Buffer.from('341201', 'hex');
    noble.emit('discover', other);
    expect(only('heard')).toHaveLength(2);
  });

  it.each([
    ['public', '4A:AA:01:01:00:01', false],
    ['random', 'C0:AA:01:01:00:01', false],
    ['random', '4A:AA:01:01:00:01', true],
    ['random', '1A:AA:01:01:00:01', true],
  ])('tells of an address, %s %s, whether it will change: %s', (type, address, passing) => {
    noble.emit('discover', Object.assign(peripheral, { addressType: type, address }));
    expect(only('heard')).toMatchObject([{ passing }]);
  });

  it('tells the same again only after a while, and what is new at once', () => {
    for (let i = 0; i < 10; i += 1) noble.emit('discover', peripheral);
    expect(only('heard')).toHaveLength(1);
    for (const byte of ['01', '02']) {
      const serviceData = [{ uuid: 'fcd2', data: Buffer.from(byte, 'hex') }];
      peripheral.advertisement.serviceData = serviceData;
      noble.emit('discover', peripheral);
    }
    expect(only('heard')).toHaveLength(3);
    vi.advanceTimersByTime(500);
    noble.emit('discover', peripheral);
    expect(only('heard')).toHaveLength(4);
  });

  it('knows a probe again that leaves its service out', () => {
    noble.emit('discover', peripheral);
    peripheral.advertisement = { localName: 'Air probe' };
    noble.emit('discover', peripheral);
    expect(only('heard')).toHaveLength(2);
  });
});

describe('linking', () => {
  it('finds, reads and listens', async () => {
    noble.emit('discover', peripheral);
    expect(await ask({ do: 'connect' })).toMatchObject({ error: null });
    const { found } = (await ask({ do: 'discover', services: ['181a'] })) ?? {};
    const both = { service: '181a', notifies: true, reads: true };
    expect(found).toEqual([
      { key: TEMPERATURE, uuid: '2a6e', ...both },
      { key: '181a/2a6f', uuid: '2a6f', ...both },
    ]);
    expect(await ask({ do: 'describe', key: TEMPERATURE })).toMatchObject({
      descriptors: { '2901': '6f7574' },
    });
    expect(await ask({ do: 'read', key: TEMPERATURE })).toMatchObject({ value: '6408' });
    expect(await ask({ do: 'signal' })).toMatchObject({ signalDbm: -48 });
    expect(await ask({ do: 'subscribe', key: TEMPERATURE })).toMatchObject({ error: null });
    const characteristic = peripheral.services[0]?.characteristics[0];
    characteristic?.emit('data', Buffer.from('e803', 'hex'), true);
    characteristic?.emit('data', Buffer.from('ffff', 'hex'), false); // the echo of a read
    expect(only('value')).toEqual([
      { say: 'value', id: ID, key: TEMPERATURE, t: Date.now(), bytes: 'e803' },
    ]);
  });

  it('reaches each of several characteristics of one UUID', async () => {
    const raw = [1, 2, 3].map((n) => ({
      ...{ uuid: n === 2 ? '2a6f' : '2a6e', startHandle: 10 * n, valueHandle: 10 * n + 1 },
      ...{ endHandle: 10 * n + 9, properties: 0x12 },
    }));
    const [service] = peripheral.services;
    if (service !== undefined) service.raw = raw;
    await link();
    const found = only('answer').at(-1)?.found ?? [];
    expect(found.map(({ key, uuid }) => [key, uuid])).toEqual([
      ['181a/2a6e', '2a6e'],
      ['181a/2a6f', '2a6f'],
      ['181a/2a6e#2', '2a6e'],
    ]);
    expect(found.every(({ notifies, reads }) => notifies && reads)).toBe(true);
    expect(await ask({ do: 'read', key: '181a/2a6e#2' })).toMatchObject({ value: '6408' });
  });

  describe('what refuses', () => {
    const silent = async (): Promise<Characteristic> => {
      await link();
      const characteristic = peripheral.services[0]?.characteristics[0];
      if (characteristic === undefined) throw new Error('it has none');
      characteristic.answers = false;
      return characteristic;
    };

    it('to send by itself is known at once', async () => {
      const characteristic = await silent();
      const { _bindings: beneath } = noble;
      characteristic.subscribe = () => beneath.refuse(0x12, 0x03);
      expect((await ask({ do: 'subscribe', key: TEMPERATURE }))?.error).toBe('it refused (0x3)');
      // That a listing has come to its end is a refusal as well.
      characteristic.read = () => {
        beneath.refuse(0x08, 0x0a);
        characteristic.emit('read', characteristic.value, false);
      };
      expect(await ask({ do: 'read', key: TEMPERATURE })).toMatchObject({ value: '6408' });
    });

    it('all that have not paired with it is known when that has failed, and asked on', async () => {
      const characteristic = await silent();
      const { _bindings: beneath } = noble;
      // As the library does it: at a refusal it asks to pair, and then waits for ever; unless it is final.
      beneath.stream.on('data', () => {
        if (beneath.client._security !== 'low') characteristic.emit('read', Buffer.of(), false);
      });
      characteristic.read = () => beneath.refuse(0x0a, 0x05);
      const answer = ask({ do: 'read', key: TEMPERATURE }, 100);
      beneath.stream.emit('encryptFail');
      expect(await answer).toMatchObject({ error: 'it refused to be read', why: 'pairing' });
    });

    it('them without a word is known after a while', async () => {
      const characteristic = await silent();
      characteristic.read = () => noble._bindings.refuse(0x0a, 0x0f);
      const answer = await ask({ do: 'read', key: TEMPERATURE }, 5000);
      expect(answer).toMatchObject({ why: 'pairing' });
      expect(noble._bindings.client._security).toBe('medium');
    });

    it('them and pairs when it is asked to is read', async () => {
      const characteristic = await silent();
      characteristic.read = () => noble._bindings.refuse(0x0a, 0x0f);
      const answer = ask({ do: 'read', key: TEMPERATURE }, 100);
      noble._bindings.stream.emit('encrypt', true);
      characteristic.emit('read', characteristic.value, false);
      expect(await answer).toMatchObject({ error: null, value: '6408' });
    });
  });

  it('gives up a call that is never answered', async () => {
    await link();
    const [characteristic] = peripheral.services[0]?.characteristics ?? [];
    if (characteristic !== undefined) characteristic.answers = false;
    expect(await ask({ do: 'read', key: TEMPERATURE }, 4999)).toBeNull();
    await vi.advanceTimersByTimeAsync(1);
    expect(only('answer').at(-1)?.error).toBe('reading a value did not end within 5 s');
    expect(characteristic?.listenerCount('read')).toBe(0);
  });

  it('ends all that is waited for when the link is lost, and says why it was', async () => {
    await link();
    const [characteristic] = peripheral.services[0]?.characteristics ?? [];
    if (characteristic !== undefined) characteristic.answers = false;
    void ask({ do: 'read', key: TEMPERATURE });
    peripheral.drop(8);
    await vi.advanceTimersByTimeAsync(0);
    expect(only('gone')).toEqual([{ say: 'gone', id: ID, reason: 8 }]);
    expect(only('answer').at(-1)?.error).toMatch(/the link was lost/);
    expect(await ask({ do: 'read', key: TEMPERATURE })).toMatchObject({
      error: 'there is no link to it',
    });
    // And the next link is as good as the first.
    if (characteristic !== undefined) characteristic.answers = true;
    await link();
    expect(await ask({ do: 'read', key: TEMPERATURE })).toMatchObject({ error: null });
    expect(peripheral.listenerCount('servicesDiscover')).toBe(0);
  });

  it('does not ask for an end to a link that there is not', async () => {
    noble.emit('discover', peripheral);
    expect(await ask({ do: 'disconnect' })).toMatchObject({ error: null });
    expect(peripheral.calls).toEqual([]);
    await link();
    expect(await ask({ do: 'disconnect' })).toMatchObject({ error: null });
    expect(peripheral.calls).toEqual(['connect', 'disconnect']);
  });

  it('says why a link could not be made', async () => {
    noble.emit('discover', peripheral);
    peripheral.onConnect = () => peripheral.emit('connect', new Error('Failed (0x3e)'));
    expect(await ask({ do: 'connect' })).toMatchObject({ error: 'Failed (0x3e)' });
    expect(await ask({ do: 'connect', id: 'unheard' })).toMatchObject({
      error: 'it has not been heard',
    });
  });

  it('gives up a connect, and ends one that comes about after that', async () => {
    noble.emit('discover', peripheral);
    peripheral.onConnect = () => undefined;
    expect(await ask({ do: 'connect' }, 5000)).toMatchObject({
      error: 'connecting did not end within 5 s',
    });
    expect(peripheral.calls).toEqual(['connect', 'cancelConnect']);
    peripheral.linked();
    expect(peripheral.calls).toEqual(['connect', 'cancelConnect', 'disconnect']);
  });
});

describe('a process that stood still', () => {
  it('looks for the answer once more before it gives a call up', async () => {
    noble.emit('discover', peripheral);
    peripheral.onConnect = () => undefined;
    const answer = ask({ do: 'connect' }, 5000);
    const now = vi.spyOn(performance, 'now').mockReturnValue(performance.now() + 9000);
    await answer;
    now.mockRestore();
    expect(only('answer')).toEqual([]);
    peripheral.linked();
    await vi.advanceTimersByTimeAsync(0);
    expect(only('answer').at(-1)).toMatchObject({ error: null });
    expect(peripheral.calls).toEqual(['connect']);
    expect(vi.getTimerCount()).toBe(0);
  });

  it('gives the call up when there is none then', async () => {
    noble.emit('discover', peripheral);
    peripheral.onConnect = () => undefined;
    const answer = ask({ do: 'connect' }, 5000);
    const now = vi.spyOn(performance, 'now').mockReturnValue(performance.now() + 9000);
    await answer;
    now.mockRestore();
    await vi.advanceTimersByTimeAsync(1000);
    expect(only('answer').at(-1)?.error).toMatch(/connecting did not end/);
  });
});

describe('after a connect that has blocked the process', () => {
  /** A connect that takes so long; meanwhile values queue up, which come when it is over. */
  async function block(ms: number): Promise<void> {
    await link();
    await ask({ do: 'subscribe', key: TEMPERATURE });
    const far = new Peripheral();
    far.id = 'far';
    noble.emit('discover', far);
    const now = vi
      .spyOn(performance, 'now')
      .mockReturnValueOnce(1000)
      .mockReturnValue(1000 + ms);
    far.onConnect = () => undefined;
    void ask({ do: 'connect', id: 'far' });
    const [characteristic] = peripheral.services[0]?.characteristics ?? [];
    for (let i = 0; i < 5; i += 1) characteristic?.emit('data', Buffer.from('e803', 'hex'), true);
    far.linked();
    await vi.advanceTimersByTimeAsync(0);
    await vi.advanceTimersByTimeAsync(10);
    now.mockRestore();
    characteristic?.emit('data', Buffer.from('6408', 'hex'), true);
  }

  it('tells nothing of what nobody can date, but how much it was', async () => {
    await block(6000);
    expect(only('late')).toEqual([{ say: 'late', count: 5 }]);
    expect(only('value').map(({ bytes }) => bytes)).toEqual(['6408']);
  });

  it('tells all where it was short', async () => {
    await block(800);
    expect(only('late')).toEqual([]);
    expect(only('value')).toHaveLength(6);
  });
});
