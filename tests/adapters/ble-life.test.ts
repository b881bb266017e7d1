/** The life of Bluetooth probes in the field, with a radio of the test. */
import { describe, expect, it } from 'vitest';
import { Turns } from '../../adapters/ble/turns.ts';
import { bleStage, HUMIDITY, probe, TEMPERATURE } from './ble-stage.ts';

const A = 'ble:00aa01010001';

describe('a probe of the Environmental Sensing Service', () => {
  it('is found, linked and read without being asked for', async () => {
    const stage = await bleStage();
    expect(stage.orders('scan')).toHaveLength(1);
    const one = probe('0001');
    stage.add(one);
    await stage.pass(1000);
    expect(stage.links(A)).toEqual(['connecting', 'connected']);
    expect(stage.host.lines[0]).toEqual({ type: 'probe', id: A, name: 'Air probe' });
    // Read at once: one that sends only what changes may have nothing to send for long.
    const [first, second] = stage.readings(A);
    expect(first).toMatchObject({ temperatureC: 21.48 });
    expect(second).toMatchObject({ humidityPct: 50 });
    stage.notify(one, '0', 'e803');
    expect(stage.readings(A).at(-1)).toEqual({
      ...{ type: 'reading', probe: A, t: stage.clock.now(), temperatureC: 10 },
    });
  });

  it('is called by its model where it gives itself no name', async () => {
    const stage = await bleStage();
    const model = { service: '180a', uuid: '2a24', hex: '4169722070726f6265203700' };
    stage.add(probe('0001', { name: null, characteristics: [TEMPERATURE, model] }));
    await stage.pass(3000);
    expect(stage.name(A)).toBeUndefined(); // one may still be heard
    await stage.pass(4000);
    expect(stage.name(A)).toBe('Air probe 7');
  });

  it('tells its signal', async () => {
    const stage = await bleStage();
    stage.add(probe('0001'));
    await stage.pass(3000);
    expect(stage.host.links.at(-1)).toEqual({
      ...{ probe: A, link: { state: 'connected', signalDbm: -55 } },
    });
  });

  it('is asked at the chosen rate where it sends nothing by itself', async () => {
    const stage = await bleStage({ pollMs: 2000 });
    const quiet = { ...TEMPERATURE, notifies: false };
    stage.add(probe('0001', { characteristics: [quiet] }));
    await stage.pass(500);
    const before = stage.readings(A).length;
    await stage.pass(20_000);
    expect(stage.readings(A).length - before).toBe(10);
    expect(stage.orders('subscribe')).toEqual([]);
  });

  it('is asked where it offers to send by itself and refuses it', async () => {
    const stage = await bleStage();
    stage.add(probe('0001', { refuses: ['subscribe'] }));
    await stage.pass(1000);
    expect(stage.links(A).at(-1)).toBe('connected');
    const before = stage.readings(A).length;
    await stage.pass(10_000);
    expect(stage.readings(A).length - before).toBe(20); // two quantities, once a second
  });

  it('is asked when it has been silent for a while', async () => {
    const stage = await bleStage();
    const one = probe('0001', { characteristics: [TEMPERATURE] });
    stage.add(one);
    await stage.pass(1000);
    for (let i = 0; i < 20; i += 1) {
      stage.notify(one, '0', 'e803');
      await stage.pass(1000);
    }
    const reads = stage.orders('read').length;
    expect(reads).toBe(1); // the first
    await stage.pass(11_000);
    expect(stage.orders('read').length - reads).toBe(2);
  });

  it('is not asked for what it sends by itself while it is slow to answer for another', async () => {
    const stage = await bleStage();
    const slow = { ...HUMIDITY, notifies: false };
    const one = probe('0001', { characteristics: [slow, TEMPERATURE] });
    stage.add(one);
    await stage.pass(1000);
    one.readMs = 700;
    const before = stage.orders('read').length;
    for (let i = 0; i < 100; i += 1) {
      stage.notify(one, '1', '6408');
      await stage.clock.advance(100);
    }
    expect(stage.orders('read').length).toBeGreaterThan(before + 4);
    expect(stage.orders(`read ${one.id} 1`)).toHaveLength(1); // the first
  });

  it('may refuse to be read until it has measured; then that is told', async () => {
    const stage = await bleStage();
    const first = { ...TEMPERATURE, hex: '', notifies: false }; // as the library gives what is refused
    stage.add(probe('0001', { characteristics: [first, HUMIDITY] }));
    await stage.pass(20_000);
    expect(stage.status()).toEqual({ state: 'running', text: undefined });
    await stage.pass(20_000);
    expect(stage.status()?.text).toMatch(/has sent values that are none/);
    first.hex = '6408';
    await stage.pass(1500);
    expect(stage.readings(A).at(-1)).toMatchObject({ temperatureC: 21.48 });
  });

  it('may not refuse to be read any more once it has measured', async () => {
    const stage = await bleStage();
    const first = { ...TEMPERATURE, notifies: false };
    stage.add(probe('0001', { characteristics: [first] }));
    await stage.pass(2000);
    first.hex = '';
    await stage.pass(2000);
    expect(stage.status()?.text).toMatch(/has sent values that are none/);
  });

  it('is counted once where it sends a value by itself while it is asked', async () => {
    const stage = await bleStage();
    const one = probe('0001', { characteristics: [TEMPERATURE], readMs: 2000 });
    stage.add(one);
    await stage.pass(1000);
    expect(stage.orders('read')).toHaveLength(1);
    stage.notify(one, '0', TEMPERATURE.hex);
    await stage.pass(3000);
    expect(stage.links(A).at(-1)).toBe('connected');
    expect(stage.readings(A)).toHaveLength(1);
  });

  it('keeps its id, is discovered anew and is linked soon when its link was lost', async () => {
    const stage = await bleStage();
    const one = probe('0001');
    stage.add(one);
    await stage.pass(25_000);
    stage.drop(one);
    expect(stage.links(A).at(-1)).toBe('lost');
    const before = stage.readings(A).length;
    await stage.pass(1000);
    expect(stage.links(A).at(-1)).toBe('connected');
    expect(stage.orders('discover')).toHaveLength(2);
    expect(stage.readings(A).length).toBeGreaterThan(before);
  });

  it('is not linked while it is away, and is when it is heard again', async () => {
    const stage = await bleStage();
    const one = probe('0001');
    stage.add(one);
    await stage.pass(25_000);
    stage.radio.probes.clear();
    stage.drop(one);
    await stage.pass(60_000);
    expect(stage.orders('connect')).toHaveLength(1);
    expect(stage.links(A).at(-1)).toBe('lost');
    stage.add(one);
    await stage.pass(1000);
    expect(stage.links(A).at(-1)).toBe('connected');
  });

  it('is left and linked anew when its link is there but of no use', async () => {
    const stage = await bleStage();
    const one = probe('0001', { characteristics: [{ ...TEMPERATURE, notifies: false }] });
    stage.add(one);
    await stage.pass(2000);
    one.refuses = ['read'];
    await stage.pass(5000);
    expect(stage.orders('disconnect').length).toBeGreaterThan(0);
    one.refuses = [];
    await stage.pass(10_000);
    expect(stage.links(A).at(-1)).toBe('connected');
  });

  it('has a second probe in it where it has two thermometers', async () => {
    const stage = await bleStage();
    const outside = { ...TEMPERATURE, hex: '18fc', descriptors: { '2901': '6f757473696465' } };
    const one = probe('0001', { characteristics: [TEMPERATURE, outside, HUMIDITY] });
    stage.add(one);
    await stage.pass(1500);
    expect(stage.readings(A)[0]).toMatchObject({ temperatureC: 21.48 });
    expect(stage.readings(`${A}/2`)[0]).toMatchObject({ temperatureC: -10 });
    expect(stage.readings(`${A}/2`).some((line) => 'humidityPct' in line)).toBe(false);
    expect(stage.name(`${A}/2`)).toBe('Air probe, outside');
    stage.drop(one);
    expect(stage.links(`${A}/2`).at(-1)).toBe('lost');
  });

  it('is believed only within the range that it gives itself', async () => {
    const stage = await bleStage();
    const range = { '2906': '0000b80b' }; // 0 to 30 °C
    const one = probe('0001', { characteristics: [{ ...TEMPERATURE, descriptors: range }] });
    stage.add(one);
    await stage.pass(1000);
    const before = stage.readings(A).length;
    stage.notify(one, '0', 'ac0d'); // 35 °C
    expect(stage.readings(A)).toHaveLength(before);
  });

  it('may send garbage: it is counted and said, and what is right goes on', async () => {
    const stage = await bleStage();
    const one = probe('0001');
    stage.add(one);
    await stage.pass(1000);
    const before = stage.readings(A).length;
    for (const hex of ['', '00', '000000', '0080', 'ff7f', 'ff'.repeat(512)]) {
      stage.notify(one, '0', hex);
    }
    stage.notify(one, 'no such', '6408');
    expect(stage.readings(A)).toHaveLength(before);
    stage.notify(one, '1', '8813');
    expect(stage.readings(A)).toHaveLength(before + 1);
    await stage.pass(1000);
    expect(stage.status()).toMatchObject({ state: 'running' });
    expect(stage.status()?.text).toMatch(/^Air probe has sent values that are none \(6 so far\)/);
    await stage.pass(61_000);
    expect(stage.status()).toEqual({ state: 'running', text: undefined });
  });

  it('that goes on sending garbage is not spoken of all the time', async () => {
    const stage = await bleStage();
    const one = probe('0001');
    stage.add(one);
    await stage.pass(1000);
    const before = stage.host.statuses.length;
    for (let i = 0; i < 40; i += 1) {
      stage.notify(one, '0', '00');
      await stage.pass(500);
    }
    expect(stage.host.statuses.length - before).toBeLessThanOrEqual(3);
    expect(stage.host.statuses.length - before).toBeGreaterThan(1);
  });

  it('has one battery, whatever it says', async () => {
    const stage = await bleStage();
    const battery = { service: '180f', uuid: '2a19', hex: '5a' };
    stage.add(probe('0001', { characteristics: [TEMPERATURE, battery, battery] }));
    await stage.pass(2000);
    expect(stage.readings(A).filter(({ batteryPct }) => batteryPct === 90)).toHaveLength(1);
    expect(stage.readings(`${A}/2`)).toEqual([]);
  });

  it('may not flood the visit', async () => {
    const stage = await bleStage();
    const one = probe('0001');
    stage.add(one);
    await stage.pass(1000);
    const before = stage.readings(A).length;
    for (let i = 0; i < 5000; i += 1) stage.notify(one, '0', '6408');
    expect(stage.readings(A).length - before).toBeLessThanOrEqual(200);
  });
});

describe('many probes', () => {
  it('are linked one at a time, all of them', async () => {
    const stage = await bleStage();
    const all = Array.from({ length: 16 }, (_, i) => probe(String(1000 + i)));
    stage.add(...all);
    await stage.pass(30_000);
    expect(stage.radio.mostConnecting).toBe(1);
    for (const { id } of all) expect(stage.links(`ble:${id}`).at(-1)).toBe('connected');
    expect(stage.orders('connect')).toHaveLength(16);
  });

  it('of the same name are told apart', async () => {
    const stage = await bleStage();
    stage.add(probe('0001'), probe('0002'));
    await stage.pass(3000);
    expect(stage.name(A)).toBe('Air probe');
    expect(stage.name('ble:00aa01010002')).toBe('Air probe 0002');
    expect(stage.readings('ble:00aa01010002').length).toBeGreaterThan(0);
  });

  it('keep the names that people gave them', async () => {
    const stage = await bleStage({ nameOf: () => 'By the window' });
    stage.add(probe('0001'));
    await stage.pass(1000);
    expect(stage.name(A)).toBeUndefined();
    expect(stage.links(A).at(-1)).toBe('connected');
  });

  it('under ever new addresses do not fill the screen', async () => {
    const stage = await bleStage();
    stage.add(...Array.from({ length: 500 }, (_, i) => probe(String(1000 + i))));
    await stage.pass(500);
    const announced = stage.host.lines.filter(({ type }) => type === 'probe');
    expect(announced).toHaveLength(64);
    await stage.clock.advance(1000);
    expect(stage.status()?.text).toMatch(/^64 Bluetooth probes are known, and there is no room/);
  });

  it('are not touched where they are none of ours', async () => {
    const stage = await bleStage();
    stage.advertise(probe('0001', { services: ['180d', 'fe9f'] }));
    await stage.pass(1000);
    expect(stage.host.lines).toEqual([]);
    expect(stage.orders('connect')).toEqual([]);
  });
});

describe('whose turn it is', () => {
  it('goes first to those that have failed least', () => {
    const turns = new Turns();
    for (const id of ['a', 'b', 'c']) expect(turns.heard(id, 0)).toBe(true);
    turns.taken('a', 0);
    turns.failed('a', 0, false);
    for (const t of [1000, 2000]) {
      for (const id of ['a', 'b', 'c']) expect(turns.heard(id, t)).toBe(false);
    }
    expect(turns.next(2000)).toBe('b');
    turns.taken('b', 2000);
    expect(turns.next(2000)).toBe('c');
    turns.taken('c', 2000);
    expect(turns.next(2000)).toBe('a');
    expect(turns.next(9000)).toBeNull(); // heard too long ago
  });

  it('is at once that of one whose link is lost soon, and later the second time', () => {
    const turns = new Turns();
    const link = (t: number): string | null => {
      turns.heard('a', t);
      return turns.next(t);
    };
    expect(link(0)).toBe('a');
    turns.taken('a', 0);
    turns.lost('a', 5000);
    expect(link(5100)).toBe('a');
    turns.taken('a', 5100);
    turns.lost('a', 9000);
    expect(link(9100)).toBeNull();
    expect(link(10_100)).toBeNull();
    expect(link(11_100)).toBe('a');
  });

  it('is not put off for ever by a clock that was set back', () => {
    const turns = new Turns();
    turns.heard('a', 1e12);
    turns.taken('a', 1e12);
    turns.failed('a', 1e12, true);
    turns.heard('a', 1e11);
    expect(turns.next(1e11)).toBe('a');
  });
});

describe('a probe that cannot be linked', () => {
  const gaps = (stage: Awaited<ReturnType<typeof bleStage>>): number[] => {
    const times = stage.radio.orders.filter(({ text }) => text.startsWith('connect'));
    return times.slice(1).map(({ t }, i) => t - (times[i]?.t ?? 0));
  };

  it('is tried with growing pauses, for ever, and spoken of', async () => {
    const stage = await bleStage();
    stage.add(probe('0001', { connect: 'refuse' }));
    await stage.pass(400_000);
    const between = gaps(stage);
    expect(between[0]).toBeLessThan(3000);
    expect(between.slice(0, 5).every((gap, i) => i === 0 || gap > (between[i - 1] ?? 0))).toBe(
      true,
    );
    expect(Math.max(...between)).toBeLessThan(65_000);
    expect(between.length).toBeGreaterThan(8);
    expect(stage.links(A).at(-1)).toBe('lost');
    const told = stage.host.statuses.map(({ text }) => text ?? '');
    expect(told.some((text) => /is heard but cannot be linked \(it refused\)/.test(text))).toBe(
      true,
    );
  });

  it('and hangs the radio gives the others their time', async () => {
    const stage = await bleStage();
    const bad = probe('0009', { connect: 'hang', name: 'Far probe' });
    stage.add(probe('0001'), probe('0002'));
    await stage.pass(3000);
    stage.add(bad);
    await stage.pass(20_000);
    expect(stage.links(A).filter((state) => state === 'connected')).toHaveLength(2);
    expect(stage.links(A).at(-1)).toBe('connected'); // linked anew in the new process
    const told = stage.host.statuses.map(({ state, text }) => `${state} ${text ?? ''}`);
    expect(told.some((text) => /^retrying The Bluetooth radio was started anew/.test(text))).toBe(
      true,
    );
    await stage.pass(600_000);
    // 15, 30, 60, 120, 240 s and then 300 s apart: the others have their links nearly all the time.
    expect(stage.orders(`connect ${bad.id}`).length).toBeLessThan(8);
    expect(stage.orders(`connect ${bad.id}`).length).toBeGreaterThan(3);
  });

  it('because it has nothing to read is left alone between the attempts', async () => {
    const stage = await bleStage();
    stage.add(probe('0001', { characteristics: [] }));
    await stage.pass(5000);
    expect(stage.orders('disconnect').length).toBe(stage.orders('connect').length);
    expect(stage.radio.linked.size).toBe(0);
  });

  it('is not tried when it was last heard some time ago', async () => {
    const stage = await bleStage();
    const [slow, gone] = [probe('0001', { connect: 'refuse', connectMs: 3000 }), probe('0002')];
    stage.add(slow);
    stage.advertise(slow);
    stage.advertise(gone); // heard while the other has its turn
    await stage.clock.advance(5000);
    expect(stage.orders(`connect ${gone.id}`)).toEqual([]);
  });
});
