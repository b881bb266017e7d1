/** The computer's clock is set while a visit runs, or between two runs. */
import { describe, expect, test } from 'vitest';
import type { Line } from '../../adapters/contract.ts';
import { type Clocks, ClockWatch } from '../../server/clock-watch.ts';
import type { Frame, History } from '../../server/protocol.ts';
import { LogReader } from '../../server/visit-log/reader.ts';
import { LiveVisit } from '../../server/visit.ts';
import { setUp, T0 } from './visit.ts';

const SOURCE = { adapter: 'test', simulated: false };
const PERSON = { adapter: null, simulated: false };

/** A computer whose clock can be set, and which can sleep. */
class Computer implements Clocks {
  ms = 0;
  sleptMs = 0;
  setMs = 0;
  readonly wall = (): number => T0 + this.ms + this.sleptMs + this.setMs;
  readonly even = (): number => this.ms;
  readonly sinceOn = (): number => 10 * Math.round((this.ms + this.sleptMs) / 10);
}

class ClockVisit {
  readonly computer = new Computer();
  readonly visit: LiveVisit;
  readonly record: string[] = [];
  readonly frames: Frame[] = [];

  constructor() {
    this.visit = new LiveVisit(this.computer.wall, new ClockWatch(this.computer));
    this.visit.recordTo({ add: (line) => this.record.push(JSON.stringify(line)) });
    for (const line of setUp()) this.visit.line(line, PERSON);
    this.visit.watch((frame) => this.frames.push(frame));
  }

  /** Both probes once a second, each reading dated by the computer's clock. */
  run(seconds: number, supplyC = 12): void {
    for (let i = 0; i < seconds; i++) {
      const t = this.computer.wall();
      for (const [probe, temperatureC, humidityPct] of [
        ['r', 26.7, 51] as const,
        ['s', supplyC, 94] as const,
      ]) {
        const line: Line = { type: 'reading', t, probe, temperatureC, humidityPct };
        expect(this.visit.line(line, SOURCE)).toBeNull();
      }
      for (let k = 0; k < 5; k++) {
        this.computer.ms += 200;
        this.visit.tick();
      }
    }
  }

  tell(event: object): void {
    const line = { type: 'event', t: this.visit.eventTime(), ...event } as Line;
    expect(this.visit.line(line, PERSON)).toBeNull();
  }

  get figureW(): number | null {
    return this.visit.state().units['u1']?.capacity.totalW ?? null;
  }

  get past(): History {
    return this.visit.history(0, Infinity, 100_000);
  }
}

function readAgain(of: ClockVisit): LiveVisit {
  const visit = new LiveVisit(of.computer.wall);
  const refused: string[] = [];
  const reader = new LogReader({
    line: (line, n, after) => {
      const why = visit.recorded(line, PERSON, after);
      if (why !== null) refused.push(`${n}: ${why}`);
    },
    refused: (n, why) => refused.push(`${n}: ${why}`),
  });
  for (const line of of.record) reader.write(`${line}\n`);
  reader.end();
  expect(refused).toEqual([]);
  visit.resume(false);
  return visit;
}

const clockEvents = (visit: LiveVisit): [number | undefined, number][] =>
  visit.state().events.flatMap(({ kind, t, shiftMs }) => (kind === 'clock' ? [[shiftMs, t]] : []));

describe('the clock is set', () => {
  test.each([-10_000, -3_600_000, 10_000, 3_600_000])('by %d ms: the visit goes along', (setMs) => {
    const at = new ClockVisit();
    at.run(300);
    at.tell({ kind: 'note', text: 'before' });
    expect(at.figureW).toBeGreaterThan(1000);
    at.computer.setMs = setMs;
    at.run(1);
    expect(clockEvents(at.visit)).toEqual([[setMs, expect.closeTo(at.computer.wall(), -4)]]);
    at.run(10);
    // Live again, by the new clock.
    const state = at.visit.state();
    expect(at.computer.wall() - (state.t ?? 0)).toBeLessThan(1000);
    expect(at.figureW).toBeGreaterThan(1000);
    expect(state.units['u1']?.settling.since).toBeGreaterThan(at.computer.wall() - 15_000);
    expect(state.probes['r']?.state).toBe('live');
    // The past is told by the new clock: without a step back, and without a hole.
    const { t } = at.past;
    const steps = t.slice(1).map((each, i) => each - (t[i] ?? 0));
    expect(Math.min(...steps)).toBeGreaterThan(0);
    expect(Math.max(...steps)).toBeLessThanOrEqual(2000);
    expect((t.at(-1) ?? 0) - (t[0] ?? 0)).toBeCloseTo(311_000, -4);
    const note = state.events.find(({ kind }) => kind === 'note');
    expect(at.computer.wall() - (note?.t ?? 0)).toBeCloseTo(11_000, -4);
    // Who watches is told all anew.
    expect(at.frames.filter(({ type }) => type === 'state')).toHaveLength(1);
  });

  test('nothing of before is shown as live: neither the figure nor a probe', () => {
    const at = new ClockVisit();
    at.run(300);
    at.computer.setMs = -3_600_000;
    at.visit.tick();
    expect(at.figureW).toBeNull();
    expect(at.visit.values().probes).toEqual({});
    for (let i = 0; i < 10; i++) {
      at.computer.ms += 1000;
      at.visit.tick();
      expect(at.figureW).toBeNull();
      expect(at.visit.state().probes['r']?.state).toBe('stale');
    }
  });

  test('what a person does before anything has noticed is dated by the new clock', () => {
    const at = new ClockVisit();
    at.run(20);
    at.computer.setMs = -3_600_000;
    at.tell({ kind: 'note', text: 'after' });
    const [clock, note] = at.visit.state().events;
    expect(clock?.kind).toBe('clock');
    expect(note?.t).toBeCloseTo(at.computer.wall(), -3);
    at.run(5);
    expect(at.figureW).toBeGreaterThan(1000);
  });

  test('captures of before can still be struck and compared with', () => {
    const at = new ClockVisit();
    at.run(400);
    at.tell({ kind: 'capture', unit: 'u1' });
    at.computer.setMs = -3_600_000;
    at.run(5);
    const [capture] = at.visit.state().captures.filter(({ by }) => by === 'touch');
    const { from = 0, to = 0 } = capture ?? {};
    expect(to).toBeLessThanOrEqual(at.computer.wall());
    at.tell({ kind: 'strike', unit: 'u1', from, to, by: 'touch' });
    at.tell({ kind: 'setpoint', unit: 'u1', valueC: 18 });
    at.run(400, 14);
    at.tell({ kind: 'capture', unit: 'u1' });
    const touched = at.visit.state().captures.filter(({ by }) => by === 'touch');
    expect(touched.map(({ struck }) => struck !== undefined)).toEqual([true, false]);
    const last = at.visit.state().captures.find(({ before }) => before !== undefined);
    expect(last?.before?.to).toBeLessThan(last?.from ?? 0);
    expect(last?.before?.event.t).toBeLessThan(at.computer.wall());
  });

  test('a check goes on over it', () => {
    const at = new ClockVisit();
    at.run(20);
    at.tell({ kind: 'check', phase: 'start', probes: ['r', 's'] });
    at.run(60, 26.6);
    at.computer.setMs = -3_600_000;
    at.run(120, 26.6);
    const { check } = at.visit.state();
    expect(check?.phase).toBe('running');
    expect((check?.t ?? 0) - (check?.from ?? 0)).toBeCloseTo(180_000, -4);
    at.tell({ kind: 'check', phase: 'end', probes: ['r', 's'] });
    expect(at.visit.state().probes['r']?.check?.t).toBeGreaterThan(at.computer.wall() - 5000);
    at.computer.setMs = 0;
    at.run(5);
    expect(at.visit.state().probes['r']?.check?.t).toBeGreaterThan(at.computer.wall() - 10_000);
  });

  test('the record makes the same visit again', () => {
    const at = new ClockVisit();
    at.run(300);
    at.tell({ kind: 'capture', unit: 'u1' });
    at.computer.setMs = -3_600_000;
    at.run(200);
    at.computer.setMs = 120_000;
    at.run(200, 13);
    at.tell({ kind: 'note', text: 'after' });
    const again = readAgain(at).state();
    const { t, units, events, captures, visit } = at.visit.state();
    expect(again).toMatchObject({ t, units, events, captures, visit });
    expect(events.filter(({ kind }) => kind === 'clock')).toHaveLength(2);
  });

  test('while nothing ran, back to before the newest reading: found at the start', () => {
    const at = new ClockVisit();
    at.run(300);
    at.computer.setMs = -3_600_000;
    const again = new LiveVisit(at.computer.wall, new ClockWatch(at.computer));
    const reader = new LogReader({
      line: (line, _, after) => void again.recorded(line, PERSON, after),
      refused: (n, why) => expect.fail(`${n}: ${why}`),
    });
    reader.write(`${at.record.join('\n')}\n`);
    reader.end();
    const added: Line[] = [];
    again.recordTo({ add: (line) => added.push(line) });
    again.resume(false);
    expect(added).toMatchObject([{ type: 'event', kind: 'clock', t: at.computer.wall() }]);
    expect(again.state().t).toBeLessThanOrEqual(at.computer.wall());
    const reading = {
      type: 'reading',
      probe: 'r',
      temperatureC: 26,
      t: at.computer.wall(),
    } as const;
    expect(again.line(reading, SOURCE)).toBeNull();
  });
});

describe('no setting of the clock', () => {
  test('a computer that slept for an hour: there is a hole of an hour', () => {
    const at = new ClockVisit();
    at.run(30);
    at.computer.sleptMs = 3_600_000;
    at.run(5);
    expect(clockEvents(at.visit)).toEqual([]);
    expect(at.computer.wall() - (at.past.t[0] ?? 0)).toBeGreaterThan(3_600_000);
  });

  test('small corrections, each less than two seconds', () => {
    const at = new ClockVisit();
    for (let i = 0; i < 10; i++) {
      at.run(5);
      at.computer.setMs += i % 2 === 0 ? 1500 : -1500;
    }
    expect(clockEvents(at.visit)).toEqual([]);
  });

  test('a recorded series that is sent as it is keeps its own time', () => {
    const at = new ClockVisit();
    const reading = (t: number): string | null =>
      at.visit.line({ type: 'reading', t, probe: 'r', temperatureC: 20 }, SOURCE);
    reading(T0 + 86_400_000);
    at.computer.setMs = -3_600_000;
    at.visit.tick();
    expect(clockEvents(at.visit)).toEqual([]);
    expect(reading(T0 + 86_401_000)).toBeNull();
    expect(at.visit.time()).toBeGreaterThanOrEqual(T0 + 86_401_000);
  });
});

test('the next second is that of the visit, whose time may be another than the clock’s', () => {
  let now = T0;
  const visit = new LiveVisit(() => now);
  const shown: number[] = [];
  visit.watch((frame) => {
    if (frame.type === 'snapshot') shown.push(frame.t);
  });
  const t = T0 - 86_400_000 + 300;
  visit.line({ type: 'reading', t, probe: 'r', temperatureC: 20 }, SOURCE);
  now += 200;
  expect(visit.untilSecond()).toBe(500);
  now += 499;
  visit.tick();
  expect(shown).toEqual([]);
  now += 1;
  expect(visit.untilSecond()).toBe(1000);
  visit.tick();
  expect(shown).toEqual([T0 - 86_400_000 + 1000]);
});
