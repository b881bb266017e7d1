/** Where the push test stands, and what it says. */
import { describe, expect, it } from 'vitest';
import { pushStep } from '../../client/words/push.ts';
import { scalesFor } from '../../client/words/scales.ts';
import type { Expected } from '../../server/protocol.ts';
import { captureWith, eventWith, plain, T0, unitWith } from './fixtures.ts';

const SI = scalesFor({ temperature: 'C', flow: 'm3h', power: 'kW' });
const US = scalesFor({ temperature: 'F', flow: 'cfm', power: 'Btuh' });
const MIN = 60_000;
const EXPECTED: Expected = {
  ...{ type: 'expected', unit: 'u1', t: T0, now: null, why: 'nothing' },
  ...{ fullDemand: null, push: null, efficiency: null },
};
const BASE = {
  ...{ mode: 'cooling' as const, setpointC: 22, unit: unitWith(), events: [], captures: [] },
  expected: EXPECTED,
};
const MADE = [captureWith({ from: T0 - 10 * MIN, to: T0 })];
const push = (t: number) => eventWith({ kind: 'setpoint', unit: 'u1', t, valueC: 16 });

describe('the push test', () => {
  it('needs a capture to compare with, then says how far to push', () => {
    expect(pushStep(BASE, SI)).toEqual({ is: 'capture-first' });
    expect(pushStep({ ...BASE, captures: MADE }, SI)).toEqual({ is: 'ready', valueC: 16 });
    const us = pushStep({ ...BASE, captures: MADE }, US);
    expect(us.is === 'ready' && us.valueC).toBeCloseTo(16.111, 3);
    expect(pushStep({ ...BASE, mode: 'heating', captures: MADE }, SI)).toEqual({
      is: 'ready',
      valueC: 30,
    });
  });

  it('with the setpoint as far as it goes only boost is left', () => {
    expect(pushStep({ ...BASE, captures: MADE, setpointC: 16 }, SI)).toEqual({
      is: 'ready',
      valueC: null,
    });
  });

  it('waits for the capture after it', () => {
    const after = { ...BASE, setpointC: 16, captures: MADE, events: [push(T0 + MIN)] };
    const step = pushStep(after, SI);
    expect(step.is).toBe('waiting');
    const answered = [...MADE, captureWith({ from: T0 + 5 * MIN, to: T0 + 15 * MIN })];
    expect(pushStep({ ...after, captures: answered }, SI).is).toBe('ready');
  });

  it('shown, it says when and at which setpoint', () => {
    const expected = { ...EXPECTED, fullDemand: { t: T0, valueC: 16 } };
    const step = pushStep({ ...BASE, captures: MADE, expected }, SI);
    expect(step.is === 'shown' && plain(step.says)).toMatch(
      /^Shown at \d\d:\d\d, setpoint 16\.0 °C\.$/,
    );
  });
});
