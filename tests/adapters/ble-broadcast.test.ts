/** Probes that broadcast, keys, and probes that a file describes, through the whole adapter. */
import { chmodSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { mkdtemp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { createBleAdapter } from '../../adapters/ble/index.ts';
import { bleStage, type FakeProbe } from './ble-stage.ts';

const folder = await mkdtemp(join(tmpdir(), 'plateau-ble-'));
afterAll(() => rmSync(folder, { recursive: true }));

/** The published example of BTHome's encryption: 25.06 °C, 50.55 %. */
const SENDER = '5448e68f80a5';
const KEY = '231d39c1d7cc1ab1aee224cd096db932';
const SEALED = '41e445f3c9962b332211006c7c4519';
const NEXT = '413e932cc7175f34221100553876af';
const S = `ble:${SENDER}`;

describe('a probe that broadcasts', () => {
  it('is read without a link', async () => {
    const stage = await bleStage();
    stage.broadcast('00aa01020002', '4002ca0903bf13', { name: 'Beacon' });
    await stage.clock.advance(5000);
    expect(stage.readings('ble:00aa01020002')).toMatchObject([
      { temperatureC: 25.06, humidityPct: 50.55 },
    ]);
    expect(stage.name('ble:00aa01020002')).toBe('Beacon');
    expect(stage.host.links).toContainEqual({
      ...{ probe: 'ble:00aa01020002', link: { state: 'connected', signalDbm: -60 } },
    });
    expect(stage.orders('connect')).toEqual([]);
  });

  it('has a second probe in it where it tells two temperatures', async () => {
    const stage = await bleStage();
    stage.broadcast('00aa01020002', '4002ca0902cf09');
    expect(stage.readings('ble:00aa01020002')).toMatchObject([{ temperatureC: 25.06 }]);
    expect(stage.readings('ble:00aa01020002/2')).toMatchObject([{ temperatureC: 25.11 }]);
  });

  it('is counted once where a packet is heard several times', async () => {
    const stage = await bleStage();
    for (let i = 0; i < 3; i += 1) stage.broadcast('00aa01020002', '40000902ca09');
    stage.broadcast('00aa01020002', '40000a02ca09');
    expect(stage.readings('ble:00aa01020002')).toHaveLength(2);
  });

  it('is counted once where it says that it is the same measurement still', async () => {
    const stage = await bleStage();
    stage.broadcast('00aa01020002', '4002ca09505d396164');
    await stage.clock.advance(1000);
    stage.broadcast('00aa01020002', '4002ca09505d396164');
    await stage.clock.advance(1000);
    expect(stage.readings('ble:00aa01020002')).toHaveLength(1);
    stage.broadcast('00aa01020002', '4002ca09505e396164');
    expect(stage.readings('ble:00aa01020002')).toHaveLength(2);
  });

  it('may send garbage: nothing comes of it but a count', async () => {
    const stage = await bleStage();
    for (const hex of ['', '40', '41', '4102', '4203', '4002', 'ff']) {
      stage.broadcast('00aa01020002', hex);
    }
    expect(stage.host.readings()).toEqual([]);
    await stage.clock.advance(500);
    expect(stage.status()?.state).toBe('running');
    expect(stage.status()?.text).toBeTruthy();
  });

  it('is asked for its key where it is encrypted, and read when the key is there', async () => {
    const keysFile = join(folder, 'one', 'keys.json');
    const stage = await bleStage({ keysFile });
    stage.broadcast(SENDER, SEALED);
    await stage.clock.advance(500);
    expect(stage.host.readings()).toEqual([]);
    expect(stage.links(S)).toEqual(['lost']);
    expect(stage.host.links.at(-1)?.link).toEqual({
      ...{ state: 'lost', needs: 'key', signalDbm: -60 },
    });
    expect(stage.status()?.text).toMatch(
      /54:48:e6:8f:80:a5 sends encrypted readings: enter its key/,
    );

    expect(stage.adapter.setKey(S, 'nonsense')).toMatch(/is not 32 hexadecimal digits/);
    expect(stage.adapter.setKey(S, KEY)).toBeNull();
    stage.broadcast(SENDER, NEXT);
    await stage.clock.advance(500);
    expect(stage.readings(S)).toMatchObject([{ temperatureC: 25.06, humidityPct: 50.55 }]);
    expect(stage.links(S)).toEqual(['lost', 'connected']);
    expect(stage.host.links.at(-1)?.link).not.toHaveProperty('needs');
    expect(stage.status()).toEqual({ state: 'running', text: undefined });
    expect(statSync(keysFile).mode & 0o777).toBe(0o600);

    // One that was copied, or left half written, is its owner's alone from now on.
    chmodSync(keysFile, 0o666);
    writeFileSync(`${keysFile}.new`, '');
    chmodSync(`${keysFile}.new`, 0o666);
    expect((await bleStage({ keysFile })).adapter.setKey('00:11', KEY)).toBeNull();
    expect(statSync(keysFile).mode & 0o777).toBe(0o600);
    chmodSync(keysFile, 0o666);
    expect((await bleStage({ keysFile })).adapter.setKey('00:11', 'no key')).toMatch(/not 32/);
    expect(statSync(keysFile).mode & 0o777).toBe(0o600);
    expect(stage.adapter.setKey(S, KEY)).toBeNull();

    // Another start has it at once, under any spelling of the address, and as a second probe of it.
    const again = await bleStage({ keysFile });
    expect(again.adapter.setKey(`${S}/2`, KEY)).toBeNull();
    expect(Object.keys(JSON.parse(readFileSync(keysFile, 'utf8')) as object)).toHaveLength(1);
    again.broadcast(SENDER, SEALED);
    expect(again.readings(S)).toHaveLength(1);
    expect(again.adapter.setKey('54:48:E6:8F:80:A5', null)).toBeNull();
    expect(readFileSync(keysFile, 'utf8')).toBe('{}\n');
  });

  it('is said to have a wrong key', async () => {
    const stage = await bleStage();
    expect(stage.adapter.setKey(S, 'ff'.repeat(16))).toBeNull();
    stage.broadcast(SENDER, SEALED);
    await stage.clock.advance(500);
    expect(stage.host.readings()).toEqual([]);
    expect(stage.status()?.text).toMatch(/cannot be decrypted with the key/);
    expect(stage.host.links.at(-1)?.link).toMatchObject({ state: 'lost', needs: 'key' });
  });

  it('and has a key although it does not encrypt is said to need it taken away', async () => {
    const stage = await bleStage();
    stage.adapter.setKey(S, KEY);
    stage.broadcast(SENDER, '4002ca0903bf13');
    expect(stage.host.links.at(-1)?.link).toMatchObject({ state: 'lost', needs: 'key' });
    expect(stage.adapter.setKey(S, null)).toBeNull();
    stage.broadcast(SENDER, '4002ca0903bf13');
    expect(stage.readings(S)).toHaveLength(1);
  });

  it('and is of no use for another reason needs no key', async () => {
    const stage = await bleStage();
    stage.broadcast(SENDER, '6002ca0903bf13'); // version 3
    expect(stage.host.links.at(-1)?.link).toEqual({ state: 'lost', signalDbm: -60 });
  });

  it('cannot be put out by another sender that plays it', async () => {
    const stage = await bleStage();
    stage.adapter.setKey(S, KEY);
    stage.broadcast(SENDER, SEALED);
    stage.broadcast(SENDER, '4002ca0903bf13'); // plain, as it never was
    expect(stage.readings(S)).toHaveLength(1);
    expect(stage.links(S)).toEqual(['connected']);
  });

  it('is read although the file of keys is broken, which is said', async () => {
    const keysFile = join(folder, 'broken.json');
    for (const [text, said] of [
      ['{', /cannot be read/],
      ['[1]', /does not hold keys/],
      [`{"${SENDER}":"zz"}`, /is not 32 hexadecimal digits/],
    ] as const) {
      writeFileSync(keysFile, text);
      const stage = await bleStage({ keysFile });
      stage.broadcast('00aa01020002', '4002ca0903bf13');
      expect(stage.host.readings()).toHaveLength(1);
      expect(stage.status()?.text).toMatch(said);
      await stage.adapter.stop();
    }
  });
});

describe('a described probe', () => {
  const example = new URL('../../adapters/ble/example.json', import.meta.url).pathname;
  const service = '5f1c00017b524d0e9a362c8e41d9b7a0';
  const vane: FakeProbe = {
    ...{ id: '00aa01030001', name: null, services: [service] },
    characteristics: [
      { service, uuid: '5f1c00027b524d0e9a362c8e41d9b7a0', hex: 'c800bc02', notifies: true },
      { service, uuid: '5f1c00037b524d0e9a362c8e41d9b7a0', hex: '00b4', notifies: true },
    ],
  };

  it('is linked and read by its file', async () => {
    const stage = await bleStage({ descriptionFiles: [example] });
    stage.add(vane);
    await stage.pass(1000);
    expect(stage.name('ble:00aa01030001')).toBe('Fernhill weather vane');
    const [air, battery] = stage.readings('ble:00aa01030001');
    expect(air?.velocityMs).toBeCloseTo(200 * 0.00508, 9); // 200 ft/min
    expect(air?.temperatureC).toBeCloseTo(((70 - 32) * 5) / 9, 9); // 70.0 °F
    expect(battery).toMatchObject({ batteryPct: 90 });
    expect(stage.orders('subscribe')).toHaveLength(1); // what is to be read is not listened to
    const before = stage.orders('read').filter((text) => text.endsWith(' 1')).length;
    await stage.pass(125_000);
    expect(stage.orders('read').filter((text) => text.endsWith(' 1')).length - before).toBe(2);
  });

  it('is not touched without its file', async () => {
    const stage = await bleStage();
    stage.add(vane);
    await stage.pass(2000);
    expect(stage.host.lines).toEqual([]);
  });

  it.each([
    ['{', /description .*wrong\.json cannot be read: /],
    ['{"version":1}', /description .*wrong\.json: .*name/],
  ])('is refused when it is made where its file is wrong: %s', (text, said) => {
    const file = join(folder, 'wrong.json');
    writeFileSync(file, text);
    expect(() => createBleAdapter({ radioFile: '', descriptionFiles: [file] })).toThrow(said);
    const missing = join(folder, 'missing.json');
    expect(() => createBleAdapter({ radioFile: '', descriptionFiles: [missing] })).toThrow(missing);
  });
});
