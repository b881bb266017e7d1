/**
 * A return that breathes supply air, told by a probe in the room. Of two streams that mix, the share of
 * the second is (room − return)/(room − supply): a balance of heat, worked out here.
 */
import { describe, expect, test } from 'vitest';
import type { Line } from '../../../adapters/contract.ts';
import { scenario } from '../../../simulator/scenarios.ts';
import { setUp, TestVisit } from '../visit.ts';
import { play, type Second, spansOf } from './play.ts';

const CODE = 'return-breathes-supply';
const share = (text = ''): number => Number(/about (\d+) % of it is supply air/.exec(text)?.[1]);

interface Point {
  temperatureC: number;
  humidityPct: number;
}
/** Ten minutes of the same air. */
function still(
  mode: 'cooling' | 'heating',
  room: Point,
  ret: Point,
  sup: Point,
  limits = { temperatureC: 0.5, humidityPct: 2.5 },
): TestVisit {
  const place: Line = { type: 'probe', id: 'room', unit: 'u1', place: 'room' };
  const lines = [...setUp({ mode }), place];
  const visit = new TestVisit(
    lines.map((line) => (line.type === 'probe' ? { ...line, limits } : line)),
  );
  for (let s = 0; s < 600; s++) {
    visit.reading('r', 1000 * s, ret);
    visit.reading('s', 1000 * s + 300, sup);
    visit.reading('room', 1000 * s + 600, room);
  }
  return visit;
}
const found = (visit: TestVisit): number =>
  share(visit.unit().doubts.find(({ code }) => code === CODE)?.text);

test('a quarter: said within 4 min of the start, with the share', () => {
  const seconds: Second[] = [];
  play(scenario('short-circuit'), 1200, { each: (second) => seconds.push(second) });
  const spans = spansOf(seconds)[CODE];
  expect(spans).toHaveLength(1);
  expect(spans?.[0]?.[0]).toBeLessThan(240);
  const said = seconds.at(-1)?.unit.doubts.find(({ code }) => code === CODE);
  // Probes of ±0.3 K: 0.4 K of 11 K, 4 %.
  expect(Math.abs(share(said?.text) - 25)).toBeLessThanOrEqual(4);
});

describe('with the same air for ten minutes', () => {
  const room = { temperatureC: 26, humidityPct: 50 };
  const sup = { temperatureC: 13, humidityPct: 92 };

  test('a third, by temperature and by moisture', () => {
    // W by hand: 26 °C/50 % 10.5 g/kg, 13 °C/92 % 8.6: a third is 9.9 g/kg, at 21.7 °C 61 %.
    const ret = { temperatureC: 26 - 13 / 3, humidityPct: 61 };
    expect(Math.abs(found(still('cooling', room, ret, sup)) - 33)).toBeLessThanOrEqual(1);
  });

  test('not where only the spot of the room’s probe is warm: its moisture is the return’s', () => {
    // Dry supply: 13 °C/50 % holds 4.6 g/kg; at 23 °C 60 % are the room's 10.5 g/kg.
    const ret = { temperatureC: 23, humidityPct: 60 };
    const dry = { temperatureC: 13, humidityPct: 50 };
    const good = { temperatureC: 0.2, humidityPct: 1 };
    expect(found(still('cooling', room, ret, dry, good))).toBeNaN();
    // At the same temperatures a mixture is: 23 % of both is 9.1 g/kg, at 23 °C 52 %.
    expect(found(still('cooling', room, { ...ret, humidityPct: 52 }, dry, good))).toBe(23);
  });

  test('not where the room is as uneven as rooms are', () => {
    expect(found(still('cooling', room, { temperatureC: 24.9, humidityPct: 53 }, sup))).toBeNaN();
    expect(found(still('cooling', room, { temperatureC: 27.5, humidityPct: 46 }, sup))).toBeNaN();
  });

  test('heating: a third is said, warm air under the ceiling is not', () => {
    const hot = { temperatureC: 44, humidityPct: 12 };
    const cool = { temperatureC: 20, humidityPct: 42 };
    const third = { temperatureC: 28, humidityPct: 26 };
    expect(Math.abs(found(still('heating', cool, third, hot)) - 33)).toBeLessThanOrEqual(1);
    expect(found(still('heating', cool, { temperatureC: 23, humidityPct: 35 }, hot))).toBeNaN();
  });
});

test('a probe in the room is in no figure', () => {
  const seconds: Second[] = [];
  const parameters = scenario('short-circuit');
  play(parameters, 300, { each: (second) => seconds.push(second) });
  const without = { ...parameters, probes: parameters.probes.filter(({ id }) => id !== 'p4') };
  const others: Second[] = [];
  play(without, 300, { each: (second) => others.push(second) });
  expect(seconds.map(({ unit }) => unit.capacity)).toEqual(others.map(({ unit }) => unit.capacity));
});
