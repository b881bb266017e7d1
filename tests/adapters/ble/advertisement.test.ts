/** Advertisements, put together by hand from the structures of the Core Specification. */
import { describe, expect, test } from 'vitest';
import { parseAdvertisement } from '../../../adapters/ble/advertisement.ts';
import { BthomeReader } from '../../../adapters/ble/bthome.ts';
import { hex } from './bytes.ts';

const NOTHING = {
  localName: null,
  serviceUuids: [],
  serviceData: [],
  manufacturerData: [],
  txPowerDbm: null,
};

describe('an advertisement', () => {
  test('is taken apart', () => {
    const bytes = hex(
      '02 01 06' + // flags
        '05 03 1A 18 0F 18' + // two services
        '06 09 50 72 6F 62 65' + // name
        '02 0A FC' + // power
        '05 16 D2 FC 40 01' + // service data
        '04 FF FF FF 2A', // of a maker: 0xFFFF is nobody's
    );
    expect(parseAdvertisement(bytes)).toEqual({
      localName: 'Probe',
      serviceUuids: ['181a', '180f'],
      serviceData: [{ uuid: 'fcd2', data: hex('40 01') }],
      manufacturerData: [{ company: 0xffff, data: hex('2A') }],
      txPowerDbm: -4,
    });
  });

  test('may spell UUIDs short or long', () => {
    const long = 'A0 B7 D9 41 8E 2C 36 9A 0E 4D 52 7B 01 00 1C 5F';
    const base = 'FB 34 9B 5F 80 00 00 80 00 10 00 00 1A 18 00 00';
    expect(parseAdvertisement(hex(`11 07 ${long}`)).serviceUuids).toEqual([
      '5f1c00017b524d0e9a362c8e41d9b7a0',
    ]);
    expect(parseAdvertisement(hex(`11 06 ${base}`)).serviceUuids).toEqual(['181a']);
    expect(parseAdvertisement(hex(`13 06 ${base} 0F 18`)).serviceUuids).toEqual(['181a']);
    expect(parseAdvertisement(hex(`05 05 1A 18 00 00`)).serviceUuids).toEqual(['181a']);
    expect(parseAdvertisement(hex(`06 20 D2 FC 00 00 40`)).serviceData).toEqual([
      { uuid: 'fcd2', data: hex('40') },
    ]);
    expect(parseAdvertisement(hex(`12 21 ${long} 07`)).serviceData).toEqual([
      { uuid: '5f1c00017b524d0e9a362c8e41d9b7a0', data: hex('07') },
    ]);
  });

  test('names each service once, and prefers the whole name', () => {
    const bytes = hex('03 03 1A 18 03 02 1A 18 03 09 41 42 02 08 41');
    expect(parseAdvertisement(bytes)).toMatchObject({
      localName: 'AB',
      serviceUuids: ['181a'],
    });
  });

  test.each([
    ['nothing', ''],
    ['filling', '00 00 00 03 03 1A 18'],
    ['a structure that is cut', '05 03 1A 18'],
    ['a type alone', '01 03'],
    ['half a UUID', '02 03 1A'],
    ['service data without one', '02 16 D2'],
    ['service data with a part of one', '05 21 D2 FC 00 00'],
    ['half a company', '02 FF FF'],
    ['power of two bytes', '03 0A FC FC'],
    ['a name that is no text', '03 09 FF FE'],
  ])('of %s tells nothing', (_, bytes) => {
    expect(parseAdvertisement(hex(bytes))).toEqual(NOTHING);
  });

  test('holds a frame that can be read', () => {
    const { serviceData } = parseAdvertisement(hex('02 01 06 0A 16 D2 FC 40 02 CA 09 03 BF 13'));
    const frame = serviceData[0]?.data ?? hex('');
    expect(new BthomeReader({ key: null }).read('', frame, 0)).toMatchObject({
      values: [{ temperatureC: 25.06, humidityPct: 50.55 }],
    });
  });
});
