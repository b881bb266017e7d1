/** A server that is started again in mid-traverse goes on with it: the record makes the same visit. */
import { expect, it } from 'vitest';
import type { Line } from '../../../adapters/contract.ts';
import { Live, PERSON, readAgain } from '../live.ts';
import { OUTLET, VANE } from './hand.ts';

const SOURCE = { adapter: 'test', simulated: false };

class Sweeping extends Live {
  constructor() {
    super();
    for (const line of [OUTLET, VANE]) this.visit.line(line, PERSON);
    this.run(5, 12);
  }
  sweep(seconds: number, velocityMs: number, to = this.visit): Line[] {
    const lines: Line[] = [];
    for (let i = 0; i < 4 * seconds; i++) {
      const line: Line = { type: 'reading', t: this.now, probe: 'v', velocityMs };
      lines.push(line);
      to.line(line, SOURCE);
      this.now += 250;
      to.tick();
    }
    return lines;
  }
}

it('what was swept before counts, and the result is the same to the digit', () => {
  const live = new Sweeping();
  const traverse = { kind: 'traverse', unit: 'u1' };
  live.tell({ ...traverse, phase: 'start', outlet: 'o1', probe: 'v', method: 'sweep' });
  live.sweep(20, 4);
  live.tell({ ...traverse, phase: 'section' });
  live.sweep(10, 2);

  const again = readAgain(live);
  expect(again.state().measuring['u1']).toMatchObject({ phase: 'running', section: 1 });
  const rest = live.sweep(10, 2.5);
  for (const line of rest) again.line(line, SOURCE);
  const t = live.visit.eventTime();
  for (const visit of [live.visit, again]) {
    const end: Line = { type: 'event', t, kind: 'traverse', unit: 'u1', phase: 'end' };
    expect(visit.line(end, PERSON)).toBeNull();
  }
  const [first] = live.visit.state().airflows;
  expect(first?.flowM3s).toBeGreaterThan(0.1);
  expect(again.state().airflows).toEqual([first]);
  expect(again.state().visit.units['u1']?.airflow).toEqual(
    live.visit.state().visit.units['u1']?.airflow,
  );
});

it('one that has ended stands in the record with its events, once', () => {
  const live = new Sweeping();
  const traverse = { kind: 'traverse', unit: 'u1' };
  live.tell({ ...traverse, phase: 'start', outlet: 'o1', probe: 'v', method: 'sweep' });
  live.sweep(20, 4);
  live.tell({ ...traverse, phase: 'section' });
  live.sweep(20, 2);
  live.tell({ ...traverse, phase: 'end' });
  live.run(5, 12);
  const again = readAgain(live);
  expect(again.state().airflows).toEqual(live.visit.state().airflows);
  expect(again.state().events).toEqual(live.visit.state().events);
});
