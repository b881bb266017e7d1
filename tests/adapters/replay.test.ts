/** The replay adapter: pace, order, end, and recordings that cannot be read. */
import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type { Line } from '../../adapters/contract.ts';
import { createReplayAdapter } from '../../adapters/replay/index.ts';
import { recordingHost } from './recording-host.ts';

/** When it was recorded: half a year before it is played. */
const THEN = Date.UTC(2026, 4, 4, 9, 0, 0);
const NOW = Date.UTC(2026, 10, 24, 9, 0, 0);

beforeEach(() => void vi.useFakeTimers({ now: NOW }));
afterEach(() => void vi.useRealTimers());

const setUp: Line[] = [
  { type: 'visit', version: 1, title: 'Cooper Yard, loft' },
  { type: 'unit', id: 'u1', name: 'Loft' },
  { type: 'probe', id: 'p1', unit: 'u1', place: 'return' },
];
const at = (s: number): Line => ({
  type: 'reading',
  t: THEN + 1000 * s,
  probe: 'p1',
  temperatureC: 21,
});

function opener(lines: Iterable<Line>) {
  return async function* open(): AsyncGenerator<Line> {
    for (const line of lines) yield await Promise.resolve(line);
  };
}

async function play(lines: Iterable<Line>, speed: number) {
  const adapter = createReplayAdapter({ open: opener(lines), speed });
  const host = recordingHost();
  await adapter.start(host);
  await vi.advanceTimersByTimeAsync(0);
  return { adapter, host };
}

describe('a recording', () => {
  it('sets up at once, then keeps its pace and its times', async () => {
    const lines: Line[] = [
      ...setUp,
      at(0),
      at(1),
      { type: 'event', t: THEN + 2500, kind: 'setpoint', unit: 'u1', valueC: 18 },
      at(10),
    ];
    const { host } = await play(lines, 1);
    expect(host.lines).toEqual(lines.slice(0, 4));
    await vi.advanceTimersByTimeAsync(999);
    expect(host.lines).toEqual(lines.slice(0, 4));
    await vi.advanceTimersByTimeAsync(1);
    expect(host.lines).toEqual(lines.slice(0, 5));
    await vi.advanceTimersByTimeAsync(1500);
    expect(host.lines).toEqual(lines.slice(0, 6));
    expect(host.statuses).toEqual([{ state: 'running', text: undefined }]);
    await vi.advanceTimersByTimeAsync(7500);
    expect(host.lines).toEqual(lines);
    expect(host.statuses.at(-1)).toEqual({ state: 'running', text: 'The replay has ended.' });
    expect(vi.getTimerCount()).toBe(0);
  });

  it('is played so many times faster, without drifting', async () => {
    const lines = Array.from({ length: 3601 }, (_, s) => at(s));
    const { host } = await play(lines, 60);
    expect(host.statuses.at(-1)?.text).toBe('It runs at 60 times the recorded pace.');
    await vi.advanceTimersByTimeAsync(30_000);
    expect(host.lines).toHaveLength(1801);
    await vi.advanceTimersByTimeAsync(30_000);
    expect(host.lines).toHaveLength(3601);
  });

  it('waits through a pause that is longer than a timer can be', async () => {
    const days = 86_400;
    const { host } = await play([at(0), at(60 * days)], 1);
    await vi.advanceTimersByTimeAsync(59 * days * 1000);
    expect(host.lines).toHaveLength(1);
    await vi.advanceTimersByTimeAsync(days * 1000);
    expect(host.lines).toHaveLength(2);
  });

  it('goes on from where it was when the computer has slept', async () => {
    let sleptMs = 0;
    const lines = Array.from({ length: 100 }, (_, s) => at(s));
    const now = (): number => performance.now() + sleptMs;
    const host = recordingHost();
    await createReplayAdapter({ open: opener(lines), now }).start(host);
    await vi.advanceTimersByTimeAsync(10_000);
    expect(host.lines).toHaveLength(11);
    sleptMs = 3_600_000;
    await vi.advanceTimersByTimeAsync(2000);
    expect(host.lines.length).toBeLessThanOrEqual(14);
  });

  it.each([-3_600_000, 3_600_000])('keeps its pace when the clock is set by %d ms', async (ms) => {
    const lines = Array.from({ length: 100 }, (_, s) => at(s));
    const { host } = await play(lines, 1);
    await vi.advanceTimersByTimeAsync(10_000);
    vi.setSystemTime(Date.now() + ms);
    await vi.advanceTimersByTimeAsync(10_000);
    expect(host.lines).toHaveLength(21);
  });

  it('does not wait for what the clock was set by while it was recorded', async () => {
    const t = THEN + 3_600_000;
    const clock: Line = { type: 'event', kind: 'clock', t, shiftMs: 3_599_000 };
    const { host } = await play([at(0), at(1), clock, at(3601), at(3602)], 1);
    await vi.advanceTimersByTimeAsync(3000);
    expect(host.lines).toHaveLength(5);
  });

  it('is played as fast as it can, and lets others have their turn', async () => {
    vi.useRealTimers();
    let turns = 0;
    const others = setInterval(() => (turns += 1), 1);
    const lines = Array.from({ length: 50_000 }, (_, s) => at(s));
    const adapter = createReplayAdapter({ open: opener(lines), speed: Infinity });
    const host = recordingHost();
    const turnsAtEnd = new Promise<number>((resolve) => {
      const status: typeof host.status = (_, text) => {
        if (text === 'The replay has ended.') resolve(turns);
      };
      void adapter.start({ ...host, status });
    });
    expect(await turnsAtEnd).toBeGreaterThan(10);
    clearInterval(others);
    expect(host.lines).toHaveLength(50_000);
  });

  it('is closed when it is stopped in the middle', async () => {
    let closed = false;
    async function* open(): AsyncGenerator<Line> {
      try {
        for (let s = 0; ; s += 1) yield await Promise.resolve(at(s));
      } finally {
        closed = true;
      }
    }
    const adapter = createReplayAdapter({ open });
    const host = recordingHost();
    await adapter.start(host);
    await vi.advanceTimersByTimeAsync(2000);
    await adapter.stop();
    expect(closed).toBe(true);
    expect(vi.getTimerCount()).toBe(0);
    expect(host.statuses.at(-1)?.text).toBeUndefined();
  });

  it.each([
    [
      'cannot be opened',
      () => {
        throw new Error('no such file');
      },
    ],
    [
      'breaks off',
      async function* () {
        yield await Promise.resolve(at(0));
        throw new Error('no such file');
      },
    ],
  ])('that %s is unavailable and not tried again', async (_, open) => {
    const adapter = createReplayAdapter({ open });
    const host = recordingHost();
    await adapter.start(host);
    await vi.advanceTimersByTimeAsync(0);
    const text = 'The visit log cannot be read any further: no such file';
    expect(host.statuses.at(-1)).toEqual({ state: 'unavailable', text });
    await adapter.stop();
  });

  it.each([0, 0.5, -1, 1001, NaN])('is not played %s times as fast', (speed) => {
    expect(() => createReplayAdapter({ open: opener([]), speed })).toThrow(
      `A replay runs at 1 to 1000 times the recorded pace, or Infinity; not ${speed}.`,
    );
  });
});

describe('a recording that is led', () => {
  /** An hour, a reading a second. */
  const hour = (): Line[] => Array.from({ length: 3601 }, (_, s) => at(s));
  const seconds = (lines: Line[]): number[] =>
    lines.flatMap((line) => (line.type === 'reading' ? [(line.t - THEN) / 1000] : []));

  async function lead(lines: Iterable<Line>, speed = 1) {
    const told: (boolean | 'arrived')[] = [];
    const adapter = createReplayAdapter({
      open: opener(lines),
      speed,
      jumping: (anew) => told.push(anew),
      arrived: () => told.push('arrived'),
    });
    const host = recordingHost();
    await adapter.start(host);
    await vi.advanceTimersByTimeAsync(1000 / speed);
    /** Where it is, s from its beginning. */
    const atS = (): number | null => {
      const { at: t } = adapter.replay();
      return t === null ? null : (t - THEN) / 1000;
    };
    return { adapter, host, told, atS };
  }

  it('knows where it begins, where it ends, and where it is', async () => {
    const { adapter, atS } = await lead(hour());
    expect(adapter.replay()).toMatchObject({ from: THEN, to: THEN + 3_600_000, ended: false });
    await vi.advanceTimersByTimeAsync(4500);
    expect(atS()).toBeCloseTo(5.5, 3);
    await adapter.stop();
  });

  it('stands still while it is paused, and goes on from there', async () => {
    const { adapter, host, atS } = await lead(hour());
    await vi.advanceTimersByTimeAsync(4500);
    expect(await adapter.change({ paused: true })).toBeNull();
    await vi.advanceTimersByTimeAsync(3_000_000);
    expect(host.lines).toHaveLength(6);
    expect(atS()).toBeCloseTo(5.5, 3);
    expect(host.statuses.at(-1)?.text).toBe('The replay is paused.');
    await adapter.change({ paused: false });
    await vi.advanceTimersByTimeAsync(499);
    expect(host.lines).toHaveLength(6);
    await vi.advanceTimersByTimeAsync(1);
    expect(host.lines).toHaveLength(7);
    await adapter.stop();
  });

  it('takes another speed at once, from where it is', async () => {
    const { adapter, host, atS } = await lead(hour());
    await vi.advanceTimersByTimeAsync(9000);
    await adapter.change({ speed: 30 });
    await vi.advanceTimersByTimeAsync(10_000);
    expect(atS()).toBeCloseTo(310, 3);
    expect(host.lines).toHaveLength(311);
    await adapter.stop();
  });

  it('jumps ahead over all lines between, and goes on at its pace', async () => {
    const { adapter, host, told, atS } = await lead(hour());
    const jump = adapter.change({ toT: THEN + 1_800_500 });
    await vi.advanceTimersByTimeAsync(10);
    expect(await jump).toBeNull();
    expect(seconds(host.lines)).toEqual(Array.from({ length: 1801 }, (_, s) => s));
    expect(told).toEqual([false, 'arrived']);
    expect(adapter.replay()).toMatchObject({ jumps: 1, toT: null });
    await vi.advanceTimersByTimeAsync(2000);
    expect(atS()).toBeGreaterThan(1802);
    expect(seconds(host.lines).at(-1)).toBe(1802);
    await adapter.stop();
  });

  it('jumps back by coming from its beginning again', async () => {
    const { adapter, host, told } = await lead(hour());
    const ahead = adapter.change({ toT: THEN + 600_000 });
    await vi.advanceTimersByTimeAsync(10);
    await ahead;
    host.lines.splice(0);
    const back = adapter.change({ toT: THEN + 60_000, paused: true });
    await vi.advanceTimersByTimeAsync(10);
    await back;
    expect(seconds(host.lines)).toEqual(Array.from({ length: 61 }, (_, s) => s));
    expect(told).toEqual([false, 'arrived', true, 'arrived']);
    await vi.advanceTimersByTimeAsync(60_000);
    expect(seconds(host.lines).at(-1)).toBe(60);
    await adapter.stop();
  });

  it('of several jumps in a row the last one counts', async () => {
    const { adapter, host } = await lead(hour());
    const jumps = [3000, 100, 50, 2000, 20].map((s) => adapter.change({ toT: THEN + 1000 * s }));
    await vi.advanceTimersByTimeAsync(20);
    await Promise.all(jumps);
    expect(adapter.replay()).toMatchObject({ toT: null });
    expect(seconds(host.lines).at(-1)).toBe(20);
    await vi.advanceTimersByTimeAsync(5000);
    expect(seconds(host.lines).slice(-5)).toEqual([21, 22, 23, 24, 25]);
    await adapter.stop();
  });

  it('is played again after its end', async () => {
    const { adapter, host } = await lead([at(0), at(1), at(2)]);
    await vi.advanceTimersByTimeAsync(5000);
    expect(adapter.replay().ended).toBe(true);
    const back = adapter.change({ toT: THEN });
    await vi.advanceTimersByTimeAsync(0);
    await back;
    expect(adapter.replay().ended).toBe(false);
    await vi.advanceTimersByTimeAsync(5000);
    expect(seconds(host.lines)).toEqual([0, 1, 2, 0, 1, 2]);
    expect(adapter.replay().ended).toBe(true);
  });

  it('says of all that was handed over up to when it is whole', async () => {
    // The line itself ends the second before the one that ends with it.
    const { adapter } = await lead([at(0), at(10), at(20)]);
    await vi.advanceTimersByTimeAsync(5000);
    expect(adapter.wholeT()).toBe(THEN + 6000);
    await vi.advanceTimersByTimeAsync(3999);
    expect(adapter.wholeT()).toBe(THEN + 8999);
    await vi.advanceTimersByTimeAsync(20_000);
    expect(adapter.wholeT()).toBe(THEN + 20_000);
  });

  it('tells its times by the clock of its beginning where that was set', async () => {
    const clock: Line = { type: 'event', kind: 'clock', t: THEN - 3_597_000, shiftMs: -3_600_000 };
    const { adapter, atS } = await lead([at(0), at(1), clock, at(-3590)]);
    expect(adapter.replay()).toMatchObject({ from: THEN, to: THEN + 10_000 });
    await vi.advanceTimersByTimeAsync(1500);
    expect(adapter.wholeT()).toBe(THEN + 1999);
    await vi.advanceTimersByTimeAsync(2500);
    expect(atS()).toBeCloseTo(5, 3);
    expect(adapter.wholeT()).toBe(THEN - 3_595_000);
    await adapter.stop();
  });

  it.each([
    [{ toT: THEN - 1 }, /^toT: \d+ is outside the visit log, which runs from \d+ to \d+$/],
    [{ toT: THEN + 3_600_001 }, /^toT: \d+ is outside the visit log/],
    [{ speed: 0.5 }, /^speed: 0.5 is not one of 1 to 1000$/],
  ])('refuses %j and stays as it is', async (change, why) => {
    const { adapter } = await lead(hour());
    const before = adapter.replay();
    expect(await adapter.change(change)).toMatch(why);
    expect(adapter.replay()).toEqual(before);
    await adapter.stop();
    expect(await adapter.change({ toT: THEN })).toBe('The replay is not running.');
  });
});
