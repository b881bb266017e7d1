/** Probes that keep to the standards in their own way, or not at all, beside others that are in order. */
import { describe, expect, it } from 'vitest';
import { Turns } from '../../adapters/ble/turns.ts';
import { bleStage, type FakeProbe, HUMIDITY, probe, type Stage, TEMPERATURE } from './ble-stage.ts';

const A = 'ble:00aa01010001';
const texts = (stage: Stage): string => stage.host.statuses.map(({ text }) => text).join('\n');
/** It links, and then lets each order wait for five seconds, in vain. */
const silent = (digits: string, more: Partial<FakeProbe> = {}): FakeProbe =>
  probe(digits, {
    ...{ refuses: ['describe', 'subscribe', 'read'], refusal: { why: 'no-answer', ms: 5000 } },
    ...more,
  });

describe('probes that cost the radio much time', () => {
  it('do not keep the others from their turn, however often they are heard', async () => {
    const stage = await bleStage();
    const bad = [silent('0001'), silent('0002'), silent('0003')];
    const good = ['0004', '0005', '0006'].map((digits) => probe(digits));
    stage.add(...bad);
    await stage.pass(20_000);
    // The bad ones come first whenever anything is heard.
    stage.add(...good);
    await stage.pass(40_000);
    for (const { id } of good) expect(stage.links(`ble:${id}`).at(-1)).toBe('connected');
  });

  it('let the others be heard first after each attempt', () => {
    const turns = new Turns();
    for (const t of [0, 500]) for (const id of ['bad', 'good']) turns.heard(id, t);
    turns.taken('bad', 500);
    turns.failed('bad', 600, false);
    // A link was made or not, in which time nobody could be heard; the bad one is heard first after it.
    turns.ended(5000);
    turns.heard('bad', 5100);
    expect(turns.next(5100)).toBeNull();
    turns.heard('good', 5200);
    expect(turns.next(5200)).toBe('good');
    turns.forget('good');
    turns.heard('bad', 6600);
    expect(turns.next(6600)).toBe('bad');
  });

  it('have no more than a third of it', async () => {
    const stage = await bleStage();
    stage.add(silent('0001'));
    await stage.pass(300_000);
    // Two orders without an answer, of 5 s each, and the pauses are at least twice that.
    expect(stage.orders(`connect 00aa01010001`).length).toBeGreaterThan(3);
    expect(stage.orders(`connect 00aa01010001`).length).toBeLessThan(11);
    const asked = stage.radio.orders.filter(({ text }) =>
      /^(?:describe|subscribe|read)/.test(text),
    );
    expect(asked.length).toBe(2 * stage.orders(`connect 00aa01010001`).length);
  });

  it('are let go where every answer comes, but slowly', async () => {
    const stage = await bleStage();
    const many = Array.from({ length: 20 }, () => ({ ...TEMPERATURE, notifies: false }));
    stage.add(probe('0001', { characteristics: many, readMs: 4000 }));
    await stage.pass(45_000);
    expect(stage.links(A).at(-1)).toBe('lost');
    expect(stage.orders('disconnect')).toHaveLength(1);
  });

  it('do not stop the scan while they are asked', async () => {
    const stage = await bleStage();
    stage.add(silent('0001'));
    await stage.pass(3000);
    const asked = stage.radio.orders.findLastIndex(({ text }) => text.startsWith('describe'));
    expect(asked).toBeGreaterThan(0);
    const later = stage.radio.orders.slice(0, asked + 1).map(({ text }) => text);
    expect(later.lastIndexOf('scan')).toBeGreaterThan(later.lastIndexOf('connect 00aa01010001'));
  });
});

describe('a probe that wants to be paired with', () => {
  const refusal = { why: 'pairing', ms: 0 } as const;

  it('is said to, at once and for as long as it is there', async () => {
    const stage = await bleStage();
    stage.add(probe('0001', { name: 'Locked', refuses: ['subscribe', 'read'], refusal }));
    await stage.pass(2000);
    expect(stage.host.statuses.at(-1)?.text).toMatch(
      /^Locked answers only to a computer that it is paired with.*: switch that off in the probe/,
    );
    await stage.pass(90_000);
    expect(stage.host.statuses.at(-1)?.text).toMatch(/^Locked answers only/);
    stage.radio.probes.clear();
    await stage.pass(60_000);
    expect(stage.host.statuses.at(-1)?.text ?? null).toBeNull();
  });

  it('for one of its values is read for the others', async () => {
    const stage = await bleStage();
    stage.add(probe('0001', { characteristics: [HUMIDITY, TEMPERATURE], locked: '0' }));
    await stage.pass(3000);
    expect(stage.links(A).at(-1)).toBe('connected');
    expect(stage.readings(A).at(-1)).toMatchObject({ temperatureC: 21.48 });
  });
});

describe('a probe that is heard seldom', () => {
  const every = (turns: Turns, id: string, ms: number, untilT: number): void => {
    for (let t = 0; t <= untilT; t += ms) turns.heard(id, t);
  };

  it('is linked shortly before it is heard next, since a connect blocks the radio until then', () => {
    const turns = new Turns();
    every(turns, 'slow', 5000, 20_000);
    const when = Array.from({ length: 50 }, (_, i) => 20_000 + i * 100);
    const may = when.filter((t) => turns.next(t) === 'slow');
    expect(may[0]).toBeGreaterThanOrEqual(24_200);
    expect(may.at(-1)).toBe(24_900);
    expect(turns.next(29_500)).toBe('slow'); // it was missed once
    expect(turns.next(60_000)).toBeNull(); // it is not there any more
  });

  it('once only is waited for where others would lose by it', () => {
    const turns = new Turns();
    turns.heard('first', 0);
    expect(turns.next(0)).toBe('first');
    turns.taken('first', 0);
    turns.heard('second', 100);
    expect(turns.next(100)).toBeNull();
    turns.heard('second', 600);
    expect(turns.next(600)).toBe('second');
  });

  it('is not what was linked meanwhile: that pause is no rhythm', () => {
    const turns = new Turns();
    turns.heard('a', 0);
    turns.taken('a', 0);
    turns.lost('a', 8000);
    turns.heard('a', 8500);
    expect(turns.rhythmOf('a')).toBeNull();
    expect(turns.next(8500)).toBe('a');
  });

  it('and cannot be linked is told to advertise more often', async () => {
    const stage = await bleStage();
    const slow = probe('0001', { name: 'Sleepy', connect: 'refuse' });
    stage.radio.probes.set(slow.id, slow);
    for (let i = 0; i < 20; i += 1) {
      stage.advertise(slow);
      await stage.clock.advance(8000);
    }
    expect(texts(stage)).toMatch(
      /^Sleepy is heard but cannot be linked \(it refused\): it is heard only every 8 s: have it advertise every second\.$/m,
    );
  });
});

describe('a probe', () => {
  it('that is not heard any more before it was linked is lost', async () => {
    const stage = await bleStage();
    stage.add(probe('0001'));
    await stage.pass(3000);
    const other = probe('0002');
    stage.radio.probes.set(other.id, other);
    stage.advertise(other);
    stage.radio.probes.delete(other.id);
    await stage.pass(10_000);
    expect(stage.links('ble:00aa01010002').at(-1)).toBe('connecting');
    await stage.pass(60_000);
    expect(stage.links('ble:00aa01010002').at(-1)).toBe('lost');
  });

  it('that takes no connection is not asked for one', async () => {
    const stage = await bleStage();
    const one = probe('0001');
    stage.radio.probes.set(one.id, one);
    for (let i = 0; i < 10; i += 1) {
      stage.advertise(one, { connectable: false });
      await stage.clock.advance(500);
    }
    expect(stage.orders('connect')).toEqual([]);
  });

  it('whose address will change is said to, while it is there', async () => {
    const stage = await bleStage();
    const one = probe('0001', { name: 'Shy' });
    stage.radio.probes.set(one.id, one);
    stage.advertise(one, { passing: true });
    await stage.clock.advance(3000);
    expect(stage.links(A).at(-1)).toBe('connected');
    expect(stage.host.statuses.at(-1)?.text).toMatch(/^Shy changes its address from time to time/);
    stage.radio.linked.clear();
    stage.radio.say({ say: 'gone', id: one.id, reason: 8 });
    await stage.clock.advance(60_000);
    expect(stage.host.statuses.at(-1)?.text ?? null).toBeNull();
  });

  it('whose name is broken text is called by what is left of it', async () => {
    const stage = await bleStage();
    stage.add(probe('0001', { name: '\ufffd\ufffdShelf\ufffd' }));
    await stage.pass(1000);
    expect(stage.host.lines).toContainEqual({ type: 'probe', id: A, name: 'Shelf' });
  });
});

describe('a probe that can be linked and broadcasts as well', () => {
  const both = (stage: Stage, bytes: string): void =>
    stage.advertise(probe('0001'), { serviceData: [{ uuid: 'fcd2', bytes }] });

  it('is read without a link where its broadcast can be read', async () => {
    const stage = await bleStage();
    stage.add(probe('0001', { services: [] }));
    for (let i = 0; i < 10; i += 1) {
      both(stage, `4000${i.toString(16).padStart(2, '0')}026408`);
      stage.advertise(probe('0001')); // its other advertisement
      await stage.clock.advance(500);
    }
    expect(stage.orders('connect')).toEqual([]);
    expect(stage.readings(A)).toHaveLength(10);
  });

  it('is linked where that is encrypted, and no key is missed', async () => {
    const stage = await bleStage();
    const one = probe('0001', { services: [] });
    stage.radio.probes.set(one.id, one);
    for (let i = 0; i < 10; i += 1) {
      both(stage, '41a47266c95f730011223378237214');
      await stage.clock.advance(500);
    }
    expect(stage.links(A).at(-1)).toBe('connected');
    expect(stage.readings(A).at(-1)).toMatchObject({ humidityPct: 50 });
    expect(stage.host.statuses.at(-1)?.text ?? null).toBeNull();
  });
});
