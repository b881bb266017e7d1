/** How the Bluetooth adapter lives with its radio: switched off, not there, not allowed, in disorder. */
import { describe, expect, it } from 'vitest';
import { bleStage, probe } from './ble-stage.ts';

const A = 'ble:00aa01010001';

describe('the radio', () => {
  it('is said to run when it does', async () => {
    const stage = await bleStage();
    expect(stage.host.statuses).toEqual([{ state: 'running', text: undefined }]);
  });

  it('may be switched off and on: all links are lost at once, and come back', async () => {
    const stage = await bleStage();
    const all = [probe('0001'), probe('0002')];
    stage.add(...all);
    await stage.pass(3000);
    stage.radio.probes.clear();
    stage.radio.state = 'poweredOff';
    stage.radio.say({ say: 'state', state: 'poweredOff' });
    for (const { id } of all) expect(stage.links(`ble:${id}`).at(-1)).toBe('lost');
    expect(stage.status()).toMatchObject({ state: 'unavailable' });
    expect(stage.status()?.text).toMatch(/switched off: switch it on/);
    // The library keeps the dead links of such a process.
    expect(stage.orders('replace')).toHaveLength(1);
    await stage.pass(20_000);
    expect(stage.orders('replace')).toHaveLength(1);
    expect(stage.orders('connect')).toHaveLength(2);
    stage.radio.state = 'poweredOn';
    stage.radio.say({ say: 'state', state: 'poweredOn' });
    stage.add(...all);
    await stage.pass(3000);
    for (const { id } of all) expect(stage.links(`ble:${id}`).at(-1)).toBe('connected');
    expect(stage.status()).toEqual({ state: 'running', text: undefined });
  });

  it('that is not there is said so, looked for again, and used when it is', async () => {
    const stage = await bleStage({}, (radio) => (radio.state = ''));
    await stage.pass(4000);
    expect(stage.host.statuses).toEqual([]);
    await stage.pass(2000);
    expect(stage.status()).toMatchObject({ state: 'unavailable' });
    expect(stage.status()?.text).toMatch(/No Bluetooth adapter was found.*--bluetooth-adapter N/);
    stage.radio.state = 'poweredOn';
    stage.add(probe('0001'));
    await stage.pass(20_000);
    expect(stage.links(A).at(-1)).toBe('connected');
    expect(stage.status()).toEqual({ state: 'running', text: undefined });
  });

  it.each([
    ['linux', /setcap cap_net_raw\+eip .*AmbientCapabilities=CAP_NET_RAW/],
    ['darwin', /System Settings, Privacy & Security, Bluetooth/],
    ['win32', /Settings, Privacy & security/],
    ['sunos', /give its user that right/],
  ])('that may not be used is said to need a permission: %s', async (platform, text) => {
    const stage = await bleStage({ platform }, (radio) => (radio.state = 'unauthorized'));
    expect(stage.status()).toMatchObject({ state: 'unavailable' });
    expect(stage.status()?.text).toMatch(text);
    // Longer texts are cut where they are shown.
    expect(stage.status()?.text?.length).toBeLessThan(300);
    await stage.pass(60_000);
    expect(stage.orders('replace')).toEqual([]);
  });

  it.each([
    ['not-installed', /library is not installed: run npm ci/],
    ['not-built', /without its compiled part/],
    ['other', /cannot be used: a gremlin/],
  ] as const)('that cannot be had is said so: %s', async (why, text) => {
    const absent = { say: 'absent', why, text: 'a gremlin' } as const;
    const stage = await bleStage({}, (radio) => (radio.absent = absent));
    expect(stage.status()).toMatchObject({ state: 'unavailable' });
    expect(stage.status()?.text).toMatch(text);
    await stage.pass(60_000);
    expect(stage.orders('replace')).toEqual([]);
  });

  it('of a system without Bluetooth is looked for again: it may be plugged in', async () => {
    const absent = { say: 'absent', why: 'no-bluetooth', text: '' } as const;
    const stage = await bleStage({}, (radio) => (radio.absent = absent));
    expect(stage.status()?.text).toMatch(/has no Bluetooth: plug an adapter in/);
    stage.radio.absent = null;
    stage.add(probe('0001'));
    await stage.pass(20_000);
    expect(stage.links(A).at(-1)).toBe('connected');
  });

  it('that goes down takes no probe with it for long', async () => {
    const stage = await bleStage();
    stage.add(probe('0001'));
    await stage.pass(2000);
    stage.radio.probes.clear();
    stage.radio.end('It ended by itself (SIGSEGV).');
    expect(stage.links(A).at(-1)).toBe('lost');
    expect(stage.status()).toMatchObject({ state: 'retrying' });
    expect(stage.status()?.text).toMatch(/started anew.*SIGSEGV/);
    stage.add(probe('0001'));
    await stage.pass(4000);
    expect(stage.links(A).at(-1)).toBe('connected');
    expect(stage.status()).toEqual({ state: 'running', text: undefined });
  });

  it('that goes down while a probe is being linked does not count against it', async () => {
    const stage = await bleStage();
    stage.add(probe('0001', { connectMs: 2000 }));
    for (let i = 0; i < 4; i += 1) {
      await stage.pass(1000);
      stage.radio.end('It ended by itself (status 1).');
      await stage.pass(2000);
    }
    await stage.pass(3000);
    expect(stage.links(A).at(-1)).toBe('connected');
    const told = stage.host.statuses.map(({ text }) => text ?? '');
    expect(told.filter((text) => text.includes('cannot be linked'))).toEqual([]);
  });

  it('that chokes all the time is replaced', async () => {
    const stage = await bleStage();
    for (let i = 0; i < 100; i += 1) stage.radio.say({ say: 'fault', text: 'out of range' });
    await stage.pass(500);
    expect(stage.orders('replace')).toHaveLength(1);
    await stage.pass(10_000);
    expect(stage.orders('replace')).toHaveLength(1);
  });

  it('that chokes now and then is not', async () => {
    const stage = await bleStage();
    stage.advertise(probe('0001', { services: [] })); // it hears
    for (let i = 0; i < 100; i += 1) {
      stage.radio.say({ say: 'fault', text: 'out of range' });
      await stage.pass(500);
    }
    expect(stage.orders('replace')).toEqual([]);
  });

  it('is stopped with the adapter', async () => {
    const stage = await bleStage();
    await stage.adapter.stop();
    expect(stage.orders('stop')).toHaveLength(1);
    const said = stage.host.said();
    await stage.clock.advance(60_000);
    expect(stage.host.said()).toBe(said);
    expect(stage.clock.waiting()).toBe(0);
  });
});

describe('the scan', () => {
  it('begins anew after each link that was made or failed', async () => {
    const stage = await bleStage();
    stage.add(probe('0001'), probe('0002', { connect: 'refuse' }));
    await stage.pass(1500);
    expect(stage.orders('scan')).toHaveLength(3);
  });

  it('is begun anew when somebody has ended it', async () => {
    const stage = await bleStage();
    stage.radio.say({ say: 'scanning', on: false });
    await stage.clock.advance(2000);
    expect(stage.orders('scan')).toHaveLength(2);
  });

  it('is begun anew when nothing is heard for a while: it may have ended without a word', async () => {
    const stage = await bleStage();
    stage.advertise(probe('0001', { services: [] }));
    await stage.clock.advance(14_000);
    expect(stage.orders('scan')).toHaveLength(1);
    await stage.clock.advance(2500);
    expect(stage.orders('scan')).toHaveLength(2);
  });

  it('is done the other way where nothing at all is ever heard', async () => {
    const stage = await bleStage();
    expect(stage.radio.settings().extended).toBe(false);
    await stage.clock.advance(50_000);
    expect(stage.radio.settings().extended).toBe(true);
    await stage.clock.advance(50_000);
    expect(stage.radio.settings().extended).toBe(false);
    stage.advertise(probe('0001', { services: [] }));
    await stage.clock.advance(600_000);
    expect(stage.radio.settings().extended).toBe(false);
  });

  it('uses the adapter that was chosen', async () => {
    const chosen = (await bleStage({ adapterIndex: 1 })).radio;
    expect(chosen.settings()).toEqual({ adapterIndex: 1, extended: false });
  });
});
