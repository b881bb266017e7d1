/** What nobody has seen is in no figure: silences, late set-up, other units' affairs. */
import { describe, expect, test } from 'vitest';
import type { Capture } from '../../server/protocol.ts';
import { setUp, T0, TestVisit } from './visit.ts';

const finals = (visit: TestVisit): Capture[] => visit.captures.filter((c) => c.open !== true);
const second = (t: number): number => (t - T0) / 1000;

describe('a long silence', () => {
  test('ends a span: the capture is of what was heard, and steady is seen anew', () => {
    const visit = new TestVisit();
    visit.run(0, 400);
    visit.run(4000, 4300);
    expect(visit.unit().settling.state).toBe('steady');
    expect(second(visit.unit().settling.since ?? 0)).toBeGreaterThan(3999);
    visit.session.finish();
    const [first, next] = finals(visit);
    expect(finals(visit)).toHaveLength(2);
    expect(second(first?.to ?? 0)).toBeLessThan(420);
    expect(second(next?.from ?? 0)).toBeGreaterThan(3999);
  });

  test('gives the same captures whether time went on meanwhile or not', () => {
    const [ticked, played] = [new TestVisit(), new TestVisit()];
    for (const visit of [ticked, played]) visit.run(0, 400);
    for (let s = 400; s < 1000; s += 5) ticked.session.advanceTo(T0 + s * 1000);
    for (const visit of [ticked, played]) {
      visit.run(1000, 1400);
      visit.session.finish();
    }
    expect(finals(played).length).toBe(2);
    expect(finals(ticked)).toEqual(finals(played));
  });

  test('shows nothing of the past as live', () => {
    const visit = new TestVisit();
    visit.run(0, 400);
    visit.session.advanceTo(T0 + 440_000);
    const { settling, capacity } = visit.unit();
    expect(capacity.totalW).toBeNull();
    expect(settling).toMatchObject({ state: 'waiting', plateauW: null, steadyInS: null });
    expect(settling).toMatchObject({ movedW: null, aheadW: null, levelW: null });
  });
});

test('what was told before the first reading does not shut out a recorded series', () => {
  const visit = new TestVisit();
  visit.take({ type: 'event', t: T0 + 86_400_000, kind: 'note', text: 'set up today' });
  visit.run(0, 100);
  expect(visit.snapshots.length).toBeGreaterThan(90);
});

test('a check of other probes begins nothing anew', () => {
  const visit = new TestVisit();
  visit.run(0, 300);
  const since = visit.unit().settling.since;
  visit.take({ type: 'probe', id: 'a', unit: 'u2', place: 'return' });
  visit.take({ type: 'probe', id: 'b', unit: 'u2', place: 'supply' });
  visit.take({ type: 'event', t: T0 + 300_000, kind: 'check', phase: 'start', probes: ['a', 'b'] });
  visit.run(301, 330);
  expect(visit.unit().settling).toMatchObject({ state: 'steady', since });
});

test('an airflow that follows the fan every few seconds keeps one error, however often it is told', () => {
  const interval = (often: boolean): number => {
    const visit = new TestVisit();
    for (let s = 0; s < 400; s += 10) {
      if (often && s > 0) {
        const flowM3s = 0.2 * (s % 20 === 0 ? 1.002 : 0.998);
        const basis = { basis: 'actual', plane: 'supply', limitPct: 5 } as const;
        const airflow = { source: 'velocity', flowM3s, ...basis };
        visit.take({ type: 'airflow', t: T0 + s * 1000, unit: 'u1', airflow });
      }
      visit.run(s, s + 10);
    }
    visit.take({ type: 'event', t: T0 + 400_000, kind: 'setpoint', unit: 'u1', valueC: 20 });
    visit.run(400, 800, () => 15);
    visit.session.finish();
    return finals(visit).at(-1)?.before?.differenceU95W ?? NaN;
  };
  expect(interval(true) / interval(false)).toBeGreaterThan(0.9);
});

test('a defrost of a unit whose mode nobody has told is no cooling', () => {
  const visit = new TestVisit(setUp({}));
  visit.run(0, 900, () => 45);
  visit.run(900, 1200, () => 22);
  expect(visit.unit().mode).toBe('heating');
  expect(visit.unit().settling.defrost).not.toBeNull();
  visit.run(1200, 1800, () => 45);
  visit.session.finish();
  for (const { from, to } of finals(visit)) {
    expect(second(to) < 910 || second(from) > 1500).toBe(true);
  }
});

test('a figure near its own interval does not flap between something and nothing', () => {
  const visit = new TestVisit();
  // 710 W give or take 75, of ± 710 W.
  visit.run(0, 600, (s) => 19.12 + 0.1 * Math.sin(s / 4));
  const states = visit.snapshots.map((s) => s.units['u1']?.settling.state);
  const changes = states.filter((state, i) => i > 0 && state !== states[i - 1]).length;
  expect(changes).toBeLessThan(6);
});
