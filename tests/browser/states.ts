/// <reference lib="dom" />
/** Every state that a person can meet on the page, in an invented library, as frames and the way there. */
import type { Page } from 'playwright-core';
import type {
  Capture,
  EarlierCaptures,
  Expected,
  State,
  UnitSetup,
  UnitSnapshot,
  VerdictMessage,
  Walk,
} from '../../server/protocol.ts';
import {
  airflowWith,
  captureWith,
  checkWith,
  comparableWith,
  doubtWith,
  EVENNESS,
  eventWith,
  foundWith,
  measuringWith,
  probeWith,
  stateWith,
  expectedWith,
  T0,
  UNIT,
  verdictWith,
  unitWith,
} from '../client/fixtures.ts';

export interface Shown {
  name: string;
  state: State;
  /** The part of the page. */
  at: string;
  /** What opens it there; without it nothing has to be opened. */
  open?: (page: Page) => Promise<unknown>;
  /** What is there when it has come. */
  there: string | RegExp;
}

const MIN = 60_000;
const SETUP: UnitSetup = {
  ...UNIT,
  ...{ name: 'Reading room', details: { form: 'cassette', nominalW: 3500 }, setpointC: 18 },
  airflow: { source: 'fan-table', flowM3s: 0.15, basis: 'actual', plane: 'supply', limitPct: 6 },
  ...{ fanSpeeds: ['quiet', 'low', 'medium', 'high'], fan: 'high', evenness: EVENNESS },
  fanTable: {
    speeds: [
      { name: 'low', dryM3s: 0.1, wetM3s: 0.09 },
      { name: 'high', dryM3s: 0.16, wetM3s: 0.15 },
    ],
    ...{ basis: 'actual', plane: 'supply', limitPct: 6 },
  },
  coil: { wetness: 1, removes: true, sinceT: T0 - 30 * MIN, said: null },
};
const VISIT: State['visit'] = {
  ...stateWith().visit,
  title: 'Wrenfold Lane library',
  details: { customer: 'Friends of the library', address: 'Wrenfold Lane 7' },
  units: { u1: SETUP, u2: { ...SETUP, name: 'Workshop' } },
  outlets: {
    o1: {
      ...{ unit: 'u1', name: '', plane: 'supply', freeArea: 0.9, form: '', louverDeg: null },
      sections: [
        { widthM: 0.064, lengthM: 0.61 },
        { widthM: 0.064, lengthM: 0.3 },
      ],
    },
  },
};
const MEASURED = [
  airflowWith({ warnings: ['One sweep does not show how well it repeats: sweep it once more.'] }),
  airflowWith({ t: T0 + 1, method: 'heat', outlet: null, flowM3s: 0.142, u95M3s: 0.004 }),
];
const HELD = [0, 1].map((column) => ({
  ...{ section: 0, row: 0, column, meanMs: 3 + column, settled: true },
}));
const PROBES: State['probes'] = {
  p1: probeWith({ name: 'Reading room return', signalDbm: -61, batteryPct: 88 }),
  p2: probeWith({ name: 'Reading room supply', place: 'supply', intervalMs: 2000 }),
  p3: probeWith({
    name: 'Workshop return',
    unit: 'u2',
    state: 'lost',
    values: {},
    lastT: T0 - MIN,
  }),
  p4: probeWith({ name: 'Workshop supply', unit: 'u2', place: 'supply' }),
};
const DOUBTS = [
  doubtWith({
    ...{
      code: 'check-missing',
      text: 'Return and supply probes have not been checked side by side.',
    },
    ...{ effect: 'The ± is wider than need be.', remedy: 'Check them side by side.' },
  }),
];
const SETTLING = unitWith({
  settling: { plateauW: 2610, plateauU95W: 180, steadyInS: 200, approachS: 200, lookedS: 180 },
  doubts: DOUBTS,
});
export const STEADY = unitWith({
  settling: {
    ...{ state: 'steady', since: T0 - 10 * MIN, levelDelayS: 5, plateauW: 2640 },
    ...{ movedW: 20, lookedS: 180, aheadW: 40 },
  },
});
const WAITING = unitWith({
  capacity: { totalW: null, sensibleW: null, latentW: null, totalU95W: null },
  settling: { state: 'waiting', since: null },
  doubts: [
    doubtWith({
      code: 'airflow-missing',
      text: 'No airflow is known for this unit.',
      remedy: 'Measure it, or enter it from the fan table.',
    }),
    doubtWith({
      code: 'supply-missing',
      text: 'No live temperature in the supply air.',
      remedy: 'Hang a probe in the supply and place it.',
    }),
  ],
});
const EVENTS = [
  eventWith({ id: 'e1', t: T0 - 6 * MIN, kind: 'setpoint', unit: 'u1', valueC: 18 }),
  eventWith({ id: 'e2', t: T0 - 4 * MIN, text: 'door shut' }),
];

/** A visit with two heads; what is told of the first one. */
export function visitWith(unit: UnitSnapshot, change: Partial<State> = {}): State {
  return stateWith({
    ...{ visit: VISIT, probes: PROBES, units: { u1: unit, u2: SETTLING }, events: EVENTS },
    ...{ adapters: { ble: { state: 'running', text: null } }, simulated: true },
    ...change,
  });
}

const NOBODY: Partial<State> = { units: {}, probes: {}, events: [], t: null, simulated: false };
const bluetooth = (state: 'running' | 'unavailable', text: string | null): State =>
  stateWith({ ...NOBODY, visit: { ...VISIT, units: {} }, adapters: { ble: { state, text } } });
const OFF = 'No Bluetooth adapter is on. Switch Bluetooth on in the settings of this computer.';

const CAPTURES: Capture[] = [
  captureWith({ from: T0 - 20 * MIN, to: T0 - 15 * MIN, totalW: 2430 }),
  comparableWith('grid 3', {
    ...{ from: T0 - 3 * MIN, to: T0, by: 'touch', note: 'both doors shut', simulated: true },
    before: {
      event: { t: T0 - 6 * MIN, kind: 'setpoint', valueC: 18 },
      ...{ from: T0 - 20 * MIN, to: T0 - 15 * MIN, totalW: 2430, totalU95W: 100 },
      ...{ differenceW: 210, differenceU95W: 60, sensibleDifferenceW: 150 },
      ...{ sensibleDifferenceU95W: 50, latentDifferenceW: 60, latentDifferenceU95W: 40 },
    },
  }),
  captureWith({
    from: T0 - 12 * MIN,
    to: T0 - 9 * MIN,
    struck: { t: T0, text: 'a door stood open' },
  }),
];
const CAUSES: VerdictMessage['causes'] = [
  'Likely the blower wheel is dirty',
  'Likely the filter is loaded',
].map((name, i) => ({
  ...{ code: `c${i}`, weight: 0.6 - 0.3 * i, name, look: 'Look at it with a light.' },
  ...{
    caution: 'Switch the unit off and lock the power out first.',
    source: 'common practice, no source',
  },
  for: [
    { item: 'airflowRatio', value: 0.76, u95: 0.06, text: 'Airflow is 76 ± 6 % of the table’s.' },
  ],
  against: [],
}));

/** The visit with a verdict on its newest capture, made by touch. */
function judged(change: Partial<VerdictMessage>, more: Partial<Expected> = {}): State {
  const verdict = verdictWith({ from: T0 - 3 * MIN, to: T0, by: 'touch', ...change });
  const told = visitWith(STEADY, { captures: CAPTURES, verdicts: [verdict] });
  const published = [
    {
      ...{ mode: 'cooling' as const, limitPct: 5 },
      points: [25, 35].map((outdoorC) => ({
        ...{ speed: 'maximum' as const, outdoorC, indoorC: 26.7, indoorWetBulbC: 19.4 },
        totalW: 3800 - 20 * outdoorC,
      })),
    },
  ];
  const units = { ...told.visit.units, u1: { ...SETUP, published } };
  return {
    ...told,
    ...{ visit: { ...told.visit, units }, expected: { u1: expectedWith(more) } },
  };
}

const YEAR = 365 * 24 * 60 * MIN;
/** What was captured of the first head in earlier years. */
export const EARLIER: EarlierCaptures['captures'] = [
  { t: T0 - YEAR, totalW: 2980, flow: 'grid 2' },
  { t: T0 - 2 * YEAR, totalW: 3090, flow: 'grid 1', baseline: true as const },
].map(({ t, flow, ...change }, i) => ({
  ...{ visit: `v${i}`, title: 'Wrenfold Lane library' },
  capture: comparableWith(flow, { from: t - 5 * MIN, to: t, ...change }),
}));

const RUNNING = checkWith({
  ...{ from: T0 - MIN, progress: 0.4, text: 'Listening. Leave them where they are.' },
  probes: { p1: foundWith(), p2: foundWith() },
});
const ENDED = checkWith({
  ...{ phase: 'ended', from: T0 - 5 * MIN, verdict: 'agree', progress: 1, text: 'They agree.' },
  probes: {
    p1: foundWith({ temperatureOffsetC: 0.12, uTemperatureC: 0.03, agrees: true }),
    p2: foundWith({ temperatureOffsetC: -0.12, uTemperatureC: 0.03, agrees: true }),
  },
});
const WALK: Walk = {
  ...{ type: 'walk', phase: 'running', unit: 'u1', place: 'supply', probe: 'p2', from: T0 - MIN },
  ...{ t: T0, verdict: 'waiting', progress: 0.3, text: 'Go slowly along the outlet.' },
  ...{ spotK: 0.4, biasK: 0.2, totalPct: 3 },
};

const press = (name: string | RegExp) => (page: Page) =>
  page.getByRole('button', { name }).first().click();
const allHeads = (wanted: boolean) => async (page: Page) => {
  const button = page.getByRole('button', { name: 'All heads' });
  if ((await button.getAttribute('aria-pressed')) !== String(wanted)) await button.click();
};
const follow = (name: string | RegExp) => (page: Page) =>
  page.getByRole('link', { name }).first().click();

export const SHOWN: Shown[] = [
  {
    name: 'empty',
    state: bluetooth('running', null),
    at: '#figure',
    there: 'Turn on your probes.',
  },
  { name: 'Bluetooth off', state: bluetooth('unavailable', OFF), at: '#figure', there: OFF },
  {
    ...{ name: 'no unit yet', at: '#figure', there: 'Which one hangs in the return?' },
    state: stateWith({
      ...NOBODY,
      visit: { ...VISIT, units: {} },
      probes: {
        p1: probeWith({ name: 'alder', unit: null, place: null }),
        p2: probeWith({ name: 'birch', unit: null, place: null }),
      },
    }),
  },
  {
    name: 'waiting',
    state: visitWith(WAITING),
    at: '#figure',
    there: 'No airflow is known for this unit.',
  },
  { name: 'live', state: visitWith(SETTLING), at: '#figure', there: 'Settling' },
  {
    ...{ name: 'all heads', state: visitWith(SETTLING), at: '#figure' },
    ...{ open: allHeads(true), there: /All together/ },
  },
  {
    ...{ name: 'steady', state: visitWith(STEADY), at: '#figure' },
    ...{ open: allHeads(false), there: 'Steady' },
  },
  {
    name: 'probes',
    state: visitWith(SETTLING),
    at: '#probes',
    there: 'Find one: warm it in your hand',
  },
  {
    ...{ name: 'check listening', state: visitWith(SETTLING, { check: RUNNING }) },
    ...{ at: '#side-by-side', there: 'Listening. Leave them where they are.' },
  },
  {
    ...{ name: 'check done', state: visitWith(SETTLING, { check: ENDED }) },
    ...{ at: '#side-by-side', there: /^Ended at/ },
  },
  {
    ...{ name: 'walk', state: visitWith(SETTLING, { walk: WALK }) },
    ...{ at: '#walk', there: /Go slowly along the outlet/ },
  },
  {
    ...{ name: 'airflow', state: visitWith(SETTLING, { airflows: MEASURED }), at: '#airflow' },
    there: 'Measured in this visit',
  },
  {
    ...{ name: 'sweep', state: visitWith(SETTLING, { measuring: { u1: measuringWith() } }) },
    ...{ at: '#airflow', there: /Move end to end/ },
  },
  {
    ...{ name: 'grid', at: '#airflow', there: '2 points held.' },
    state: visitWith(SETTLING, {
      measuring: {
        u1: measuringWith({ method: 'grid', rule: 'equal-area', points: HELD, section: 0 }),
      },
    }),
  },
  {
    ...{ name: 'condensate', at: '#airflow', there: 'Water, g or ml' },
    state: visitWith(SETTLING, {
      measuring: {
        u1: measuringWith({
          ...{ method: 'condensate', outlet: null, probe: null, section: null, sections: [] },
          ...{ text: 'Leave the bucket.', difference: 0.002, differenceU95: 0.0004 },
        }),
      },
    }),
  },
  {
    ...{ name: 'outlet form', state: visitWith(SETTLING), at: '#airflow' },
    ...{ open: press('Change the opening'), there: 'Free-area factor' },
  },
  {
    ...{ name: 'fan table form', state: visitWith(SETTLING), at: '#airflow' },
    ...{ open: press('Change the fan table'), there: 'Stated for' },
  },
  {
    ...{ name: 'airflow form', state: visitWith(SETTLING), at: '#airflow' },
    ...{ open: press('Enter another'), there: 'Where the figure comes from' },
  },
  {
    ...{ name: 'capture made', state: visitWith(STEADY, { captures: CAPTURES }) },
    ...{ at: '#figure', there: 'both doors shut' },
  },
  {
    ...{ name: 'strike form', state: visitWith(STEADY, { captures: CAPTURES }), at: '#figure' },
    ...{ open: press(/^Strike out/), there: /^Why/ },
  },
  {
    ...{ name: 'no verdict', state: visitWith(STEADY), at: '#verdict' },
    there: 'Enter what the maker publishes',
  },
  {
    ...{ name: 'verdict: meets', state: judged({ verdict: 'meets', probability: 0.97 }) },
    ...{ at: '#verdict', there: /delivers at least/ },
  },
  {
    ...{ name: 'verdict: cannot tell', state: judged({ basis: 'curve', outdoorFrom: 'entered' }) },
    ...{ at: '#verdict', there: 'What would tell' },
  },
  {
    name: 'verdict: falls short',
    state: judged({
      ...{ ratio: 0.74, probability: 0.004, verdict: 'falls-short', prospects: [] },
      causes: CAUSES,
    }),
    ...{ at: '#verdict', there: /delivers less than/ },
  },
  {
    name: 'push test',
    state: judged({ verdict: 'not-asked', fullDemand: null }, { fullDemand: null }),
    ...{ at: '#verdict', open: press(/^Start the push test/), there: 'Boost is on' },
  },
  {
    ...{ name: 'published form', state: judged({}), at: '#verdict' },
    ...{ open: press('Enter what the maker publishes'), there: 'Read as' },
  },
  {
    ...{ name: 'outdoors form', state: judged({}), at: '#verdict' },
    ...{ open: press('Outdoors and power'), there: /^From the meter/ },
  },
  {
    ...{ name: 'heads form', state: judged({}), at: '#verdict' },
    ...{ open: press('Other heads'), there: 'Those without probes' },
  },
  {
    ...{ name: 'record', state: visitWith(STEADY, { captures: CAPTURES }) },
    ...{ at: '#record', there: 'Download the visit log' },
  },
  {
    ...{ name: 'settings form', state: visitWith(STEADY), at: '#record' },
    ...{ open: follow('Visit settings'), there: 'Capture automatically' },
  },
  {
    ...{ name: 'phones', state: visitWith(STEADY), at: '#phones' },
    ...{ open: press('Code for an operator'), there: '0471 5823' },
  },
  {
    ...{ name: 'withdraw form', state: visitWith(STEADY), at: '#phones' },
    ...{ open: press('Withdraw Ana'), there: /^What that phone shows/ },
  },
  {
    ...{ name: 'quick look', at: '#record', there: 'Keep it: record from its beginning' },
    state: visitWith(STEADY, {
      record: { type: 'record', visit: 'v', trouble: null, kept: false },
    }),
  },
  {
    ...{ name: 'large', state: visitWith(STEADY), at: '#figure' },
    ...{ open: press(/^Large/), there: 'Close' },
  },
];

/** Shows a state on a page that is fed by the test. */
export async function show(
  page: Page,
  send: (state: State) => void,
  { state, at, open, there }: Shown,
): Promise<void> {
  await page.keyboard.press('Escape'); // what was open
  await page.evaluate((hash) => (location.hash = hash), at);
  send(state);
  await open?.(page);
  await page.getByText(there).filter({ visible: true }).first().waitFor({ timeout: 10_000 });
}
