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
    expect(host.statuses.at(-1)).toEqual({ state: 'running', text: 'The recording has ended.' });
    expect(vi.getTimerCount()).toBe(0);
  });

  it('is played so many times faster, without drifting', async () => {
    const lines = Array.from({ length: 3601 }, (_, s) => at(s));
    const { host } = await play(lines, 60);
    expect(host.statuses.at(-1)?.text).toBe('It plays at 60 times its pace.');
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
        if (text === 'The recording has ended.') resolve(turns);
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
    const text = 'The recording cannot be read any further: no such file';
    expect(host.statuses.at(-1)).toEqual({ state: 'unavailable', text });
    await adapter.stop();
  });

  it.each([0, 0.5, -1, 1001, NaN])('is not played %s times as fast', (speed) => {
    expect(() => createReplayAdapter({ open: opener([]), speed })).toThrow(
      `A recording is played 1 to 1000 times as fast, or with Infinity; not ${speed} times.`,
    );
  });
});
