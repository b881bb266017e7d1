/** Forgetting a probe: what goes, what stays, and that the record of it gives the same visit. */
import { describe, expect, test } from 'vitest';
import type { Line, ProbeLine } from '../../adapters/contract.ts';
import { LiveVisit } from '../../server/visit.ts';
import { checkLine } from '../../server/visit-log/schema.ts';
import { LogReader } from '../../server/visit-log/reader.ts';
import { setUp, T0, TestVisit } from './visit.ts';

const forget = (id: string): ProbeLine => ({ type: 'probe', id, forgotten: true });

describe('forgetting a probe', () => {
  test('it is gone, and its unit is judged without it from then on', () => {
    const visit = new TestVisit();
    visit.run(0, 10);
    expect(visit.unit().capacity.totalW).toBeGreaterThan(5000);
    expect(visit.take(forget('s'))).toBeNull();
    expect(visit.forgotten).toEqual(['s']);
    expect([...visit.session.probes.keys()]).toEqual(['r']);
    visit.session.advanceTo(T0 + 12_000);
    expect(visit.unit().capacity.totalW).toBeNull();
    expect(visit.codes()).toContain('supply-missing');
    expect(visit.codes()).not.toContain('probe-stale');
  });

  test('heard again it is a new one: unplaced, without name, limits or check', () => {
    const visit = new TestVisit();
    const check = { t: T0, probes: ['r', 's'], temperatureC: { offset: 0.2, u: 0.05 }, atC: 22 };
    visit.take({ type: 'probe', id: 's', name: 'Supply', check });
    visit.run(0, 10);
    visit.take(forget('s'));
    visit.reading('s', 10_000, { temperatureC: 12, humidityPct: 94 });
    visit.session.advanceTo(T0 + 11_000);
    const probe = visit.session.probes.get('s')?.toState(T0 + 11_000);
    expect(probe).toMatchObject({
      ...{ name: 's', unit: null, place: null, limits: {}, check: null, state: 'live' },
      values: { temperatureC: 12 },
    });
    expect(visit.unit().supply.temperatureC).toBeNull();
  });

  test('one that nobody knows is refused, and one that lies in a check', () => {
    const visit = new TestVisit();
    visit.run(0, 3);
    expect(visit.take(forget('x'))).toMatch(/^probe: there is no probe "x" in this visit/);
    const check = (phase: 'start' | 'end', s: number): Line => {
      return { type: 'event', t: T0 + s * 1000, kind: 'check', phase, probes: ['r', 's'] };
    };
    visit.take(check('start', 3));
    expect(visit.take(forget('s'))).toMatch(/^probe: "s" lies in a side-by-side check: end the /);
    expect(visit.session.probes.has('s')).toBe(true);
    visit.take(check('end', 6));
    expect(visit.take(forget('s'))).toBeNull();
  });

  test('another source may bring a probe of that id afterwards', () => {
    const visit = new TestVisit();
    visit.run(0, 3);
    const other = { adapter: 'other', simulated: false };
    const reading: Line = { type: 'reading', t: T0 + 3000, probe: 's', temperatureC: 20 };
    expect(visit.take(reading, other)).toMatch(/live probe of the source "test"/);
    visit.take(forget('s'));
    expect(visit.take(reading, other)).toBeNull();
  });
});

test('what a probe needs of a person stands in its state while its link says so', () => {
  const visit = new TestVisit();
  const source = { adapter: 'test', simulated: false };
  const needs = () => visit.session.probes.get('p')?.toState(T0).needs;
  visit.session.link('p', { state: 'lost', needs: 'key' }, source);
  expect(needs()).toBe('key');
  visit.session.link('p', { state: 'connected' }, source);
  expect(needs()).toBeUndefined();
});

describe('the record of it', () => {
  /** A live visit in which the supply is forgotten, heard again and placed again; and its record. */
  function recorded(): { live: LiveVisit; lines: Line[] } {
    let now = T0;
    const live = new LiveVisit(() => now);
    const lines: Line[] = [];
    live.recordTo({ add: (line) => lines.push(line) });
    const source = { adapter: 'made up', simulated: true };
    const person = { adapter: null, simulated: false };
    for (const line of setUp()) live.line(line, source);
    for (let s = 0; s < 40; s++) {
      now = T0 + s * 1000;
      const t = live.begun ? live.eventTime() : undefined;
      if (s === 15) live.line({ ...forget('s'), t }, person);
      if (s === 25) live.line({ type: 'probe', id: 's', t, unit: 'u1', place: 'supply' }, person);
      for (const [probe, temperatureC, humidityPct] of [
        ['r', 26.7, 51],
        ['s', 12, 94],
      ] as const) {
        live.line({ type: 'reading', t: now, probe, temperatureC, humidityPct }, source);
      }
      live.tick();
    }
    live.finish();
    return { live, lines };
  }

  test('is lines that a visit log may hold, and says anew that the readings are made up', () => {
    const { lines } = recorded();
    for (const line of lines) expect(checkLine(JSON.parse(JSON.stringify(line)))).toEqual({ line });
    const told = lines.flatMap((line) => (line.type === 'probe' && line.id === 's' ? [line] : []));
    expect(told.map(({ forgotten, simulated, place }) => [forgotten, simulated, place])).toEqual([
      [undefined, true, 'supply'],
      [undefined, true, undefined],
      [true, undefined, undefined],
      [undefined, true, undefined],
      [undefined, undefined, 'supply'],
    ]);
  });

  test('gives the same figures and the same probes again', () => {
    const { live, lines } = recorded();
    const again = new TestVisit([]);
    const reader = new LogReader({
      line: (line) => again.take(line),
      refused: (_, why) => expect.unreachable(why),
    });
    reader.write(lines.map((line) => JSON.stringify(line)).join('\n') + '\n');
    reader.end();
    again.session.finish();
    const { t, totalW } = { t: live.history(0).t, totalW: live.history(0).units['u1']?.totalW };
    const replayed = new Map(again.snapshots.map((s) => [s.t, s.units['u1']?.capacity.totalW]));
    expect(totalW?.filter((w) => w === null).length).toBe(10); // from 16 to 25 s
    t.forEach((at, i) => {
      const w = totalW?.[i] ?? null;
      if (w === null) expect(replayed.get(at), `${at - T0} ms`).toBeNull();
      else expect(replayed.get(at), `${at - T0} ms`).toBeCloseTo(w, 1);
    });
    const at = T0 + 39_000;
    expect(again.session.probes.get('s')?.toState(at)).toEqual({
      ...live.state().probes['s'],
      adapter: 'test',
    });
  });
});
