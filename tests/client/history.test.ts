import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { History } from '../../client/live/history.ts';
import { HistoryColumns } from '../../server/history.ts';
import type { History as HistoryFrame } from '../../server/protocol.ts';
import { snapshotAt, T0 } from './fixtures.ts';

const at = (second: number): number => T0 + second * 1000;
const range = (from: number, to: number): number[] =>
  Array.from({ length: to - from }, (_, i) => from + i);

/** History of one unit whose total at second s is s watts. */
function frameOf(seconds: number[], id = 'u1'): HistoryFrame {
  return {
    type: 'history',
    t: seconds.map(at),
    units: {
      [id]: {
        totalW: seconds,
        sensibleW: seconds.map(() => 1),
        latentW: seconds.map(() => 2),
        totalU95W: seconds.map(() => 10),
        returnC: seconds.map(() => 26),
        supplyC: seconds.map(() => 14),
      },
    },
  };
}

const seconds = (history: History): number[] => history.t.map((t) => (t - T0) / 1000);
const totals = (history: History): (number | null)[] => history.unit('u1')?.totalW ?? [];

describe('history and live frames are one stream', () => {
  it('state, history, live: no row twice, none missing', () => {
    const history = new History();
    history.addHistory(frameOf(range(0, 10)));
    history.addSnapshot(snapshotAt(at(9), 9)); // the seam: the server sent it in both
    history.addSnapshot(snapshotAt(at(10), 10));
    expect(seconds(history)).toEqual(range(0, 11));
    expect(totals(history)).toEqual(range(0, 11));
  });

  it('no line is drawn from one mode to the other', () => {
    const history = new History();
    const modes = ['cooling', 'cooling', 'heating', 'heating'] as const;
    modes.forEach((mode, s) => {
      const snapshot = snapshotAt(at(s), s);
      for (const unit of Object.values(snapshot.units)) unit.mode = mode;
      history.addSnapshot(snapshot);
    });
    expect(totals(history)).toEqual([0, 1, null, 3]);
  });

  it('after a line that was down, the hole is filled from the history', () => {
    const history = new History();
    for (const s of range(0, 5)) history.addSnapshot(snapshotAt(at(s), s));
    // Down from 5 to 30; the page asks for what is newer than its last row.
    expect(history.lastT).toBe(at(4));
    history.addHistory(frameOf(range(5, 31)));
    history.addSnapshot(snapshotAt(at(31), 31));
    expect(seconds(history)).toEqual(range(0, 32));
    expect(totals(history)).not.toContain(null);
  });

  it('a live frame that overtook the history keeps its place', () => {
    const history = new History();
    history.addSnapshot(snapshotAt(at(20), 20));
    history.addHistory(frameOf(range(0, 20)));
    history.addSnapshot(snapshotAt(at(21), 21));
    expect(seconds(history)).toEqual(range(0, 22));
    expect(totals(history)).toEqual(range(0, 22));
  });

  it('any mixture of overlapping stretches ends ascending, unique and complete', () => {
    fc.assert(
      fc.property(
        fc.array(fc.record({ from: fc.nat(40), length: fc.nat(30), live: fc.boolean() }), {
          maxLength: 8,
        }),
        (stretches) => {
          const history = new History();
          const sent = new Set<number>();
          for (const { from, length, live } of stretches) {
            const stretch = range(from, from + length);
            if (live) {
              for (const s of stretch) {
                // Live frames only ever go on: an older one is dropped, and so is not expected.
                if (s > Math.max(-1, ...sent)) sent.add(s);
                history.addSnapshot(snapshotAt(at(s), s));
              }
            } else {
              for (const s of stretch) sent.add(s);
              history.addHistory(frameOf(stretch));
            }
          }
          const kept = seconds(history).filter((_, i) => totals(history)[i] !== null);
          expect(kept).toEqual([...sent].sort((a, b) => a - b));
          expect(new Set(history.t).size).toBe(history.t.length);
          expect([...history.t].sort((a, b) => a - b)).toEqual(history.t);
        },
      ),
    );
  });
});

describe('a stretch after all that is held', () => {
  const column = fc.option(fc.integer({ min: 1, max: 900 }), { freq: 5 });
  const frames = fc
    .array(
      fc.record({
        step: fc.constantFrom(1, 1, 1, 2, 9, 60),
        ...{ totalW: column, totalU95W: column, sensibleW: column, latentW: column },
        ...{ returnC: column, supplyC: column },
      }),
      { minLength: 2, maxLength: 40 },
    )
    .map((rows): HistoryFrame => {
      let s = 0;
      const of = (name: Exclude<keyof (typeof rows)[number], 'step'>) =>
        rows.map((row) => row[name]);
      const columns = {
        ...{ totalW: of('totalW'), totalU95W: of('totalU95W'), sensibleW: of('sensibleW') },
        ...{ latentW: of('latentW'), returnC: of('returnC'), supplyC: of('supplyC') },
      };
      return {
        type: 'history',
        t: rows.map(({ step }, i) => at((s += i === 0 ? 1 : step))),
        units: { u1: columns },
      };
    });

  it('is taken by columns as it is by rows', () => {
    fc.assert(
      fc.property(frames, fc.boolean(), (frame, isAfter) => {
        const [byColumns, byRows] = [new History(), new History()];
        // Another head before it, which the stretch knows nothing of.
        if (isAfter)
          for (const each of [byColumns, byRows]) each.addHistory(frameOf([-1, 0], 'u2'));
        byColumns.addHistory(frame);
        // Where it overlaps with what is held it goes in row by row.
        const { t, units } = frame;
        const u1 = Object.entries(units['u1'] ?? {}).map(([name, all]) => [name, all.slice(0, 1)]);
        byRows.addHistory({
          ...frameOf([0]),
          t: t.slice(0, 1),
          units: { u1: Object.fromEntries(u1) },
        });
        byRows.addHistory(frame);
        expect(byColumns.t).toEqual(byRows.t);
        for (const id of ['u1', 'u2']) expect(byColumns.unit(id)).toEqual(byRows.unit(id));
      }),
    );
  });
});

describe('gaps', () => {
  it('a hole in live data breaks the line with an empty row', () => {
    const history = new History();
    history.addSnapshot(snapshotAt(at(0), 5));
    history.addSnapshot(snapshotAt(at(60), 6));
    expect(history.t).toEqual([at(0), at(0) + 1, at(60)]);
    expect(totals(history)).toEqual([5, null, 6]);
  });

  it('rows that were thinned are no gap', () => {
    const history = new History();
    history.addHistory(frameOf(range(0, 50).map((i) => i * 8)));
    history.addSnapshot(snapshotAt(at(50 * 8), 400));
    expect(totals(history)).not.toContain(null);
    // What comes live after it is not thinned: a restart of some seconds is seen.
    history.addSnapshot(snapshotAt(at(50 * 8 + 1), 401));
    history.addSnapshot(snapshotAt(at(50 * 8 + 12), 412));
    expect(totals(history).slice(-3)).toEqual([401, null, 412]);
  });

  it('what could not be worked out stays empty', () => {
    const history = new History();
    history.addSnapshot(snapshotAt(at(0), null));
    expect(totals(history)).toEqual([null]);
    expect(history.unit('u1')?.upperW).toEqual([null]);
  });
});

describe('a long visit, thinned by the server', () => {
  /** So many seconds at a row a second, with what a noisy machine shows; none where `isOff`. */
  function pastOf(count: number, noise: (s: number) => number, isOff: (s: number) => boolean) {
    const columns = new HistoryColumns();
    for (const s of range(0, count)) if (!isOff(s)) columns.add(snapshotAt(at(s), 2600 + noise(s)));
    return columns.between(-Infinity, Infinity, 4000);
  }
  let seed = 1;
  const random = (): number => (seed = (seed * 48_271) % 2_147_483_647) / 2_147_483_647;
  const NOISES: [string, (s: number) => number][] = [
    ['white noise', () => 100 * random()],
    ['a slow wave', (s) => 100 * Math.sin(s / 600)],
    ['a quick wave with noise', (s) => 100 * Math.sin(s / 7) + 20 * random()],
    ['no movement at all', () => 0],
  ];
  const holes = (frame: HistoryFrame): number => {
    const history = new History();
    history.addHistory(frame);
    return totals(history).filter((total) => total === null).length;
  };

  it.each(NOISES)('8 h without a break are drawn without one: %s', (_, noise) => {
    const frame = pastOf(8 * 3600, noise, () => false);
    expect(frame.t.length).toBeLessThanOrEqual(4000); // it was thinned
    expect(holes(frame)).toBe(0);
  });

  it.each(NOISES)('a server that was off for three minutes is seen, once: %s', (_, noise) => {
    expect(holes(pastOf(8 * 3600, noise, (s) => s >= 10_000 && s < 10_180))).toBe(1);
  });

  it.each(NOISES)('and so is a night between two halves of a visit: %s', (_, noise) => {
    expect(holes(pastOf(20 * 3600, noise, (s) => s >= 14_400 && s < 57_600))).toBe(1);
  });
});

describe('units', () => {
  it('one that comes later has empty rows before', () => {
    const history = new History();
    history.addSnapshot(snapshotAt(at(0), 5));
    history.addSnapshot(snapshotAt(at(1), 6, ['u1', 'u2']));
    expect(history.unit('u2')?.totalW).toEqual([null, 6]);
    expect(totals(history)).toEqual([5, 6]);
  });

  it('the ends of the interval come with the total', () => {
    const history = new History();
    history.addHistory(frameOf([100]));
    expect(history.unit('u1')?.upperW).toEqual([110]);
    expect(history.unit('u1')?.lowerW).toEqual([90]);
  });
});

describe('a long visit', () => {
  it('stays bounded, in order, and keeps its ends', () => {
    const history = new History();
    for (const s of range(0, 60_000)) history.addSnapshot(snapshotAt(at(s), s));
    expect(history.t.length).toBeLessThanOrEqual(40_001);
    expect(history.t[0]).toBe(at(0));
    expect(history.lastT).toBe(at(59_999));
    expect(totals(history)).not.toContain(null);
    expect(totals(history).length).toBe(history.t.length);
  });
});
