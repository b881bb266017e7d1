import { describe, expect, it } from 'vitest';
import { merged } from '../../client/live/merge.ts';
import type { Budget, State } from '../../server/protocol.ts';
import { captureWith, checkWith, eventWith, probeWith, snapshotAt, T0, VISIT } from './fixtures.ts';

const PROBE = probeWith();
const STATE: State = {
  type: 'state',
  record: { type: 'record', visit: null, trouble: null, kept: true },
  replay: null,
  t: T0,
  simulated: false,
  units: {},
  sum: { totalW: null, sensibleW: null, latentW: null, totalU95W: null },
  visit: VISIT,
  probes: { p1: PROBE },
  adapters: {},
  events: [],
  captures: [],
  budgets: {},
  check: null,
  walk: null,
  measuring: {},
  airflows: [],
  zeros: [],
  verdicts: [],
  expected: {},
};

describe('a later frame in the state', () => {
  it('a snapshot brings its time and its units, and leaves the rest', () => {
    const after = merged(STATE, { ...snapshotAt(T0 + 1000, 2640), simulated: true });
    expect(after.t).toBe(T0 + 1000);
    expect(after.simulated).toBe(true);
    expect(after.units['u1']?.capacity.totalW).toBe(2640);
    expect(after.probes).toBe(STATE.probes);
  });

  it('a probe replaces its own entry only', () => {
    const after = merged(STATE, { ...PROBE, type: 'probe', id: 'p2', state: 'stale', values: {} });
    expect(Object.keys(after.probes)).toEqual(['p1', 'p2']);
    expect(after.probes['p1']).toBe(PROBE);
    expect(after.probes['p2']).not.toHaveProperty('id');
  });

  it('a probe that was forgotten is gone', () => {
    const frame = { ...PROBE, type: 'probe', id: 'p1', forgotten: true } as const;
    const two = merged(STATE, { ...PROBE, type: 'probe', id: 'p2' });
    expect(Object.keys(merged(two, frame).probes)).toEqual(['p2']);
    expect(merged(STATE, { ...frame, id: 'p9' }).probes).toEqual(STATE.probes);
  });

  it('values change what the probes read, and nothing else of them', () => {
    const values = { temperatureC: 27.1 };
    const at = { lastT: T0 + 900, values };
    const frame = { type: 'values', t: T0 + 1000, probes: { p1: at, p9: at } } as const;
    expect(merged(STATE, frame)).toEqual({ ...STATE, probes: { p1: { ...PROBE, ...at } } });
    expect(STATE.probes['p1']).toBe(PROBE);
  });

  it('events are added in the order in which they come', () => {
    const once = merged(STATE, eventWith({ text: 'a' }));
    const twice = merged(once, eventWith({ id: 'e2', t: T0 + 1, text: 'b' }));
    expect(twice.events.map((event) => event.text)).toEqual(['a', 'b']);
    expect(STATE.events).toEqual([]);
  });

  it('an event that is told again under its id replaces the earlier one', () => {
    let state = STATE;
    for (const event of [
      eventWith({ text: 'a' }),
      eventWith({ id: 'e2', text: 'b' }),
      eventWith({ t: T0 - 5000, text: 'named' }),
    ])
      state = merged(state, event);
    expect(state.events.map(({ id, t, text }) => [id, t, text])).toEqual([
      ['e1', T0 - 5000, 'named'],
      ['e2', T0, 'b'],
    ]);
  });

  it('an open capture grows in its place; what a touch made stays beside it', () => {
    let state = STATE;
    for (const capture of [
      captureWith({ open: true, to: T0 + 60_000 }),
      captureWith({ by: 'touch', to: T0 + 70_000 }),
      captureWith({ open: true, to: T0 + 80_000 }),
      captureWith({ by: 'touch', to: T0 + 90_000 }),
      captureWith({ to: T0 + 100_000 }),
      captureWith({ unit: 'u2' }),
    ])
      state = merged(state, capture);
    expect(state.captures.map(({ by, to, open }) => [by, (to - T0) / 1000, open])).toEqual([
      ['itself', 100, undefined],
      ['touch', 70, undefined],
      ['touch', 90, undefined],
      ['itself', 180, undefined],
    ]);
  });

  it('a capture that is struck, or compared with another, is told again in its place', () => {
    const struck = { t: T0, text: 'the door was open' };
    let state = STATE;
    for (const capture of [
      captureWith(),
      captureWith({ by: 'touch', to: T0 + 70_000 }),
      captureWith({ by: 'touch', to: T0 + 90_000 }),
      captureWith({ struck }),
      captureWith({ by: 'touch', to: T0 + 70_000, struck }),
    ])
      state = merged(state, capture);
    expect(state.captures.map(({ by, struck: why }) => [by, why?.text])).toEqual([
      ['itself', 'the door was open'],
      ['touch', 'the door was open'],
      ['touch', undefined],
    ]);
    state = merged(state, captureWith());
    expect(state.captures[0]).not.toHaveProperty('struck');
  });

  it('an adapter and the visit are replaced', () => {
    const adapter = merged(STATE, { type: 'adapter', name: 'ble', state: 'retrying', text: 'why' });
    expect(adapter.adapters).toEqual({ ble: { state: 'retrying', text: 'why' } });
    const visit = merged(STATE, { type: 'visit', ...STATE.visit, title: 'Another' });
    expect(visit.visit).toEqual({ ...STATE.visit, title: 'Another' });
  });

  it('a budget replaces the one of its unit, a check the one before', () => {
    const budget = (unit: string, totalU95W: number): Budget => ({
      type: 'budget',
      unit,
      t: T0,
      totalU95W,
      items: [],
      regions: { return: null, supply: null },
      advice: null,
    });
    let state = STATE;
    for (const each of [budget('u1', 300), budget('u2', 200), budget('u1', 100)])
      state = merged(state, each);
    expect(state.budgets).toEqual({ u1: budget('u1', 100), u2: budget('u2', 200) });
    const running = merged(state, checkWith({ progress: 0.3 }));
    const ended = merged(running, checkWith({ phase: 'ended', verdict: 'agree' }));
    expect(running.check?.progress).toBe(0.3);
    expect(ended.check?.phase).toBe('ended');
  });
});
