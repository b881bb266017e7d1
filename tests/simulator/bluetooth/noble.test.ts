/**
 * The real radio library, in a process of its own, above the virtual controller: what it hears, reads
 * and is told is what the devices have; and what its links go through is what links go through.
 */
import { describe, expect, it } from 'vitest';
import type { Plan } from '../../../simulator/bluetooth/plan.ts';
import { hasRadioLibrary } from '../../radio-library.mjs';
import { useNoble } from './noble-stage.ts';

const T = 1_777_885_200_000;
const A = 'f0:1a:b0:00:00:01';
const ID = 'f01ab0000001';
const PROBE: Plan = {
  kind: 'environmental',
  address: A,
  name: 'Reading room return',
  advertisingMs: 50,
  instances: [{ probe: 'p1', measures: ['temperatureC', 'humidityPct'], intervalS: 1 }],
};
const READING = { t: T, probe: 'p1', temperatureC: 21.48, humidityPct: 50, batteryPct: 88 };

const { air, noble, connected } = useNoble();

describe.skipIf(!hasRadioLibrary)('a probe', () => {
  it.each([
    ['plain', false],
    ['extended', true],
  ])('is heard in %s reports', async (_, extended) => {
    const { host } = await air({ plans: [PROBE] });
    const radio = await noble(host, 'poweredOn', extended);
    await radio.ask({ do: 'scan' });
    const { rssi } = await radio.event('discover', ({ services }) => services.length === 2);
    const { services, name } = await radio.event('discover', (said) => said.name !== null);
    expect(name).toBe('Reading room return');
    // In the extended form the library forgets the services when the name comes.
    expect(services).toEqual(extended ? [] : ['181a', '180f']);
    expect(rssi).toBeGreaterThan(-70);
    expect(rssi).toBeLessThan(-50);
  });

  it.each([
    ['plain', false],
    ['extended', true],
  ])('is connected, discovered, read, and tells: %s', async (_, extended) => {
    const { host } = await air({ plans: [PROBE] });
    host.feed([READING]);
    const radio = await noble(host, 'poweredOn', extended);
    const found = await connected(radio, ID);
    const ours = found.filter(({ service }) => service === '180f' || service === '181a');
    expect(ours.map(({ uuid, properties }) => [uuid, ...properties])).toEqual([
      ['2a19', 'read', 'notify'],
      ['2a6e', 'read', 'notify'],
      ['2a6f', 'read', 'notify'],
    ]);
    // The published samples of both, and 88 %.
    expect(await radio.ask({ do: 'read', id: ID, uuid: '2a6e' })).toBe('6408');
    expect(await radio.ask({ do: 'read', id: ID, uuid: '2a6f' })).toBe('8813');
    expect(await radio.ask({ do: 'read', id: ID, uuid: '2a19' })).toBe('58');
    await radio.ask({ do: 'subscribe', id: ID, uuid: '2a6e' });
    host.feed([{ t: T + 1000, probe: 'p1', temperatureC: -10 }]);
    expect((await radio.event('data')).hex).toBe('18fc');
  });

  it('says `not known` before it has measured', async () => {
    const { host } = await air({ plans: [PROBE] });
    const radio = await noble(host);
    await connected(radio, ID);
    expect(await radio.ask({ do: 'read', id: ID, uuid: '2a6e' })).toBe('0080');
    expect(await radio.ask({ do: 'read', id: ID, uuid: '2a6f' })).toBe('ffff');
    // There is no code for a battery: the read is refused, which the library gives as no bytes.
    expect(await radio.ask({ do: 'read', id: ID, uuid: '2a19' })).toBe('');
  });

  it('hands out values that are longer than a packet', async () => {
    const name = 'The reading room, above the second shelf from the door';
    const { host } = await air({ plans: [{ ...PROBE, mtu: 23, name }] });
    const radio = await noble(host);
    await connected(radio, ID);
    const hex = String(await radio.ask({ do: 'read', id: ID, uuid: '2a00' }));
    expect(Buffer.from(hex, 'hex').toString()).toBe(name);
  });

  it('with two sensors tells them apart by descriptors, and tells both', async () => {
    const instances = [
      { probe: 'p1', measures: ['temperatureC' as const], intervalS: 5, description: 'inside' },
      {
        ...{ probe: 'p2', measures: ['temperatureC' as const], intervalS: 5 },
        ...{ description: 'outside', application: 0x1c },
      },
    ];
    const { host } = await air({ plans: [{ ...PROBE, instances }] });
    host.feed([READING, { t: T, probe: 'p2', temperatureC: 0.01 }]);
    const radio = await noble(host);
    const found = await connected(radio, ID);
    const [inside, outside] = found.filter(({ uuid }) => uuid === '2a6e');
    expect(await radio.ask({ do: 'read handle', id: ID, handle: inside?.handle ?? 0 })).toBe(
      '6408',
    );
    expect(await radio.ask({ do: 'read handle', id: ID, handle: outside?.handle ?? 0 })).toBe(
      '0100',
    );
    // By UUID the library knows only the last of them.
    const described = await radio.ask({ do: 'describe', id: ID, uuid: '2a6e' }, 10_000);
    expect(described).toMatchObject({ 2901: Buffer.from('outside').toString('hex') });
    // Flags, instantaneous, no period, every 5 s, outside, uncertainty not available: 11 bytes.
    expect(described).toMatchObject({ '290c': '0000' + '01' + '000000' + '050000' + '1c' + 'ff' });
    expect(described).toMatchObject({ 2906: '48f4' + '401f' });
    for (const { handle } of [inside, outside].flatMap((each) => each ?? [])) {
      await radio.ask({ do: 'write handle', id: ID, handle: handle + 1, hex: '0100' });
    }
    host.feed([
      { ...READING, temperatureC: 1 },
      { t: T, probe: 'p2', temperatureC: 2 },
    ]);
    expect((await radio.event('handle', (s) => s.handle === inside?.handle)).hex).toBe('6400');
    expect((await radio.event('handle', (s) => s.handle === outside?.handle)).hex).toBe('c800');
  });

  it('that offers no notifications can be read only', async () => {
    const { host } = await air({ plans: [{ ...PROBE, notify: false }] });
    const radio = await noble(host);
    const found = await connected(radio, ID);
    expect(found.find(({ uuid }) => uuid === '2a6e')?.properties).toEqual(['read']);
  });

  it('that wants to be paired with never answers a read', async () => {
    const { host } = await air({ plans: [{ ...PROBE, secured: true }] });
    const radio = await noble(host);
    await connected(radio, ID);
    const read = radio.ask({ do: 'read', id: ID, uuid: '2a6e' }, 1000);
    await expect(read).rejects.toThrow('there never was an answer to read');
  });

  it('indicates, one after the other', async () => {
    const { host } = await air({ plans: [PROBE] });
    const radio = await noble(host);
    await connected(radio, ID);
    await radio.ask({ do: 'subscribe', id: ID, uuid: '2a05' });
    for (const hex of ['0100ffff', '0200ffff', '0300ffff']) {
      host.order({ to: A, do: 'tell', uuid: '2a05', hex });
    }
    await radio.event('data', ({ hex }) => hex === '0300ffff');
    const told = radio.said.flatMap((s) => ('event' in s && s.event === 'data' ? s.hex : []));
    expect(told).toEqual(['0100ffff', '0200ffff', '0300ffff']);
  });
});

describe.skipIf(!hasRadioLibrary)('a link', () => {
  it('is dropped by the probe, for a reason', async () => {
    const { host } = await air({ plans: [PROBE] });
    const radio = await noble(host);
    await connected(radio, ID);
    host.order({ to: A, do: 'drop', reason: 0x15 });
    expect((await radio.event('disconnect')).reason).toBe(0x15);
  });

  it('is ended by the host', async () => {
    const { host } = await air({ plans: [PROBE] });
    const radio = await noble(host);
    await connected(radio, ID);
    await radio.ask({ do: 'disconnect', id: ID });
    expect((await radio.event('disconnect')).reason).toBe(0x16);
  });

  it('is lost when the probe goes away, and made again when it is back', async () => {
    const { host } = await air({ plans: [PROBE] });
    host.feed([READING]);
    const radio = await noble(host);
    await connected(radio, ID);
    host.order({ to: A, do: 'away' });
    expect((await radio.event('disconnect')).reason).toBe(8);
    const from = radio.said.length;
    await radio.ask({ do: 'scan' });
    host.order({ to: A, do: 'back' });
    await radio.event('discover', () => true, from);
    await radio.ask({ do: 'connect', id: ID });
    await radio.ask({ do: 'discover', id: ID });
    expect(await radio.ask({ do: 'read', id: ID, uuid: '2a6e' })).toBe('6408');
  });

  it('outlasts an absence that is shorter than was agreed, and delivers late', async () => {
    const { host } = await air({ plans: [PROBE], speed: 0.2 });
    const radio = await noble(host);
    await radio.ask({ do: 'scan' });
    await radio.event('discover');
    await radio.ask({ do: 'connect', id: ID, timeout: 400 });
    await radio.ask({ do: 'discover', id: ID }, 20_000);
    await radio.ask({ do: 'subscribe', id: ID, uuid: '2a6e' });
    host.order({ to: A, do: 'away', forMs: 200 });
    host.feed([READING]);
    expect((await radio.event('data')).hex).toBe('6408');
    expect(radio.said.some((said) => 'event' in said && said.event === 'disconnect')).toBe(false);
  });

  it('fails to be established', async () => {
    const { host } = await air({ plans: [PROBE] });
    const radio = await noble(host);
    await radio.ask({ do: 'scan' });
    await radio.event('discover');
    host.order({ to: A, do: 'fail', times: 1 });
    await radio.ask({ do: 'connect', id: ID });
    expect((await radio.event('disconnect')).reason).toBe(0x3e);
    await radio.ask({ do: 'connect', id: ID });
    await radio.ask({ do: 'discover', id: ID });
  });

  it.each([
    [true, ['connect', 'state']],
    [false, ['state', 'connect']],
  ])('to an absent probe is not made; blocks the process: %s', async (blocks, order) => {
    const { host } = await air({ plans: [PROBE], controller: { blocks, connectLimitMs: 2000 } });
    const radio = await noble(host);
    await radio.ask({ do: 'scan' });
    await radio.event('discover');
    host.order({ to: A, do: 'away' });
    await new Promise((resolve) => setTimeout(resolve, 100));
    const answered: string[] = [];
    const connect = radio.ask({ do: 'connect', id: ID });
    await Promise.all([
      expect(connect).rejects.toThrow('0x3e'),
      connect.catch(() => answered.push('connect')),
      radio.ask({ do: 'state' }).then(() => answered.push('state')),
    ]);
    expect(answered).toEqual(order);
  });

  it('ends the scan when it is made, and the library says so', async () => {
    const { host } = await air({ plans: [PROBE] });
    const radio = await noble(host);
    await radio.ask({ do: 'scan' });
    await radio.event('discover');
    await radio.ask({ do: 'connect', id: ID });
    await radio.event('scanStop');
  });

  it('to a probe that has gone deaf stays up, and nothing is answered', async () => {
    const { host } = await air({ plans: [PROBE] });
    const radio = await noble(host);
    await connected(radio, ID);
    host.order({ to: A, do: 'deaf' });
    const read = radio.ask({ do: 'read', id: ID, uuid: '2a6e' }, 1000);
    await expect(read).rejects.toThrow('there never was an answer to read');
    expect(radio.said.some((said) => 'event' in said && said.event === 'disconnect')).toBe(false);
  });
});

describe.skipIf(!hasRadioLibrary)('garbage', () => {
  it('in values arrives as it is, empty ones too', async () => {
    const { host } = await air({ plans: [PROBE] });
    const radio = await noble(host);
    await connected(radio, ID);
    await radio.ask({ do: 'subscribe', id: ID, uuid: '2a6e' });
    for (const hex of ['', 'ff', '00112233445566778899']) {
      host.order({ to: A, do: 'tell', uuid: '2a6e', hex });
    }
    await radio.event('data', ({ hex }) => hex === '00112233445566778899');
    const told = radio.said.flatMap((s) => ('event' in s && s.event === 'data' ? s.hex : []));
    expect(told).toEqual(['', 'ff', '00112233445566778899']);
  });

  it('in frames and packets may throw in the library, and goes by', async () => {
    const { host } = await air({ plans: [PROBE] });
    const radio = await noble(host);
    await connected(radio, ID);
    await radio.ask({ do: 'subscribe', id: ID, uuid: '2a6e' });
    host.order({ to: A, do: 'frame', channel: 4, hex: '1b' }); // a notification of nothing
    await radio.event('uncaught');
    host.order({ do: 'packet', hex: '043e' });
    await radio.event('uncaught', () => true, radio.said.length - 1);
    host.feed([READING]);
    expect((await radio.event('data')).hex).toBe('6408');
  });

  it('comes of packets that are cut or corrupted, until they are whole again', async () => {
    const { host } = await air({ plans: [PROBE] });
    const radio = await noble(host);
    await connected(radio, ID);
    await radio.ask({ do: 'subscribe', id: ID, uuid: '2a6e' });
    host.order({ to: A, do: 'spoil', how: 'cut', packets: 1 });
    host.order({ to: A, do: 'tell', uuid: '2a6e', hex: '0100' });
    host.order({ to: A, do: 'tell', uuid: '2a6e', hex: '0200' });
    await radio.event('data', ({ hex }) => hex === '0200');
    host.order({ to: A, do: 'spoil', how: 'corrupt', packets: 1 });
    host.order({ to: A, do: 'tell', uuid: '2a6e', hex: '0300' });
    host.order({ to: A, do: 'tell', uuid: '2a6e', hex: '0400' });
    await radio.event('data', ({ hex }) => hex === '0400');
    const told = radio.said.flatMap((s) => ('event' in s && s.event === 'data' ? s.hex : []));
    expect(told).toEqual(['0200', '0400']);
  });

  it('in advertisements is handed on', async () => {
    const { host } = await air({ plans: [PROBE] });
    host.order({ to: A, do: 'advertise', hex: 'ff00' + 'aa'.repeat(20) });
    const radio = await noble(host);
    await radio.ask({ do: 'scan' });
    expect((await radio.event('discover')).services).toEqual([]);
    host.order({ to: A, do: 'advertise', hex: null });
    await radio.event('discover', ({ services }) => services.includes('181a'));
  });
});

describe.skipIf(!hasRadioLibrary)('the controller', () => {
  it('loses power without a word about its links, and works again after', async () => {
    const { host } = await air({ plans: [PROBE] });
    const radio = await noble(host);
    await connected(radio, ID);
    host.order({ do: 'power', on: false });
    await radio.event('state', ({ state }) => state === 'poweredOff');
    expect(radio.said.some((said) => 'event' in said && said.event === 'disconnect')).toBe(false);
    const from = radio.said.length;
    host.order({ do: 'power', on: true });
    await radio.event('state', ({ state }) => state === 'poweredOn', from);
    await radio.ask({ do: 'scan' });
    await radio.event('discover', () => true, from);
  });

  it('is switched off in order', async () => {
    const { host } = await air({ plans: [PROBE] });
    const radio = await noble(host);
    await connected(radio, ID);
    host.order({ do: 'power', on: false, politely: true });
    expect((await radio.event('disconnect')).reason).toBe(0x13);
    await radio.event('state', ({ state }) => state === 'poweredOff');
  });

  it('is unplugged, and in again only for a new process', async () => {
    const { host } = await air({ plans: [PROBE] });
    const radio = await noble(host);
    host.order({ do: 'unplug' });
    await radio.event('state', ({ state }) => state === 'poweredOff');
    host.order({ do: 'plug' });
    const from = radio.said.length;
    const again = radio.event('state', () => true, from, 1500);
    await expect(again).rejects.toThrow('there never was state');
    await noble(host);
  });

  it('is off at the start, and switched on', async () => {
    const { host } = await air({ plans: [PROBE], controller: { up: false } });
    const radio = await noble(host, 'poweredOff');
    host.order({ do: 'power', on: true });
    await radio.event('state', ({ state }) => state === 'poweredOn');
  });

  it('may not be used', async () => {
    const { host } = await air({ plans: [PROBE], controller: { missing: 'permission' } });
    await noble(host, 'unauthorized');
  });

  it('is not there', async () => {
    const { host } = await air({ plans: [PROBE], controller: { missing: 'adapter' } });
    const radio = await noble(host, null);
    expect((await radio.event('warning', () => true, 0, 10_000)).text).toContain('No such device');
    expect(await radio.ask({ do: 'state' })).toBe('unknown');
  });

  it('is nothing that the kernel knows of', async () => {
    const { host } = await air({ plans: [PROBE], controller: { missing: 'kernel' } });
    const radio = await noble(host, null);
    const { text } = await radio.event('uncaught', () => true, 0, 10_000);
    expect(text).toBe('Address family not supported by protocol');
  });

  it('has its scan ended by another program', async () => {
    const { host } = await air({ plans: [PROBE] });
    const radio = await noble(host);
    await radio.ask({ do: 'scan' });
    await radio.event('discover');
    host.order({ do: 'stop-scan' });
    await radio.event('scanStop');
  });
});

describe.skipIf(!hasRadioLibrary)('a process that takes the place of another', () => {
  it('finds the world as it is, not as it was at the start', async () => {
    const { host } = await air({ plans: [PROBE, { ...PROBE, address: 'f0:1a:b0:00:00:02' }] });
    const first = await noble(host);
    await connected(first, ID);
    host.feed([READING]);
    host.feed([{ t: T + 1, probe: 'p1', temperatureC: 22.48 }]);
    host.order({ to: 'f0:1a:b0:00:00:02', do: 'away' });
    first.child.kill('SIGKILL');
    const second = await noble(host);
    await connected(second, ID);
    expect(await second.ask({ do: 'read', id: ID, uuid: '2a6e' })).toBe('c808');
    expect(await second.ask({ do: 'read', id: ID, uuid: '2a19' })).toBe('58');
    const heard = second.said.flatMap((s) => ('event' in s && s.event === 'discover' ? s.id : []));
    expect(new Set(heard)).toEqual(new Set([ID]));
  });
});

describe.skipIf(!hasRadioLibrary)('a beacon', () => {
  it('is heard without a connection, each packet with a number of its own', async () => {
    const plan: Plan = {
      kind: 'beacon',
      address: A,
      name: 'Yard',
      probes: ['p1'],
      advertisingMs: 50,
    };
    const { host } = await air({ plans: [plan] });
    host.feed([
      {
        t: 25_600 * 1000 + 900,
        probe: 'p1',
        temperatureC: 23.97,
        humidityPct: 63.27,
        batteryPct: 93,
      },
    ]);
    const radio = await noble(host);
    await radio.ask({ do: 'scan' });
    // The published sample: packet 9, 93 %, 23.97 °C, 63.27 %.
    await radio.event('discover', ({ hex }) => hex === '400009015d025d0903b718');
    host.feed([{ t: 25_600 * 1000 + 950, probe: 'p1', temperatureC: 23.98, humidityPct: 63.27 }]);
    await radio.event('discover', ({ hex }) => hex === '40000a015d025e0903b718');
  });
});
