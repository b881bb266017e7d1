/** What the devices send, against published bytes; and servers that take whatever a client sends. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Agenda } from '../../../simulator/bluetooth/agenda.ts';
import { Attributes } from '../../../simulator/bluetooth/attributes.ts';
import { AttServer } from '../../../simulator/bluetooth/att-server.ts';
import { beacon, seal } from '../../../simulator/bluetooth/beacon.ts';
import { hexBytes, hexText, joined } from '../../../simulator/bluetooth/bytes.ts';
import { describedProbe } from '../../../simulator/bluetooth/described-probe.ts';
import {
  encodeMeasure,
  environmentalProbe,
} from '../../../simulator/bluetooth/environmental-probe.ts';
import type { EnvironmentalPlan, Measure } from '../../../simulator/bluetooth/plan.ts';
import { runs } from '../../long.ts';

const ADDRESS = '54:48:e6:8f:80:a5';
const PLAN: EnvironmentalPlan = {
  kind: 'environmental',
  address: ADDRESS,
  name: 'Reading room supply, left of the two',
  instances: [{ probe: 'p1', measures: ['temperatureC', 'pressurePa'], intervalS: 1 }],
};

describe('an Environmental Sensing probe', () => {
  // Samples of the characteristics' formats, as in Zephyr's and Bumble's tests and the specification.
  it.each<[Measure, number | null, string | null]>([
    ['temperatureC', 21.48, '6408'],
    ['temperatureC', -10, '18fc'],
    ['temperatureC', 0.01, '0100'],
    ['temperatureC', null, '0080'],
    ['humidityPct', 50, '8813'],
    ['humidityPct', 100, '1027'],
    ['humidityPct', null, 'ffff'],
    ['pressurePa', 101_325, '02760f00'],
    ['pressurePa', null, null],
    ['velocityMs', 10.5, '1a04'],
    ['velocityMs', 0, '0000'],
  ])('sends %s %f as %s', (measure, value, hex) => {
    const bytes = encodeMeasure(measure, value);
    expect(bytes === null ? null : hexText(bytes)).toBe(hex);
  });

  it('has a name that is cut where it does not fit', () => {
    const { data, response } = environmentalProbe(PLAN).advertisement();
    expect(hexText(data)).toBe('02010605031a180f18');
    expect(response?.length).toBe(31);
    expect(Buffer.from(response ?? []).toString('latin1', 2)).toBe('Reading room supply, left of ');
  });
});

describe('a BTHome beacon', () => {
  // The published example of the format's encryption.
  it('encrypts as published', () => {
    const key = hexBytes('231d39c1d7cc1ab1aee224cd096db932');
    const frame = seal(key, ADDRESS, hexBytes('02ca0903bf13'), 0x00112233);
    expect(hexText(frame)).toBe('41' + 'e445f3c9962b' + '33221100' + '6c7c4519');
  });

  it('numbers its packets by time, and never twice the same', () => {
    const plan = { kind: 'beacon', address: ADDRESS, name: 'Attic', probes: ['p1'] } as const;
    const device = beacon(plan);
    const packets = [0, 1, 2, 25_599, 25_600].map((t) => {
      device.take({ t, probe: 'p1', temperatureC: 25.06 });
      return hexText(device.advertisement().data).slice(14, 20);
    });
    expect(packets).toEqual(['400001', '400002', '400003', '4000ff', '400000']);
  });

  it('has several sensors in one frame, ids in rising order', () => {
    const plan = { kind: 'beacon', address: ADDRESS, name: '', probes: ['p1', 'p2'] } as const;
    const device = beacon(plan);
    device.take({ t: 0, probe: 'p1', temperatureC: 25.06, humidityPct: 50.55 });
    device.take({ t: 0, probe: 'p2', temperatureC: 25.11, pressurePa: 100_883 });
    const frame = hexText(device.advertisement().data).slice(14);
    expect(frame).toContain('02ca09' + '02cf09' + '03bf13' + '04138a01');
  });
});

describe('a probe with a layout of its own', () => {
  it('tells feet a minute and tenths of a degree Fahrenheit', () => {
    const device = describedProbe({
      kind: 'described',
      address: ADDRESS,
      name: 'Fernhill weather vane',
      probe: 'p1',
    });
    const [told] = device.take({ t: 0, probe: 'p1', temperatureC: 25, velocityMs: 2.54 });
    // 500 ft/min, 77.0 °F.
    expect(hexText(told?.value() ?? new Uint8Array())).toBe('f4010203');
  });
});

describe('an attribute server', () => {
  function server(mtu: number) {
    const sent: Uint8Array[] = [];
    const device = environmentalProbe({ ...PLAN, mtu });
    const attributes = new Attributes(device.services);
    const att = new AttServer(attributes, mtu, (pdu) => sent.push(pdu));
    const ask = (hex: string): string => {
      att.receive(hexBytes(hex));
      return hexText(sent.splice(0)[0] ?? new Uint8Array());
    };
    const changed = device.services[1]?.characteristics[0];
    if (changed === undefined) throw new Error('it has no second service');
    return { att, sent, ask, changed };
  }

  it.each([
    ['a handle that is not there', '0aff00', '010aff0001'],
    ['a value that is none yet', '0a1500', '010a15000e'],
    ['a write to what cannot be written', '12020000', '0112020003'],
    ['a group that is no service', '100100ffff0228', '0110010010'],
    ['a type that is not there', '080100ffff9999', '010801000a'],
    ['a request that is too short', '0a', '010a000004'],
    ['a request of another kind', '0600', '0106000006'],
    ['a value beyond its end', '0c0300ff00', '010c030007'],
  ])('refuses %s', (_, request, answer) => {
    expect(server(23).ask(request)).toBe(answer);
  });

  it('answers long values in parts', () => {
    const { ask } = server(23);
    const parts = ['0a0300', '0c03001600'].map((each) => ask(each).slice(2));
    expect(Buffer.from(parts.join(''), 'hex').toString()).toBe(PLAN.name);
    expect(parts[0]?.length).toBe(44);
  });

  it('waits with an indication until the one before was confirmed', () => {
    const { att, sent, ask, changed } = server(23);
    ask('1209000200');
    for (const value of [1, 2, 3]) att.tell(changed, Uint8Array.of(value));
    const told = (): string[] => sent.splice(0).map(hexText);
    expect(told()).toEqual(['1d080001']);
    att.receive(hexBytes('1e'));
    expect(told()).toEqual(['1d080002']);
    att.receive(hexBytes('1e'));
    att.receive(hexBytes('1e'));
    expect(told()).toEqual(['1d080003']);
    att.tell(changed, Uint8Array.of(4));
    expect(told()).toEqual(['1d080004']);
  });

  it('takes any bytes, and answers in packets that fit', () => {
    const start = fc.constantFrom(
      [],
      ...[2, 4, 8, 0x0a, 0x0c, 0x10, 0x12, 0x1e, 0x52].map((op) => [op]),
    );
    fc.assert(
      fc.property(
        fc.array(fc.tuple(start, fc.uint8Array({ maxLength: 12 })), { maxLength: 5 }),
        fc.integer({ min: 23, max: 247 }),
        (requests, mtu) => {
          const { att, sent } = server(mtu);
          for (const [op, rest] of requests) {
            const before = sent.length;
            att.receive(joined(op, rest));
            expect(sent.length - before).toBeLessThanOrEqual(1);
          }
          for (const pdu of sent) {
            expect(pdu.length).toBeGreaterThan(0);
            expect(pdu.length).toBeLessThanOrEqual(mtu);
          }
        },
      ),
      { numRuns: runs(2000) },
    );
  });
});

describe('the agenda', () => {
  it('lets everything happen in order of time, first come first among equals', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 20 }), fc.boolean())),
        fc.array(fc.integer({ min: 0, max: 20 })),
        (entries, steps) => {
          const agenda = new Agenda(0);
          const happened: [number, number, number][] = [];
          entries.forEach(([t, off], i) => {
            const callOff = agenda.at(t, () => happened.push([t, i, agenda.now]));
            if (off) callOff();
          });
          for (const t of steps.toSorted((a, b) => a - b)) agenda.advance(t);
          agenda.advance(20);
          const expected = entries
            .flatMap(([t, off], i) => (off ? [] : [[t, i, t]]))
            .sort(([a = 0, i = 0], [b = 0, j = 0]) => a - b || i - j);
          expect(happened).toEqual(expected);
        },
      ),
    );
  });
});
