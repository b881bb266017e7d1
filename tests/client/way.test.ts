/** The way through a visit: what each place says, where doubts are counted, and what comes next. */
import { describe, expect, it } from 'vitest';
import type { Doubt, State, UnitSnapshot } from '../../server/protocol.ts';
import { scalesFor } from '../../client/words/scales.ts';
import { nextStep, placeOf, stationMore, stationsOf } from '../../client/words/way.ts';
import {
  captureWith,
  checkWith,
  doubtWith,
  plain,
  probeWith,
  stateWith,
  T0,
  unitWith,
} from './fixtures.ts';

const si = scalesFor({ temperature: 'C', flow: 'm3h', power: 'kW' });
const CHECK = { t: T0, temperatureOffsetC: 0, humidityOffsetPct: 0, atC: 22, atPct: 50, worth: 1 };
const PROBES = { r: probeWith({ check: CHECK }), s: probeWith({ place: 'supply', check: CHECK }) };

const steady = (change: Parameters<typeof unitWith>[0] = {}): UnitSnapshot =>
  unitWith({ ...change, settling: { state: 'steady', levelW: 2630, ...change.settling } });

const stand = (change: Partial<State> = {}, live = true) => ({
  told: stateWith({ probes: PROBES, ...change }),
  unitId: 'u1',
  live,
});
const doubt = (code: string, text = ''): Doubt => doubtWith({ code, text });
const next = (change: Partial<State> = {}) => nextStep(stand(change))?.text;
const withDoubts = (...doubts: Doubt[]): Partial<State> => ({
  units: { u1: unitWith({ doubts }) },
});
const says = (change: Partial<State> = {}, live = true): Record<string, string> =>
  Object.fromEntries(
    stationsOf(stand(change, live), si).map(({ place, says }) => [place, plain(says)]),
  );
const station = (place: string, change: Partial<State> = {}) => {
  const found = stationsOf(stand(change), si).find((each) => each.place === place);
  if (found === undefined) throw new Error(`There is no place ${place}.`);
  return found;
};

describe('the places', () => {
  it('say how far each has come', () => {
    expect(says({ units: { u1: steady() } })).toMatchObject({
      probes: '2 placed',
      figure: '2.63 kW',
      verdict: 'none yet',
      record: 'no capture',
    });
    expect(says({ probes: {}, units: {} })).toMatchObject({
      ...{ probes: 'none yet', airflow: 'not known', figure: 'no figure' },
    });
    expect(says({ probes: { ...PROBES, x: probeWith({ place: null }) } })['probes']).toBe(
      '1 to place',
    );
  });

  it('show no figure that is not of now', () => {
    expect(says({ units: { u1: steady() } }, false)['figure']).toBe('no figure');
    expect(station('figure', { units: { u1: steady() } }).steady).toBe(true);
    expect(stationsOf(stand({ units: { u1: steady() } }, false), si)[2]?.steady).toBe(false);
  });

  it('hold the doubts that are mended there, each kind once', () => {
    const doubts = [
      doubt('check-missing', 'a'),
      doubt('check-missing', 'b'),
      doubt('airflow-other-speed'),
      doubt('pressure-assumed'),
      doubt('something-at-the-unit'),
    ];
    const counts = Object.fromEntries(
      stationsOf(stand(withDoubts(...doubts)), si).map(({ place, doubts }) => [place, doubts]),
    );
    expect(counts).toEqual({ probes: 1, airflow: 1, figure: 1, verdict: 0, record: 1 });
    expect(placeOf(doubt('supply-single'))).toBe('probes');
  });

  it('are done with a check, an airflow, a capture', () => {
    const done = (change: Partial<State>): string[] =>
      stationsOf(stand(change), si).flatMap(({ place, done }) => (done ? [place] : []));
    expect(done({ probes: { r: probeWith() } })).not.toContain('probes');
    expect(done({})).toContain('probes');
    expect(done({ captures: [captureWith()] })).toContain('figure');
    // One that was struck out is no result.
    expect(done({ captures: [captureWith({ struck: { t: T0 } })] })).not.toContain('figure');
    expect(stationMore(station('figure', { captures: [captureWith()] }))).toBe('done');
  });

  it('say that nothing is kept', () => {
    const record = {
      type: 'record' as const,
      visit: 'v',
      trouble: 'The disk is full.',
      kept: true,
    };
    expect(station('record', { record })).toMatchObject({ says: 'not kept', doubts: 1 });
  });
});

describe('what comes next', () => {
  it('is nothing while nothing is live', () => {
    expect(nextStep(stand({}, false))).toBeNull();
  });

  it('goes from the probes to the record', () => {
    expect(next({ probes: {}, units: {} })).toBe('turn on your probes');
    expect(nextStep({ ...stand(), unitId: null })?.href).toBe('#probes');
    expect(next(withDoubts(doubt('return-missing')))).toBe('place the probes');
    expect(next(withDoubts(doubt('airflow-missing')))).toBe('measure the airflow');
    expect(next(withDoubts(doubt('check-missing')))).toBe('check the probes side by side');
    const untold = stateWith().visit;
    const setup = { ...untold.units['u1'], setpointC: null };
    const visit = { ...untold, units: { u1: setup } } as State['visit'];
    expect(next({ visit })).toBe('push the setpoint');
    const settling = unitWith({ settling: { steadyInS: 200, plateauW: 2600 } });
    expect(plain(next({ units: { u1: settling } }) ?? '')).toBe('wait, about 4 min');
    expect(next({ units: { u1: steady() } })).toBe('capture the figure');
    expect(next({ units: { u1: steady() }, captures: [captureWith()] })).toBe('enter the customer');
    const named = { ...untold, details: { customer: 'the library' } };
    expect(next({ visit: named, captures: [captureWith()] })).toBe('hand the record over');
  });

  it('captures a steady figure before it asks for a check, and mends first what makes it wrong', () => {
    expect(next({ units: { u1: steady({ doubts: [doubt('check-missing')] }) } })).toBe(
      'capture the figure',
    );
    expect(next({ units: { u1: steady({ doubts: [doubt('probe-wet')] }) } })).toBe(
      'clear the warnings',
    );
  });

  it('stays with a check that runs until it may be ended', () => {
    expect(next({ check: checkWith({ progress: 0.4 }) })).toBe('leave the probes in the check');
    // Heard for long enough, and not still: ended now, it would correct nothing.
    expect(next({ check: checkWith({ verdict: 'moving', progress: 1 }) })).toBe(
      'leave the probes in the check',
    );
    expect(next({ check: checkWith({ verdict: 'agree', progress: 1 }) })).toBe('end the check');
    expect(next({ check: checkWith({ phase: 'ended', progress: 1 }) })).not.toMatch(/check/);
  });

  it('goes on to the next unit without a capture', () => {
    const before = stateWith().visit;
    const u2 = { ...before.units['u1'], name: 'Workshop' };
    const state = {
      ...{ units: { u1: steady(), u2: steady() }, captures: [captureWith()] },
      visit: { ...before, units: { ...before.units, u2 } } as State['visit'],
    };
    expect(nextStep(stand(state))).toEqual({ text: 'on to Workshop', href: '#figure', unit: 'u2' });
    const both = [captureWith(), captureWith({ unit: 'u2' })];
    expect(next({ ...state, captures: both })).toBe('enter the customer');
  });
});
