/** The virtual controller by itself: bytes of a host in, bytes for it out. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { Agenda } from '../../../simulator/bluetooth/agenda.ts';
import { Air } from '../../../simulator/bluetooth/air.ts';
import { hexBytes, hexText, joined, u16 } from '../../../simulator/bluetooth/bytes.ts';
import { Controller, CONTROLLER } from '../../../simulator/bluetooth/controller.ts';
import type { Plan } from '../../../simulator/bluetooth/plan.ts';
import type { Heard } from '../../../simulator/bluetooth/scanner.ts';
import { runs } from '../../long.ts';

const A = 'f0:1a:b0:00:00:01';
const ON_AIR = '010000b01af0';
const PROBE: Plan = {
  kind: 'environmental',
  address: A,
  name: 'Yard',
  advertisingMs: 100,
  mtu: 64,
  instances: [{ probe: 'p1', measures: ['temperatureC'], intervalS: 1 }],
};
const BEACON: Plan = {
  kind: 'beacon',
  address: 'f0:1a:b0:00:00:02',
  name: 'Attic',
  probes: ['p2'],
};

function stage(plans: readonly Plan[], options = {}) {
  const agenda = new Agenda(0);
  const air = new Air(plans, agenda, 1);
  const packets: string[] = [];
  const heard: Heard[] = [];
  const controller = new Controller(
    air,
    agenda,
    (packet) => packets.push(hexText(packet)),
    { ...CONTROLLER, ...options },
    (each) => heard.push(each),
  );
  const command = (hex: string): void => controller.receive(hexBytes(`01${hex}`));
  /** The packets since the last time that begin so. */
  const taken = (start = ''): string[] =>
    packets.splice(0).filter((each) => each.startsWith(start));
  return { agenda, air, controller, command, taken, heard };
}

/** Scan parameters, active or passive, and scan on, with duplicates. */
const scan = (active: boolean): string[] => [
  `0b2007${active ? '01' : '00'}120012000000`,
  '0c20020100',
];
/** Connects with an interval of 15 ms and a time-out of 1 s. */
const CONNECT =
  `0d2019` + '60003000' + '00' + '01' + ON_AIR + '00' + '06000c000000' + '6400' + '04000600';

function connectedStage(options = {}) {
  const it = stage([PROBE], options);
  it.command(CONNECT);
  it.agenda.advance(150);
  const [complete = ''] = it.taken('043e');
  const handle = complete.slice(10, 14);
  const send = (att: string): void => {
    const length = u16(att.length / 2);
    const frame = joined(length, [4, 0], hexBytes(att));
    it.controller.receive(joined(2, hexBytes(handle), u16(frame.length), frame));
  };
  return { ...it, handle, send };
}

describe('commands', () => {
  it('are answered with what a controller is', () => {
    const { command, taken } = stage([]);
    command('011000'); // local version: at least 4.0, else the library refuses it
    expect(parseInt(taken('040e')[0]?.slice(14, 16) ?? '', 16)).toBeGreaterThanOrEqual(6);
    command('022000'); // 27 bytes, 8 packets
    expect(taken()).toEqual(['040e07010220001b0008']);
    command('091000'); // its address
    expect(taken()).toEqual(['040e0a01091000000000 01aa00'.replace(' ', '')]);
  });

  it('that it does not know are refused', () => {
    const { command, taken } = stage([]);
    command('ff2000');
    expect(taken()).toEqual(['040f040101ff20']);
  });

  it('set no scan parameters while it scans', () => {
    const { command, taken } = stage([]);
    scan(true).forEach(command);
    taken();
    command('0b200701120012000000');
    expect(taken()).toEqual(['040e04010b200c']);
  });

  it('for links that there are not are refused', () => {
    const { command, taken } = stage([]);
    command('060403400013');
    expect(taken()).toEqual(['040f0402010604']);
  });

  it('may be any bytes', () => {
    const { controller, agenda } = connectedStage();
    fc.assert(
      fc.property(
        fc.uint8Array({ maxLength: 40 }),
        fc.constantFrom([], [1], [2], [2, 0x40, 0], [1, 0x0d, 0x20], [1, 0x43, 0x20], [1, 0x06, 4]),
        (bytes, start) => {
          controller.receive(joined(start, bytes));
          agenda.advance(agenda.now + 20);
        },
      ),
      { numRuns: runs(2000) },
    );
  });
});

describe('scanning', () => {
  it('reports advertisement and scan response of a probe, byte for byte', () => {
    const { command, agenda, taken } = stage([PROBE]);
    scan(true).forEach(command);
    taken();
    agenda.advance(105);
    const [first = '', second = ''] = taken('043e');
    // One report, connectable, random address, flags and complete list of 16-bit services.
    expect(first.slice(6, -2)).toBe(
      `020100 01${ON_AIR} 09 020106 05031a180f18`.replaceAll(' ', ''),
    );
    expect(second.slice(6, -2)).toBe(`020104 01${ON_AIR} 06 050959617264`.replaceAll(' ', ''));
    const rssi = hexBytes(first.slice(-2))[0] ?? 0;
    expect(rssi - 256).toBeGreaterThan(-75);
    expect(rssi - 256).toBeLessThan(-45);
  });

  it('hears a beacon only once where it does not ask for more, and as not connectable', () => {
    const { command, agenda, taken } = stage([PROBE, BEACON]);
    scan(false).forEach(command);
    agenda.advance(220);
    const types = taken('043e').map((each) => each.slice(10, 12));
    expect(new Set(types)).toEqual(new Set(['00', '03']));
  });

  it('reports a device once only where duplicates are not wanted', () => {
    const { command, agenda, taken } = stage([PROBE]);
    command('0b200701120012000000');
    command('0c20020101');
    agenda.advance(1000);
    expect(taken('043e')).toHaveLength(2); // advertisement and scan response
  });

  it('misses as many advertisements as it is told', () => {
    const reports = [0, 40].map((lossPct) => {
      const { command, agenda, taken } = stage([PROBE], { lossPct });
      scan(false).forEach(command);
      agenda.advance(100_000);
      return taken('043e').length;
    });
    const [all = 0, some = 0] = reports;
    expect(all).toBeGreaterThan(900);
    expect(some / all).toBeGreaterThan(0.5);
    expect(some / all).toBeLessThan(0.7);
  });

  it('stops', () => {
    const { command, agenda, taken } = stage([PROBE]);
    scan(false).forEach(command);
    command('0c20020000');
    taken();
    agenda.advance(1000);
    expect(taken()).toEqual([]);
  });
});

describe('a connection', () => {
  it('is made when the probe advertises, with what was asked for', () => {
    const { command, agenda, taken } = stage([PROBE]);
    command(CONNECT);
    expect(taken()).toEqual(['040f0400010d20']);
    agenda.advance(150);
    expect(taken()).toEqual([
      `043e13 01 00 4000 00 01${ON_AIR} 0c00 0000 6400 00`.replaceAll(' ', ''),
    ]);
  });

  it('is not made with a beacon, and is given up', () => {
    const { command, agenda, taken } = stage([BEACON], { connectLimitMs: 3000 });
    command(CONNECT.replace(ON_AIR, '020000b01af0'));
    taken();
    agenda.advance(2999);
    expect(taken()).toEqual([]);
    agenda.advance(3000);
    expect(taken().map((each) => each.slice(0, 10))).toEqual(['043e13013e']);
  });

  it('is called off', () => {
    const { command, taken } = stage([PROBE]);
    command(CONNECT);
    taken();
    command('0e2000');
    expect(taken().map((each) => each.slice(0, 14))).toEqual(['040e04010e2000', '043e1301020000']);
    command('0e2000');
    expect(taken()).toEqual(['040e04010e200c']);
  });

  it('is one at a time, and one with each', () => {
    const { command, taken, agenda } = stage([PROBE]);
    command(CONNECT);
    command(CONNECT);
    expect(taken('040f')).toEqual(['040f0400010d20', '040f040c010d20']);
    agenda.advance(150);
    command(CONNECT);
    expect(taken('040f')).toEqual(['040f040b010d20']);
  });

  it('carries data at its events only, and says when it has gone', () => {
    const { send, agenda, taken, handle } = connectedStage();
    taken();
    send('020001'); // MTU 256 asked for
    expect(taken()).toEqual([]);
    agenda.advance(agenda.now + 15);
    expect(taken()).toEqual([`041305 01${handle}0100`.replace(' ', '')]);
    agenda.advance(agenda.now + 15);
    expect(taken()).toEqual([
      `02${handle.slice(0, 2)}20 0700 0300 0400 034000`.replaceAll(' ', ''),
    ]);
  });

  it('cuts long frames into packets, and puts those of the host together', () => {
    const { send, agenda, taken, controller, handle } = connectedStage();
    send('020001');
    agenda.advance(agenda.now + 60);
    taken();
    // A read by group type in two pieces.
    const [low = '', high = ''] = [handle.slice(0, 2), handle.slice(2)];
    controller.receive(hexBytes(`02${low}${high}0500` + '0700040010'));
    controller.receive(hexBytes(`02${low}1${high.slice(1)}0600` + '0100ffff0028'));
    agenda.advance(agenda.now + 60);
    const [gone, ...pieces] = taken();
    expect(gone).toBe(`04130501${handle}0200`);
    const lengths = pieces.map((each) => parseInt(each.slice(6, 8), 16));
    expect(lengths).toEqual([27, 9]);
    expect(pieces.map((each) => each.slice(4, 6))).toEqual(['20', '10']);
    // Five services of six bytes each: 0x1800, 0x1801, 0x180a, 0x180f, 0x181a.
    const group = pieces
      .map((each) => each.slice(10))
      .join('')
      .slice(8);
    expect(group.slice(0, 4)).toBe('1106');
    expect(
      group
        .slice(4)
        .match(/.{12}/g)
        ?.map((each) => each.slice(8)),
    ).toEqual(['0018', '0118', '0a18', '0f18', '1a18']);
  });

  it('forgets a frame of the host that was never finished', () => {
    const { send, agenda, taken, controller, handle } = connectedStage();
    taken();
    controller.receive(hexBytes(`02${handle}0500` + '0700040010'));
    send('020001');
    agenda.advance(agenda.now + 60);
    expect(taken().map((each) => each.slice(18))).toEqual(['', '034000']);
  });

  it('is lost by time-out when the probe has gone, and not before', () => {
    const { air, agenda, taken, handle } = connectedStage();
    air.follow({ to: A, do: 'away' });
    const from = agenda.now;
    agenda.advance(from + 999);
    expect(taken()).toEqual([]);
    agenda.advance(from + 1000);
    expect(taken()).toEqual([`04050400${handle}08`]);
  });

  it('outlasts a short absence, and what was told meanwhile arrives', () => {
    const { send, air, agenda, taken, heard } = connectedStage();
    const told = (): string[] => heard.splice(0).map(({ bytes }) => hexText(bytes));
    const subscription = subscribe(send, agenda);
    told();
    air.follow({ to: A, do: 'away', forMs: 900 });
    air.take({ t: 0, probe: 'p1', temperatureC: 21.48 });
    agenda.advance(agenda.now + 890);
    expect(told()).toEqual([]);
    agenda.advance(agenda.now + 100);
    expect(told()).toEqual([`1b${subscription}6408`]);
    expect(taken('0405')).toEqual([]);
  });

  it('is ended by the host, once', () => {
    const { command, taken, handle } = connectedStage();
    taken();
    command(`060403${handle}13`);
    expect(taken()).toEqual(['040f0400010604', `04050400${handle}16`]);
    command(`060403${handle}13`);
    expect(taken()).toEqual(['040f0402010604']);
  });

  it('keeps the probe from advertising', () => {
    const { command, agenda, taken } = connectedStage();
    scan(false).forEach(command);
    taken();
    agenda.advance(agenda.now + 1000);
    expect(taken()).toEqual([]);
  });

  it('loses what a probe tells faster than its events, at the probe', () => {
    const { send, air, agenda, heard } = connectedStage();
    subscribe(send, agenda);
    heard.splice(0);
    for (let i = 0; i < 50; i++) air.take({ t: i, probe: 'p1', temperatureC: i });
    agenda.advance(agenda.now + 500);
    expect(heard).toHaveLength(32);
  });
});

/** Subscribes to the temperature. @returns the handle of its value, as on the air */
function subscribe(send: (att: string) => void, agenda: Agenda): string {
  const value = 25; // the fifth service's first characteristic
  send(`12${hexText(joined(u16(value + 1)))}0100`);
  agenda.advance(agenda.now + 60);
  return hexText(joined(u16(value)));
}
