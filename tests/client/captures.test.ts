import { describe, expect, it } from 'vitest';
import {
  captureRefusal,
  captureWords,
  howMade,
  pairBars,
  pairWords,
  strikeOf,
  struckWords,
} from '../../client/words/captures.ts';
import { scalesFor } from '../../client/words/scales.ts';
import { clockMinutes } from '../../client/words/times.ts';
import type { Comparison, SettlingSnapshot } from '../../server/protocol.ts';
import { captureWith, doubtWith, plain, T0, unitWith } from './fixtures.ts';

const scales = scalesFor({ temperature: 'C', flow: 'm3h', power: 'kW' });

describe('whether something can be captured', () => {
  const refusal = (settling: Partial<SettlingSnapshot>): string | null => {
    const why = captureRefusal(unitWith({ settling }), true);
    return why === null ? null : plain(why);
  };

  it('steady, or whole cycles', () => {
    expect(refusal({ state: 'steady' })).toBeNull();
    const cycle = { periodS: 600, amplitudeW: 900, count: 3, meanU95W: null };
    expect(refusal({ state: 'cycling', plateauW: 2050, cycle })).toBeNull();
    expect(refusal({ state: 'cycling' })).toBe('Cycling: wait for whole cycles.');
  });

  it('otherwise it is said why not, and for how long', () => {
    expect(refusal({ steadyInS: 214 })).toBe('Not steady yet: about 4 min to go.');
    expect(refusal({ plateauW: 2600 })).toBe('Not steady yet, but nearly there.');
    expect(refusal({})).toBe('Not steady yet.');
    expect(refusal({ state: 'waiting' })).toContain('Too early');
    expect(refusal({ state: 'steady', defrost: { from: T0, to: null } })).toContain('Defrost');
    const none = unitWith({ capacity: { totalW: null }, settling: { state: 'steady' } });
    expect(captureRefusal(none, true)).toContain('no figure');
    expect(captureRefusal(unitWith({ settling: { state: 'steady' } }), false)).toContain(
      'Connection lost',
    );
  });
});

describe('what a touch does', () => {
  it('is said, and what is missing where there is no interval', () => {
    expect(captureWords(unitWith()).does).toBe('Records the figure with its ±.');
    const limits = (text: string): ReturnType<typeof doubtWith> =>
      doubtWith({ code: 'limits-unknown', text });
    const unit = unitWith({
      capacity: { totalU95W: null },
      doubts: [limits('The ± of the airflow is not known.'), limits('The ± of R is not known.')],
    });
    const missing = 'without a ±: the ± of the airflow is not known, the ± of R is not known.';
    expect(captureWords(unit)).toEqual({
      does: `Records the figure ${missing}`,
      done: `Captured ${missing}`,
    });
  });
});

describe('captures', () => {
  it('say how they were made', () => {
    const at = clockMinutes(T0);
    expect(plain(howMade(captureWith()))).toBe(`from ${at} over 3 min, steady, automatic`);
    expect(plain(howMade(captureWith({ by: 'touch', state: 'cycling', cycles: 3 })))).toBe(
      `from ${at} over 3 min, 3 whole cycles, by hand`,
    );
    expect(howMade(captureWith({ open: true }))).toContain('still growing');
  });
});

describe('a pair', () => {
  const before: Comparison = {
    event: { t: T0 - 60_000, kind: 'fan', speed: 'high' },
    from: T0 - 600_000,
    to: T0 - 300_000,
    totalW: 2430,
    totalU95W: 100,
    differenceW: 210,
    differenceU95W: 60,
    sensibleDifferenceW: 150,
    sensibleDifferenceU95W: 50,
    latentDifferenceW: -60,
    latentDifferenceU95W: 40,
  };

  it('gives the differences with their intervals and what lies between', () => {
    const words = pairWords(before, scales);
    expect(plain(words.total)).toBe(
      `after fan high at ${clockMinutes(T0 - 60_000)}: +0.21 ± 0.06 kW`,
    );
    expect(plain(`${words.sensible}, ${words.latent}`)).toBe(
      'sensible +0.15 ± 0.05 kW, latent −0.06 ± 0.04 kW',
    );
    expect(words.isReal).toBe(true);
    const event = { t: T0, kind: 'setpoint', valueC: 18 } as const;
    const setpoint = pairWords({ ...before, event, differenceU95W: 220 }, scales);
    expect(plain(setpoint.total)).toContain('after setpoint 18.0 °C');
    expect(setpoint.isReal).toBe(false);
  });

  it('is drawn on one scale that holds both intervals', () => {
    const bars = pairBars(captureWith({ totalW: 2640, totalU95W: 110 }), before);
    expect(bars.before.low).toBeGreaterThan(0);
    expect(bars.after.high).toBeLessThan(1);
    // 2330 to 2750 W: the first ends at 2530, the second begins at 2530.
    expect(bars.before.high).toBeCloseTo(bars.after.low, 9);
    expect(bars.after.value).toBeGreaterThan(bars.before.value);
    const alone = pairBars(captureWith({ totalU95W: null }), { ...before, totalU95W: null });
    expect(alone.before.low).toBe(alone.before.high);
  });
});

describe('a capture that was a mistake', () => {
  it('says when it was struck out, and why where that was said', () => {
    expect(struckWords({ t: T0 })).toBe(`Struck out at ${clockMinutes(T0)}.`);
    const why = 'the door was open';
    expect(struckWords({ t: T0, text: why })).toBe(`Struck out at ${clockMinutes(T0)}: ${why}.`);
    expect(struckWords({ t: T0, text: 'Wrong speed!' })).toMatch(/: Wrong speed!$/);
  });

  it('is named by its beginning, one by touch by its end as well', () => {
    const { unit, from, to } = captureWith();
    const own = { kind: 'strike', unit, from, by: 'itself' };
    expect(strikeOf(captureWith(), true, 'why')).toEqual({ ...own, struck: true, text: 'why' });
    expect(strikeOf(captureWith({ by: 'touch' }), false)).toEqual({
      ...{ ...own, by: 'touch' },
      ...{ to, struck: false },
    });
  });

  it('of a unit that cycles it is not captured before its mean is over three cycles', () => {
    const cycle = { periodS: 480, amplitudeW: 600, count: 5, averaged: 2, meanU95W: 100 };
    const unit = unitWith({
      settling: { state: 'cycling', plateauW: 2000, plateauU95W: 50, cycle },
    });
    expect(captureRefusal(unit, true)).toMatch(/^Cycling: 2 whole cycles so far/);
    const enough = { ...cycle, averaged: 3 };
    const later = { ...unit.settling, cycle: enough };
    expect(captureRefusal({ ...unit, settling: later }, true)).toBeNull();
  });
});
