/** The live visit keeps what the session tells, and its record tells it again. */
import { describe, expect, test } from 'vitest';
import type { Line } from '../../adapters/contract.ts';
import type { LiveVisit } from '../../server/visit.ts';
import { Live, PERSON, readAgain } from './live.ts';
import { T0 } from './visit.ts';

/** The first capture by touch, as it is named when it is struck. */
function strikable({ visit }: Live): object {
  const { from, to, by } = visit.state().captures.find((c) => c.by === 'touch') ?? {};
  return { from, to, by };
}

describe('captures', () => {
  const live = new Live();
  live.steady(12);
  const open = live.visit.state().captures;
  live.tell({ kind: 'capture', unit: 'u1' });
  live.run(20, 12);
  live.tell({ kind: 'capture', unit: 'u1' });
  live.tell({ kind: 'setpoint', unit: 'u1', valueC: 20 });
  live.tell({ kind: 'amend', event: 'e1', toT: live.now - 2000, text: 'by hand' });
  live.steady(15);
  live.tell({ kind: 'strike', unit: 'u1', ...strikable(live), text: 'the door was open' });
  live.run(120, 15);
  live.tell({ kind: 'note', text: 'done' });
  const { captures, events } = live.visit.state();

  test('one of a span, those by touch beside it: each keeps its place', () => {
    expect(open.map((c) => [c.by, c.open])).toEqual([['itself', true]]);
    expect(captures.map((c) => [c.by, c.open])).toEqual([
      ['itself', undefined],
      ['touch', undefined],
      ['touch', undefined],
      ['itself', true],
    ]);
    const [first, , touched, second] = captures;
    expect(touched?.from).toBe(first?.from);
    expect(touched?.to).toBeGreaterThan(open[0]?.to ?? Infinity);
    expect(second?.before).toMatchObject({ from: first?.from, event: { valueC: 20 } });
  });

  test('one by touch is struck by its own end, and stays where it is', () => {
    expect(captures.map(({ struck }) => struck?.text)).toEqual([
      undefined,
      'the door was open',
      undefined,
      undefined,
    ]);
  });

  test('an amended event is there once, as it is now', () => {
    expect(events.map((e) => [e.id, e.kind, e.text])).toEqual([
      ['e1', 'setpoint', 'by hand'],
      ['e2', 'note', 'done'],
    ]);
  });

  test('the record tells all of it again', () => {
    const again = readAgain(live).state();
    expect(again.captures).toEqual(captures);
    expect(again.events).toEqual(events);
  });
});

test('defrosts are no lines of the record: they are found in it again, with the same names', () => {
  const live = new Live('heating');
  live.run(1000, 45);
  live.tell({ kind: 'note', text: 'before' });
  live.run(300, 12);
  live.tell({ kind: 'note', text: 'meanwhile' });
  live.run(900, 45);
  const { events, captures } = live.visit.state();
  expect(events.map(({ kind, phase, text }) => [kind, phase ?? text])).toEqual([
    ['note', 'before'],
    ['defrost', 'start'],
    ['note', 'meanwhile'],
    ['defrost', 'end'],
  ]);
  expect(captures).toHaveLength(2);
  expect(live.record.filter((line) => line.includes('defrost'))).toEqual([]);
  const again = readAgain(live).state();
  expect(again.events).toEqual(events);
  expect(again.captures).toEqual(captures);
});

test('events that were told out of order keep their ids in the record, where they are sorted', () => {
  const live = new Live();
  live.run(20, 12);
  const t = live.visit.eventTime();
  live.tell({ kind: 'note', text: 'second' }, t);
  live.tell({ kind: 'note', text: 'first' }, t - 3000);
  live.tell({ kind: 'amend', event: 'e1', text: 'the second' });
  const airflow = { source: 'entered', flowM3s: 0.2, basis: 'actual', plane: 'supply' } as const;
  live.visit.line({ type: 'airflow', t: live.visit.eventTime(), unit: 'u1', airflow }, PERSON);
  live.run(10, 12);
  const named = (visit: LiveVisit) => visit.state().events.map((e) => [e.id, e.kind, e.text]);
  expect(named(live.visit)).toEqual([
    ['e1', 'note', 'the second'],
    ['e2', 'note', 'first'],
    ['e3', 'airflow', undefined],
  ]);
  const again = readAgain(live);
  expect(named(again).sort()).toEqual(named(live.visit));
  // And the next one is another.
  again.line({ type: 'event', t: again.eventTime(), kind: 'note', text: 'new' }, PERSON);
  expect(again.lastEventId).toBe('e4');
});

test('an id that is taken is not given twice', () => {
  const { visit } = new Live();
  const note = (id: string): Line => ({ type: 'event', t: T0, kind: 'note', text: id, id });
  for (const id of ['e7', 'e7', 'e3']) visit.line(note(id), PERSON);
  expect(visit.state().events.map((e) => e.id)).toEqual(['e7', 'e8', 'e3']);
});
