/** Before and after a change, captures by touch, and events that are amended, in a whole session. */
import { describe, expect, test } from 'vitest';
import type { Airflow, EventLine } from '../../adapters/contract.ts';
import type { Capture } from '../../server/protocol.ts';
import { PacedVisit, setUp, T0 } from './visit.ts';

class Visit extends PacedVisit {
  event(
    event: EventLine extends infer E
      ? E extends EventLine
        ? Omit<E, 'type' | 't'>
        : never
      : never,
  ): string | null {
    return this.take({ type: 'event', t: T0 + this.s * 1000, ...event });
  }

  setpoint(valueC: number): string | null {
    return this.event({ kind: 'setpoint', unit: 'u1', valueC });
  }

  finals(): Capture[] {
    return this.captures.filter((c) => c.open !== true);
  }
}

const airflow = (flowM3s: number): Airflow => ({
  ...{ source: 'entered', flowM3s, basis: 'actual', plane: 'supply', limitPct: 5 },
});

describe('a capture by touch', () => {
  test('is refused in words where nothing is steady, and made where it is', () => {
    const visit = new Visit();
    visit.go(20, 12);
    expect(visit.event({ kind: 'capture', unit: 'u1' })).toMatch(
      /^unit: "u1" is not steady: .*wait until/,
    );
    expect(visit.event({ kind: 'capture', unit: 'u9' })).toMatch(/^unit: there is no unit "u9"/);
    expect(visit.told).toEqual([]);
    visit.steady(12);
    expect(visit.event({ kind: 'capture', unit: 'u1' })).toBeNull();
    expect(visit.told.at(-1)).toMatchObject({ unit: 'u1', by: 'touch', state: 'steady' });
    expect(visit.told.at(-1)).not.toHaveProperty('open');
    expect(visit.told.at(-1)?.totalW).toBeCloseTo(visit.unit().capacity.totalW ?? 0, 3);
    // It is no event of the unit.
    expect(visit.events).toEqual([]);
  });

  test('only touches make captures where the visit says so', () => {
    const visit = new Visit();
    visit.take({ type: 'visit', version: 1, captureAfterS: null });
    expect(visit.session.setup().captureAfterS).toBeNull();
    visit.steady(12);
    visit.event({ kind: 'capture', unit: 'u1' });
    visit.go(60, 12);
    visit.session.finish();
    expect(visit.told.map((c) => c.by)).toEqual(['touch']);
  });
});

test('while steady the plateau is where it is, and its interval how far a house may move it', () => {
  const visit = new Visit();
  visit.steady(12);
  const { settling, capacity } = visit.unit();
  expect(settling.plateauW).toBeCloseTo(capacity.totalW ?? 0, 3);
  const part = (settling.plateauU95W ?? 0) / (capacity.totalW ?? 0);
  expect(part).toBeGreaterThan(0.03);
  expect(part).toBeLessThan(0.05);
});

describe('before and after', () => {
  function changed(how: (visit: Visit) => void, supplyC = 15): Visit {
    const visit = new Visit();
    visit.steady(12);
    how(visit);
    visit.steady(supplyC);
    visit.session.finish();
    return visit;
  }
  const last = (visit: Visit): Capture => {
    const capture = visit.finals().at(-1);
    if (capture === undefined) throw new Error('no capture');
    return capture;
  };

  test('a setpoint: the difference, and an interval in which shared errors cancel', () => {
    const visit = changed((v) => v.setpoint(20));
    const [first] = visit.finals();
    const { before, ...after } = last(visit);
    expect(first).not.toHaveProperty('before');
    expect(before).toMatchObject({
      event: { kind: 'setpoint', valueC: 20 },
      ...{ from: first?.from, to: first?.to },
      ...{ totalW: first?.totalW, totalU95W: first?.totalU95W },
    });
    expect(before?.event.t).toBeGreaterThan(before?.to ?? Infinity);
    expect(before?.differenceW).toBeCloseTo(after.totalW - (first?.totalW ?? NaN), 9);
    expect(before?.differenceW).toBeLessThan(-500);
    const sum = (before?.sensibleDifferenceW ?? NaN) + (before?.latentDifferenceW ?? NaN);
    expect(sum).toBeCloseTo(before?.differenceW ?? NaN, 6);
    const apart = Math.hypot(first?.totalU95W ?? NaN, after.totalU95W ?? NaN);
    for (const u95 of [
      before?.differenceU95W,
      before?.sensibleDifferenceU95W,
      before?.latentDifferenceU95W,
    ]) {
      expect(u95).toBeGreaterThan(0);
      expect(u95).toBeLessThan(0.6 * apart);
    }
  });

  test('the one that is made while the span goes on has it too, and so has the next span', () => {
    const visit = changed((v) => v.setpoint(20));
    const { from } = last(visit);
    visit.told
      .filter((c) => c.from === from)
      .forEach((c) => expect(c.before).toMatchObject({ event: { valueC: 20 } }));
    visit.steady(18);
    visit.session.finish();
    expect(last(visit).from).toBeGreaterThan(from);
    expect(last(visit).before).toMatchObject({ event: { valueC: 20 } });
  });

  test('the airflow’s error is shared only while the same airflow holds', () => {
    const withAirflow = (flowM3s: number | null): number => {
      const visit = changed((v) => {
        v.event({ kind: 'fan', unit: 'u1', speed: 'low' });
        if (flowM3s === null) return;
        v.take({ type: 'airflow', t: T0 + v.s * 1000, unit: 'u1', airflow: airflow(flowM3s) });
      });
      expect(last(visit).before?.event).toMatchObject({ kind: 'fan', speed: 'low' });
      return last(visit).before?.differenceU95W ?? NaN;
    };
    const same = withAirflow(null);
    expect(withAirflow(0.2)).toBeCloseTo(same, 6); // the same line, told again
    expect(withAirflow(0.201)).toBeGreaterThan(1.3 * same);
  });

  test('without limits there is a difference, and no interval of it', () => {
    const visit = new Visit([
      ...setUp().slice(0, 3),
      { type: 'probe', id: 's', unit: 'u1', place: 'supply' },
    ]);
    visit.steady(12);
    visit.event({ kind: 'capture', unit: 'u1' });
    visit.setpoint(20);
    visit.steady(15);
    visit.event({ kind: 'capture', unit: 'u1' });
    expect(last(visit).before).toMatchObject({ totalU95W: null, differenceU95W: null });
    expect(last(visit).before?.differenceW).toBeLessThan(-500);
  });

  test.each<[string, (v: Visit) => void]>([
    ['nothing was told', () => {}],
    [
      'a probe was moved',
      (v) => {
        v.setpoint(20);
        v.take({ type: 'probe', id: 's', place: 'return' });
        v.take({ type: 'probe', id: 's', place: 'supply' });
      },
    ],
    [
      'a probe was checked',
      (v) => {
        v.setpoint(20);
        v.event({ kind: 'check', phase: 'start', probes: ['r', 's'] });
        v.go(5, 12);
        v.event({ kind: 'check', phase: 'end', probes: ['r', 's'] });
      },
    ],
    [
      'what an earlier check found was told',
      (v) => {
        v.setpoint(20);
        const check = {
          t: T0,
          probes: ['r', 's'],
          temperatureC: { offset: 0.1, u: 0.01 },
          atC: 20,
        };
        v.take({ type: 'probe', id: 's', check });
      },
    ],
    [
      'the pressure is another',
      (v) => {
        v.setpoint(20);
        v.take({ type: 'visit', version: 1, pressurePa: 99_000 });
      },
    ],
  ])('not where %s', (_, how) => {
    const visit = changed(how);
    expect(visit.finals().length).toBeGreaterThan(1);
    expect(last(visit)).not.toHaveProperty('before');
  });

  test('not where the unit went over from cooling to heating', () => {
    const visit = new Visit(setUp({}));
    visit.steady(12);
    visit.setpoint(28);
    visit.steady(42);
    visit.session.finish();
    expect(visit.unit().mode).toBe('heating');
    expect(last(visit)).not.toHaveProperty('before');
  });
});

describe('events that are amended', () => {
  test('one is told again with its id, its name and its time', () => {
    const visit = new Visit();
    visit.go(100, 12);
    visit.event({ kind: 'note', text: 'door opened' });
    visit.go(10, 12);
    visit.setpoint(20);
    visit.go(30, 12);
    expect(visit.events.map((e) => e.id)).toEqual(['e1', 'e2']);
    expect(
      visit.event({ kind: 'amend', event: 'e2', text: 'by hand', toT: T0 + 50_000 }),
    ).toBeNull();
    expect(visit.events.at(-1)).toEqual({
      ...{ type: 'event', id: 'e2', kind: 'setpoint', unit: 'u1', valueC: 20 },
      ...{ t: T0 + 50_000, text: 'by hand' },
    });
    expect(visit.event({ kind: 'amend', event: 'e2', text: '' })).toBeNull();
    expect(visit.events.at(-1)).not.toHaveProperty('text');
    expect(visit.events.at(-1)?.t).toBe(T0 + 50_000);
    expect(visit.events).toHaveLength(4);
  });

  test('refusals name the field and say what is taken', () => {
    const visit = new Visit();
    visit.go(5000, 12);
    visit.setpoint(20);
    visit.take({ type: 'airflow', t: T0 + visit.s * 1000, unit: 'u1', airflow: airflow(0.1) });
    visit.event({ kind: 'check', phase: 'start', probes: ['r'] });
    visit.go(10, 12);
    const amend = (event: string, toT?: number) =>
      visit.event({ kind: 'amend', event, ...(toT === undefined ? {} : { toT }) });
    const told = visit.events.length;
    expect(amend('e9', T0)).toMatch(/^event: there is no event "e9"/);
    expect(amend('e1')).toMatch(/^text: is missing, and so is toT/);
    expect(amend('e1', T0 + visit.s * 1000 + 1)).toMatch(/^toT: .*in the future/);
    expect(amend('e1', T0 + 1_399_000)).toMatch(/^toT: .*more than an hour/);
    expect(amend('e1', T0 + 1_400_000)).toBeNull();
    for (const id of ['e2', 'e3']) {
      expect(amend(id, T0 + 4_990_000)).toMatch(/^toT: .*not dated anew/);
      expect(visit.event({ kind: 'amend', event: id, text: 'so' })).toBeNull();
    }
    expect(visit.events).toHaveLength(told + 3);
  });

  test('a setpoint that was told too late: the pair says when it was', () => {
    const visit = new Visit();
    visit.steady(12);
    visit.go(60, 15);
    visit.setpoint(20);
    visit.go(5, 15);
    const toT = T0 + (visit.s - 66) * 1000;
    expect(visit.event({ kind: 'amend', event: 'e1', toT })).toBeNull();
    visit.steady(15);
    visit.session.finish();
    expect(visit.finals().at(-1)?.before?.event).toEqual({ t: toT, kind: 'setpoint', valueC: 20 });
  });

  test('a setpoint that was told too late, once dated right, is judged as if told in time', () => {
    const rise = (lateS: number): Visit => {
      const visit = new Visit();
      visit.steady(15);
      const fromS = visit.s;
      const on = (seconds: number): void => {
        for (const to = visit.s + seconds; visit.s < to;) {
          visit.go(5, 12 + 3 * Math.exp(-(visit.s - fromS) / 150));
        }
      };
      on(lateS);
      visit.setpoint(16);
      on(10);
      if (lateS > 0) {
        const toT = T0 + fromS * 1000;
        expect(visit.event({ kind: 'amend', event: 'e1', toT })).toBeNull();
      }
      on(250 - lateS);
      return visit;
    };
    const inTime = rise(0).unit().settling;
    const late = rise(120).unit().settling;
    expect(inTime.plateauU95W).not.toBeNull();
    expect(late.state).toBe(inTime.state);
    expect(late.since).toBe(inTime.since);
    for (const field of ['plateauW', 'plateauU95W', 'approachS', 'steadyInS'] as const) {
      const part = (late[field] ?? NaN) / (inTime[field] ?? NaN);
      expect(part, field).toBeGreaterThan(0.97);
      expect(part, field).toBeLessThan(1.03);
    }
  });

  test('dated before most of the capture that came before it: that is no such capture any more', () => {
    const visit = new Visit();
    visit.steady(12);
    visit.setpoint(20);
    visit.go(5, 15);
    const from = visit.finals()[0]?.from ?? NaN;
    expect(visit.event({ kind: 'amend', event: 'e1', toT: from + 10_000 })).toBeNull();
    visit.steady(15);
    visit.session.finish();
    expect(visit.finals().at(-1)).not.toHaveProperty('before');
  });

  test('dated into a steady span, it ends that span there, which is the one before', () => {
    const visit = new Visit();
    visit.steady(12);
    visit.setpoint(20);
    visit.steady(15);
    const toT = T0 + (visit.s - 20) * 1000;
    expect(visit.event({ kind: 'amend', event: 'e1', toT })).toBeNull();
    visit.go(2, 15);
    expect(visit.unit().settling.state).not.toBe('steady');
    const cut = visit.finals().at(-1);
    expect(cut?.to).toBe(toT - 1000);
    visit.steady(18);
    visit.session.finish();
    const { before, from } = visit.finals().at(-1) ?? {};
    expect(from).toBeGreaterThanOrEqual(toT);
    expect(before).toMatchObject({ from: cut?.from, to: cut?.to, event: { t: toT } });
  });

  test.each([0.1, 0.205])(
    'it restarts nothing where the airflow has changed since, to %f',
    (flow) => {
      const visit = new Visit();
      visit.steady(12);
      visit.setpoint(20);
      visit.take({ type: 'airflow', t: T0 + visit.s * 1000, unit: 'u1', airflow: airflow(flow) });
      visit.steady(15);
      const told = visit.told.length;
      expect(
        visit.event({ kind: 'amend', event: 'e1', toT: T0 + (visit.s - 20) * 1000 }),
      ).toBeNull();
      visit.go(2, 15);
      expect(visit.unit().settling.state).toBe('steady');
      expect(visit.told).toHaveLength(told);
    },
  );
});
