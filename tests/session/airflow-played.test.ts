/**
 * Each way to measure airflow, played by the simulation from its start to its end through the session,
 * comes to the simulation's own flow within its interval. That the interval is as wide as it should be is
 * for `npm run bench -- airflow`; here each seed holds.
 */
import { describe, expect, it } from 'vitest';
import type { EventLine, Line } from '../../adapters/contract.ts';
import { AirflowPlay } from '../../adapters/simulated/airflow-play.ts';
import { setUpLines } from '../../adapters/simulated/set-up.ts';
import { gridPoints } from '../../server/measure/airflow/positions.ts';
import type { AirflowResult, Measuring, ZeroResult } from '../../server/protocol.ts';
import { Session } from '../../server/session.ts';
import { scenario } from '../../simulator/scenarios.ts';
import { System } from '../../simulator/system.ts';
import { T0 } from './visit.ts';

const SEEDS = [1, 2, 3, 4];
/** An event without what every event has. */
type Told = EventLine extends infer E
  ? E extends EventLine
    ? Omit<E, 'type' | 't'>
    : never
  : never;

/** A simulated visit, its session, and somebody who tells what is done. */
class Played {
  readonly system: System;
  readonly results: AirflowResult[] = [];
  readonly zeros: ZeroResult[] = [];
  readonly notes: string[] = [];
  measuring: Measuring | null = null;
  readonly play: AirflowPlay;
  readonly #session: Session;

  constructor(name: string, seed: number) {
    const parameters = scenario(name);
    this.system = new System(parameters, seed, T0);
    const nothing = (): void => undefined;
    this.#session = new Session({
      ...{ snapshot: nothing, capture: nothing, check: nothing, walk: nothing, event: nothing },
      ...{ probe: nothing, setup: nothing },
      airflow: (result) => this.results.push(result),
      zero: (zero) => this.zeros.push(zero),
      measuring: (measuring) => (this.measuring = measuring),
    });
    this.play = new AirflowPlay(this.system, seed, (line) => {
      if (line.type === 'event' && line.kind === 'note') this.notes.push(line.text);
    });
    const flow = { source: 'fan-table', flowM3s: 0.14, basis: 'actual', plane: 'supply' } as const;
    for (const line of setUpLines(parameters, () => ({ first: { ...flow, limitPct: 10 } }), T0)) {
      this.#take(line);
    }
  }

  tell(event: Told): void {
    const line = { type: 'event', t: this.system.t, ...event } as EventLine;
    this.#take(line);
    this.play.event(line);
  }

  /** @returns the mean of the true flow on the way, m³/s */
  run(seconds: number): number {
    let sum = 0;
    for (let s = 0; s < seconds; s++) {
      for (const reading of this.system.advance(this.system.t + 1000)) {
        this.#take({ type: 'reading', ...reading });
      }
      this.play.tick();
      sum += this.system.truth('u1').flowM3s;
    }
    return sum / seconds;
  }

  result(): AirflowResult {
    const last = this.results.at(-1);
    if (last === undefined) throw new Error(`no airflow: ${this.measuring?.text ?? ''}`);
    return last;
  }

  #take(line: Line): void {
    expect(this.#session.apply(line, { adapter: 'simulated', simulated: true })).toBeNull();
  }
}

function holds({ flowM3s, u95M3s }: AirflowResult, trueM3s: number): void {
  expect(Math.abs(flowM3s - trueM3s)).toBeLessThanOrEqual(u95M3s);
  // Neither is it so wide that it says nothing (nobody has checked the probes).
  expect(u95M3s / trueM3s).toBeLessThan(0.4);
}

const u1 = { unit: 'u1' } as const;

describe.each(SEEDS)('played to its end, seed %i', (seed) => {
  it('two sweeps', () => {
    const played = new Played('demo', seed);
    played.run(300);
    for (let i = 0; i < 2; i++) {
      played.tell({
        ...{ kind: 'traverse', phase: 'start', ...u1, outlet: 'o1', method: 'sweep', probe: 'v1' },
      });
      let flow = played.run(20);
      played.tell({ kind: 'traverse', phase: 'section', ...u1 });
      flow = (flow + played.run(20)) / 2;
      played.tell({ kind: 'traverse', phase: 'end', ...u1 });
      expect(played.results).toHaveLength(i + 1);
      expect(played.result().method).toBe('sweep');
      holds(played.result(), flow);
      played.run(20);
    }
    expect(played.result().each).toHaveLength(2);
  });

  it('a grid', () => {
    const played = new Played('demo', seed);
    const sections = played.system.parameters.units[0]?.opening?.sections ?? [];
    played.run(300);
    const flow = played.system.truth('u1').flowM3s;
    played.tell({
      ...{ kind: 'traverse', phase: 'start', ...u1, outlet: 'o1', method: 'grid', probe: 'v1' },
    });
    for (const { section, row, column } of gridPoints('equal-area', sections)) {
      played.tell({ kind: 'traverse', phase: 'point', ...u1, section, row, column });
      played.run(12);
    }
    played.tell({ kind: 'traverse', phase: 'end', ...u1 });
    expect(played.result().points).toHaveLength(6);
    holds(played.result(), flow);
  });

  it('a bucket under the drain', () => {
    const played = new Played('humid', seed);
    played.run(3600);
    played.tell({ kind: 'condensate', phase: 'start', ...u1 });
    const flow = played.run(1800);
    const massKg = Math.round(played.play.caughtKg('u1') * 1000) / 1000;
    expect(played.notes.at(-1)).toContain(`${Math.round(massKg * 1000)} g`);
    played.tell({ kind: 'condensate', phase: 'end', ...u1, massKg });
    expect(played.result().method).toBe('condensate');
    holds(played.result(), flow);
  });

  it('a heater before the intake', () => {
    const played = new Played('dry', seed);
    played.system.fanAlone('u1', true);
    played.run(600);
    played.tell({ kind: 'heat', phase: 'start', ...u1, powerW: 1500 });
    const flow = played.run(900);
    played.tell({ kind: 'heat', phase: 'end', ...u1 });
    expect(played.result().method).toBe('heat');
    holds(played.result(), flow);
    expect(played.result().u95M3s / flow).toBeLessThan(0.05);
  });

  it('a zero in place', () => {
    const played = new Played('dry', seed);
    played.system.fanAlone('u1', true);
    played.run(300);
    played.tell({ kind: 'zero', phase: 'start', ...u1, fanW: 25 });
    played.run(400);
    played.tell({ kind: 'zero', phase: 'end', ...u1 });
    const [zero] = played.zeros;
    if (zero === undefined) throw new Error(`no zero: ${played.measuring?.text ?? ''}`);
    const error = (id: string): number => played.system.probeError(id, 'temperatureC');
    expect(Math.abs(zero.offsetK - (error('p2') - error('p1')))).toBeLessThanOrEqual(zero.u95K);
    // The room warms by 0.2 K a minute, and the coil follows.
    expect(zero.u95K).toBeLessThan(0.25);
  });
});

describe('a traverse that is interrupted', () => {
  it('reads nothing before it, is out of the stream in a pause, and falls silent at its end', () => {
    const played = new Played('demo', 1);
    const heard = (toS: number): number[] =>
      played.system
        .advance(played.system.t + 1000 * toS)
        .flatMap(({ probe, velocityMs }) => (probe === 'v1' ? [velocityMs ?? NaN] : []));
    expect(heard(60)).toEqual([]);
    played.tell({
      ...{ kind: 'traverse', phase: 'start', ...u1, outlet: 'o1', method: 'sweep', probe: 'v1' },
    });
    const swept = heard(10);
    expect(swept.length).toBeGreaterThanOrEqual(38);
    expect(swept.length).toBeLessThanOrEqual(42);
    expect(Math.min(...swept)).toBeGreaterThan(1);
    played.tell({ kind: 'traverse', phase: 'pause', ...u1 });
    expect(heard(10).at(-1)).toBeLessThan(0.2);
    played.tell({ kind: 'traverse', phase: 'resume', ...u1 });
    expect(heard(10).at(-1)).toBeGreaterThan(1);
    played.tell({ kind: 'traverse', phase: 'cancel', ...u1 });
    expect(heard(60)).toEqual([]);
  });

  it('leaves the other probes’ readings as they are without it', () => {
    const others = (traversed: boolean): unknown[] => {
      const system = new System(scenario('demo'), 3, T0);
      system.advance(T0 + 60_000);
      if (traversed) system.traverse('u1')?.sweep(0);
      return system.advance(T0 + 120_000).filter(({ probe }) => probe !== 'v1');
    };
    expect(others(true)).toEqual(others(false));
  });
});
