import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import type {
  Adapter,
  AdapterHost,
  AdapterStatus,
  Line,
  Reading,
} from '../../adapters/contract.ts';
import {
  createSimulatedAdapter,
  type Outlet,
  type SimulatedOptions,
} from '../../adapters/simulated/index.ts';
import { checkLine } from '../../server/visit-log/schema.ts';
import type { ProbeReading } from '../../simulator/probe.ts';
import { scenario } from '../../simulator/scenarios.ts';
import { System } from '../../simulator/system.ts';

const START_T = 1_777_885_200_000;

interface Heard {
  readonly lines: Line[];
  readonly states: AdapterStatus[];
  readonly host: AdapterHost;
}

function listen(): Heard {
  const lines: Line[] = [];
  const states: AdapterStatus[] = [];
  const host: AdapterHost = {
    emit: (line) => {
      lines.push(line);
      return null;
    },
    link: () => undefined,
    status: (state) => states.push(state),
    signal: new AbortController().signal,
  };
  return { lines, states, host };
}

const readingsOf = (lines: readonly Line[]): Reading[] =>
  lines.filter((line) => line.type === 'reading');

function started(options: SimulatedOptions = {}): Heard & { adapter: Adapter } {
  const adapter = createSimulatedAdapter(options);
  const heard = listen();
  void adapter.start(heard.host);
  return { ...heard, adapter };
}

beforeEach(() => {
  vi.useFakeTimers();
  vi.setSystemTime(START_T);
});
afterEach(() => {
  vi.useRealTimers();
});

describe('the simulated adapter', () => {
  it('sets the visit up, in lines that a visit log could hold', () => {
    const { lines, states, adapter } = started();
    vi.advanceTimersByTime(10_000);
    void adapter.stop();
    expect(adapter.simulated).toBe(true);
    expect(states).toEqual(['running']);
    for (const line of lines) expect(checkLine(line)).toMatchObject({ line: { type: line.type } });
    expect(lines[0]).toMatchObject({ type: 'visit', mode: 'cooling', simulated: true });
    const units = lines
      .filter((line) => line.type === 'unit')
      .filter((unit) => unit.name !== undefined);
    expect(units.map((unit) => unit.name)).toEqual(['Reading room', 'Workshop']);
    expect(units[0]?.fanSpeeds).toEqual(['quiet', 'low', 'medium', 'high']);
    const places = lines.flatMap((line) =>
      line.type === 'probe' ? `${line.unit ?? 'yard'} ${line.place ?? 'in the hand'}` : [],
    );
    expect(places.sort()).toEqual([
      'u1 return',
      'u1 return',
      'u1 supply',
      'u1 supply',
      'u2 return',
      'u2 supply',
      'yard in the hand',
      'yard outdoor',
    ]);
    const heard = new Set(readingsOf(lines).map((reading) => reading.probe));
    expect(heard.size).toBe(7);
  });

  it('has an anemometer and an outlet, and traverses it as it is told', () => {
    const { lines, adapter } = started();
    expect(lines).toContainEqual(
      expect.objectContaining({
        type: 'probe',
        id: 'v1',
        anemometer: { kind: 'vane', headM: 0.06 },
      }),
    );
    expect(lines).toContainEqual(
      expect.objectContaining({ type: 'outlet', id: 'o1', unit: 'u1', freeArea: 1 }),
    );
    const heard = (ms: number): number[] => {
      const before = lines.length;
      vi.advanceTimersByTime(ms);
      return readingsOf(lines.slice(before)).flatMap(({ probe, velocityMs }) =>
        probe === 'v1' ? [velocityMs ?? NaN] : [],
      );
    };
    const traverse = { type: 'event', t: START_T, kind: 'traverse', unit: 'u1' } as const;
    expect(heard(5000)).toEqual([]);
    adapter.event?.({ ...traverse, phase: 'start', outlet: 'o1', method: 'sweep', probe: 'v1' });
    const swept = heard(10_000);
    expect(swept.length).toBeGreaterThan(36);
    expect(swept.length).toBeLessThan(44);
    expect(Math.min(...swept)).toBeGreaterThan(1);
    adapter.event?.({ ...traverse, phase: 'end' });
    heard(1000);
    expect(heard(5000)).toEqual([]);
    void adapter.stop();
  });

  it('says now and then what the bucket holds', () => {
    const { lines, adapter } = started({ speed: 60 });
    const condensate = { type: 'event', t: START_T, kind: 'condensate', unit: 'u1' } as const;
    vi.advanceTimersByTime(60_000);
    adapter.event?.({ ...condensate, phase: 'start' });
    vi.advanceTimersByTime(31_000);
    adapter.event?.({ ...condensate, phase: 'end', massKg: 0.2 });
    vi.advanceTimersByTime(31_000);
    void adapter.stop();
    const grams = lines.flatMap((line) =>
      line.type === 'event' && line.kind === 'note' ? [Number.parseInt(line.text.slice(17))] : [],
    );
    expect(grams).toHaveLength(6);
    expect(grams.at(-1)).toBeGreaterThan(50);
    expect(grams).toEqual([...grams].sort((a, b) => a - b));
  });

  it('enters an airflow that holds the true flow within its limits, at every fan speed', () => {
    for (const seed of [1, 2, 3, 4, 5]) {
      const { lines, adapter } = started({ seed, speed: 60 });
      const system = new System(scenario('demo'), seed, START_T);
      const tell = (speed: string): void => {
        adapter.event?.({ type: 'event', t: START_T, kind: 'fan', unit: 'u1', speed });
        system.fan('u1', speed);
      };
      const check = (): void => {
        // A minute and a half on a new speed; dry at first, wet by and by.
        vi.advanceTimersByTime(1500);
        system.advance(system.t + 90_000);
        const airflow = lines
          .flatMap((line) =>
            line.type === 'airflow' || (line.type === 'unit' && line.id === 'u1')
              ? (line.airflow ?? [])
              : [],
          )
          .at(-1);
        const apart = system.truth('u1').flowM3s / (airflow?.flowM3s ?? 0) - 1;
        expect(Math.abs(apart) * 100).toBeLessThan(airflow?.limitPct ?? 0);
      };
      check();
      for (const speed of ['high', 'low', 'quiet', 'medium']) {
        tell(speed);
        check();
      }
      void adapter.stop();
    }
  });

  it('keeps the time of the visit in step with the clock, at any speed', () => {
    for (const speed of [1, 10, 60]) {
      const { lines, adapter } = started({ speed });
      const began = Date.now();
      vi.advanceTimersByTime(60_000);
      void adapter.stop();
      const last = readingsOf(lines).at(-1)?.t ?? 0;
      const due = began + 60_000 * speed;
      expect(last).toBeLessThanOrEqual(due);
      expect(due - last).toBeLessThan(1200);
    }
  });

  it('does not drift when the timer is late', () => {
    let wall = START_T;
    const { lines, adapter } = started({ now: () => wall, everyMs: 100 });
    for (let i = 0; i < 1000; i++) {
      wall += 137; // each tick 37 ms late
      vi.advanceTimersByTime(100);
    }
    void adapter.stop();
    expect(wall - (readingsOf(lines).at(-1)?.t ?? 0)).toBeLessThan(1200);
  });

  it('goes on from the present after the computer has slept, without a flood', () => {
    let wall = START_T;
    const { lines, adapter } = started({ now: () => wall });
    const tick = (ms: number): number => {
      const before = lines.length;
      wall += ms;
      vi.advanceTimersByTime(250);
      return lines.length - before;
    };
    for (let i = 0; i < 40; i++) tick(250);
    expect(tick(8 * 3600_000)).toBeLessThan(20);
    const asleepUntil = wall;
    for (let i = 0; i < 40; i++) tick(250);
    void adapter.stop();
    const times = readingsOf(lines).map((reading) => reading.t);
    expect(times).toEqual([...times].sort((a, b) => a - b));
    const gap = times.filter((t) => t > START_T + 12_000 && t < asleepUntil - 2000);
    expect(gap).toEqual([]);
    expect(wall - (times.at(-1) ?? 0)).toBeLessThan(1500);
  });

  it('does not run back when the clock is set back', () => {
    let wall = START_T;
    const { lines, adapter } = started({ now: () => wall });
    for (let i = 0; i < 80; i++) {
      wall += i === 40 ? -3600_000 : 250;
      vi.advanceTimersByTime(250);
    }
    void adapter.stop();
    const times = readingsOf(lines).map((reading) => reading.t);
    expect(times).toEqual([...times].sort((a, b) => a - b));
    expect((times.at(-1) ?? 0) - START_T).toBeGreaterThan(18_000);
  });

  it('follows a setpoint', () => {
    const told = started({ speed: 60 });
    const untold = started({ speed: 60 });
    vi.advanceTimersByTime(10_000);
    const t = START_T + 600_000;
    told.adapter.event?.({ type: 'event', t, kind: 'setpoint', unit: 'u1', valueC: 28 });
    vi.advanceTimersByTime(2000);
    void told.adapter.stop();
    void untold.adapter.stop();
    const supplyC = (lines: readonly Line[]): number =>
      readingsOf(lines)
        .filter((reading) => reading.probe === 'p3')
        .at(-1)?.temperatureC ?? 0;
    expect(supplyC(told.lines)).toBeGreaterThan(supplyC(untold.lines) + 3);
  });

  it('answers a change of fan speed with an airflow, and only a change', () => {
    const { lines, adapter } = started();
    vi.advanceTimersByTime(2000);
    const airflows = (): Line[] => lines.filter((line) => line.type === 'airflow');
    const fan = (unit: string, speed: string): void =>
      adapter.event?.({ type: 'event', t: Date.now(), kind: 'fan', unit, speed });
    fan('u1', 'medium'); // as it is
    fan('u1', 'a gale'); // not one of its speeds
    fan('u7', 'high'); // of another adapter, perhaps
    expect(airflows()).toEqual([]);
    fan('u1', 'high');
    expect(airflows()).toHaveLength(1);
    expect(airflows()[0]).toMatchObject({ unit: 'u1', airflow: { source: 'fan-table' } });
    const times = lines.flatMap((line) => ('t' in line ? (line.t ?? []) : []));
    expect(times).toEqual([...times].sort((a, b) => a - b));
    void adapter.stop();
  });

  it('is the same for the same seed, and begins afresh when started again', () => {
    const adapter = createSimulatedAdapter({ startT: START_T });
    const runs = [1, 2].map(() => {
      const heard = listen();
      void adapter.start(heard.host);
      vi.advanceTimersByTime(5000);
      void adapter.stop();
      return heard.lines;
    });
    expect(runs[0]).toEqual(runs[1]);
    const other = started({ startT: START_T, seed: 2 });
    vi.advanceTimersByTime(5000);
    void other.adapter.stop();
    expect(other.lines).not.toEqual(runs[0]);
  });

  it('is silent before its start and after its stop', () => {
    const adapter = createSimulatedAdapter();
    adapter.event?.({ type: 'event', t: 0, kind: 'setpoint', unit: 'u1', valueC: 20 });
    const heard = listen();
    void adapter.start(heard.host);
    vi.advanceTimersByTime(1000);
    void adapter.stop();
    const count = heard.lines.length;
    adapter.event?.({ type: 'event', t: 0, kind: 'fan', unit: 'u1', speed: 'high' });
    vi.advanceTimersByTime(10_000);
    expect(heard.lines).toHaveLength(count);
    expect(vi.getTimerCount()).toBe(0);
    void adapter.stop();
  });

  it('announces a probe again that a person has forgotten: its name and limits, no place', () => {
    const { lines, adapter } = started();
    vi.advanceTimersByTime(1000);
    const told = lines.length;
    adapter.forget?.('p3');
    adapter.forget?.('of another source');
    expect(lines.slice(told)).toEqual([
      {
        type: 'probe',
        id: 'p3',
        name: 'Reading room supply, left',
        limits: { temperatureC: 0.3, humidityPct: 2 },
      },
    ]);
    void adapter.stop();
    adapter.forget?.('p3');
    expect(lines).toHaveLength(told + 1);
  });

  it('takes a probe of its own in the hand, and no other', () => {
    const adapter = createSimulatedAdapter({ speed: 60 });
    expect(adapter.warm('p1')).toBe(false); // not started
    const { host, lines } = listen();
    void adapter.start(host);
    expect(adapter.warm('p9')).toBe(false);
    expect(adapter.warm('p1')).toBe(true);
    vi.advanceTimersByTime(1000);
    const ofFirst = readingsOf(lines).filter(({ probe }) => probe === 'p1');
    expect(ofFirst.at(-1)?.temperatureC).toBeGreaterThan(32);
    expect(adapter.warm(null)).toBe(true);
    vi.advanceTimersByTime(1000);
    expect(
      readingsOf(lines)
        .filter(({ probe }) => probe === 'p1')
        .at(-1)?.temperatureC,
    ).toBeLessThan(27);
    void adapter.stop();
  });

  it('knows its probes by what they are called where their readings arrive another way', async () => {
    const fed: ProbeReading[] = [];
    const outlet: Outlet = {
      idOf: (probe) => `far:${probe}`,
      start: () => Promise.resolve(),
      stop: () => undefined,
      feed: (readings) => void fed.push(...readings),
    };
    const adapter = createSimulatedAdapter({ speed: 60, outlet });
    const { host, lines } = listen();
    await adapter.start(host);
    const told = lines.length;
    adapter.forget?.('p3');
    expect(lines).toHaveLength(told);
    adapter.forget?.('far:p3');
    expect(lines.slice(told)).toMatchObject([{ id: 'far:p3', name: 'Reading room supply, left' }]);

    expect(adapter.warm('p1')).toBe(false);
    expect(adapter.warm('far:p1')).toBe(true);
    vi.advanceTimersByTime(1000);
    const warm = fed.filter(({ probe }) => probe === 'p1').at(-1);
    expect(warm?.temperatureC).toBeGreaterThan(32);
    await adapter.stop();
  });

  it('refuses a scenario or a speed that there is not', () => {
    expect(() => createSimulatedAdapter({ scenario: 'snow' })).toThrow(
      /there is no scenario "snow"/,
    );
    expect(() => createSimulatedAdapter({ speed: 100 })).toThrow(
      "the simulation's speed 100 is outside 1 to 60",
    );
  });
});
