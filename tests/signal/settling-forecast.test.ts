/** Where a figure is said to be heading, when it will be there, and when nothing is said. */
import { describe, expect, test } from 'vitest';
import { Play, type Playing, type Said, step, type Step } from './play.ts';

const AT = 600;
const STEPS: Step[] = [
  { from: 2500, to: 4000, atS: AT, deadS: 20, tauS: 40 },
  { from: 2500, to: 4000, atS: AT, deadS: 30, tauS: 80 },
  { from: 4000, to: 2500, atS: AT, deadS: 30, tauS: 80 },
  { from: 2500, to: 5000, atS: AT, deadS: 60, tauS: 150 },
];

function told(one: Step, playing: Playing = {}): Play {
  const course = step(one);
  return new Play().run(AT, course, playing).tell().run(1200, course, playing);
}

/** What was said while it settled, after the change. */
const settling = (play: Play): Said[] =>
  play.between(AT).filter(({ state }) => state === 'settling');
const plateaus = (said: readonly Said[]): number[] =>
  said.flatMap(({ plateauW }) => (plateauW === null ? [] : [plateauW]));

describe.each(STEPS)('from $from to $to W, $deadS s of dead time, τ $tauS s', (one) => {
  const course = step(one);
  const { deadS = 0, tauS, to } = one;
  const play = told(one);

  test('before anything has moved nothing is said', () => {
    for (const said of play.between(AT, AT + deadS)) {
      expect(said).toMatchObject({ plateauW: null, plateauU95W: null, steadyInS: null });
    }
  });

  test('after two time constants it is said, to 5 %', () => {
    const s = AT + deadS + Math.round(2 * tauS);
    const { plateauW } = play.said[s] ?? { plateauW: null };
    expect(Math.abs((plateauW ?? NaN) / to - 1)).toBeLessThan(0.05);
  });

  test('its interval narrows, and never says more than can be known', () => {
    const offered = settling(play).flatMap(({ plateauU95W }) => plateauU95W ?? []);
    expect(offered.length).toBeGreaterThan(tauS);
    expect(offered.at(-1)).toBeLessThan(0.5 * (offered[0] ?? NaN));
    expect(offered.at(-1)).toBeLessThan(0.08 * to);
    expect(Math.min(...offered)).toBeGreaterThan(0.02 * to);
  });

  test('it does not flap: offered once, and moved in small steps', () => {
    const said = settling(play);
    const goes = said.filter(
      ({ plateauW }, i) => plateauW === null && (said[i - 1]?.plateauW ?? null) !== null,
    );
    expect(goes).toEqual([]);
    const values = plateaus(said);
    const jumps = values.slice(1).map((v, i) => Math.abs(v - (values[i] ?? v)));
    expect(Math.max(...jumps)).toBeLessThan(0.1 * Math.max(one.from, to));
  });

  test('the time that is left runs down to when it is called steady', () => {
    const steadyS = play.steadyAt(AT + deadS);
    const s = AT + deadS + Math.round(2 * tauS);
    const left = play.said[s]?.steadyInS ?? NaN;
    expect(Math.abs(s + left - steadyS)).toBeLessThan(60 + tauS);
    for (const { steadyInS } of settling(play)) expect(steadyInS ?? 1).toBeGreaterThanOrEqual(0);
    expect(play.said[steadyS]).toMatchObject({ plateauW: null, steadyInS: null });
    expect(Math.abs(course(steadyS) - to)).toBeLessThan(0.03 * to);
  });
});

test('its interval holds the plateau in nine seconds of ten in which it is said', () => {
  let [offered, held] = [0, 0];
  for (const one of STEPS) {
    for (let seed = 0; seed < 5; seed++) {
      const course = step(one);
      const play = new Play(seed).run(AT, course).tell().run(1200, course);
      for (const { plateauW, plateauU95W } of settling(play)) {
        if (plateauW === null) continue;
        offered++;
        if (Math.abs(plateauW - one.to) <= (plateauU95W ?? NaN)) held++;
      }
    }
  }
  expect(offered).toBeGreaterThan(2000);
  expect(held / offered).toBeGreaterThan(0.9);
});

describe('nothing is said', () => {
  test('of a unit that lies still after it was told something, until it has been waited for', () => {
    const play = new Play().run(AT, 3000).tell().run(130, 3000);
    expect(plateaus(play.between(AT))).toEqual([]);
  });

  test('without a figure, or before there are enough', () => {
    const play = new Play().run(60, null).run(20, 3000);
    expect(plateaus(play.said)).toEqual([]);
  });

  test('of what swings to and fro', () => {
    const play = new Play().run(4000, (s) => 4000 + 500 * Math.sin((2 * Math.PI * s) / 120));
    expect(plateaus(play.between(600))).toEqual([]);
  });

  test('of a straight rise without an end in sight, that is sure of itself', () => {
    const course = (s: number): number => 2500 + 4 * Math.max(0, s - AT);
    const play = new Play().run(AT, course).tell().run(400, course);
    for (const { s, plateauW, plateauU95W } of play.between(AT + 30)) {
      if (plateauW === null) continue;
      // It lies further on, or its interval leaves that open.
      expect(plateauW + (plateauU95W ?? 0)).toBeGreaterThan(course(s));
      expect(plateauU95W).toBeGreaterThan(0.15 * plateauW);
    }
  });
});

test('readings once in five seconds make it no worse than a few blocks later', () => {
  const one: Step = { from: 2500, to: 4000, atS: AT, deadS: 30, tauS: 80 };
  const first = (play: Play): number =>
    play.between(AT).find(({ plateauW }) => plateauW !== null)?.s ?? NaN;
  const [often, seldom] = [told(one), told(one, { everyS: 5 })];
  expect(first(seldom) - first(often)).toBeLessThan(20);
  const at = seldom.said[AT + 30 + 160]?.plateauW ?? NaN;
  expect(Math.abs(at / 4000 - 1)).toBeLessThan(0.05);
});

test('a change before the last one has settled: it heads for the new plateau', () => {
  const first = step({ from: 2500, to: 4500, atS: AT, deadS: 10, tauS: 80 });
  const second = step({ from: first(AT + 100), to: 2000, atS: AT + 100, deadS: 10, tauS: 80 });
  const course = (s: number): number => (s < AT + 110 ? first(s) : second(s));
  const play = new Play().run(AT, course).tell().run(100, course).tell().run(900, course);
  // What was said of the old one is not said any more.
  expect(play.said[AT + 99]?.plateauW).toBeGreaterThan(3500);
  expect(play.said[AT + 100]?.plateauW).toBeNull();
  const at = play.said[AT + 110 + 160]?.plateauW ?? NaN;
  expect(Math.abs(at / 2000 - 1)).toBeLessThan(0.1);
});
