/** Airflow in words, and what a person enters of tables and outlets. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { OutletState } from '../../server/protocol.ts';
import { readFanTable, tableText, tableWarnings } from '../../client/words/fan-table.ts';
import { factorWords, fittedFactor, outlierWords } from '../../client/words/free-area.ts';
import { comparisonWords, resultWords, sinceAirflow } from '../../client/words/measured.ts';
import { coilWords } from '../../client/words/measuring.ts';
import {
  kindsOf,
  kindWords,
  offerWords,
  openingsKnown,
  sameKind,
  surerFactors,
} from '../../client/words/outlet-kinds.ts';
import { outletTexts, readOutlet } from '../../client/words/outlet.ts';
import { scalesFor } from '../../client/words/scales.ts';
import { airflowWith, plain, T0, UNIT } from './fixtures.ts';

const SI = scalesFor({ temperature: 'C', flow: 'm3h', power: 'kW' });
const US = scalesFor({ temperature: 'F', flow: 'cfm', power: 'Btuh' });

const OUTLET: OutletState = {
  ...{ unit: 'u1', name: '', plane: 'supply', form: '', louverDeg: null },
  sections: [{ widthM: 0.1, lengthM: 0.6 }],
  freeArea: 0.9,
};

const result = airflowWith;

describe('a fan table', () => {
  it('is read as it comes from a spreadsheet, with a heading or without, in any order', () => {
    const wanted = [
      { name: 'Low', dryM3s: 300 / 3600, wetM3s: 280 / 3600 },
      { name: 'Super High', dryM3s: 560 / 3600, wetM3s: 520 / 3600 },
    ];
    for (const text of [
      'Low\t300\t280\nSuper High\t560\t520',
      'Speed\tDry\tWet\r\nSuper High\t560\t520\r\nLow\t300\t280\r\n',
      'Speed;Wet;Dry\nLow;280;300\nSuper High;520;560',
      'Low 300 280\nSuper High 560 520',
    ]) {
      expect(readFanTable(text, SI.flow).speeds, text).toEqual(wanted);
    }
    expect(readFanTable('Low 300', SI.flow).speeds).toEqual([{ name: 'Low', dryM3s: 300 / 3600 }]);
  });

  it.each([
    ['velocidad\tmojado\tseco', 'wet'],
    ['Velocidad; Húmedo; Seco', 'wet'],
    ['speed\twet\tdry', 'wet'],
    ['velocidad\tseco\tmojado', 'dry'],
  ])('a heading says which column comes first, whatever the language: %s', (heading, first) => {
    const read = readFanTable(`${heading}\nMedia\t450\t480`, SI.flow);
    const [dry, wet] = first === 'dry' ? [450, 480] : [480, 450];
    expect(read.speeds).toEqual([{ name: 'Media', dryM3s: dry / 3600, wetM3s: wet / 3600 }]);
  });

  it('its text is read again as it was', () => {
    fc.assert(
      fc.property(
        fc.array(fc.integer({ min: 100, max: 2000 }), { minLength: 1, maxLength: 6 }),
        (flows) => {
          const speeds = flows
            .toSorted((a, b) => a - b)
            .map((flow, i) => ({ name: `Speed ${'ABCDEF'[i] ?? ''}`, dryM3s: flow / 3600 }));
          const text = tableText({ speeds, basis: 'actual', plane: 'supply' }, SI.flow);
          const again = readFanTable(text, SI.flow).speeds ?? [];
          expect(again.map(({ name }) => name)).toEqual(speeds.map(({ name }) => name));
        },
      ),
    );
  });

  it('what is no table is refused with its line; swaps are told', () => {
    expect(readFanTable('Low 300\nHigh', SI.flow).refusal).toContain('line 2');
    expect(readFanTable('Low 3', SI.flow).refusal).toContain('m³/h');
    expect(readFanTable(' ', SI.flow).refusal).toContain('empty');
    const speeds = [
      { name: 'Low', dryM3s: 0.2, wetM3s: 0.21 },
      { name: 'High', dryM3s: 0.18, wetM3s: 0.17 },
    ];
    expect(tableWarnings(speeds)).toEqual([
      'Low: more air through a wet coil than a dry one. Are the columns swapped?',
      'High moves less than Low. Are the two swapped?',
    ]);
  });
});

describe('an outlet', () => {
  it('is entered in the person’s units, and read again as it was', () => {
    const texts = outletTexts({ ...OUTLET, sections: [{ widthM: 0.0635, lengthM: 0.6096 }] }, US);
    expect(texts.sections[0]).toMatchObject({ width: '2.5', length: '24' }); // 1 in is 25.4 mm exactly
    const { outlet } = readOutlet(texts, US);
    expect(outlet?.sections[0]?.lengthM).toBeCloseTo(0.6096, 9);
    expect(outlet?.freeArea).toBe(0.9);
  });

  it('supports take of its length; what is missing or cannot be is said', () => {
    const texts = outletTexts(OUTLET, SI);
    const first = texts.sections[0] ?? { width: '', length: '', blocked: '' };
    const with20 = { ...texts, sections: [{ ...first, blocked: '20' }] };
    expect(readOutlet(with20, SI).outlet?.sections[0]?.blockedM2).toBeCloseTo(0.1 * 0.02, 9);
    expect(readOutlet({ ...texts, sections: [{ ...first, width: '' }] }, SI).refusal).toContain(
      'The width is missing',
    );
    expect(readOutlet({ ...texts, freeArea: '4' }, SI).refusal).toContain('The free-area factor');
  });
});

describe('what was measured', () => {
  it('is named with what it holds for', () => {
    expect(resultWords(result({ each: [1, 2] }))).toBe('Sweep, 2 repeats, fan High, wet coil');
  });

  it('two methods agree, or one of them is off', () => {
    const heat = result({
      ...{ method: 'heat', outlet: null, probe: null },
      errors: [{ cause: 'escape', uPct: 1, shape: 0, shared: null }],
    });
    // 0.15 against 0.153: 2 % of ± 1.96 √(2² + 1² + 1²) % = ± 4.8 %.
    expect(plain(comparisonWords([heat, result({ flowM3s: 0.153 })]) ?? '')).toBe(
      'Sweep and metered heater agree: they differ by +2 ± 5 %.',
    );
    expect(comparisonWords([heat, result({ flowM3s: 0.2 })])).toContain('do not agree');
    expect(comparisonWords([result()])).toBeNull();
  });

  it('a change since the last visit: the same anemometer’s error is in both and does not count', () => {
    const now = result({ flowM3s: 0.14, velocityMs: 2.5 * (14 / 15) });
    // 0.15 to 0.14: −7 %, of ± 1.96 √2 × 1 % = ± 2.8 % of 0.93.
    expect(plain(sinceAirflow(now, [result()])[0] ?? '')).toMatch(/: −7 ± 3 %\. Likely real\.$/);
    const near = result({ flowM3s: 0.149, velocityMs: 2.5 * (149 / 150) });
    expect(sinceAirflow(near, [result()])[0]).toMatch(/May be noise\.$/);
    // With another anemometer, of whatever model: ± 1.96 √2 √(2² + 1²) % = ± 6.2 % of 0.93 = 5.8 %.
    const other = result({
      errors: result().errors.map((e) => (e.shared === null ? e : { ...e, shared: 'probe w' })),
    });
    expect(plain(sinceAirflow(now, [other])[0] ?? '')).toContain('−7 ± 6 %');
  });

  it('an opening’s error is in both only where its sides and its factor are the same figures', () => {
    const errors = [{ cause: 'area', uPct: 3, shape: 0, shared: 'outlet o1' }];
    const now = result({ errors, flowM3s: 0.14, velocityMs: 2.5 * (14 / 15) });
    expect(plain(sinceAirflow(now, [result({ errors })])[0] ?? '')).toContain('−7 ± 0 %');
    // Its factor was fitted anew since then: ± 1.96 √2 × 3 % = ± 8.3 % of 0.93.
    const anew = { ...now, velocityMs: 2.5 };
    expect(plain(sinceAirflow(anew, [result({ errors })])[0] ?? '')).toContain('−7 ± 8 %');
  });

  it('is compared with the marked one at its fan speed, else the newest; what is unlike is said', () => {
    const [newest, marked] = [
      result({ flowM3s: 0.16, t: T0 - 1000 }),
      result({ flowM3s: 0.2, t: T0 - 2000, baseline: true }),
    ];
    const low = result({ flowM3s: 0.3, t: T0 - 3000, baseline: true, fan: 'Low' });
    expect(sinceAirflow(result(), [newest, marked, low])[0]).toMatch(/\(baseline\): −25/);
    expect(sinceAirflow(result(), [newest, low])[0]).toMatch(/: −6/);
    expect(sinceAirflow(result({ fan: 'Medium' }), [newest, low])).toEqual([]);
    const heat = result({ method: 'heat', wetness: 0, errors: [], velocityMs: null });
    expect(sinceAirflow(result(), [heat])[1]).toBe(
      'They are not alike: the earlier one by another method (metered heater); one with a wet coil, one with a dry one.',
    );
  });

  it('a factor is fitted to independent flows at the same fan speed, and to no table', () => {
    const heat = (fan: string, flowM3s: number) =>
      result({
        method: 'heat',
        outlet: null,
        fan,
        flowM3s,
        velocityMs: null,
        u95M3s: 0.02 * flowM3s,
      });
    // 2.5 m/s × 0.06 m² = 0.15; × 0.8 = 0.12.
    const results = [
      result(),
      heat('High', 0.12),
      result({ fan: 'Low', velocityMs: 1.5 }),
      heat('Low', 0.072),
    ];
    const fitted = fittedFactor(results, { o1: OUTLET });
    expect(fitted?.fit.factor).toBeCloseTo(0.8, 6);
    expect(fitted === null ? '' : factorWords(fitted)).toContain('from 2 flows');
    expect(fitted === null ? '' : outlierWords(fitted)).toBeNull();
    expect(fittedFactor([result()], { o1: OUTLET })).toBeNull();
    // A hood is as good as a heater.
    const byHood = results.map((r) =>
      r.method === 'heat' ? { ...r, method: 'reference' as const } : r,
    );
    expect(fittedFactor(byHood, { o1: OUTLET })?.fit.factor).toBeCloseTo(0.8, 6);
  });

  it('the coil: what it counts as, and why', () => {
    const coil = { wetness: 1, removes: true, sinceT: T0 - 1_320_000, said: null };
    expect(plain(coilWords(coil, T0))).toBe(
      'The coil counts as wet: it has taken out moisture for 22 min.',
    );
    expect(coilWords({ ...coil, said: 'dry', wetness: 0 }, T0)).toContain('as entered');
  });
});

describe('kinds of openings', () => {
  const slot = { ...OUTLET, form: 'Wall unit, one slot' };
  const fitted = { ...slot, freeArea: 0.86, freeAreaLimit: 0.04, form: 'wall unit, one slot ' };
  const visit = {
    outlets: { o1: slot, o2: { ...fitted, unit: 'u2' }, o3: OUTLET },
    units: { u1: { ...UNIT, name: 'Study' }, u2: { ...UNIT, name: 'Hall' } },
  };
  const known = [
    {
      ...{ visit: 'v1', title: 'Mill Yard 2', t: T0, unitName: 'Loft' },
      outlet: { ...slot, freeArea: 0.88, freeAreaLimit: 0.02 },
    },
    {
      ...{ visit: 'v1', title: 'Mill Yard 2', t: T0, unitName: 'Loft' },
      outlet: { ...slot, plane: 'return' as const },
    },
  ];

  it('one of each is offered for a new opening, this visit’s first; none without a name', () => {
    const kinds = kindsOf(openingsKnown(visit, known));
    expect(kinds.map(({ id, from }) => [id, from.split(',')[0]])).toEqual([
      ['o2', 'Hall'],
      [null, 'Loft'],
    ]);
    const [first] = kinds;
    expect(plain(first === undefined ? '' : kindWords(first, SI))).toBe(
      'Outlet: 100 × 600 mm, free area 0.86 ± 0.04. From Hall.',
    );
    expect(kindsOf(openingsKnown({ ...visit, outlets: { o3: OUTLET } }, []))).toEqual([]);
  });

  it('the surest factor of its kind is offered to an outlet whose own is less sure', () => {
    const offers = (unit: string, earlier = known): unknown[] =>
      surerFactors(unit, openingsKnown(visit, earlier)).map(({ id, freeArea }) => [id, freeArea]);
    expect(offers('u1')).toEqual([['o1', 0.88]]);
    expect(offers('u2')).toEqual([['o2', 0.88]]);
    expect(offers('u1', [])).toEqual([['o1', 0.86]]);
    expect(offers('u2', [])).toEqual([]);
    expect(plain(offerWords('Hall', 0.86, 0.04))).toContain('0.86 ± 0.04 (Hall).');
  });

  it('a fitted factor is that of all outlets of the kind in the visit', () => {
    expect(sameKind('o1', visit.outlets)).toEqual(['o1', 'o2']);
    expect(sameKind('o3', visit.outlets)).toEqual(['o3']);
  });
});
