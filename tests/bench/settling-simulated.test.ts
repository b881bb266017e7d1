/** What is taken for the truth of a simulated visit: when it had settled, and where. */
import { describe, expect, it, test } from 'vitest';
import { scenario } from '../../simulator/scenarios.ts';
import { System } from '../../simulator/system.ts';
import { SIMULATED_KINDS } from './settling/simulated-kinds.ts';
import { simulatedSegments } from './settling/simulated-segments.ts';
import type { Act } from './settling/simulated-script.ts';
import { playScript } from './settling/simulated-visit.ts';
import { slowCourse } from './settling/slow-course.ts';
import { at, type Visit } from './settling/visit.ts';
import { watch } from './settling/watch.ts';

const N = 1800;
const series = (value: (i: number) => number, n = N): Float64Array =>
  Float64Array.from({ length: n }, (_, i) => value(i));

describe('the slow course of a truth', () => {
  /** Moves with its room: 2 % in ten minutes at first, less and less. */
  const slow = (i: number): number => 3000 - 0.1 * i + 2e-5 * i * i;

  it('is found behind the approach, and when the approach is within 2 % of it', () => {
    const tauS = 60;
    const found = slowCourse(
      series((i) => slow(i) - 2000 * Math.exp(-i / tauS)),
      0,
      N - 1,
    );
    // Two thirds of the plateau are left at first: 2 % after 3.5 time constants.
    expect(Math.abs((found?.since ?? NaN) - tauS * Math.log(2000 / 60))).toBeLessThan(25);
    for (const i of [0, 300, 1000, N - 1]) {
      expect(Math.abs((found?.at(i) ?? NaN) / slow(i) - 1)).toBeLessThan(0.012);
    }
  });

  it('is the truth itself where nothing else moves, from the first second', () => {
    const found = slowCourse(series(slow), 0, N - 1);
    expect(found?.since).toBe(0);
    expect(found?.drift).toBeCloseTo(-60 / 3000, 2);
    expect(found?.at(900)).toBeCloseTo(slow(900), 0);
  });

  it('looks through the swings of the machine', () => {
    const swings = series((i) => slow(i) * (1 + 0.008 * Math.sin((2 * Math.PI * i) / 140)));
    expect(slowCourse(swings, 0, N - 1)?.since).toBe(0);
  });

  it('is none of what falls by a fifth in ten minutes', () => {
    expect(
      slowCourse(
        series((i) => 3000 - i),
        0,
        N - 1,
      ),
    ).toBeNull();
  });

  it('is none of what goes on and off', () => {
    expect(
      slowCourse(
        series((i) => (i % 600 < 300 ? 3000 : 0)),
        0,
        N - 1,
      ),
    ).toBeNull();
  });
});

describe('simulated segments', () => {
  const told: Act = { atS: 600, unit: 'u1', setpointC: 18, toldAfterS: 2.5 };
  const script = { parameters: scenario('plain'), acts: [told], endS: N };
  const running = new Array<string>(N).fill('running');
  const truth = series((i) => (i < 600 ? 1500 : 3000 - 1500 * Math.exp(-(i - 600) / 50)));

  it('begin with an act, and know dead time and time constant from the truth', () => {
    const { segments, plateauW } = simulatedSegments(script, truth, running);
    expect(segments).toMatchObject([
      { stretch: 'settles', from: 0, to: 599 },
      { stretch: 'settles', from: 600, to: N - 1, toldAt: 603 },
    ]);
    // The first twentieth of the way is dead time; the rest to 63.2 % is the time constant.
    expect(segments[1]?.approach).toMatchObject({ deadS: 3, tauS: 47 });
    expect(plateauW[602]).toBeNaN();
    expect(at(plateauW, 603) / 3000).toBeCloseTo(1, 1);
    expect(at(plateauW, 300) / 1500).toBeCloseTo(1, 2);
  });

  it('end where a defrost begins; in it nothing is on the plateau that was', () => {
    const states = running.map((state, i) => (i >= 1000 && i < 1200 ? 'defrost' : state));
    const withDefrost = series((i) => (i >= 1000 && i < 1200 ? -100 : 3000));
    const { segments, plateauW } = simulatedSegments({ ...script, acts: [] }, withDefrost, states);
    expect(segments.map(({ stretch }) => stretch)).toEqual(['settles', 'defrost', 'settles']);
    expect(segments[1]).toMatchObject({ from: 1000, to: 1199 });
    expect(at(plateauW, 1100) / 3000).toBeCloseTo(1, 2);
    // Five minutes after a defrost are left alone.
    expect(segments[2]?.settledAt).toBe(1500);
  });

  it('are asked for nothing where they drift by more than 3 % in ten minutes', () => {
    const drifts = series((i) => 3000 - 0.25 * i);
    const { segments, plateauW } = simulatedSegments({ ...script, acts: [] }, drifts, running);
    expect(segments).toMatchObject([{ stretch: 'cut', settledAt: null }]);
    expect(at(plateauW, 900) / at(drifts, 900)).toBeCloseTo(1, 2);
  });

  it('turn as the compressor starts', () => {
    const states = running.map((_, i) => (i % 300 < 150 && i > 0 ? 'running' : 'off'));
    const { segments } = simulatedSegments({ ...script, acts: [], cycles: 'found' }, truth, states);
    expect(segments.at(-1)).toMatchObject({
      stretch: 'cycles',
      turns: [1, 300, 600, 900, 1200, 1500],
    });
  });
});

test('a simulated visit has settled within minutes of each act, and is told without a refusal', () => {
  const visit = visitOf('plain');
  const acts = visit.segments.filter(
    ({ stretch, toldAt }) => stretch === 'settles' && toldAt !== null,
  );
  expect(acts.length).toBeGreaterThan(1);
  for (const { from, settledAt } of acts) {
    expect((settledAt ?? Infinity) - from).toBeLessThan(240);
  }
  const seen = watch(visit);
  const last = visit.trueW.length - 10;
  // Errors of probes and airflow, drawn within their limits.
  expect(Math.abs(at(seen.totalW, last) / at(visit.trueW, last) - 1)).toBeLessThan(0.2);
  expect(visitOf('plain').lines).toEqual(visit.lines);
});

test('the truth of a second is that of its middle, and acts come at its beginning', () => {
  const plain = scenario('plain');
  const hunting = { ...plain.outdoorUnit.hunting, amplitude: 0 };
  // Without hunting nothing in the truth depends on the seed.
  const parameters = { ...plain, outdoorUnit: { ...plain.outdoorUnit, hunting } };
  const acts = [{ atS: 90, unit: 'u1', fan: 'high', toldAfterS: 1.2 }];
  const visit = playScript('middle', { parameters, acts, endS: 120 }, 1);
  const system = new System(parameters, 7, 0);
  for (const i of [30, 60, 89]) {
    system.advance(1000 * i + 500);
    expect(at(visit.trueW, i)).toBeCloseTo(system.truth('u1').totalW, 6);
  }
  system.advance(90_000);
  system.fan('u1', 'high');
  system.advance(90_500);
  expect(at(visit.trueW, 90)).toBeCloseTo(system.truth('u1').totalW, 6);
  const event = visit.lines.find(({ type }) => type === 'event');
  expect(event).toMatchObject({ kind: 'fan', speed: 'high', t: visit.startT - 1000 + 91_200 });
});

function visitOf(name: string): Visit {
  const kind = SIMULATED_KINDS.find((each) => each.name === name);
  if (kind === undefined) throw new Error(`There is no kind ${name}.`);
  return kind.make(0);
}
