/** Snapshots for the tests of the screens' words. The figures mean nothing. */
import type {
  AirflowResult,
  Capture,
  CaptureSetting,
  Check,
  CheckProbe,
  Doubt,
  EventMessage,
  Measuring,
  ProbeState,
  SettlingSnapshot,
  Snapshot,
  State,
  UnitSetup,
  UnitSnapshot,
  Expected,
  VerdictMessage,
  VisitSetup,
} from '../../server/protocol.ts';

export const T0 = Date.UTC(2026, 4, 4, 12, 0, 0);

const AIR = {
  temperatureC: 20,
  humidityPct: 50,
  wetBulbC: 13.8,
  dewPointC: 9.3,
  humidityRatio: 0.0073,
  enthalpyJkg: 38_600,
};

/** A place from which nothing comes. */
export const NO_AIR: UnitSnapshot['return'] = {
  temperatureC: null,
  humidityPct: null,
  wetBulbC: null,
  dewPointC: null,
  humidityRatio: null,
  enthalpyJkg: null,
};

/** A doubt; what is not told is empty. */
export function doubtWith(doubt: Partial<Doubt>): Doubt {
  return { code: 'some', text: '', effect: '', remedy: '', ...doubt };
}

export function probeWith(change: Partial<ProbeState> = {}): ProbeState {
  return {
    name: 'R',
    adapter: 'push',
    unit: 'u1',
    place: 'return',
    flowShare: 1,
    details: {},
    limits: { temperatureC: 0.3, humidityPct: 2 },
    simulated: false,
    state: 'live',
    lastT: T0,
    intervalMs: 1000,
    signalDbm: null,
    batteryPct: null,
    values: { temperatureC: 26, humidityPct: 50 },
    check: null,
    zero: null,
    ...change,
  };
}

/** How even the air is, where nobody has said or seen anything. */
export const EVENNESS: UnitSetup['evenness'] = {
  return: { spotsPct: 1, from: 'assumed', walkedT: null },
  supply: { spotsPct: 5, from: 'assumed', walkedT: null },
};

/** One probe of a check, from which nothing is known yet but what is told. */
export function foundWith(change: Partial<CheckProbe> = {}): CheckProbe {
  return {
    temperatureOffsetC: null,
    humidityOffsetPct: null,
    vapourOffsetPa: null,
    uTemperatureC: null,
    uHumidityPct: null,
    agrees: null,
    ...change,
  };
}

export function checkWith(change: Partial<Check> = {}): Check {
  return {
    type: 'check',
    phase: 'running',
    from: T0,
    t: T0,
    verdict: 'listening',
    progress: 0,
    text: '',
    probes: {},
    ...change,
  };
}

/** Nothing is known yet but that it moves. */
const SETTLING: SettlingSnapshot = {
  state: 'settling',
  since: T0,
  plateauW: null,
  plateauU95W: null,
  steadyInS: null,
  levelW: null,
  levelSensibleW: null,
  levelLatentW: null,
  levelDelayS: null,
  movedW: null,
  lookedS: null,
  aheadW: null,
  hoverW: null,
  approachS: null,
  cycle: null,
  defrost: null,
};

export function captureWith(change: Partial<Capture> = {}): Capture {
  return {
    type: 'capture',
    unit: 'u1',
    from: T0,
    to: T0 + 180_000,
    totalW: 2640,
    totalU95W: 110,
    sensibleW: 1980,
    sensibleU95W: 80,
    latentW: 660,
    latentU95W: 70,
    state: 'steady',
    simulated: false,
    by: 'itself',
    ...change,
  };
}

export function eventWith(change: Partial<EventMessage> = {}): EventMessage {
  return { type: 'event', id: 'e1', t: T0, kind: 'note', ...change };
}

/** A unit of which nothing is known but that its air is as even as is assumed. */
export const UNIT: Omit<UnitSetup, 'name'> = {
  ...{ details: {}, airflow: null, fanSpeeds: [], setpointC: null, fan: null },
  ...{ evenness: EVENNESS, fanTable: null, published: [], powerW: null, powerLimitPct: null },
  filter: null,
  coil: { wetness: 0, removes: null, sinceT: null, said: null },
};

export const VISIT: VisitSetup = {
  title: 'Orchard Lane 4',
  details: {},
  systems: {},
  mode: null,
  pressurePa: 98_300,
  pressureSource: 'entered',
  altitudeM: null,
  outdoorC: null,
  steadyTest: 'field',
  captureAfterS: 60,
  units: {},
  outlets: {},
};

interface Change {
  mode?: UnitSnapshot['mode'];
  capacity?: Partial<UnitSnapshot['capacity']>;
  settling?: Partial<UnitSnapshot['settling']>;
  doubts?: UnitSnapshot['doubts'];
}

export function unitWith(change: Change = {}): UnitSnapshot {
  // All seconds are alike, where nothing else is told.
  const { totalW = 2640, sensibleW = 1980, latentW = 660 } = change.capacity ?? {};
  const level = { levelW: totalW, levelSensibleW: sensibleW, levelLatentW: latentW };
  return {
    mode: change.mode === undefined ? 'cooling' : change.mode,
    return: AIR,
    supply: { ...AIR, temperatureC: 12 },
    airflow: {
      flowM3s: 0.15,
      standardM3s: 0.148,
      dryAirKgs: 0.178,
      source: 'entered',
    },
    airflowFollows: null,
    capacity: {
      totalW: 2640,
      sensibleW: 1980,
      latentW: 660,
      sensibleHeatRatio: 0.75,
      condensateKgh: 0.96,
      totalU95W: 110,
      sensibleU95W: 80,
      latentU95W: 70,
      sensibleHeatRatioU95: 0.03,
      ...change.capacity,
    },
    settling: { ...SETTLING, ...level, ...change.settling },
    doubts: change.doubts ?? [],
  };
}

export function snapshotAt(t: number, totalW: number | null, ids: string[] = ['u1']): Snapshot {
  const unit = unitWith({ capacity: { totalW } });
  return {
    type: 'snapshot',
    t,
    simulated: false,
    units: Object.fromEntries(ids.map((id) => [id, unit])),
    sum: { totalW, sensibleW: null, latentW: null, totalU95W: null },
  };
}

/** A state with one unit, the reading room, unless told otherwise. */
export function stateWith(change: Partial<State> = {}): State {
  return {
    type: 'state',
    record: { type: 'record', visit: 'visit-1', trouble: null, kept: true },
    replay: null,
    t: T0,
    simulated: false,
    units: { u1: unitWith() },
    sum: { totalW: null, sensibleW: null, latentW: null, totalU95W: null },
    visit: {
      ...VISIT,
      mode: 'cooling',
      units: {
        u1: { ...UNIT, name: 'Reading room', setpointC: 20, fan: 'high' },
      },
    },
    probes: {},
    adapters: {},
    events: [],
    captures: [],
    budgets: {},
    check: null,
    walk: null,
    measuring: {},
    airflows: [],
    zeros: [],
    verdicts: [],
    expected: {},
    ...change,
  };
}

/** How a unit was set while it was captured, on a hot day. */
export const SETTING: CaptureSetting = {
  ...{ setpointC: 18, fan: 'high', wetness: 1, flowM3s: 0.15, dryAirKgs: 0.18, source: 'grid' },
  ...{ flowLimitPct: 4, pressurePa: 98_300, returnProbes: ['p1'], supplyProbes: ['p2'] },
  ...{ outdoorC: 33.5, indoorC: 26.7, indoorWetBulbC: 19.3, powerW: null, groupW: null },
  ...{ indoorPct: 51, supplyC: 12, supplyPct: 94, roomC: null },
};

/**
 * A capture that says what it was made of, so that others compare with it.
 * @param flow names the measurement of the airflow
 */
export function comparableWith(flow: string, change: Partial<Capture> = {}): Capture {
  return captureWith({
    at: SETTING,
    errors: [
      { kind: 'temperature', of: 'p2', totalW: 40 },
      { kind: 'airflow', of: flow, totalW: 45 },
    ],
    scatterU95W: 20,
    ...change,
  });
}

/** The verdict on `captureWith`, at full demand. */
export function verdictWith(change: Partial<VerdictMessage> = {}): VerdictMessage {
  return {
    ...{ type: 'verdict', unit: 'u1', from: T0, to: T0 + 180_000, by: 'itself', mode: 'cooling' },
    ...{ expectedW: 2800, expectedU95W: 160, limit: 0.9, basis: 'table', atMost: false },
    ...{ limited: false, altitudeFactor: 1, otherSpeed: false, outdoorFrom: 'probe' },
    conditions: { outdoorC: 33.5, indoorC: 26.7, indoorWetBulbC: 19.3 },
    ...{ ratio: 0.943, ratioU95: 0.067, probability: 0.9, verdict: 'cannot-tell' },
    fullDemand: { t: T0 - 240_000, valueC: 16 },
    prospects: [{ action: 'check', ratioU95: 0.045, verdict: 'meets' }],
    causes: [],
    simulated: false,
    ...change,
  };
}

/** What it should deliver now, and does: the same. */
export function expectedWith(change: Partial<Expected> = {}): Expected {
  const { expectedW, expectedU95W, limit, basis, ...v } = verdictWith();
  const { atMost, limited, altitudeFactor, otherSpeed, outdoorFrom, conditions } = v;
  return {
    ...{ type: 'expected', unit: 'u1', t: T0, why: null, push: null },
    now: {
      ...{ mode: 'cooling', expectedW, expectedU95W, limit, basis, atMost, limited },
      ...{ altitudeFactor, otherSpeed, outdoorFrom, conditions },
      ...{ ratio: 0.943, ratioU95: 0.08, probability: 0.84 },
    },
    fullDemand: v.fullDemand,
    efficiency: { value: 3.4, u95: 0.3, powerW: 780, from: 'entered' },
    ...change,
  };
}

/** A sweep that was measured, of the opening `o1`. */
export function airflowWith(change: Partial<AirflowResult> = {}): AirflowResult {
  return {
    ...{ type: 'airflow', t: T0, from: T0 - 60_000, unit: 'u1', method: 'sweep', basis: 'actual' },
    ...{ flowM3s: 0.15, u95M3s: 0.01, plane: 'supply', outlet: 'o1', used: true, probe: 'v' },
    ...{ fan: 'High', wetness: 1, simulated: false, velocityMs: 2.5, variation: 0.1 },
    ...{ each: [0.15], points: [], latentW: null, latentU95W: null, warnings: [] },
    errors: [
      { cause: 'instrument', uPct: 2, shape: 0, shared: 'probe v' },
      { cause: 'repeats', uPct: 1, shape: 0, shared: null },
    ],
    ...change,
  };
}

/** A sweep over both sections of an opening, in its second one. */
export function measuringWith(change: Partial<Measuring> = {}): Measuring {
  return {
    ...{ type: 'measuring', unit: 'u1', method: 'sweep', phase: 'running', from: T0 - 30_000 },
    ...{ t: T0, text: 'Section 2 of 2. Move end to end at an even pace, about 6 s each way.' },
    ...{ warns: false, progress: 0.7, outlet: 'o1', probe: 'v', velocityMs: 3.4, section: 1 },
    sections: [
      { meanMs: 3.3, seconds: 16, progress: 1 },
      { meanMs: 3.1, seconds: 6, progress: 0.4 },
    ],
    ...{ rule: null, points: [], difference: null, differenceU95: null },
    ...change,
  };
}

/** A text with plain spaces. */
export const plain = (text: string): string => text.replace(/[\u202f\u00a0]/g, ' ');
