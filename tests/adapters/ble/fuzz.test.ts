/**
 * Whatever bytes come: nothing throws, nothing hangs, and no figure is one that cannot be. And what is
 * put into bytes comes out again.
 */
import fc from 'fast-check';
import { createCipheriv } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { BthomeReader } from '../../../adapters/ble/bthome.ts';
import { parseDescription } from '../../../adapters/ble/described.ts';
import {
  CHARACTERISTICS,
  decodeCharacteristic,
  decodeInformation,
  describeInstance,
  presentationAgrees,
} from '../../../adapters/ble/environmental.ts';
import { BYTES_OF, numberRange, readNumber } from '../../../adapters/ble/numbers.ts';
import type { Quantity, Values } from '../../../adapters/ble/quantities.ts';
import { decodeText } from '../../../adapters/ble/text.ts';
import { normalUuid } from '../../../adapters/ble/uuid.ts';
import { isFitReading } from '../../../server/visit-log/fit-reading.ts';
import { hex } from './bytes.ts';

const RUNS = { numRuns: 2000 };
const bytes = (maxLength: number) => fc.uint8Array({ minLength: 0, maxLength, size: 'max' });
const ADDRESS = '00:aa:01:01:00:01';
const KEY = hex('000102030405060708090a0b0c0d0e0f');

/** That the server would take the values as they are, or that there are none. */
function expectPossible(values: Values): number {
  const count = Object.keys(values).length;
  if (count === 0) return 0;
  expect({
    ...values,
    taken: isFitReading({ type: 'reading', t: 0, probe: 'p', ...values }),
  }).toEqual({ ...values, taken: true });
  return count;
}

/** A number as a probe sends it. */
function encode(type: keyof typeof BYTES_OF, value: number, order: 'little' | 'big' = 'little') {
  const length = BYTES_OF[type];
  const buffer = Buffer.alloc(length);
  if (type === 'float32') buffer.writeFloatLE(value);
  else if (type.startsWith('u')) buffer.writeUIntLE(value, 0, length);
  else buffer.writeIntLE(value, 0, length);
  return Uint8Array.from(order === 'big' ? buffer.reverse() : buffer);
}

const types = fc.constantFrom(...(Object.keys(BYTES_OF) as (keyof typeof BYTES_OF)[]));
const orders = fc.constantFrom('little' as const, 'big' as const);

test('numbers of every type come out as they went in', () => {
  const any = types.chain((type) => {
    const [min, max] = numberRange(type);
    const value = type === 'float32' ? fc.float({ noNaN: true }) : fc.integer({ min, max });
    return fc.tuple(fc.constant(type), value, orders, fc.nat(9));
  });
  fc.assert(
    fc.property(any, ([type, value, order, before]) => {
      const sent = Uint8Array.from([
        ...new Uint8Array(before).fill(0xa5),
        ...encode(type, value, order),
      ]);
      expect(readNumber(sent, before, type, order)).toBe(value);
      expect(readNumber(sent, before + 1, type, order)).toBeNull();
    }),
    RUNS,
  );
});

describe('characteristics', () => {
  const known = fc.constantFrom(...CHARACTERISTICS.keys());
  const uuid = fc.oneof({ weight: 4, arbitrary: known }, fc.string(), fc.constant('__proto__'));

  test('of any bytes', () => {
    let taken = 0;
    const range = fc.option(bytes(9));
    fc.assert(
      fc.property(uuid, fc.oneof(bytes(4), bytes(520)), range, (id, value, valid) => {
        taken += expectPossible(decodeCharacteristic(id, value, valid) ?? {});
        const said = decodeInformation(id, value)?.text ?? 'text';
        expect([...said].length).toBeLessThanOrEqual(60);
        expect(said.trim()).toMatch(/^[^\p{Cc}]+$/u);
        presentationAgrees(id, value);
      }),
      RUNS,
    );
    expect(taken).toBeGreaterThan(0);
  });

  test('come out as they went in, whatever stands around them in memory', () => {
    const measured = [...CHARACTERISTICS].filter(([, { format }]) => format !== null);
    const counts = fc.constantFrom(...measured).chain(([id, { quantity, format }]) => {
      const { type = 'uint8', per = 1 } = format ?? {};
      const [min, max] = numberRange(type);
      return fc.tuple(fc.constant({ id, quantity, type, per }), fc.integer({ min, max }));
    });
    let taken = 0;
    fc.assert(
      fc.property(counts, ([{ id, quantity, type, per }, count]) => {
        const around = Uint8Array.from([0xff, ...encode(type, count), 0xff]);
        const values = decodeCharacteristic(id, around.subarray(1, -1), null);
        const expected: Values = { [quantity as Quantity]: count / per };
        const fit = isFitReading({ type: 'reading', t: 0, probe: 'p', ...expected });
        expect(values).toEqual(fit ? expected : null);
        if (fit) taken++;
      }),
      RUNS,
    );
    expect(taken).toBeGreaterThan(0);
  });

  test('may have any descriptors', () => {
    fc.assert(
      fc.property(
        fc.option(bytes(200)),
        fc.option(fc.oneof(bytes(12), bytes(11))),
        (own, standard) => {
          const name = describeInstance(own, standard);
          if (name !== null) expect(name.trim()).not.toBe('');
        },
      ),
      RUNS,
    );
  });
});

describe('text and names', () => {
  test('of any bytes, and of any text', () => {
    fc.assert(
      fc.property(bytes(300), fc.string({ unit: 'binary', maxLength: 80 }), (raw, text) => {
        decodeText(raw);
        const sent = decodeText(new TextEncoder().encode(text));
        if (sent !== null) expect(sent).toBe(decodeText(new TextEncoder().encode(sent)));
        const uuid = normalUuid(text);
        if (uuid !== null) expect(normalUuid(uuid)).toBe(uuid);
      }),
      RUNS,
    );
  });
});

/** An encrypted frame as a probe makes it; with 0x43 it holds the address. */
function encrypt(payload: Uint8Array, counter: number, information = 0x41): Uint8Array {
  const address = hex(ADDRESS.replaceAll(':', ''));
  const count = encode('uint32', counter);
  const nonce = Uint8Array.from([...address, 0xd2, 0xfc, information, ...count]);
  const cipher = createCipheriv('aes-128-ccm', KEY, nonce, { authTagLength: 4 });
  const sealed = cipher.update(payload);
  cipher.final();
  const included = information === 0x43 ? address.reverse() : [];
  return Uint8Array.from([information, ...included, ...sealed, ...count, ...cipher.getAuthTag()]);
}

describe('BTHome', () => {
  const information = fc.constantFrom(0x40, 0x40, 0x41, 0x42, 0x43, 0x44, 0x45, 0x60, 0xe1);
  const id = fc.constantFrom(
    0,
    1,
    2,
    3,
    4,
    8,
    0x0b,
    0x2e,
    0x44,
    0x45,
    0x50,
    0x53,
    0x57,
    0x58,
    0x5c,
    0x62,
  );
  /** Objects that begin well, one after another. */
  const objects = fc
    .array(fc.tuple(id, bytes(4)), { maxLength: 12 })
    .map((all) => Uint8Array.from(all.flatMap(([first, rest]) => [first, ...rest])));
  const frame = fc.oneof(
    bytes(40),
    bytes(1650),
    fc
      .tuple(information, fc.oneof(objects, bytes(40)))
      .map(([first, rest]) => Uint8Array.from([first, ...rest])),
    fc
      .tuple(objects, fc.nat(0xffff_ffff))
      .filter(([payload]) => payload.length > 1)
      .map(([payload, counter]) => encrypt(payload, counter)),
  );
  const heard = fc.array(fc.tuple(frame, fc.integer({ min: -5000, max: 5000 })), { maxLength: 20 });

  test.each([
    ['without a key', null],
    ['with a key', KEY],
  ])('of any bytes, %s', (_, key) => {
    let taken = 0;
    fc.assert(
      fc.property(heard, fc.constantFrom(ADDRESS, '', 'unknown'), (frames, address) => {
        const reader = new BthomeReader({ key });
        let t = 1_777_885_200_000;
        for (const [each, later] of frames) {
          const answer = reader.read(address, each, (t += later));
          if ('refusal' in answer) {
            expect(answer.refusal).toMatch(/^The probe [^]+\.$/);
            continue;
          }
          for (const values of answer.values) taken += expectPossible(values);
          if (answer.values.length > 0) expect(answer.values.at(-1)).not.toEqual({});
          expect(answer.packet ?? 0).toBeGreaterThanOrEqual(0);
          expect(answer.t ?? 1.7e12).toBeGreaterThan(1.6e12);
        }
      }),
      RUNS,
    );
    expect(taken).toBeGreaterThan(0);
  });

  test('plain and encrypted frames tell the same', () => {
    fc.assert(
      fc.property(objects, fc.nat(0xffff_ffff), (payload, counter) => {
        fc.pre(payload.length > 1);
        const plain = Uint8Array.from([0x40, ...payload]);
        const told = new BthomeReader({ key: null }).read(ADDRESS, plain, 0);
        const keyed = () => new BthomeReader({ key: KEY });
        expect(keyed().read(ADDRESS, encrypt(payload, counter), 0)).toEqual(told);
        expect(keyed().read('hidden', encrypt(payload, counter, 0x43), 0)).toEqual(told);
      }),
      RUNS,
    );
  });

  test('numbers come out as they went in', () => {
    const hundredths = fc.record({
      temperatureC: fc.integer({ min: -6000, max: 9500 }),
      humidityPct: fc.integer({ min: 0, max: 12_000 }),
      dewPointC: fc.integer({ min: -6000, max: 9500 }),
      pressurePa: fc.integer({ min: 50_000, max: 120_000 }),
      velocityMs: fc.integer({ min: 0, max: 6000 }),
      powerW: fc.integer({ min: -10_000_000, max: 10_000_000 }),
      batteryPct: fc.integer({ min: 0, max: 100 }),
    });
    fc.assert(
      fc.property(hundredths, (n) => {
        const frame = Uint8Array.from([
          ...[0x40, 0x01, n.batteryPct, 0x02, ...encode('int16', n.temperatureC)],
          ...[0x03, ...encode('uint16', n.humidityPct), 0x04, ...encode('uint24', n.pressurePa)],
          ...[0x08, ...encode('int16', n.dewPointC), 0x44, ...encode('uint16', n.velocityMs)],
          ...[0x5c, ...encode('int32', n.powerW)],
        ]);
        expect(new BthomeReader({ key: null }).read('', frame, 0)).toMatchObject({
          values: [
            {
              temperatureC: n.temperatureC / 100,
              humidityPct: n.humidityPct / 100,
              dewPointC: n.dewPointC / 100,
              pressurePa: n.pressurePa,
              velocityMs: n.velocityMs / 100,
              powerW: n.powerW / 100,
              batteryPct: n.batteryPct,
            },
          ],
        });
      }),
      RUNS,
    );
  });
});

describe('described probes', () => {
  const EXAMPLE = readFileSync(
    new URL('../../../adapters/ble/example.json', import.meta.url),
    'utf8',
  );
  const units: Record<string, string[]> = {
    temperature: ['°C', '°F'],
    dewPoint: ['°C', '°F'],
    humidity: ['%'],
    battery: ['%'],
    velocity: ['m/s', 'ft/min'],
    pressure: ['Pa', 'hPa', 'kPa'],
    power: ['W'],
  };
  const factor = fc.double({ noNaN: true, noDefaultInfinity: true }).filter((scale) => scale !== 0);
  const field = fc.constantFrom(...Object.keys(units)).chain((quantity) =>
    fc.record({
      quantity: fc.constant(quantity),
      unit: fc.constantFrom(...(units[quantity] ?? [])),
      byte: fc.nat(20),
      type: types,
      order: orders,
      scale: fc.oneof(factor, fc.constantFrom(1, 0.1, 0.01, -1)),
      offset: fc.oneof(fc.constant(0), factor),
    }),
  );
  const description = fc
    .uniqueArray(field, { minLength: 1, selector: ({ quantity }) => quantity })
    .map((fields) => ({
      version: 1,
      name: 'Any',
      advertises: { company: 0xffff },
      characteristics: [{ service: '1234', uuid: '5678', fields }],
    }));

  test('read any bytes', () => {
    let taken = 0;
    fc.assert(
      fc.property(description, fc.oneof(bytes(24), bytes(520)), fc.string(), (json, raw, other) => {
        const probe = parseDescription(json);
        if ('refusal' in probe) throw new Error(probe.refusal);
        taken += expectPossible(probe.readFrom('5678', raw) ?? {});
        expect(probe.readFrom(`${other}x`, raw)).toBeNull();
      }),
      RUNS,
    );
    expect(taken).toBeGreaterThan(0);
  });

  test('of any JSON are taken, or refused with a sentence', () => {
    /** Another value at one place of the example, or another key. */
    const changed = fc
      .tuple(fc.nat(60), fc.jsonValue(), fc.constantFrom('value', 'key'))
      .map(([place, value, what]) => {
        let n = 0;
        return JSON.parse(EXAMPLE, function (this: object, key, given: unknown): unknown {
          if (n++ !== place) return given;
          if (what === 'value') return value;
          Reflect.set(this, `${key}s`, value);
          return given;
        }) as unknown;
      });
    let taken = 0;
    fc.assert(
      fc.property(fc.oneof(changed, fc.jsonValue(), fc.anything()), bytes(24), (json, raw) => {
        const probe = parseDescription(json);
        if ('refusal' in probe) {
          expect(probe.refusal).toMatch(/^[^\n]{10,400}\.$/);
          return;
        }
        taken++;
        for (const { uuid } of probe.characteristics) {
          expectPossible(probe.readFrom(uuid, raw) ?? {});
        }
      }),
      RUNS,
    );
    expect(taken).toBeGreaterThan(0);
  });
});
