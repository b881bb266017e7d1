/**
 * The Bluetooth adapter, its radio process and the real library, above the virtual controller: what the
 * probes measure arrives, and keeps arriving through what happens to them.
 */
import { execFileSync } from 'node:child_process';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, beforeAll, describe, expect, it } from 'vitest';
import { type BleOptions, createBleAdapter } from '../../../adapters/ble/index.ts';
import { systemClock } from '../../../adapters/ble/clock.ts';
import { RadioHost } from '../../../adapters/ble/radio-host.ts';
import type { Reading } from '../../../adapters/contract.ts';
import { AirHost, type AirOptions } from '../../../simulator/bluetooth/beneath/air-host.ts';
import type { Plan } from '../../../simulator/bluetooth/plan.ts';
import { type RecordingHost, recordingHost } from '../../adapters/recording-host.ts';
import { hasRadioLibrary } from '../../radio-library.mjs';

const ROOT = resolve('.');
const BUILT = join(ROOT, 'build/server');
const ends: (() => unknown)[] = [];
beforeAll(() => {
  execFileSync(process.execPath, ['server/launch.mjs', '--version'], { cwd: ROOT }); // builds
});
afterEach(async () => {
  for (const end of ends.splice(0).reverse()) await end();
});

const sleep = (ms: number): Promise<void> => new Promise((done) => setTimeout(done, ms));
const address = (i: number): string => `f0:1a:b0:00:00:0${i}`;
const probe = (i: number): Plan => ({
  ...{ kind: 'environmental', address: address(i), name: `Shelf ${i}`, advertisingMs: 100 },
  instances: [{ probe: `p${i}`, measures: ['temperatureC', 'humidityPct'], intervalS: 1 }],
});

interface Stage {
  air: AirHost;
  host: RecordingHost;
  /** Readings of a probe from the `from`th line on. */
  of: (id: string, from?: number) => Reading[];
  until: (so: () => boolean, what: string, limitMs?: number) => Promise<void>;
}

/** Starts all; the probes measure four times a second, a hundredth of a degree more each time. */
async function stage(
  air: AirOptions,
  fed: Record<string, Omit<Reading, 't' | 'type' | 'probe'>>,
  options: Partial<BleOptions> = {},
  keys: Record<string, string> = {},
): Promise<Stage> {
  const inAir = new AirHost(air);
  await inAir.start();
  ends.push(() => inAir.stop());
  let steps = 0;
  const feed = (): void => {
    steps += 1;
    const readings = Object.entries(fed).map(([id, { temperatureC = 0, ...rest }]) => ({
      ...{ t: Date.now(), probe: id, temperatureC: temperatureC + steps / 100 },
      ...(Object.fromEntries(Object.entries(rest)) as { humidityPct?: number }),
    }));
    inAir.feed(readings);
  };
  feed();
  const timer = setInterval(feed, 250);
  ends.push(() => clearInterval(timer));
  const adapter = createBleAdapter({
    radioFile: join(BUILT, 'radio.mjs'),
    radioImports: [inAir.import(pathToFileURL(join(BUILT, 'virtual-radio.mjs')))],
    ...options,
  });
  const host = recordingHost();
  await adapter.start(host);
  for (const [id, key] of Object.entries(keys)) adapter.setKey(id, key);
  ends.push(() => adapter.stop());
  return {
    ...{ air: inAir, host },
    of: (id, from = 0) =>
      host.lines
        .slice(from)
        .flatMap((line) => (line.type === 'reading' && line.probe === id ? line : [])),
    until: async (so, what, limitMs = 25_000) => {
      const end = Date.now() + limitMs;
      while (!so()) {
        if (Date.now() > end) throw new Error(`it never came to that: ${what}`);
        await sleep(50);
      }
    },
  };
}

const lost = (host: RecordingHost, id: string): boolean =>
  host.links.findLast((each) => each.probe === id)?.link.state === 'lost';

describe.skipIf(!hasRadioLibrary)('probes of every kind', { timeout: 60_000 }, () => {
  it('are found, and what they measure is what arrives', async () => {
    const key = '231d39c1d7cc1ab1aee224cd096db932';
    const plans: Plan[] = [
      {
        ...{ kind: 'environmental', address: address(1), name: 'Two ends', advertisingMs: 100 },
        instances: [
          { probe: 'p1', measures: ['temperatureC'], intervalS: 1, description: 'inside' },
          { probe: 'p2', measures: ['temperatureC'], intervalS: 1, description: 'outside' },
        ],
      },
      {
        ...probe(3),
        kind: 'environmental',
        notify: false,
        instances: [{ probe: 'p3', measures: ['temperatureC', 'pressurePa'], intervalS: 1 }],
      },
      { kind: 'beacon', address: address(4), name: 'Attic', probes: ['p4'] },
      { kind: 'beacon', address: address(5), name: 'Cellar', probes: ['p5'], key },
      { kind: 'described', address: address(6), name: 'Fernhill weather vane', probe: 'p6' },
    ];
    const { of, until } = await stage(
      { plans },
      {
        ...{ p1: { temperatureC: 10 }, p2: { temperatureC: 20 } },
        p3: { temperatureC: 30, pressurePa: 98_300 },
        p4: { temperatureC: 40, humidityPct: 41 },
        ...{ p5: { temperatureC: 50 }, p6: { temperatureC: 60, velocityMs: 2.54 } },
      },
      { descriptionFiles: [join(ROOT, 'adapters/ble/example.json')] },
      { [address(5)]: key },
    );
    const ids = ['1', '1/2', '3', '4', '5', '6'].map((n) => `ble:f01ab000000${n}`);
    const celsius = (id: string): number | undefined =>
      of(id).findLast(({ temperatureC }) => temperatureC !== undefined)?.temperatureC;
    await until(() => ids.every((id) => celsius(id) !== undefined), 'all have measured');
    ids.forEach((id, i) => {
      // Within ten degrees each is its own: no probe's values become another's.
      expect(celsius(id)).toBeGreaterThan(10 * (i + 1));
      expect(celsius(id)).toBeLessThan(10 * (i + 1) + 5);
    });
    await until(() => of(ids[2] ?? '').some(({ pressurePa }) => pressurePa === 98_300), 'pressure');
    expect(of(ids[3] ?? '').at(-1)?.humidityPct).toBe(41);
    const vane = of(ids[5] ?? '').find(({ velocityMs }) => velocityMs !== undefined);
    expect(vane?.velocityMs).toBeCloseTo(2.54, 6);
  });
});

describe.skipIf(!hasRadioLibrary)('the radio process', () => {
  it.each([false, true])('hears, links and reads; in the newer way: %s', async (extended) => {
    const air = new AirHost({ plans: [probe(1)] });
    await air.start();
    ends.push(() => air.stop());
    air.feed([{ t: 0, probe: 'p1', temperatureC: 21.48 }]);
    let linking = false;
    const value = new Promise<string>((resolve, reject) => {
      const radio = new RadioHost({
        file: join(BUILT, 'radio.mjs'),
        imports: [air.import(pathToFileURL(join(BUILT, 'virtual-radio.mjs')))],
        settings: () => ({ adapterIndex: null, extended }),
        clock: systemClock,
        listener: {
          begun: () => undefined,
          ended: reject,
          said(message) {
            if (message.say === 'state') radio.tell({ do: 'scan', wanted });
            if (message.say !== 'heard' || linking) return;
            linking = true;
            read(radio, message.id).then(resolve, reject);
          },
        },
      });
      radio.start();
      ends.push(() => radio.stop());
    });
    expect(await value).toBe('6408');
  });
  const wanted = { services: ['181a'], companies: [] };

  async function read(radio: RadioHost, id: string): Promise<string> {
    await radio.ask({ do: 'connect', id });
    const { found } = await radio.ask({ do: 'discover', id, services: ['181a'] });
    const key = found?.find(({ uuid }) => uuid === '2a6e')?.key ?? '';
    return (await radio.ask({ do: 'read', id, key })).value ?? '';
  }
});

describe.skipIf(!hasRadioLibrary)('life in the field', { timeout: 90_000 }, () => {
  const A = 'ble:f01ab0000001';
  const B = 'ble:f01ab0000002';
  const two = { plans: [probe(1), probe(2)] };
  const fed = { p1: { temperatureC: 20 }, p2: { temperatureC: 30 } };

  it('a link is dropped, and made again', async () => {
    const { air, host, of, until } = await stage(two, fed);
    await until(() => of(A).length > 2 && of(B).length > 2, 'both measure');
    air.order({ to: address(1), do: 'drop', reason: 0x15 });
    await until(() => lost(host, A), 'it is lost');
    const from = host.lines.length;
    await until(() => of(A, from).length > 2 && of(B, from).length > 2, 'both measure again');
  });

  it('a probe goes away and returns, while the other goes on', async () => {
    const { air, host, of, until } = await stage(two, fed);
    await until(() => of(A).length > 2 && of(B).length > 2, 'both measure');
    air.order({ to: address(1), do: 'away' });
    await until(() => lost(host, A), 'it is lost');
    const away = host.lines.length;
    await until(() => of(B, away).length > 8, 'the other goes on');
    expect(of(A, away)).toEqual([]);
    air.order({ to: address(1), do: 'back' });
    await until(() => of(A, away).length > 2, 'it is back');
  });

  it('the radio is switched off and on', async () => {
    const { air, host, of, until } = await stage(two, fed);
    await until(() => of(A).length > 2 && of(B).length > 2, 'both measure');
    air.order({ do: 'power', on: false });
    const status = (): string | undefined => host.statuses.at(-1)?.state;
    await until(() => status() === 'unavailable' && lost(host, A) && lost(host, B), 'all is lost');
    const from = host.lines.length;
    air.order({ do: 'power', on: true });
    await until(
      () => of(A, from).length > 2 && of(B, from).length > 2,
      'both measure again',
      60_000,
    );
    expect(status()).toBe('running');
  });

  it('garbage of one probe never becomes a reading, and holds nobody up', async () => {
    const { air, host, of, until } = await stage(two, fed);
    await until(() => of(A).length > 2 && of(B).length > 2, 'both measure');
    const from = host.lines.length;
    for (const hex of ['', 'ff', 'ff7f', '0080', '00112233', 'ff'.repeat(20)]) {
      air.order({ to: address(1), do: 'tell', uuid: '2a6e', hex });
    }
    air.order({ to: address(1), do: 'frame', channel: 4, hex: '1b' });
    air.order({ to: address(1), do: 'frame', channel: 6, hex: '0b' });
    air.order({ to: address(1), do: 'spoil', how: 'cut', packets: 2 });
    await until(() => of(A, from).length > 8 && of(B, from).length > 8, 'both go on');
    const readings = of(A, from).flatMap(({ temperatureC }) => temperatureC ?? []);
    expect(Math.min(...readings)).toBeGreaterThan(19);
    expect(Math.max(...readings)).toBeLessThan(30);
  });

  it('a radio that hangs in a connect is replaced, and the others are read on', async () => {
    const { air, host, of, until } = await stage(two, fed);
    await until(() => of(A).length > 2 && of(B).length > 2, 'both measure');
    // It is still heard, but the connect would block the radio's process for 41 s.
    air.order({ to: address(1), do: 'aloof' });
    air.order({ to: address(1), do: 'drop' });
    await until(() => host.statuses.some(({ state }) => state === 'retrying'), 'it is replaced');
    const from = host.lines.length;
    await until(() => of(B, from).length > 8, 'the other goes on');
  });
});
