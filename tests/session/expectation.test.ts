/**
 * The verdict on a capture. Probabilities are those of tests/reference/expectation.test.ts; here the figures
 * of the visit itself are put into the formula.
 */
import { describe, expect, it } from 'vitest';
import type { Line } from '../../adapters/contract.ts';
import type { VerdictMessage } from '../../server/protocol.ts';
import { Session } from '../../server/session.ts';
import { setUp, T0 } from './visit.ts';

const SOURCE = { adapter: 'test', simulated: false };

class Judged {
  readonly verdicts: VerdictMessage[] = [];
  readonly session: Session;
  s = 0;
  constructor(lines: Line[]) {
    this.session = new Session({
      ...{ snapshot: () => {}, capture: () => {}, check: () => {}, walk: () => {} },
      ...{ event: () => {}, probe: () => {}, setup: () => {} },
      verdict: (verdict, capture) => {
        if (capture.open !== true) this.verdicts.push(verdict);
      },
    });
    for (const line of [
      ...setUp(),
      { type: 'probe', id: 'o', place: 'outdoor' } as const,
      ...lines,
    ]) {
      expect(this.session.apply(line, SOURCE)).toBeNull();
    }
  }
  go(seconds: number, supplyC: number, outdoorC = 35): void {
    for (const end = this.s + seconds; this.s < end; this.s++) {
      const t = T0 + this.s * 1000;
      const read = (probe: string, temperatureC: number, humidityPct: number): Line => ({
        ...{ type: 'reading', t, probe, temperatureC, humidityPct },
      });
      this.session.apply(read('r', 26.7, 51), SOURCE);
      this.session.apply(read('s', supplyC, 94), SOURCE);
      this.session.apply({ type: 'reading', t, probe: 'o', temperatureC: outdoorC }, SOURCE);
    }
  }
  push(valueC: number): void {
    const t = T0 + this.s * 1000;
    this.session.apply({ type: 'event', t, kind: 'setpoint', unit: 'u1', valueC }, SOURCE);
  }
}

const published = (totalW: number, more: object = {}): Line => ({
  ...{ type: 'expectation', unit: 'u1', mode: 'cooling', net: true, limitPct: 5 },
  points: [{ speed: 'rated', outdoorC: 35, indoorC: 26.7, indoorWetBulbC: 19.1, totalW }],
  ...more,
});

/** Steady, the setpoint pushed on, steady again; the air brings some 5 kW at 12 °C. */
function judged(totalW: number, more: object = {}): VerdictMessage[] {
  const visit = new Judged([published(totalW, more)]);
  visit.go(900, 12);
  visit.push(16);
  visit.go(900, 12);
  visit.session.finish();
  return visit.verdicts;
}

describe('a capture', () => {
  it('meets what was promised, falls short of it, or nobody can tell', () => {
    expect(judged(4000).at(-1)?.verdict).toBe('meets');
    expect(judged(9000).at(-1)?.verdict).toBe('falls-short');
    const [, last] = judged(5700);
    expect(last?.verdict).toBe('cannot-tell');
    expect(last?.probability).toBeGreaterThan(0.05);
    expect(last).toMatchObject({ basis: 'table', by: 'itself', limit: 0.9 });
    expect(last?.conditions.outdoorC).toBeCloseTo(35, 6);
  });

  it('can fall short only once full demand has been shown', () => {
    const verdicts = judged(9000);
    expect(verdicts.map(({ verdict }) => verdict)).toEqual(['not-asked', 'falls-short']);
    // More came when it was pushed: it had not given all it has, and may have more.
    const visit = new Judged([published(12_000)]);
    visit.go(900, 16);
    visit.push(16);
    visit.go(900, 12);
    visit.session.finish();
    expect(visit.verdicts.at(-1)?.verdict).toBe('not-asked');
  });

  it('a setpoint that asks for less takes full demand back', () => {
    const visit = new Judged([published(9000)]);
    visit.go(900, 12);
    visit.push(16);
    visit.go(900, 12);
    visit.push(26);
    visit.go(900, 18);
    visit.session.finish();
    expect(visit.verdicts.map(({ verdict }) => verdict)).toEqual([
      'not-asked',
      'falls-short',
      'not-asked',
    ]);
  });

  it('a gross figure is made net by the fan’s watts; a limit of one’s own counts', () => {
    const net = judged(5000).at(-1);
    const gross = judged(5000, { net: false, fanW: 40 }).at(-1);
    expect((net?.expectedW ?? NaN) - (gross?.expectedW ?? NaN)).toBeCloseTo(40, 6);
    const strict = judged(5000, { limit: 1 }).at(-1);
    expect(strict?.probability).toBeLessThan(net?.probability ?? NaN);
  });

  it('without outdoor air, or for another mode, there is none', () => {
    const visit = new Judged([published(4000, { mode: 'heating' })]);
    visit.go(900, 12);
    visit.session.finish();
    expect(visit.verdicts).toEqual([]);
  });
});
