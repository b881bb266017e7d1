/**
 * A fan that changes its speed by itself. What is expected of a step comes from the energy balance across
 * the coil: with the load unchanged, flow × difference of enthalpy is constant. Enthalpies here are those
 * of psychrolib, a library that stands outside the project.
 */
import { describe, expect, it } from 'vitest';
import psychrolib from 'psychrolib';
import { scenario } from '../../../simulator/scenarios.ts';
import type { SystemParameters } from '../../../simulator/system.ts';
import { T0, TestVisit } from '../visit.ts';
import { firstOf, play, slower } from './simulated.ts';

psychrolib.SetUnitSystem(psychrolib.SI);
const P = 101_325;
const RETURN = { temperatureC: 26.7, humidityPct: 51 };
const RETURN_W = psychrolib.GetHumRatioFromRelHum(26.7, 0.51, P);
const STEP_S = 900;

interface Supply {
  temperatureC: number;
  W: number;
}

/** Air that leaves a coil: so much of it in the coil's own state, the rest as it came (contact factor). */
function through(contact: number, coilC: number): Supply {
  const coilW = psychrolib.GetSatHumRatio(coilC, P);
  return {
    temperatureC: RETURN.temperatureC - contact * (RETURN.temperatureC - coilC),
    W: RETURN_W - contact * (RETURN_W - coilW),
  };
}
/** Difference of enthalpy from the return, J/kg. */
const heat = ({ temperatureC, W }: Supply): number =>
  psychrolib.GetMoistAirEnthalpy(RETURN.temperatureC, RETURN_W) -
  psychrolib.GetMoistAirEnthalpy(temperatureC, W);

const CONTACT = 0.88;
const BEFORE = through(CONTACT, 12);

/** The supply in `part` of the airflow at the same load: transfer units as flow^−0.4, flow × heat the same. */
function inPartOfTheFlow(part: number): Supply {
  const contact = 1 - (1 - CONTACT) ** (part ** -0.4);
  let [cold, warm] = [0, 26];
  for (let i = 0; i < 40; i++) {
    const middle = (cold + warm) / 2;
    if (part * heat(through(contact, middle)) > heat(BEFORE)) cold = middle;
    else warm = middle;
  }
  return through(contact, cold);
}

interface Course {
  /** The supply from the step on. */
  supply: (sinceS: number) => Supply;
  returnC?: (sinceS: number) => number;
  tell?: (visit: TestVisit) => void;
}

/** A visit at 1 Hz whose supply changes at `STEP_S`; when the fan was first doubted, and how. */
function doubted(
  { supply, returnC, tell }: Course,
  endS = STEP_S + 420,
): { first: { s: number; effect: string } | null; visit: TestVisit } {
  const visit = new TestVisit();
  let first: { s: number; effect: string } | null = null;
  for (let s = 0; s < endS; s++) {
    const since = s - STEP_S;
    if (since === 0) tell?.(visit);
    const change = since < 0 ? 0 : (returnC?.(since) ?? 0);
    const temperatureC = RETURN.temperatureC + change;
    visit.reading('r', s * 1000, { ...RETURN, temperatureC });
    const air = since < 0 ? BEFORE : supply(since);
    const humidityPct = 100 * psychrolib.GetRelHumFromHumRatio(air.temperatureC, air.W, P);
    visit.reading('s', s * 1000 + 300, { temperatureC: air.temperatureC, humidityPct });
    const doubt = visit.snapshots.at(-1)?.units['u1']?.doubts.find((d) => d.code === 'fan-auto');
    if (doubt !== undefined) first ??= { s: since, effect: doubt.effect };
  }
  return { first, visit };
}

const between = (a: Supply, b: Supply, part: number): Supply => ({
  temperatureC: a.temperatureC + part * (b.temperatureC - a.temperatureC),
  W: a.W + part * (b.W - a.W),
});
/** Within seconds another flow; coil and probe come after, in all some 25 s (common practice, no source). */
const likeAFan =
  (to: Supply) =>
  (s: number): Supply =>
    between(BEFORE, to, 1 - Math.exp(-s / 25));
const SLOW = inPartOfTheFlow(0.6);
const percents = (text: string): number[] =>
  [...text.matchAll(/(\d+)(?= (?:to|%))/g)].map((m) => Number(m[1]));

describe('a step that nobody told, with a return that does not notice', () => {
  it.each([0.6, 0.7, 1.5])('%s of the flow: named within four minutes, with its size', (part) => {
    const { first } = doubted({ supply: likeAFan(inPartOfTheFlow(part)) });
    expect(first?.s).toBeLessThan(240);
    // At most the machine gives less in less air as flow^0.25: then flow^0.75 × heat is the same.
    const expected = [100 * part, 100 * part ** (4 / 3)].sort((a, b) => a - b);
    const said = percents(first?.effect ?? '');
    expect(said).toHaveLength(2);
    said.forEach((pct, i) => expect(Math.abs(pct / (expected[i] ?? NaN) - 1)).toBeLessThan(0.02));
  });

  it('that comes over minutes is not', () => {
    const ramp = (s: number): Supply => between(BEFORE, SLOW, Math.min(s / 240, 1));
    expect(doubted({ supply: ramp }, STEP_S + 700).first).toBeNull();
  });

  it('that is told as a fan speed is not', () => {
    const tell = (visit: TestVisit): void => {
      const t = T0 + STEP_S * 1000;
      visit.take({ type: 'event', t, kind: 'fan', unit: 'u1', speed: 'low' });
    };
    expect(doubted({ supply: likeAFan(SLOW), tell }).first).toBeNull();
  });

  it('after a setpoint is not: the compressor is at work', () => {
    const tell = (visit: TestVisit): void => {
      const t = T0 + STEP_S * 1000;
      visit.take({ type: 'event', t, kind: 'setpoint', unit: 'u1', valueC: 16 });
    };
    expect(doubted({ supply: likeAFan(SLOW), tell }).first).toBeNull();
  });
});

it('a return that answers to the heat is that of a compressor', () => {
  // ṁ c Δt more, into a room of 300 kJ/K (invented).
  const moreK = BEFORE.temperatureC - SLOW.temperatureC;
  const perS = (0.2 * 1.2 * 1006 * moreK) / 300_000;
  const { first } = doubted({ supply: likeAFan(SLOW), returnC: (s) => -perS * s });
  expect(first).toBeNull();
});

it('a gust that is over within two minutes is none', () => {
  const gust = (s: number): Supply => (s < 100 ? likeAFan(SLOW)(s) : BEFORE);
  expect(doubted({ supply: gust }).first).toBeNull();
});

it('stands until an airflow is told, and goes where the fan goes back', () => {
  const andBack = (s: number): Supply => (s < 400 ? likeAFan(SLOW)(s) : BEFORE);
  const { visit } = doubted({ supply: andBack }, STEP_S + 390);
  expect(visit.codes()).toContain('fan-auto');
  const airflow = { source: 'entered', flowM3s: 0.13, limitPct: 5 } as const;
  const t = T0 + (STEP_S + 391) * 1000;
  const at = { basis: 'actual', plane: 'supply' } as const;
  visit.take({ type: 'airflow', t, unit: 'u1', airflow: { ...airflow, ...at } });
  visit.run(STEP_S + 391, STEP_S + 400, () => 10.5);
  expect(visit.codes()).not.toContain('fan-auto');

  const back = doubted({ supply: andBack }, STEP_S + 800);
  expect(back.first).not.toBeNull();
  expect(back.visit.codes()).not.toContain('fan-auto');
});

describe('in the simulator, with the compressor at full output', () => {
  const full = (name: string, fan: string): SystemParameters => {
    const parameters = scenario(name);
    return { ...parameters, units: parameters.units.map((unit) => ({ ...unit, fan })) };
  };
  it.each([
    ['plain', 'high', 'low', 1],
    ['plain', 'low', 'high', 6],
    ['humid', 'medium', 'quiet', 3],
    ['dry', 'high', 'low', 1],
    ['noisy', 'high', 'low', 1],
  ] as const)('%s, from %s to %s, probes %s times as slow', (name, from, to, times) => {
    const first = firstOf('fan-auto', slower(full(name, from), times), 1, 2200, [
      { atS: 100, setpointC: 19 },
      { atS: 1900, fan: to, untold: true },
    ]);
    expect(first?.s).toBeGreaterThan(1900);
    expect(first?.s).toBeLessThan(1900 + 270);
  });

  it('the fan on auto slows down: the share that is said holds the true flow', () => {
    const speeds: string[] = [];
    let said: number[] = [];
    let share = NaN;
    play(scenario('auto-fan'), 1, 1200, [], (_s, unit, _id, system) => {
      if (speeds.at(-1) !== system.fanOf('u1')) speeds.push(system.fanOf('u1'));
      const doubt = unit.doubts.find(({ code }) => code === 'fan-auto');
      if (doubt !== undefined) said = percents(doubt.effect);
      share = (100 * system.truth('u1').flowM3s) / (unit.airflow.flowM3s ?? NaN);
    });
    expect(speeds).toEqual(['high', 'low']);
    // The airflow that was told is off by up to 6 %.
    expect(share).toBeGreaterThan(0.94 * (said[0] ?? NaN));
    expect(share).toBeLessThan(1.06 * (said[1] ?? NaN));
  });
});
