/** Other heads of the same outdoor unit: two heads that ask for more than the compressor has. */
import { describe, expect, test } from 'vitest';
import { scenario } from '../../../simulator/scenarios.ts';
import { play, type Second, spansOf } from './play.ts';

const CODE = 'other-head';
const STARTS = 1500;
/** The workshop rests, the reading room asks for all there is; then the workshop starts. */
const ACTS = [
  { atS: 5, unit: 'u2', setpointC: 30 },
  { atS: 200, setpointC: 17 },
  { atS: STARTS, unit: 'u2', setpointC: 17 },
];
function played(name: string, units: string[], setpointC = 17): Second[] {
  const seconds: Second[] = [];
  const acts = ACTS.map((act) => ('unit' in act ? act : { ...act, setpointC }));
  play(scenario(name), 2400, { acts, units, each: (second) => seconds.push(second) });
  return seconds;
}
const textOf = (seconds: Second[]): string =>
  seconds.at(-1)?.unit.doubts.find(({ code }) => code === CODE)?.text ?? '';

describe('the other head starts', () => {
  test('in the visit: it is named within 3 min, with what each took and lost', () => {
    const seconds = played('two-heads', ['u1', 'u2']);
    const spans = spansOf(seconds)[CODE];
    expect(spans?.[0]?.[0]).toBeGreaterThan(STARTS);
    expect(spans?.[0]?.[0]).toBeLessThan(STARTS + 180);
    const lostW = 1000 * Number(/this unit fell by (\S+) kW/.exec(textOf(seconds))?.[1]);
    // By the truth: before the start against two minutes after it.
    const truly =
      (seconds[STARTS - 5]?.truth.totalW ?? NaN) - (seconds[STARTS + 115]?.truth.totalW ?? NaN);
    expect(Math.abs(lostW - truly)).toBeLessThan(0.1 * truly + 50);
    expect(textOf(seconds)).toMatch(/^Workshop took up /);
  });

  test('unseen, the room far from its setpoint: a possibility, within 3 min', () => {
    const seconds = played('two-heads', ['u1']);
    expect(spansOf(seconds)[CODE]?.[0]?.[0]).toBeLessThan(STARTS + 180);
    expect(textOf(seconds)).toMatch(
      /^The figure fell by \d+ % within two minutes with no change entered/,
    );
  });

  test('and there is enough for both: nothing is said', () => {
    expect(Object.keys(spansOf(played('demo', ['u1', 'u2'])))).not.toContain(CODE);
  });
});

test('a fan that is told is a cause of its own', () => {
  const seconds: Second[] = [];
  const acts = [
    { atS: 200, setpointC: 17 },
    { atS: STARTS, fan: 'quiet' },
  ];
  play(scenario('plain'), 2400, { acts, each: (second) => seconds.push(second) });
  expect(Object.keys(spansOf(seconds))).not.toContain(CODE);
});
