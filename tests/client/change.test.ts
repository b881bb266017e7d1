/** What has changed since an earlier visit, in words: which earlier capture counts, and what is said. */
import { describe, expect, it } from 'vitest';
import { sinceBaseline, sinceSentences } from '../../client/words/change.ts';
import type { Capture, EarlierCaptures } from '../../server/protocol.ts';
import { captureWith, comparableWith, plain, SETTING, T0, UNIT } from './fixtures.ts';

const DAY = 86_400_000;
const setup = { ...UNIT, name: 'Study' };
const earlier = (daysAgo: number, change: Partial<Capture> = {}, flow = 'old'): Earlier => ({
  ...{ visit: 'v', title: 'Study' },
  capture: comparableWith(flow, {
    ...{ from: T0 - daysAgo * DAY - 300_000, to: T0 - daysAgo * DAY },
    ...change,
  }),
});
type Earlier = EarlierCaptures['captures'][number];
const NOW = comparableWith('new', { totalW: 2200 });

describe('since the baseline', () => {
  it('the newest that is marked counts, else the newest at the same speed and mode', () => {
    const marked = earlier(700, { baseline: true });
    const list = [earlier(100, { at: { ...SETTING, fan: 'low' } }), earlier(350), marked];
    expect(sinceBaseline(NOW, list, setup)?.before).toBe(marked);
    expect(sinceBaseline(NOW, list.slice(0, 2), setup)?.before).toBe(list[1]);
    expect(sinceBaseline(NOW, list.slice(0, 1), setup)).toBeNull();
    expect(sinceBaseline(NOW, [earlier(9, { unit: 'u2' })], setup)).toBeNull();
  });

  it('the chart holds the baseline, what came after it, and now', () => {
    const list = [earlier(350), earlier(500), earlier(700, { baseline: true }), earlier(900)];
    const points = sinceBaseline(NOW, list, setup)?.points ?? [];
    expect(points.map(({ t }) => (T0 - t) / DAY)).toEqual([700, 500, 350, (T0 - NOW.to) / DAY]);
    expect(points[0]?.change).toBeNull();
  });

  it('says by how much, whether that is real, and what does not compare', () => {
    const since = sinceBaseline(NOW, [earlier(365)], setup);
    const [first] = since === null ? [] : sinceSentences(since);
    // 2640 to 2200 W; the shared probe cancels in part, two airflows do not.
    expect(plain(first ?? '')).toMatch(/^Since .*: −17 ± \d %\. Likely real\.$/);
    const small = sinceBaseline({ ...NOW, totalW: 2600 }, [earlier(365)], setup);
    expect(sinceSentences(small ?? never())[0]).toContain('May be noise.');
    const dry = sinceBaseline(NOW, [earlier(365, { at: { ...SETTING, wetness: 0 } })], setup);
    expect(sinceSentences(dry ?? never()).join(' ')).toContain('one with a wet coil');
  });

  it('an airflow that was only carried over cannot show what was lost', () => {
    const since = sinceBaseline(NOW, [earlier(365, {}, 'new')], setup);
    expect(sinceSentences(since ?? never()).join(' ')).toContain('Lost airflow does not show here');
  });

  it('a capture of an older record, which does not say what it was made of, does not compare', () => {
    const { capture, ...rest } = earlier(365);
    const { from, to } = capture;
    expect(sinceBaseline(NOW, [{ ...rest, capture: captureWith({ from, to }) }], setup)).toBeNull();
  });
});

function never(): never {
  throw new Error('it compares');
}
