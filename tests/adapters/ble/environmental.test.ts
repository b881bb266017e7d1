/**
 * Characteristics and descriptors of the standard services. Sources: [gatt-xml] a 2017 copy of the
 * Bluetooth SIG's own GATT files (gatt-xml, 4fd2ede1d3); [sig] the decode tests of a public library of
 * the standard's characteristics (bluetooth-sig-python, 27bdb3dcbb); [firmware] structures of the
 * service as public firmware sends them. What is marked [memory] was not seen in a document again.
 */
import { describe, expect, test } from 'vitest';
import { readMeasurement } from '../../../adapters/ble/descriptors.ts';
import {
  CHARACTERISTICS,
  decodeCharacteristic,
  decodeInformation,
  describeInstance,
  presentationAgrees,
  SERVICES,
} from '../../../adapters/ble/environmental.ts';
import { RANGES } from '../../../adapters/ble/quantities.ts';
import { normalUuid } from '../../../adapters/ble/uuid.ts';
import { RANGES as TAKEN } from '../../../server/visit-log/fit-reading.ts';
import { hex } from './bytes.ts';

const decode = (uuid: string, bytes: string, validRange: string | null = null) =>
  decodeCharacteristic(uuid, hex(bytes), validRange === null ? null : hex(validRange));

test('what the server takes is what counts as possible', () => {
  expect(RANGES).toEqual(TAKEN);
});

describe('values', () => {
  test.each([
    // [sig]
    ['temperature', '2a6e', '64 08', { temperatureC: 21.48 }],
    ['temperature', '2a6e', '18 FC', { temperatureC: -10 }],
    ['temperature', '2a6e', '01 00', { temperatureC: 0.01 }],
    ['humidity', '2a6f', '88 13', { humidityPct: 50 }],
    ['humidity', '2a6f', '58 1B', { humidityPct: 70 }],
    ['humidity', '2a6f', '10 27', { humidityPct: 100 }],
    ['pressure', '2a6d', '02 76 0F 00', { pressurePa: 101_325 }],
    ['true wind speed', '2a70', '64 00', { velocityMs: 1 }],
    ['true wind speed', '2a70', 'F4 01', { velocityMs: 5 }],
    ['apparent wind speed', '2a72', '1A 04', { velocityMs: 10.5 }],
    ['apparent wind speed', '2a72', 'DC 05', { velocityMs: 15 }],
    ['dew point', '2a7b', 'EC', { dewPointC: -20 }],
    ['dew point', '2a7b', '19', { dewPointC: 25 }],
    // [gatt-xml]: 0 to 100 %
    ['battery', '2a19', '00', { batteryPct: 0 }],
    ['battery', '2a19', '64', { batteryPct: 100 }],
  ])('%s %s %s', (_, uuid, bytes, values) => {
    expect(decode(uuid, bytes)).toEqual(values);
  });

  test.each([
    // [sig], the codes from older pages of it
    ['temperature, not known', '2a6e', '00 80'],
    ['humidity, not known', '2a6f', 'FF FF'],
    // [gatt-xml]: reserved
    ['battery 101 %', '2a19', '65'],
    ['battery 255 %', '2a19', 'FF'],
    // [sig]: good formats, but no air in or around a house
    ['327.67 °C', '2a6e', 'FF 7F'],
    ['−273.15 °C', '2a6e', '4D 95'],
    ['1000 Pa', '2a6d', '10 27 00 00'],
    ['200,000 Pa', '2a6d', '80 84 1E 00'],
    ['655.35 m/s', '2a70', 'FF FF'],
    ['dew point 127 °C', '2a7b', '7F'],
    // Of another length; a read that failed arrives as no bytes at all.
    ['nothing', '2a6e', ''],
    ['half a temperature', '2a6e', '64'],
    ['a temperature and more', '2a6e', '64 08 00'],
    // Elevation (metres) is none of ours, and neither is text.
    ['another characteristic', '2a6c', '64 08 00'],
    ['text', '2a24', '64 08'],
    ['no characteristic', '__proto__', '64 08'],
  ])('no reading: %s', (_, uuid, bytes) => {
    expect(decode(uuid, bytes)).toBeNull();
  });

  test('a UUID may be spelt short or long', () => {
    for (const uuid of ['2A6E', '0x2a6e', '00002a6e-0000-1000-8000-00805F9B34FB', '00002A6E']) {
      expect(normalUuid(uuid)).toBe('2a6e');
      expect(decode(uuid, '64 08')).toEqual({ temperatureC: 21.48 });
    }
    const own = '5f1c00017b524d0e9a362c8e41d9b7a0';
    expect(normalUuid('5F1C0001-7b52-4d0e-9a36-2c8e41d9b7a0')).toBe(own);
    // Of Bluetooth's kind, but no short number.
    expect(normalUuid('12342a6e')).toBe('12342a6e00001000800000805f9b34fb');
    expect(normalUuid(own.slice(0, 4) + '2a6e' + own.slice(8))).toHaveLength(32);
    for (const wrong of ['', '2a6', '2a6g', '2a6e-', 'x'.repeat(32)]) {
      expect(normalUuid(wrong), wrong).toBe(wrong === '2a6e-' ? '2a6e' : null);
    }
  });

  test('every characteristic belongs to a service that is read', () => {
    for (const [uuid, { service }] of CHARACTERISTICS) {
      expect(normalUuid(uuid)).toBe(uuid);
      expect(SERVICES.has(service), uuid).toBe(true);
    }
  });
});

describe('valid range (0x2906)', () => {
  // The samples of [gatt-xml]: uint16 from 600 to 7200; sint16 of tenths from −40 to +85.
  test.each([
    ['2a6f', '57 02', '58 02 20 1C', null],
    ['2a6f', '58 02', '58 02 20 1C', { humidityPct: 6 }],
    ['2a6f', '20 1C', '58 02 20 1C', { humidityPct: 72 }],
    ['2a6f', '21 1C', '58 02 20 1C', null],
    ['2a6e', '6F FE', '70 FE 52 03', null],
    ['2a6e', '70 FE', '70 FE 52 03', { temperatureC: -4 }],
    ['2a6e', '52 03', '70 FE 52 03', { temperatureC: 8.5 }],
    ['2a6e', '53 03', '70 FE 52 03', null],
  ])('%s %s within %s', (uuid, bytes, range, values) => {
    expect(decode(uuid, bytes, range)).toEqual(values);
  });

  test.each(['', '89 13', '89 13 20', '58 02 20 03 00', '20 1C 58 02', '00 00 00 00'])(
    'that is none (%s) is left out of account',
    (range) => {
      expect(decode('2a6f', '88 13', range)).toEqual({ humidityPct: 50 });
    },
  );

  test('does not make an impossible figure possible', () => {
    expect(decode('2a6e', 'FF 7F', '01 80 FF 7F')).toBeNull();
  });
});

describe('ES Measurement (0x290C), 11 bytes as [firmware] sends it', () => {
  const upper = hex('00 00 04 3C 00 00 0A 00 00 0F 05');

  test('is taken apart', () => {
    expect(readMeasurement(upper)).toEqual({
      sampling: 'maximum',
      periodS: 60,
      intervalS: 10,
      application: 'upper',
      uncertaintyPct: 2.5, // steps of 0.5 % [memory]
    });
  });

  test('zeros and 0xFF are: not said', () => {
    expect(readMeasurement(hex('00 00 00 00 00 00 00 00 00 00 FF'))).toEqual({
      sampling: null,
      periodS: null,
      intervalS: null,
      application: null,
      uncertaintyPct: null,
    });
  });

  test('of another length is none', () => {
    expect(readMeasurement(upper.subarray(1))).toBeNull();
    expect(readMeasurement(hex('00 00 04 3C 00 00 0A 00 00 0F 05 00'))).toBeNull();
  });
});

describe('an instance', () => {
  const measurement = (sampling: string, application: string) =>
    hex(`00 00 ${sampling} 00 00 00 00 00 00 ${application} FF`);
  const text = (words: string) => new TextEncoder().encode(words);

  test.each([
    [null, null, null],
    [null, measurement('01', '1C'), 'outside'],
    [null, measurement('01', '1B'), 'inside'],
    [null, measurement('04', '0F'), 'upper, maximum'],
    [null, measurement('02', '00'), 'mean'],
    [null, measurement('01', '00'), null],
    [null, measurement('FF', 'FF'), null],
    [text('Coil, left'), null, 'Coil, left'],
    [text('Coil, left'), measurement('02', '1C'), 'Coil, left, mean'],
    [text(' \u0000 '), measurement('01', '1C'), 'outside'],
    [hex('FF FE'), measurement('01', '1C'), 'outside'],
  ])('%# is called by what stands beside it', (own, standard, name) => {
    expect(describeInstance(own, standard)).toBe(name);
  });

  test('has a name that is fit to be shown', () => {
    expect(describeInstance(text('Top\u202E\u0007 of\n the\tcoil\u0000rubbish'), null)).toBe(
      'Top of the coil',
    );
    expect(describeInstance(text('🌡'.repeat(200)), null)).toBe('🌡'.repeat(60));
  });
});

describe('a presentation format (0x2904)', () => {
  // Layout and codes [memory]: sint16 is 0x0E, uint16 0x06; 0x272F is °C.
  test.each([
    ['sint16 of hundredths', '0E FE 2F 27 01 00 00', true],
    ['uint16 of hundredths', '06 FE 2F 27 01 00 00', false],
    ['sint16 of tenths', '0E FF 2F 27 01 00 00', false],
    ['a reserved format', '00 00 00 00 00 00 00', true],
    ['none', '0E FF', true],
  ])('of a temperature: %s', (_, bytes, agrees) => {
    expect(presentationAgrees('2a6e', hex(bytes))).toBe(agrees);
  });

  test.each([
    ['2a6d', '08 FF 24 27 01 00 00', true],
    ['2a6d', '08 00 24 27 01 00 00', false],
    ['2a7b', '0C 00 2F 27 01 00 00', true],
  ])('of %s: %s', (uuid, bytes, agrees) => {
    expect(presentationAgrees(uuid, hex(bytes))).toBe(agrees);
  });
});

describe('device information', () => {
  test('is text', () => {
    const bytes = new TextEncoder().encode('FW-2');
    expect(decodeInformation('2a24', bytes)).toEqual({ name: 'Model', text: 'FW-2' });
    expect(decodeInformation('2a26', bytes)).toEqual({ name: 'Firmware', text: 'FW-2' });
  });

  test('is nothing where it is no text, or another characteristic', () => {
    expect(decodeInformation('2a24', hex('FF FF'))).toBeNull();
    expect(decodeInformation('2a24', hex(''))).toBeNull();
    expect(decodeInformation('2a6e', hex('64 08'))).toBeNull();
  });
});
