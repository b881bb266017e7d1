import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { type DescribedProbe, parseDescription } from '../../../adapters/ble/described.ts';
import { hex } from './bytes.ts';

const EXAMPLE = readFileSync(
  new URL('../../../adapters/ble/example.json', import.meta.url),
  'utf8',
);
const README = readFileSync(new URL('../../../adapters/ble/README.md', import.meta.url), 'utf8');
const SERVICE = '5f1c00017b524d0e9a362c8e41d9b7a0';
const AIR = '5f1c00027b524d0e9a362c8e41d9b7a0';
const BATTERY = '5f1c00037b524d0e9a362c8e41d9b7a0';

function probeOf(json: unknown): DescribedProbe {
  const parsed = parseDescription(json);
  if ('refusal' in parsed) throw new Error(parsed.refusal);
  return parsed;
}
/** A description with one field. */
function oneField(field: object): object {
  return {
    version: 1,
    name: 'One',
    advertises: { company: 0xffff },
    characteristics: [{ service: SERVICE, uuid: AIR, fields: [field] }],
  };
}
function readOne(field: object, bytes: string) {
  return probeOf(oneField({ byte: 0, ...field })).readFrom(AIR, hex(bytes));
}

describe('the example', () => {
  const probe = probeOf(JSON.parse(EXAMPLE));

  test('is the one of the documents', () => {
    expect(README).toContain('```json\n' + EXAMPLE + '```');
  });

  test('says what to look for and what to read', () => {
    expect(probe).toMatchObject({
      name: 'Fernhill weather vane',
      advertises: { serviceUuids: [SERVICE], serviceDataUuid: null, company: null },
      characteristics: [
        { service: SERVICE, uuid: AIR, pollS: null },
        { service: SERVICE, uuid: BATTERY, pollS: 60 },
      ],
    });
  });

  test('reads 1000 ft/min and 72.4 °F', () => {
    expect(probe.readFrom(AIR, hex('E8 03 D4 02'))).toEqual({
      velocityMs: 5.08,
      temperatureC: 22.4444444444,
    });
    expect(probe.readFrom(BATTERY, hex('FF B9'))).toEqual({ batteryPct: 92.5 });
  });

  test('leaves out what is not known, impossible, or not there', () => {
    expect(probe.readFrom(AIR, hex('FF FF D4 02'))).toEqual({ temperatureC: 22.4444444444 });
    expect(probe.readFrom(AIR, hex('E8 03 FF 7F'))).toEqual({ velocityMs: 5.08 });
    expect(probe.readFrom(AIR, hex('E8 03 D4'))).toEqual({ velocityMs: 5.08 });
    expect(probe.readFrom(AIR, hex('FF FF'))).toBeNull();
    expect(probe.readFrom(AIR, hex(''))).toBeNull();
    expect(probe.readFrom('2a6e', hex('E8 03 D4 02'))).toBeNull();
    expect(probe.readFrom('no UUID', hex('E8 03 D4 02'))).toBeNull();
  });

  test('takes a UUID in any spelling', () => {
    expect(probe.readFrom('5F1C0002-7B52-4D0E-9A36-2C8E41D9B7A0', hex('E8 03 D4 02'))).toEqual(
      probe.readFrom(AIR, hex('E8 03 D4 02')),
    );
  });
});

describe('a field', () => {
  test.each([
    ['uint8', 'little', 'C8', 200],
    ['int8', 'little', 'C8', -56],
    ['uint16', 'little', '10 27', 10_000],
    ['uint16', 'big', '27 10', 10_000],
    ['int16', 'little', 'F0 D8', -10_000],
    ['int16', 'big', 'D8 F0', -10_000],
    ['uint24', 'little', '40 0D 03', 200_000],
    ['uint24', 'big', '03 0D 40', 200_000],
    ['int24', 'little', 'C0 F2 FC', -200_000],
    ['int24', 'big', 'FC F2 C0', -200_000],
    ['uint32', 'little', '00 28 6B EE', 4_000_000_000],
    ['uint32', 'big', 'EE 6B 28 00', 4_000_000_000],
    ['int32', 'little', '00 6C CA 88', -2_000_000_000],
    ['int32', 'big', '88 CA 6C 00', -2_000_000_000],
    ['float32', 'little', '00 00 AC 41', 21.5],
    ['float32', 'big', '41 AC 00 00', 21.5],
  ])('%s, %s end first', (type, order, bytes, sent) => {
    const field = { quantity: 'power', unit: 'W', type, order, scale: 1e-5 };
    expect(readOne(field, bytes)).toEqual({ powerW: Number((sent * 1e-5).toPrecision(12)) });
  });

  test.each([
    ['temperature', '°C', { temperatureC: 50 }],
    ['temperature', '°F', { temperatureC: 10 }],
    ['dewPoint', '°F', { dewPointC: 10 }],
    ['humidity', '%', { humidityPct: 50 }],
    ['battery', '%', { batteryPct: 50 }],
    ['velocity', 'm/s', { velocityMs: 50 }],
    ['velocity', 'ft/min', { velocityMs: 0.254 }],
    ['pressure', 'kPa', { pressurePa: 50_000 }],
    ['power', 'W', { powerW: 50 }],
  ])('%s in %s', (quantity, unit, values) => {
    expect(readOne({ quantity, unit, type: 'uint8' }, '32')).toEqual(values);
  });

  test.each([
    ['Pa', 101_325],
    ['hPa', 1013.25],
    ['kPa', 101.325],
  ])('pressure in %s', (unit, count) => {
    const scale = count / 101_325;
    const field = { quantity: 'pressure', unit, type: 'uint32', scale };
    expect(readOne(field, 'CD 8B 01 00')).toEqual({ pressurePa: 101_325 });
  });

  test('is scaled, then shifted', () => {
    const field = { quantity: 'temperature', unit: '°C', type: 'uint16', scale: 0.01, offset: -40 };
    expect(readOne(field, '68 19')).toEqual({ temperatureC: 25.04 });
  });

  test('of a float may be anything but a number', () => {
    const field = { quantity: 'temperature', unit: '°C', type: 'float32' };
    for (const bytes of ['00 00 C0 7F', '00 00 80 7F', '00 00 80 FF']) {
      expect(readOne(field, bytes)).toBeNull();
    }
    expect(readOne({ ...field, notKnown: [-1] }, '00 00 80 BF')).toBeNull();
  });
});

describe('a probe is known', () => {
  const NOTHING = { serviceUuids: [], serviceDataUuids: [], company: null };
  const known = (advertises: object, heard: object) =>
    probeOf({ ...JSON.parse(EXAMPLE), advertises }).isHeardIn({ ...NOTHING, ...heard });
  const SERVICES = { serviceUuids: ['181a', '180f'] };
  const DATA = { serviceDataUuids: ['1234'] };
  const MAKER = { company: 0xffff };

  test.each([
    [{ serviceUuids: ['181a'] }, SERVICES, true],
    [{ serviceUuids: ['0000181A-0000-1000-8000-00805F9B34FB', '0x180f'] }, SERVICES, true],
    [{ serviceUuids: ['181a', '1809'] }, SERVICES, false],
    [{ serviceDataUuid: '1234' }, DATA, true],
    [{ serviceDataUuid: '1234' }, SERVICES, false],
    [{ company: 0xffff }, MAKER, true],
    [{ company: 0xfffe }, MAKER, false],
    [{ serviceUuids: ['181a'], company: 0xffff }, { ...SERVICES, ...MAKER }, true],
    [{ serviceUuids: ['181a'], company: 0xffff }, SERVICES, false],
    [{ serviceUuids: ['181a'], company: 0xffff }, MAKER, false],
  ])('by %j in %j', (advertises, heard, is) => {
    expect(known(advertises, heard)).toBe(is);
  });
});

describe('a description is refused', () => {
  /** The example, with one thing changed. */
  function changed(path: string, value: unknown): unknown {
    const json: unknown = JSON.parse(EXAMPLE);
    const keys = path.split('.');
    const last = keys.pop() ?? '';
    let at = json;
    for (const key of keys) at = Reflect.get(at as object, key);
    if (value === undefined) Reflect.deleteProperty(at as object, last);
    else Reflect.set(at as object, last, value);
    return json;
  }
  const FIELD = 'characteristics.0.fields.0';

  test.each([
    ['version', 2, 'version: 2 is not accepted: it is 1.'],
    ['name', undefined, 'name: is missing: it is a text.'],
    ['name', '', 'name: "" is too short: at least 1 character is accepted.'],
    ['name', ['Vane'], 'name: ["Vane"] is not accepted: it is a text.'],
    [
      'advertises',
      {},
      'advertises: {} is empty: give serviceUuids, serviceDataUuid or company, or several of them.',
    ],
    [
      'advertises.serviceUuids.0',
      '12',
      'advertises.serviceUuids.0: "12" is no UUID: it has 4 or 32 hexadecimal digits, as "181a".',
    ],
    [
      'advertises.company',
      70_000,
      'advertises.company: 70000 is too large: at most 65535 is accepted.',
    ],
    [
      'advertises.name',
      'Vane',
      'advertises: "name" is not known: accepted are serviceUuids, serviceDataUuid, company.',
    ],
    ['characteristics', [], 'characteristics: [] is too short: at least 1 entry is accepted.'],
    ['characteristics.0', null, 'characteristics.0: null is not accepted: it is an object.'],
    [
      'characteristics.1.pollS',
      0,
      'characteristics.1.pollS: 0 is too small: at least 0.1 is accepted.',
    ],
    [
      'characteristics.1.uuid',
      AIR,
      `characteristics.1.uuid: "${AIR}" is described twice: put its fields into one list.`,
    ],
    [`${FIELD}.byte`, 0.5, `${FIELD}.byte: 0.5 is not accepted: it is a whole number.`],
    [`${FIELD}.byte`, -1, `${FIELD}.byte: -1 is too small: at least 0 is accepted.`],
    [
      `${FIELD}.type`,
      'int64',
      `${FIELD}.type: "int64" is not accepted: it is "uint8", "int8", "uint16", "int16", "uint24", "int24", "uint32", "int32" or "float32".`,
    ],
    [`${FIELD}.order`, 'up', `${FIELD}.order: "up" is not accepted: it is "little" or "big".`],
    [`${FIELD}.scale`, 0, `${FIELD}.scale: 0 would make all readings the same.`],
    [
      `${FIELD}.sclae`,
      0.1,
      `${FIELD}: "sclae" is not known: accepted are quantity, byte, type, order, scale, offset, unit, notKnown.`,
    ],
    [
      `${FIELD}.unit`,
      undefined,
      `${FIELD}.unit: is missing: it is "°C", "°F", "%", "m/s", "ft/min", "Pa", "hPa", "kPa" or "W".`,
    ],
    [`${FIELD}.unit`, 'Pa', `${FIELD}.unit: "Pa" is no unit of velocity: it is "m/s" or "ft/min".`],
    [
      `${FIELD}.notKnown.0`,
      -1,
      `${FIELD}.notKnown.0: -1 is never sent as uint16: codes are given as they are sent, whole numbers from 0 to 65535.`,
    ],
    [
      'characteristics.1.fields.0',
      { quantity: 'velocity', byte: 0, type: 'uint8', unit: 'm/s' },
      'characteristics.1.fields.0.quantity: "velocity" is described twice: a reading holds one of each quantity.',
    ],
  ])('%s: %j', (path, value, refusal) => {
    expect(parseDescription(changed(path, value))).toEqual({ refusal });
  });

  test.each([
    [null, 'null is not accepted: it is an object.'],
    [[], '[] is not accepted: it is an object.'],
    ['{}', '"{}" is not accepted: it is an object.'],
  ])('%j', (json, refusal) => {
    expect(parseDescription(json)).toEqual({ refusal });
  });
});
