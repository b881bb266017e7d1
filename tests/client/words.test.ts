import { describe, expect, it } from 'vitest';
import { doubtAnnouncement, stateAnnouncement } from '../../client/words/announcement.ts';
import { captureRefusal } from '../../client/words/captures.ts';
import { firstAgainst, isWritable, reasonsOf } from '../../client/words/reasons.ts';
import { scalesFor } from '../../client/words/scales.ts';
import { headline, lastFigure, trendOf } from '../../client/words/sentence.ts';
import { delayWords, settlingWords, stateWord } from '../../client/words/settling.ts';
import { levelOf } from '../../client/words/shown.ts';
import { clockMinutes, duration, roughDuration, timeOnDayOf } from '../../client/words/times.ts';
import { doubtWith, NO_AIR, plain, T0, unitWith } from './fixtures.ts';

const { power } = scalesFor({ temperature: 'C', flow: 'm3h', power: 'kW' });
/** Thin spaces as plain ones, to be read here. */
const said = (...args: Parameters<typeof headline>): string => plain(headline(...args));

describe('the sentence', () => {
  it.each([
    [{}, 'settling, still climbing'],
    [{ steadyInS: 214 }, 'settling, about 4 min to go, still climbing'],
    [{ plateauW: 2612, plateauU95W: 184 }, 'settling, nearly there, heading for 2.61 ± 0.21 kW'],
    [
      { plateauW: 2612, plateauU95W: 184, steadyInS: 214 },
      'settling, about 4 min to go, heading for 2.61 ± 0.21 kW',
    ],
    [{ plateauW: 2612, steadyInS: 214 }, 'settling, about 4 min to go, heading for 2.61 kW'],
  ])(
    'says how long it takes and where it is heading, as far as that is known',
    (settling, text) => {
      expect(said('Reading room', unitWith({ settling }), 'climbing', power)).toBe(
        `Reading room: ${text}.`,
      );
    },
  );

  it('without a forecast it says which way it goes', () => {
    expect(said('Hall', unitWith(), 'falling', power)).toBe('Hall: settling, still falling.');
    expect(said('Hall', unitWith(), 'level', power)).toBe('Hall: settling, not steady yet.');
    expect(said('Hall', unitWith(), null, power)).toBe('Hall: settling, not steady yet.');
  });

  it('says since when it is steady, and at what figure', () => {
    const steady = { state: 'steady', since: T0, levelW: 2655, plateauW: 2631 } as const;
    expect(said('Hall', unitWith({ settling: steady }), null, power)).toBe(
      `Hall: steady since ${clockMinutes(T0)} at 2.66 kW of cooling.`,
    );
    const hovers = (hoverW: number): string =>
      said('Hall', unitWith({ settling: { ...steady, hoverW } }), null, power);
    expect(hovers(53)).toContain('at 2.66 kW of cooling, hovering by ±2 %.');
    expect(hovers(21)).toContain('hovering by ±1 %.');
    // Less than a per cent is nothing to speak of.
    expect(hovers(19)).toContain('at 2.66 kW of cooling.');
    const noMode = unitWith({ mode: null, settling: steady });
    expect(said('Hall', noMode, null, power)).toBe(
      `Hall: steady since ${clockMinutes(T0)} at 2.66 kW.`,
    );
  });

  it('says the period of cycling and its mean over whole cycles, even where nothing is delivered', () => {
    const cycle = { periodS: 728, amplitudeW: 900, count: 3, meanU95W: null };
    const cycling = (settling: object, totalW = 2640): ReturnType<typeof unitWith> =>
      unitWith({ capacity: { totalW }, settling: { state: 'cycling', ...settling } });
    expect(said('Hall', cycling({ cycle, plateauW: 2050, plateauU95W: 51 }, 12), null, power)).toBe(
      'Hall: cycling, about every 12 min, mean 2.05 ± 0.12 kW over 3 whole cycles.',
    );
    expect(said('Hall', cycling({ cycle }), null, power)).toBe(
      'Hall: cycling, about every 12 min, a mean needs whole cycles.',
    );
    expect(said('Hall', cycling({}), null, power)).toBe(
      'Hall: cycling on and off, a mean needs whole cycles.',
    );
  });

  it('says since when it defrosts, and when it counts again', () => {
    const defrost = { from: T0, to: null as number | null };
    const unit = unitWith({ mode: 'heating', capacity: { totalW: -700 }, settling: { defrost } });
    expect(said('Hall', unit, 'falling', power)).toBe(
      `Hall: defrosting since ${clockMinutes(T0)}; nothing counts until five minutes after it ends.`,
    );
    expect(stateWord(unit.settling)).toBe('Defrost');
    defrost.to = T0 + 240_000;
    expect(said('Hall', unit, 'falling', power)).toBe(
      `Hall: defrosted from ${clockMinutes(T0)} to ${clockMinutes(T0 + 240_000)}; counted again from ${clockMinutes(T0 + 540_000)}.`,
    );
  });

  it('does not call the wrong direction cooling', () => {
    const unit = unitWith({ capacity: { totalW: -500, totalU95W: 60 } });
    expect(said('Hall', unit, 'level', power)).toBe(
      'Hall: 0.50 kW of heating, though it should be cooling.',
    );
  });

  it('claims nothing that the interval does not carry', () => {
    const unit = unitWith({ capacity: { totalW: 80, totalU95W: 110 } });
    expect(said('Hall', unit, 'level', power)).toBe('Hall: too little cooling to measure.');
  });

  it('says when there is no figure', () => {
    const unit = unitWith({ capacity: { totalW: null } });
    expect(said('Hall', unit, null, power)).toBe('Hall: no capacity figure yet.');
    const silent = { ...unit, return: NO_AIR, supply: NO_AIR };
    expect(said('Hall', silent, null, power)).toBe('Hall: waiting for readings.');
    const last = { t: T0, totalW: 2552, totalU95W: 347 };
    expect(said('Hall', silent, null, power, last)).toBe(
      `Hall: no figure now; last 2.55 ± 0.35 kW at ${clockMinutes(T0)}.`,
    );
    expect(said('Hall', null, null, power)).toBe('Hall: waiting for readings.');
  });
});

describe('settling', () => {
  const still = { state: 'steady', movedW: 21, lookedS: 180, aheadW: 44, levelW: 2640 } as const;
  const standing = ['check-missing', 'airflow-not-measured', 'check-old'];

  it('says what steady means, and that the figure can be written down', () => {
    const doubts = standing.map((code) => doubtWith({ code }));
    const unit = unitWith({ settling: still, doubts });
    expect(plain(settlingWords(unit, T0 + 360_000, power))).toBe(
      'Over the last 3 min its mean moved less than 1 %, and it would move less than 2 % in the next ten minutes. You can write this figure down.',
    );
  });

  it('rounds a movement up, and says it in the unit where the level is small', () => {
    const moved = (movedW: number, levelW: number): string =>
      plain(settlingWords(unitWith({ settling: { movedW, lookedS: 60, levelW } }), T0, power));
    expect(moved(27, 2640)).toBe(
      'Over the last 1 min its mean moved less than 2 %. Wait before you write it down.',
    );
    expect(moved(0, 2640)).toContain('less than 1 %');
    expect(moved(21, 300)).toContain('less than 0.03 kW');
    expect(moved(0, 300)).toContain('less than 0.01 kW');
  });

  describe('cycling', () => {
    /** Over so many cycles, the mean known to so many watts by itself, the figure to 110 W. */
    const cycling = (count: number, plateauU95W: number | null, totalU95W: number | null = 110) =>
      unitWith({
        capacity: { totalU95W },
        settling: {
          ...{ state: 'cycling', plateauW: 2050, plateauU95W },
          cycle: { periodS: 600, amplitudeW: 900, count, meanU95W: null },
        },
      });
    const words = (...args: Parameters<typeof cycling>): string =>
      plain(settlingWords(cycling(...args), T0, power));

    it('says the mean with the interval of its scatter and of the figure', () => {
      // √(51² + 110²) = 121
      expect(words(3, 51)).toBe('The mean over 3 whole cycles is 2.05 ± 0.12 kW. Write that down.');
      expect(words(3, 51, null)).toContain('is 2.05 kW. Its ± is not known');
    });

    it.each([
      [0, 51, 'No whole cycle yet'],
      [1, 51, 'One whole cycle so far'],
      [2, 51, '2 whole cycles so far'],
      // 30 % of it are 615 W: √(610² + 110²) is more.
      [5, 610, '5 whole cycles so far'],
    ])('with %i cycles and ± %i W a mean needs some more', (count, u95W, soFar) => {
      const unit = cycling(count, u95W);
      expect(words(count, u95W)).toBe(`${soFar}, a mean needs more. Keep measuring.`);
      expect(said('Hall', unit, null, power)).toContain(
        `, ${soFar.toLowerCase()}, a mean needs more.`,
      );
      expect(captureRefusal(unit, true)).toBe(
        `Cycling: ${soFar.toLowerCase()}, a mean needs more.`,
      );
      expect(captureRefusal(cycling(3, 51), true)).toBeNull();
    });
  });

  it('shows the smoothed level, and says how far it is behind', () => {
    const unit = unitWith({ settling: { levelW: 2600, levelDelayS: 5 } });
    expect(levelOf(unit)).toBe(2600);
    expect(plain(delayWords(unit.settling) ?? '')).toBe('mean of the last 10 s, so 5 s behind');
    expect(levelOf(unitWith())).toBe(2640);
    expect(delayWords(unitWith().settling)).toBeNull();
    // After something was told the mean is over fewer seconds.
    expect(delayWords(unitWith({ settling: { levelDelayS: 4.5 } }).settling)).toBeNull();
    // What cannot be worked out now is not shown from what was smoothed before.
    const none = unitWith({ capacity: { totalW: null }, settling: { levelW: 2600 } });
    expect(levelOf(none)).toBeNull();
  });

  it('a steady figure without an interval is not to be written down', () => {
    const unit = unitWith({ settling: { state: 'steady' }, capacity: { totalU95W: null } });
    expect(plain(settlingWords(unit, T0 + 360_000, power))).toBe(
      'For 6 min. Steady, but see below.',
    );
    expect(firstAgainst(unit)).toBeNull();
  });

  it.each(['pressure-assumed', 'probe-late'])('nor is one with %s, which is named', (code) => {
    const [mend, other] = [doubtWith({ code }), doubtWith({ code: 'transient' })];
    const doubts = [...standing.map((each) => doubtWith({ code: each })), mend, other];
    const unit = unitWith({ settling: { state: 'steady' }, doubts });
    expect(plain(settlingWords(unit, T0 + 360_000, power))).toBe('For 6 min. Steady, but:');
    expect(firstAgainst(unit)).toBe(mend);
  });

  it('doubts about humidity do not stand against a heating figure, nor those that its interval holds', () => {
    const doubtsOf = (codes: string[]) => codes.map((code) => doubtWith({ code }));
    const unit = (mode: 'heating' | 'cooling', ...codes: string[]) =>
      unitWith({ mode, settling: { state: 'steady' }, doubts: doubtsOf(codes) });
    const held = ['humidity-range', 'humidity-saturated'];
    const ofHumidity = ['humidity-disagrees', 'humidity-missing', 'probe-wet'];
    expect(isWritable(unit('heating', ...held, ...ofHumidity))).toBe(true);
    expect(firstAgainst(unit('heating', ...held, ...ofHumidity))).toBeNull();
    expect(isWritable(unit('heating', 'transient'))).toBe(false);
    expect(isWritable(unit('cooling', ...held))).toBe(true);
    for (const code of ofHumidity) {
      expect(isWritable(unit('cooling', code))).toBe(false);
      expect(firstAgainst(unit('cooling', code))?.code).toBe(code);
    }
  });

  it('one judgement: steady is steady, with by how much it may move', () => {
    const words = (aheadW: number): string =>
      plain(settlingWords(unitWith({ settling: { ...still, aheadW } }), T0, power));
    for (const [aheadW, share] of [
      [79, '3 %'],
      [120, '5 %'],
    ] as const) {
      expect(words(aheadW)).toBe(
        `Over the last 3 min its mean moved less than 1 %, and it would move less than ${share} in the next ten minutes. You can write this figure down.`,
      );
    }
  });

  it('an idle unit is waited for, and nothing is said of readings', () => {
    const idle = (totalW: number, totalU95W: number | null) =>
      unitWith({ capacity: { totalW, totalU95W }, settling: { state: 'waiting' } });
    const text = 'Too little output to measure. Waiting for the unit to start.';
    for (const unit of [idle(80, 110), idle(-80, 110), idle(40, null)]) {
      expect(settlingWords(unit, T0, power)).toBe(text);
      expect(captureRefusal(unit, true)).toBe(text);
      expect(said('Hall', unit, null, power)).toBe('Hall: too little cooling to measure.');
    }
    for (const unit of [idle(2640, 110), idle(60, null)]) {
      expect(settlingWords(unit, T0, power)).toContain('Too early');
      expect(captureRefusal(unit, true)).toContain('Too early');
    }
  });

  it.each([
    ['coil-drying', 'the fan runs and the coil dries', /^The fan runs and the coil dries/],
    ['probes-differ', 'probes at one place disagree, so do not trust the figure', /disagree/],
  ])(
    'a unit that waits in a situation is not waited for to start: %s',
    (code, sentence, meaning) => {
      const unit = unitWith({
        capacity: { totalW: -80, totalU95W: 110 },
        ...{ settling: { state: 'waiting' }, doubts: [doubtWith({ code })] },
      });
      expect(said('Hall', unit, null, power)).toBe(`Hall: ${sentence}.`);
      expect(settlingWords(unit, T0, power)).toMatch(meaning);
      expect(captureRefusal(unit, true)).toMatch(meaning);
    },
  );

  it('what a unit with reheat gives is named so, and can be written down', () => {
    const settling = {
      state: 'steady',
      since: T0,
      levelW: 1010,
      levelSensibleW: -800,
      levelLatentW: 1810,
    } as const;
    const unit = unitWith({ settling, doubts: [doubtWith({ code: 'reheat' })] });
    expect(said('Hall', unit, null, power)).toMatch(/ at 1\.01 kW of dehumidifying\.$/);
    expect(settlingWords(unit, T0, power)).toContain('You can write this figure down');
  });

  it('is announced without figures, so that it is read out only when it changes', () => {
    const late = (ageS: number): ReturnType<typeof unitWith> => {
      const text = `Supply right is late: its last reading is ${ageS} s old.`;
      const doubts = [doubtWith({ code: 'probe-late', probe: 'p2', text })];
      return unitWith({ doubts, capacity: { totalW: 2000 + ageS } });
    };
    const probes = { p2: { name: 'Supply right' } };
    expect(stateAnnouncement('Hall', late(11))).toBe('Hall: settling.');
    const one = doubtAnnouncement(late(11), probes);
    expect(one).toBe('Supply right is late.');
    expect(doubtAnnouncement(late(12), probes)).toBe(one);
  });
});

describe('the last figure', () => {
  it('is the last one that there was, with its interval', () => {
    const t = [T0, T0 + 1000, T0 + 2000];
    expect(lastFigure(t, [100, 200, null], [110, 220, null])).toEqual({
      t: T0 + 1000,
      totalW: 200,
      totalU95W: 20,
    });
    expect(lastFigure(t, [null, 200, null], [null, null, null])?.totalU95W).toBeNull();
    expect(lastFigure(t, [null, null, null], [null, null, null])).toBeNull();
  });
});

describe('the trend', () => {
  const t = Array.from({ length: 120 }, (_, i) => T0 + i * 1000);
  it('compares the last quarter of a minute with the one a minute ago', () => {
    expect(
      trendOf(
        t,
        t.map((_, i) => 1000 + 5 * i),
      ),
    ).toBe('climbing');
    expect(
      trendOf(
        t,
        t.map((_, i) => 3000 - 5 * i),
      ),
    ).toBe('falling');
    expect(
      trendOf(
        t,
        t.map((_, i) => 3000 + (i % 2)),
      ),
    ).toBe('level');
  });
  it('looks at nothing before a change: an entered pressure is no fall of the unit', () => {
    // The figure is 3 % lower from the second on in which the pressure was entered.
    const values = t.map((_, i) => (i < 80 ? 3000 : 2910));
    const since = T0 + 80_000;
    expect(trendOf(t, values)).toBe('falling');
    expect(trendOf(t, values, since)).toBe('level');
    expect(trendOf(t.slice(0, 110), values.slice(0, 110), since)).toBeNull();
    // What moves after the change is told all the same.
    const rising = t.map((_, i) => (i < 80 ? 3000 : 2500 + 10 * i));
    expect(trendOf(t, rising, since)).toBe('climbing');
  });
  it('looks at nothing beyond a gap: it may be of another mode', () => {
    const values = t.map((_, i): number | null => (i < 90 ? -1000 : 3000));
    values[90] = null;
    expect(trendOf(t, values)).toBeNull();
  });
  it('says nothing without a minute of figures', () => {
    expect(trendOf([], [])).toBeNull();
    expect(
      trendOf(
        t.slice(0, 10),
        t.slice(0, 10).map(() => 1),
      ),
    ).toBeNull();
    expect(
      trendOf(
        t,
        t.map(() => null),
      ),
    ).toBeNull();
  });
});

describe('why a figure is missing', () => {
  const noFlow = doubtWith({
    code: 'airflow-missing',
    text: 'No airflow is known.',
    remedy: 'Enter it.',
  });
  const late = doubtWith({ code: 'probe-late', probe: 'r', text: 'R is late.' });
  it('takes the reason out of the doubts', () => {
    const unit = unitWith({ capacity: { totalW: null, totalU95W: null }, doubts: [late, noFlow] });
    expect(reasonsOf(unit)).toEqual({ missing: [noFlow], others: [late] });
  });
  it('has a sentence where no doubt explains it', () => {
    const unit = unitWith({ capacity: { totalW: null, totalU95W: null } });
    expect(reasonsOf(unit).missing.map(({ text }) => text)).toEqual(['Not enough readings yet.']);
  });
  it('during a side-by-side check, probes are not missed at their places', () => {
    const checking = doubtWith({ code: 'check-running', text: 'R and S are being checked.' });
    const gone = ['return-missing', 'supply-missing'].map((code) =>
      doubtWith({ code, text: code }),
    );
    const unit = unitWith({
      capacity: { totalW: null, totalU95W: null },
      doubts: [checking, ...gone, late],
    });
    expect(reasonsOf(unit)).toEqual({ missing: [checking], others: [late] });
    expect(said('Hall', unit, null, power)).toBe('Hall: its probes are in a side-by-side check.');
    expect(doubtAnnouncement(unit, { r: { name: 'R' } })).toBe(
      'R and S are being checked. R is late.',
    );
  });
  it('leaves the doubts alone where nothing is missing', () => {
    expect(reasonsOf(unitWith({ doubts: [late] }))).toEqual({ missing: [], others: [late] });
  });
});

describe('a time of day', () => {
  const at = (day: number, h: number, m: number, s = 0): number =>
    new Date(2026, 4, day, h, m, s).getTime();
  it('is on the day of what it changes, or across the nearest midnight', () => {
    expect(timeOnDayOf(at(4, 12, 0, 7), '11:58:30')).toBe(at(4, 11, 58, 30));
    expect(timeOnDayOf(at(4, 12, 0, 7), '11:58')).toBe(at(4, 11, 58));
    expect(timeOnDayOf(at(4, 0, 1), '23:59')).toBe(at(3, 23, 59));
    expect(timeOnDayOf(at(4, 23, 59), '00:01')).toBe(at(5, 0, 1));
  });
  it('is refused where it is none', () => {
    expect(['', '25:00', '12:61', 'noon'].map((text) => timeOnDayOf(T0, text))).toEqual([
      null,
      null,
      null,
      null,
    ]);
  });
});

describe('times', () => {
  it.each([
    [0.4, '0 s'],
    [59.6, '1 min'],
    [214, '4 min'],
    [3600, '1 h'],
    [4815, '1 h 20 min'],
  ])('%d s is %s', (given, text) => {
    expect(plain(duration(given))).toBe(text);
  });

  it('rounds up what is only roughly known', () => {
    expect(plain(roughDuration(3))).toBe('10 s');
    expect(plain(roughDuration(61))).toBe('1 min');
    expect(plain(roughDuration(130))).toBe('3 min');
  });
});
