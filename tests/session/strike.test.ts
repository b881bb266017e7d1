/** Captures that were a mistake: struck out, taken back, and what was compared with them. */
import { describe, expect, test } from 'vitest';
import type { EventLine, StrikeEvent } from '../../adapters/contract.ts';
import { areEnoughCycles } from '../../server/measure/whole-cycles.ts';
import { type Capture, captureKey } from '../../server/protocol.ts';
import { PacedVisit, setUp, T0, TestVisit } from './visit.ts';

class Visit extends PacedVisit {
  /** Long enough for a capture that is made by itself. */
  override steady(supplyC: number): void {
    super.steady(supplyC, 150);
  }

  tell(event: Partial<EventLine> & { kind: EventLine['kind'] }): string | null {
    const t = T0 + this.s * 1000;
    return this.take({ type: 'event', t, unit: 'u1', ...event } as EventLine);
  }

  setpoint(valueC: number): void {
    expect(this.tell({ kind: 'setpoint', valueC })).toBeNull();
  }

  strike(
    { from, to, by }: Pick<Capture, 'from' | 'to' | 'by'>,
    more: Partial<StrikeEvent> = {},
  ): string | null {
    return this.tell({ kind: 'strike', from, to, by, ...more });
  }

  /** The capture of the span of so much, by itself. */
  at(index: number): Capture {
    const found = this.captures.filter(({ by }) => by === 'itself')[index];
    if (found === undefined) throw new Error(`there is no capture ${index}`);
    return found;
  }
}

/** Three spans with a setpoint between each two; the last one goes on. */
function threeSpans(): Visit {
  const visit = new Visit();
  visit.steady(12);
  visit.setpoint(20);
  visit.steady(15);
  visit.setpoint(22);
  visit.steady(17);
  return visit;
}

describe('a capture that is struck', () => {
  test('is told again with when and why, and without; the figures stay', () => {
    const visit = threeSpans();
    const first = visit.at(0);
    const told = visit.told.length;
    expect(visit.strike(first, { text: 'the door was open' })).toBeNull();
    const t = T0 + visit.s * 1000;
    expect(visit.at(0)).toEqual({ ...first, struck: { t, text: 'the door was open' } });
    // No reason need be given.
    expect(visit.strike(first, { text: '' })).toBeNull();
    expect(visit.at(0)).toEqual({ ...first, struck: { t } });
    expect(visit.strike(first, { struck: false })).toBeNull();
    expect(visit.at(0)).toEqual(first);
    expect(visit.told.length).toBeGreaterThan(told);
    // It is no event of the unit.
    expect(visit.events.map(({ kind }) => kind)).toEqual(['setpoint', 'setpoint']);
  });

  test('is compared with nothing, and nothing with it: the one before it takes its place', () => {
    const visit = threeSpans();
    const [first, second, third] = [visit.at(0), visit.at(1), visit.at(2)];
    expect(third.before).toMatchObject({ from: second.from, event: { valueC: 22 } });
    expect(visit.strike(second)).toBeNull();
    expect(visit.at(1)).not.toHaveProperty('before');
    expect(visit.at(2).before).toMatchObject({ from: first.from, event: { valueC: 22 } });
    const { before } = visit.at(2);
    expect(before?.differenceW).toBeCloseTo(third.totalW - first.totalW, 6);
    // And what is captured from here on is not either.
    visit.go(60, 17);
    expect(visit.at(2).before?.from).toBe(first.from);

    expect(visit.strike(first)).toBeNull();
    expect(visit.at(2)).not.toHaveProperty('before');

    expect(visit.strike(second, { struck: false })).toBeNull();
    expect(visit.strike(first, { struck: false })).toBeNull();
    expect(visit.at(1)).toEqual(second);
    expect(visit.at(2).before?.from).toBe(second.from);
  });

  test('before the change is not compared with after it', () => {
    const visit = new Visit();
    visit.steady(12);
    expect(visit.strike(visit.at(0))).toBeNull();
    visit.setpoint(20);
    visit.steady(15);
    expect(visit.at(1)).not.toHaveProperty('before');
  });

  test('while its span goes on it stays struck as it grows; a touch is another one', () => {
    const visit = new Visit();
    visit.steady(12);
    const open = visit.at(0);
    expect(open.open).toBe(true);
    expect(visit.strike(open)).toBeNull();
    visit.go(90, 12);
    expect(visit.at(0).to).toBeGreaterThan(open.to);
    expect(visit.at(0).struck).toBeDefined();
    expect(visit.tell({ kind: 'capture' })).toBeNull();
    expect(visit.captures.map(({ by, struck }) => [by, struck === undefined])).toEqual([
      ['itself', false],
      ['touch', true],
    ]);
    visit.session.finish();
    expect(visit.at(0)).not.toHaveProperty('open');
    expect(visit.at(0).struck).toBeDefined();
  });

  test('of several touches in one span only the one that is meant', () => {
    const visit = new Visit();
    visit.take({ type: 'visit', version: 1, captureAfterS: null });
    visit.steady(12);
    for (let i = 0; i < 3; i++) {
      expect(visit.tell({ kind: 'capture' })).toBeNull();
      visit.go(30, 12);
    }
    const [first, second] = visit.captures;
    if (first === undefined || second === undefined) throw new Error('no captures');
    expect(visit.strike(second)).toBeNull();
    const isStruck = () => visit.captures.map(({ struck }) => struck !== undefined);
    expect(isStruck()).toEqual([false, true, false]);
    // Without its end the newest is meant.
    const { from, by } = first;
    expect(visit.tell({ kind: 'strike', from, by })).toBeNull();
    expect(isStruck()).toEqual([false, true, true]);
  });

  test('is still there after a moved probe, though nothing compares with it any more', () => {
    const visit = new Visit();
    visit.steady(12);
    const moved = setUp().find((line) => line.type === 'probe');
    visit.take({ type: 'probe', id: moved?.id ?? '', unit: null });
    visit.take({ type: 'probe', id: moved?.id ?? '', unit: 'u1' });
    visit.steady(15);
    expect(visit.strike(visit.at(0))).toBeNull();
    expect(visit.at(0).struck).toBeDefined();
    expect(visit.at(1)).not.toHaveProperty('before');
  });

  test('one that is not there is refused by its field', () => {
    const visit = threeSpans();
    const first = visit.at(0);
    const { length } = visit.told;
    expect(visit.strike({ ...first, from: first.from + 1 })).toMatch(
      /^from: no capture of "u1" by itself begins at \d+.*name one as it was told/,
    );
    expect(visit.strike({ ...first, by: 'touch' })).toMatch(/^from: no capture of "u1" by touch/);
    expect(visit.strike(first, { unit: 'u9' })).toMatch(/^unit: .*no unit "u9"/);
    expect(visit.told).toHaveLength(length);
  });
});

/** What a touch is answered each time that a cycle more is averaged, with probes as good as that. */
function touched(limitC: number): string[] {
  const limits = { temperatureC: limitC, dewPointC: limitC };
  const visit = new TestVisit(
    setUp().map((line) => (line.type === 'probe' ? { ...line, limits } : line)),
  );
  const said: string[] = [];
  let averaged = -1;
  for (let s = 0; said.length < 5 && s < 6000; s++) {
    const x = s % 480;
    const supplyC = x < 192 ? 12 + 14 * Math.exp(-x / 30) : 26 - 14 * Math.exp(-(x - 192) / 30);
    visit.reading('r', s * 1000, { temperatureC: 26.7, dewPointC: 15 });
    visit.reading('s', s * 1000 + 300, { temperatureC: supplyC, dewPointC: 11 });
    const { state, cycle = null } = visit.snapshots.at(-1)?.units['u1']?.settling ?? {};
    if (state !== 'cycling' || cycle === null || cycle.averaged === averaged) continue;
    averaged = cycle.averaged ?? NaN;
    const { length } = visit.told;
    const t = T0 + s * 1000 + 300;
    const refusal = visit.take({ type: 'event', t, kind: 'capture', unit: 'u1' });
    const made = visit.told.slice(length).find(({ by }) => by === 'touch');
    expect(made === undefined).toBe(refusal !== null);
    said.push(refusal ?? `made over ${made?.cycles ?? 0}`);
  }
  return said;
}

test('a capture by touch of a unit that cycles is refused where its mean is not sure enough', () => {
  const more = (soFar: string): string => `unit: "u1" cycles, ${soFar} so far, a mean needs more`;
  const few = ['one whole cycle', '2 whole cycles'].map(more);
  expect(touched(0.1)).toEqual([...few, 'made over 3', 'made over 4', 'made over 5']);
  const unsure = touched(3);
  expect(unsure).toContain(more('3 whole cycles'));
  expect(unsure.filter((said) => said.startsWith('made'))).toEqual([]);
});

test('a mean over cycles can be written down from three on, where its interval is narrow', () => {
  expect(areEnoughCycles(2, 2000, 100)).toBe(false);
  expect(areEnoughCycles(3, 2000, 100)).toBe(true);
  expect(areEnoughCycles(3, 2000, null)).toBe(true);
  expect(areEnoughCycles(3, -2000, 601)).toBe(false);
});

test('what is told again under a key takes the place of what was told', () => {
  const visit = threeSpans();
  visit.strike(visit.at(1));
  visit.strike(visit.at(1), { struck: false });
  const keys = visit.captures.map(captureKey);
  expect(new Set(keys).size).toBe(keys.length);
  expect(keys).toHaveLength(3);
});
