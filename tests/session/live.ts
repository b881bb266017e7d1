/** A live visit for the tests, with its clock and its record, and the visit that is made of the record. */
import { expect } from 'vitest';
import type { Line, Mode } from '../../adapters/contract.ts';
import { LiveVisit } from '../../server/visit.ts';
import { LogReader } from '../../server/visit-log/reader.ts';
import { eventSchema } from '../../server/visit-log/schema.ts';
import { setUp, T0 } from './visit.ts';

const SOURCE = { adapter: 'test', simulated: false };
export const PERSON = { adapter: null, simulated: false };

/** A live visit of `u1` with its record, and a clock that goes with its readings. */
export class Live {
  now = T0;
  readonly visit = new LiveVisit(() => this.now);
  readonly record: string[] = [];

  constructor(mode: Mode = 'cooling') {
    this.visit.recordTo({ add: (line) => this.record.push(JSON.stringify(line)) });
    for (const line of setUp({ mode })) this.visit.line(line, PERSON);
  }

  run(seconds: number, supplyC: number): void {
    for (let i = 0; i < seconds; i++) {
      this.visit.line(reading(this.now, 'r', 26.7, 51), SOURCE);
      this.visit.line(reading(this.now + 300, 's', supplyC, 94), SOURCE);
      this.now += 1000;
      this.visit.tick();
    }
  }

  steady(supplyC: number): void {
    this.run(10, supplyC);
    for (let i = 0; this.visit.state().units['u1']?.settling.state !== 'steady'; i++) {
      if (i > 1000) throw new Error('never steady');
      this.run(10, supplyC);
    }
    this.run(150, supplyC);
  }

  tell(event: object, t = this.visit.eventTime()): void {
    const line = eventSchema.parse({ type: 'event', t, ...event });
    expect(this.visit.line(line, PERSON)).toBeNull();
  }
}

function reading(t: number, probe: string, temperatureC: number, humidityPct: number): Line {
  return { type: 'reading', t, probe, temperatureC, humidityPct };
}

/** A visit that is made of a record. */
export function readAgain({ record, now }: Live): LiveVisit {
  const visit = new LiveVisit(() => now);
  const refused: string[] = [];
  const reader = new LogReader({
    line: (line) => void visit.line(line, PERSON),
    refused: (_, why) => refused.push(why),
  });
  reader.write(record.join('\n'));
  reader.end();
  expect(refused).toEqual([]);
  return visit;
}
