/** Probes that a person has forgotten, with a radio of the test. */
import { describe, expect, it } from 'vitest';
import { bleStage, probe, type Stage, TEMPERATURE } from './ble-stage.ts';

const A = 'ble:00aa01010001';
const BEACON = '00aa01020002';
const B = `ble:${BEACON}`;

/** What was announced, from a line on. */
const announced = (stage: Stage, from = 0) =>
  stage.host.lines.slice(from).filter(({ type }) => type === 'probe');
/** Lets time pass in which nothing is heard. */
const pause = (stage: Stage) => stage.clock.advance(2000);

describe('a linked probe that is forgotten', () => {
  it('is unlinked, and comes back as a new one when it is heard again', async () => {
    const stage = await bleStage();
    const one = probe('0001');
    stage.add(one, probe('0002'));
    await stage.pass(3000);
    stage.adapter.forget?.(A);
    const [told, links] = [stage.host.lines.length, stage.host.links.length];
    const before = stage.readings(A).length;
    stage.notify(one, '0', 'e803'); // it was on its way
    await pause(stage);
    expect(stage.orders('disconnect')).toEqual([`disconnect ${one.id}`]);
    expect(stage.radio.linked).toEqual(new Set([probe('0002').id]));
    expect(
      stage.host.lines.slice(told).filter((line) => 'probe' in line && line.probe === A),
    ).toEqual([]);
    expect(stage.host.links.slice(links).filter((each) => each.probe === A)).toEqual([]);

    await stage.pass(1000);
    expect(announced(stage, told)).toEqual([{ type: 'probe', id: A, name: 'Air probe' }]);
    expect(stage.links(A).at(-1)).toBe('connected');
    expect(stage.readings(A).length).toBeGreaterThan(before);
  });

  it('stays away while it is not heard', async () => {
    const stage = await bleStage();
    stage.add(probe('0001'));
    await stage.pass(3000);
    stage.adapter.forget?.(A);
    stage.radio.probes.clear();
    const told = stage.host.said();
    await stage.pass(60_000);
    expect(stage.host.lines.slice(-1)).toMatchObject([{ type: 'reading' }]);
    expect(stage.host.said() - told).toBeLessThan(2); // its status at most
    expect(stage.orders('connect')).toHaveLength(1);
  });

  it('while it is being linked is unlinked as soon as that has ended', async () => {
    const stage = await bleStage();
    const slow = probe('0001', { connectMs: 3000 });
    stage.add(slow);
    stage.advertise(slow);
    await stage.clock.advance(1000);
    stage.adapter.forget?.(A);
    const told = stage.host.said();
    await stage.clock.advance(5000);
    expect(stage.orders('disconnect')).toHaveLength(1);
    expect(stage.radio.linked.size).toBe(0);
    expect(stage.host.said()).toBe(told);
    await stage.pass(5000);
    expect(announced(stage)).toHaveLength(2);
    expect(stage.links(A).at(-1)).toBe('connected');
  });

  it('and cannot be linked is not spoken of as it was', async () => {
    const stage = await bleStage();
    const refusing = probe('0001', { connect: 'refuse', connectMs: 3000 });
    stage.add(refusing);
    stage.advertise(refusing);
    await stage.clock.advance(1000);
    stage.adapter.forget?.(A);
    const told = stage.host.said();
    await stage.clock.advance(5000);
    expect(stage.host.said()).toBe(told);
  });

  it('as one of two leaves the other its link, and comes back with its next reading', async () => {
    const stage = await bleStage();
    const upper = { ...TEMPERATURE, descriptors: { '2901': '7570706572' } };
    const lower = { ...TEMPERATURE, descriptors: { '2901': '6c6f776572' } };
    const two = probe('0001', { characteristics: [upper, lower] });
    stage.add(two);
    await stage.pass(1000);
    const second = `${A}/2`;
    expect(stage.readings(second).length).toBeGreaterThan(0);
    stage.adapter.forget?.(second);
    const told = stage.host.lines.length;
    stage.notify(two, '0', 'e803');
    expect(announced(stage, told)).toEqual([]);
    stage.notify(two, '1', 'e803');
    expect(announced(stage, told)).toEqual([
      { type: 'probe', id: second, name: 'Air probe, lower' },
    ]);
    expect(stage.readings(second).at(-1)).toMatchObject({ temperatureC: 10 });
    expect(stage.orders('disconnect')).toEqual([]);
  });
});

describe('a broadcasting probe that is forgotten', () => {
  it('comes back as a new one when it is heard again', async () => {
    const stage = await bleStage();
    stage.broadcast(BEACON, '40000902ca09', { name: 'Beacon' });
    stage.adapter.forget?.(B);
    const told = stage.host.lines.length;
    await pause(stage);
    expect(stage.host.lines).toHaveLength(told);
    stage.broadcast(BEACON, '40000a02ca09', { name: 'Beacon' });
    expect(stage.host.lines.slice(told)).toMatchObject([
      { type: 'probe', id: B, name: 'Beacon' },
      { type: 'reading', probe: B, temperatureC: 25.06 },
    ]);
    expect(stage.host.links.at(-1)).toMatchObject({ probe: B, link: { state: 'connected' } });
  });

  it('is still said to need its key', async () => {
    const stage = await bleStage();
    const sealed = '41e445f3c9962b332211006c7c4519';
    stage.broadcast(BEACON, sealed);
    stage.adapter.forget?.(B);
    stage.broadcast(BEACON, sealed);
    expect(stage.host.links.at(-1)).toMatchObject({ link: { state: 'lost', needs: 'key' } });
  });
});

it('what is none of ours is nothing to us', async () => {
  const stage = await bleStage();
  stage.add(probe('0001'));
  await stage.pass(1000);
  const told = stage.host.said();
  for (const id of ['p1', 'ble:', 'ble:00aa01010009', `${A}/7`, 'ble', '00aa01010001', `x${A}`]) {
    stage.adapter.forget?.(id);
  }
  await pause(stage);
  expect(stage.orders('disconnect')).toEqual([]);
  expect(announced(stage)).toHaveLength(1);
  expect(stage.host.said() - told).toBeLessThanOrEqual(1); // its signal
});

it('makes room for another', async () => {
  const stage = await bleStage();
  const all = Array.from({ length: 65 }, (_, i) => probe(String(1000 + i)));
  stage.add(...all);
  await stage.pass(60_000);
  expect(announced(stage)).toHaveLength(64);
  expect(stage.status()?.text).toMatch(/64 Bluetooth probes are known/);
  const [first, last] = [`ble:${all[0]?.id}`, `ble:${all[64]?.id}`];
  stage.adapter.forget?.(first);
  await stage.clock.advance(100);
  stage.radio.probes.delete(all[0]?.id ?? '');
  await stage.pass(5000);
  expect(announced(stage).at(-1)).toMatchObject({ id: last });
  expect(stage.links(last).at(-1)).toBe('connected');
  await stage.pass(60_000);
  expect(stage.status()?.text).toBeUndefined();
});

it('devices that are none of ours do not use the room up', async () => {
  const stage = await bleStage();
  const all = Array.from({ length: 64 }, (_, i) => probe(String(1000 + i)));
  stage.add(...all);
  await stage.pass(60_000);
  stage.advertise(probe('0009', { services: ['180d'] }));
  await pause(stage);
  expect(stage.status()?.text).toBeUndefined();
});
