/**
 * Simulated visits, of units with faults and with badly hung probes too: every sentence that they give is said
 * in Spanish, none stays English.
 */
import { afterAll, beforeAll, expect, test } from 'vitest';
import { AirflowPlay } from '../../adapters/simulated/airflow-play.ts';
import { fanTable } from '../../adapters/simulated/fan-table.ts';
import { setUpLines } from '../../adapters/simulated/set-up.ts';
import type { EventLine, Line } from '../../adapters/contract.ts';
import { Session } from '../../server/session.ts';
import { speak, translated } from '../../server/words/language.ts';
import { SENT, SPANISH } from '../../server/words/spanish/index.ts';
import { scenario, SCENARIO_NAMES } from '../../simulator/scenarios.ts';
import { System, type SystemParameters } from '../../simulator/system.ts';
import { LONG } from '../long.ts';
import { T0 } from './visit.ts';

beforeAll(() => speak({ language: 'es', locale: 'es-MX', catalog: SPANISH, sent: SENT }));
afterAll(() => speak({ language: 'en', locale: 'en-US' }));

/** Where a message has sentences; names of causes and their parts among them. */
const SENTENCES = new Set(['text', 'effect', 'remedy', 'warnings', 'look', 'caution', 'source']);
/** Words that English sentences have and Spanish ones do not; the names of these visits have none of them. */
const ENGLISH =
  /(?<!\p{L})(?:the|of|and|is|it|its|to|not|from|with|was|were|for|by|at|this|that|than|be|will|in|too|then|or|if|are|supply|return)(?!\p{L})/iu;

/** A simulated visit, and somebody who tells what is done; what is said is kept. */
class Told {
  readonly heard = new Set<string>();
  readonly system: System;
  readonly #play: AirflowPlay;
  readonly #session: Session;

  constructor(parameters: SystemParameters, measured: boolean) {
    this.system = new System(parameters, 1, T0);
    const hear = (message: unknown): void => this.#hear(message);
    this.#session = new Session({
      ...{ snapshot: hear, capture: hear, check: hear, walk: hear, event: () => {} },
      ...{ probe: hear, setup: () => {}, airflow: hear, zero: hear, measuring: hear },
      verdict: hear,
    });
    this.#play = new AirflowPlay(this.system, 1, () => {});
    const airflowOf = (id: string) => {
      const unit = parameters.units.find((each) => each.id === id);
      return unit === undefined || !measured
        ? undefined
        : { first: fanTable(unit, parameters.mode, 1)(unit.fan) };
    };
    for (const line of setUpLines(parameters, airflowOf, T0)) this.take(line);
  }

  take(line: Line): void {
    const refusal = this.#session.apply(line, { adapter: 'simulated', simulated: true });
    if (refusal !== null) this.heard.add(refusal);
  }

  tell(event: object): void {
    const line = { type: 'event', t: this.system.t, unit: 'u1', ...event } as EventLine;
    this.take(line);
    this.#play.event(line);
  }

  /** @param silent a probe that is not heard */
  run(seconds: number, silent?: string): void {
    for (let s = 0; s < seconds; s++) {
      for (const reading of this.system.advance(this.system.t + 1000)) {
        if (reading.probe !== silent) this.take({ type: 'reading', ...reading });
      }
      this.#play.tick();
    }
    this.#session.advanceTo(this.system.t);
  }

  #hear(message: unknown, key = ''): void {
    if (typeof message === 'string') {
      if (SENTENCES.has(key) && / /.test(message)) this.heard.add(message);
    } else if (Array.isArray(message)) {
      for (const each of message) this.#hear(each, key);
    } else if (typeof message === 'object' && message !== null) {
      for (const [name, value] of Object.entries(message)) {
        // The names of causes are sentences, other names are people's.
        this.#hear(value, name === 'name' && 'caution' in message ? 'text' : name);
      }
    }
  }
}

/** A scenario with names that are in no sentence. */
function named(name: string): SystemParameters {
  const parameters = scenario(name);
  return {
    ...parameters,
    units: parameters.units.map((unit) => ({ ...unit, name: `Sala ${unit.id}` })),
    probes: parameters.probes.map((probe) => ({ ...probe, name: `Sonda ${probe.id}` })),
  };
}

function englishOf(visit: Told): string[] {
  return [...visit.heard].flatMap((sentence) => {
    const said = translated(sentence);
    // Field names before a colon are those of the calls.
    return said === sentence || ENGLISH.test(said.replace(/^\w+: /, '')) ? [said] : [];
  });
}

test.each(SCENARIO_NAMES)('nothing of %s stays English', (name) => {
  const visit = new Told(named(name), name !== 'plain');
  visit.run(LONG ? 900 : 150);
  visit.tell({ kind: 'setpoint', valueC: visit.system.parameters.mode === 'heating' ? 28 : 16 });
  visit.run(LONG ? 1800 : 150);
  visit.tell({ kind: 'fan', speed: 'low' });
  visit.run(60, 'p2');
  expect(visit.heard.size).toBeGreaterThan(3);
  expect(englishOf(visit)).toEqual([]);
});

test('nothing of a check, a walk, and a capture', () => {
  const visit = new Told(named('demo'), true);
  const check = { kind: 'check', unit: undefined, probes: ['p1', 'p2', 'p3'] };
  visit.run(20);
  visit.tell({ ...check, phase: 'start' });
  visit.run(30);
  visit.tell({ ...check, phase: 'end' });
  visit.tell({ ...check, phase: 'start' });
  visit.run(200);
  visit.tell({ ...check, phase: 'end' });
  const walk = { kind: 'walk', place: 'supply', probe: 'p4' };
  visit.tell({ ...walk, phase: 'start' });
  visit.run(90);
  visit.tell({ ...walk, phase: 'go' });
  visit.run(90);
  visit.tell({ ...walk, phase: 'end' });
  visit.tell({ ...walk, probe: 'p9', phase: 'start' });
  visit.tell({ kind: 'capture' });
  visit.run(400);
  visit.tell({ kind: 'capture' });
  expect(visit.heard.size).toBeGreaterThan(15);
  expect(englishOf(visit)).toEqual([]);
});

test('nothing of the ways to measure airflow', () => {
  const visit = new Told(named('demo'), true);
  const sweep = { kind: 'traverse', outlet: 'o1', probe: 'v1', method: 'sweep' };
  visit.run(60);
  visit.tell({ ...sweep, phase: 'start' });
  visit.run(4);
  visit.tell({ kind: 'traverse', phase: 'section' });
  visit.run(20);
  visit.tell({ kind: 'traverse', phase: 'pause' });
  visit.run(4);
  visit.tell({ kind: 'traverse', phase: 'end' });
  visit.tell({ kind: 'traverse', phase: 'end' });
  visit.tell({ ...sweep, method: 'grid', phase: 'start' });
  visit.tell({ kind: 'traverse', phase: 'point', section: 0, row: 0, column: 0 });
  visit.run(12);
  visit.tell({ kind: 'traverse', phase: 'end' });
  for (const [kind, more] of [
    ['condensate', { massKg: 0.4 }],
    ['heat', { powerW: 1500 }],
    ['zero', { fanW: 25 }],
  ] as const) {
    visit.tell({ kind, phase: 'start', ...more });
    visit.run(60);
    visit.tell({ kind, phase: 'end', ...more });
    visit.run(2);
    visit.tell({ kind, phase: 'start', ...more });
    visit.run(10);
    visit.tell({ kind, phase: 'cancel' });
  }
  expect(visit.heard.size).toBeGreaterThan(20);
  expect(englishOf(visit)).toEqual([]);
});
