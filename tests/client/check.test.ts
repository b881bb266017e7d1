import { describe, expect, it } from 'vitest';
import { along, extentOf, marksOf } from '../../client/probes/check/offset-line.ts';
import {
  candidates,
  checkedWords,
  foundWords,
  progressWords,
  takenWords,
  verdictWord,
  worthWords,
} from '../../client/words/check.ts';
import { tooEarly } from '../../client/words/reasons.ts';
import { scalesFor } from '../../client/words/scales.ts';
import { clockMinutes } from '../../client/words/times.ts';
import type { ProbeCheck } from '../../server/protocol.ts';
import { checkWith, foundWith, probeWith, T0 } from './fixtures.ts';

const si = scalesFor({ temperature: 'C', flow: 'm3h', power: 'kW' });
const us = scalesFor({ temperature: 'F', flow: 'cfm', power: 'Btuh' });
const plain = (text: string | null): string => (text ?? '').replace(/[\u202f\u00a0]/g, ' ');
const CHECK: ProbeCheck = {
  t: T0,
  temperatureOffsetC: 0.12,
  humidityOffsetPct: -1.34,
  atC: 22.4,
  atPct: 48,
  worth: 0.879,
};

describe('how far a check has come', () => {
  it('never says 100 % before it may be ended', () => {
    const heard = progressWords(checkWith({ progress: 0.999 }));
    expect(plain(heard)).toBe(`99 % of the time needed, since ${clockMinutes(T0)}.`);
    expect(plain(progressWords(checkWith({ verdict: 'moving', progress: 1 })))).toContain('99 %');
    expect(progressWords(checkWith({ verdict: 'agree', progress: 1 }))).toBe(
      'Enough readings: you can end it.',
    );
  });

  it('is too early until there is a verdict about the probes', () => {
    const early = (['listening', 'moving', 'agree', 'off'] as const).filter((verdict) =>
      tooEarly(checkWith({ verdict })),
    );
    expect(early).toEqual(['listening', 'moving']);
  });

  it('says how many are off; of two nobody can tell', () => {
    const off = (...agrees: (boolean | null)[]): string =>
      verdictWord(
        checkWith({
          verdict: 'off',
          probes: Object.fromEntries(agrees.map((a, i) => [`p${i}`, foundWith({ agrees: a })])),
        }),
      );
    expect(off(true, false, true)).toBe('One is off');
    expect(off(true, false, false, true)).toBe('2 are off');
    expect(off(false, false)).toBe('They differ');
    expect(verdictWord(checkWith({ verdict: 'agree' }))).toBe('They agree');
  });
});

describe('what was found and what is applied', () => {
  it('offsets have their interval: 1.96 standard uncertainties', () => {
    const found = foundWith({
      temperatureOffsetC: 0.123,
      uTemperatureC: 0.02,
      humidityOffsetPct: -1.34,
      uHumidityPct: 0.25,
      vapourOffsetPa: -31.2,
    });
    const words = foundWords(found, si);
    expect(plain(words.temperature)).toBe('+0.12 ± 0.04 K');
    expect(plain(words.humidity)).toBe('−1.3 ± 0.5 % RH');
    expect(plain(words.vapour)).toBe('−31 Pa');
    // 0.123 K is 0.221 Fahrenheit degrees.
    expect(plain(foundWords(found, us).temperature)).toBe('+0.22 ± 0.07 °F');
  });

  it('what is not known is a dash', () => {
    expect(foundWords(foundWith(), si)).toEqual({ temperature: '—', humidity: '—', vapour: null });
  });

  it('says what is taken off', () => {
    expect(plain(takenWords(CHECK, si))).toBe(
      'Corrected by +0.12 K, −1.3 % RH, taken off its readings.',
    );
    expect(takenWords(null, si)).toBe('Not corrected.');
    const nothing = { ...CHECK, temperatureOffsetC: null, humidityOffsetPct: null };
    expect(takenWords(nothing, si)).toBe('Not corrected.');
  });

  it('says how old it is, in which air it was made, and what it is still worth', () => {
    expect(plain(worthWords(CHECK, T0 + 12 * 60_000, si))).toBe(
      'Checked 12 min ago at 22.4 °C, 48 % RH; worth 88 % of a fresh check.',
    );
    // 22.4 °C is 72.32 °F.
    expect(plain(worthWords({ ...CHECK, atPct: null }, T0, us))).toBe(
      'Checked just now at 72.3 °F; worth 88 % of a fresh check.',
    );
  });

  it('the strip says whether and when', () => {
    expect(checkedWords(null, T0)).toBe('not checked');
    expect(plain(checkedWords(CHECK, T0 + 12 * 60_000))).toBe('checked 12 min ago');
    expect(checkedWords(CHECK, T0 + 1000)).toBe('checked just now');
    expect(checkedWords(CHECK, null)).toBe('checked');
  });
});

describe('the probes to choose from', () => {
  it('live ones with a temperature; those of the unit first, and preset', () => {
    const offered = candidates(
      {
        out: probeWith({ unit: null, place: 'outdoor' }),
        r1: probeWith(),
        late: probeWith({ state: 'stale', values: {} }),
        s1: probeWith({ place: 'supply' }),
        vane: probeWith({ place: 'outlet', values: { velocityMs: 2 } }),
      },
      'u1',
    );
    expect(offered.map(({ id, preset }) => [id, preset])).toEqual([
      ['r1', true],
      ['s1', true],
      ['out', false],
    ]);
  });
});

describe('the line of differences', () => {
  const check = checkWith({
    verdict: 'off',
    probes: {
      r1: foundWith({ temperatureOffsetC: -0.1, agrees: true }),
      s1: foundWith({ temperatureOffsetC: 0.45, humidityOffsetPct: 0.5, agrees: false }),
      gone: foundWith(),
    },
  });
  const probes = { r1: probeWith(), s1: probeWith({ name: 'S', place: 'supply' }) };

  it('has each probe with its limit, also one that is no longer known', () => {
    const marks = marksOf(check, probes, 'temperature');
    expect(marks.map(({ name, offset, limit, beyond }) => [name, offset, limit, beyond])).toEqual([
      ['R', -0.1, 0.3, false],
      ['S', 0.45, 0.3, true],
      ['gone', null, null, false],
    ]);
    const early = marksOf({ ...check, verdict: 'listening' }, probes, 'temperature');
    expect(early[1]?.beyond).toBe(false);
    // Off in temperature, not in humidity.
    expect(marksOf(check, probes, 'humidity')[1]?.beyond).toBe(false);
  });

  it('holds every probe with its limit, with round ends in the shown unit', () => {
    const marks = marksOf(check, probes, 'temperature');
    expect(extentOf(marks, si.offset)).toBe(1);
    expect(us.offset.show(extentOf(marks, us.offset))).toBeCloseTo(2, 12);
    expect(extentOf([], si.offset)).toBeGreaterThan(0);
  });

  it('has the mean in its middle', () => {
    expect([along(-1, 1), along(0, 1), along(0.5, 1)]).toEqual([0, 50, 75]);
  });
});
