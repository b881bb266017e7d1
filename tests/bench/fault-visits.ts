/**
 * Simulated visits of units that are healthy or have one fault, played through a session as a technician
 * would work: the airflow measured, the outlet walked, a capture, the setpoint pushed, another capture. Rooms
 * and weather, what the machine is off its printed table, and the errors of probes, anemometer and fan table
 * are drawn within their limits.
 */
import type { ExpectationLine, Line } from '../../adapters/contract.ts';
import type { VerdictMessage } from '../../server/protocol.ts';
import { Session } from '../../server/session.ts';
import { type CapacityFault, type Fault, withFaults } from '../../simulator/faults.ts';
import { airProbe, outdoorProbe, powerProbe } from '../../simulator/parts.ts';
import type { ProbeParameters } from '../../simulator/probe.ts';
import { publishedTable } from '../../simulator/published.ts';
import { type Random, randomStream } from '../../simulator/random.ts';
import { scenario } from '../../simulator/scenarios.ts';
import { System, type SystemParameters } from '../../simulator/system.ts';

/** Limits, %: of the measured airflow, the fan table, the capacity table. */
const FLOW_LIMIT = 4;
const FAN_TABLE_LIMIT = 6;
const TABLE_LIMIT = 5;
const SOURCE = { adapter: 'visit', simulated: true };

/** Sizes that are worth finding. */
export const SIZES: Readonly<Record<CapacityFault, readonly [number, number]>> = {
  'dirty-wheel': [0.4, 1],
  'clogged-filter': [0.5, 1],
  'dirty-coil': [0.6, 1],
  'low-charge': [0.3, 0.5],
  'other-heads': [0.3, 0.9],
  'turned-down': [0.25, 0.6],
  recirculation: [0.2, 0.45],
  'uneven-outlet': [5, 9],
};

export interface VisitOptions {
  fault: Fault | null;
  /** Whether the technician looks at the filter first. */
  looksAtFilter: boolean;
  /** Whether the power meter is read. */
  metered: boolean;
}

const T0 = 1_777_885_200_000;
/** How long the unit runs before the walk, the walk takes, and until and after the push, s. */
const WARM_S = 240;
const WAIT_S = 70;
const WALK_S = 120;
const CAPTURE_S = 420;
const PUSHED_S = 420;

/** A fault of this kind, its size drawn. */
export function drawnFault(kind: CapacityFault, seed: number): Fault {
  const [least, most] = SIZES[kind];
  return { kind, size: randomStream(seed, `size ${kind}`).between(least, most) };
}

/** Plays one visit in a drawn hall. @returns what its last verdict names, by code; null where there was none */
export function faultVisit({ fault, ...options }: VisitOptions, seed: number): string[] | null {
  const random = randomStream(seed, 'fault visit');
  const healthy = drawnSystem(random);
  const parameters = fault === null ? healthy : withFaults(healthy, 'u1', [fault]);
  return causesNamed({ healthy, parameters, fault, ...options }, seed, random);
}

/** Plays the visit of a unit that is in order, or as another has become by the fault. */
export function causesNamed(
  {
    healthy,
    parameters,
    fault,
    ...options
  }: VisitOptions & { healthy: SystemParameters; parameters: SystemParameters },
  seed: number,
  random: Random,
): string[] | null {
  const outdoorC = healthy.outdoorAir.temperatureC;
  const system = new System(parameters, seed, T0);
  const off = (limitPct: number): number => 1 + (limitPct / 100) * random.between(-1, 1);
  const [tableOff, fanOff, flowOff] = [off(TABLE_LIMIT), off(FAN_TABLE_LIMIT), off(FLOW_LIMIT)];
  // Of one day the printed power is the same in all rows.
  const printedW = publishedPowerW(healthy, outdoorC, seed);
  const points = publishedTable(healthy, 'u1').map((p) => ({
    ...{ ...p, totalW: p.totalW * tableOff, powerW: printedW },
  }));
  let verdict: VerdictMessage | null = null;
  const nothing = (): void => undefined;
  const session = new Session({
    ...{ snapshot: nothing, capture: nothing, check: nothing, walk: nothing, event: nothing },
    ...{ probe: nothing, setup: nothing },
    verdict: (told) => (verdict = told),
  });
  const take = (line: Line): void => {
    const refusal = session.apply(line, SOURCE);
    if (refusal !== null) throw new Error(refusal);
  };
  const others = fault?.kind === 'other-heads' ? seenHeads(random) : false;
  for (const line of setUp(parameters, points, fanOff, { ...options, fault, others })) take(line);

  let t = T0;
  const run = (seconds: number): void => {
    const end = t + 1000 * seconds;
    for (; t < end; t += 1000) {
      for (const reading of system.advance(t + 1000)) {
        if (reading.probe !== METER || options.metered) take({ type: 'reading', ...reading });
      }
    }
  };
  const unit = 'u1';
  run(WARM_S);
  // The anemometer's own flow, at the speed that stays.
  take({
    ...{ type: 'airflow', t, unit },
    airflow: {
      ...{ source: 'grid', flowM3s: system.truth('u1').flowM3s * flowOff },
      ...{ basis: 'actual', plane: 'supply', limitPct: FLOW_LIMIT },
    },
  });
  const walk = { type: 'event', kind: 'walk', unit, place: 'supply', probe: 'p4' } as const;
  system.walkAlong({ id: 'p4', unit, place: 'supply' });
  take({ ...walk, t, phase: 'start' });
  run(WAIT_S);
  system.walkOn();
  take({ ...walk, t, phase: 'go' });
  run(WALK_S);
  system.walkAlong(null);
  take({ ...walk, t, phase: 'end' });
  run(CAPTURE_S);
  // One that somebody has turned down on purpose is not pushed: there is no more to be asked for.
  if (fault?.kind !== 'turned-down') {
    const valueC = 16;
    system.setpoint(unit, valueC);
    take({ type: 'event', t, kind: 'setpoint', unit, valueC });
  }
  run(PUSHED_S);
  session.finish();
  return (verdict as VerdictMessage | null)?.causes.map(({ code }) => code) ?? null;
}

const METER = 'p5';
const looked = (fault: Fault | null): 'clean' | 'loaded' =>
  fault?.kind === 'clogged-filter' && fault.size > 0.3 ? 'loaded' : 'clean';
/** Whether other heads run, somebody knows in two cases out of three. */
const seenHeads = (random: Random): true | null => (random.uniform() < 0.67 ? true : null);

/** A hall that changes slowly, and a day for cooling. */
function drawnSystem(random: Random): SystemParameters {
  const base = scenario('plain');
  const [unit] = base.units;
  if (unit === undefined) throw new Error('the plain scenario has a unit');
  const temperatureC = random.between(24, 28);
  const humidityPct = random.between(42, 60);
  const outdoorC = random.between(27, 38);
  const room = {
    ...{ ...unit.room, temperatureC, humidityPct, massTemperatureC: temperatureC },
    ...{ volumeM3: 4000, contentsJK: 4e7, massAirWK: 4000, massJK: 4e8, bufferKgS: 1 },
    ...{ sensibleW: 2800, moistureKgH: 1.2, infiltrationPerH: 0.1 },
  };
  const air = (id: string, name: string, place: 'return' | 'supply' | 'room'): ProbeParameters => ({
    ...airProbe(id, name, 'u1', place),
    intervalS: 2,
  });
  return {
    ...base,
    outdoorAir: { temperatureC: outdoorC, humidityPct: 35, driftKPerH: 0 },
    units: [{ ...unit, room, fan: 'high', setpointC: temperatureC - 5, outletK: 0.8 }],
    probes: [
      air('p1', 'Return', 'return'),
      air('p2', 'Supply', 'supply'),
      outdoorProbe('p3', 'Yard'),
      air('p4', 'Room', 'room'),
      powerProbe(METER, 'Meter'),
    ],
    warmUpS: 300,
  };
}

/** The visit, the unit with its tables, probes that lay side by side a while ago. */
function setUp(
  parameters: SystemParameters,
  points: ExpectationLine['points'],
  fanOff: number,
  { fault, looksAtFilter, others }: VisitOptions & { others: boolean | null },
): Line[] {
  const { pressurePa, units, probes } = parameters;
  const speeds = (units[0]?.head.fanSpeeds ?? []).map(({ name, flowM3s }) => ({
    ...{ name, dryM3s: flowM3s * fanOff, wetM3s: 0.97 * flowM3s * fanOff },
  }));
  return [
    { type: 'visit', version: 1, mode: 'cooling', pressurePa },
    { type: 'system', id: 's1', heads: 2, othersRun: others },
    {
      ...{ type: 'unit', id: 'u1', system: 's1', filter: looksAtFilter ? looked(fault) : null },
      ...{ fanSpeeds: speeds.map(({ name }) => name) },
      fanTable: { speeds, basis: 'actual', plane: 'supply', limitPct: FAN_TABLE_LIMIT },
    },
    { type: 'expectation', unit: 'u1', mode: 'cooling', net: true, limitPct: TABLE_LIMIT, points },
    ...probes.map(({ id, unit, place, sensors }): Line => ({
      ...{ type: 'probe', id, unit, place },
      limits: {
        temperatureC: sensors.temperatureC?.limit,
        humidityPct: sensors.humidityPct?.limit,
        pressurePa: sensors.pressurePa?.limit,
      },
    })),
    { type: 'event', t: T0, kind: 'fan', unit: 'u1', speed: 'high' },
    { type: 'event', t: T0, kind: 'setpoint', unit: 'u1', valueC: units[0]?.setpointC ?? 20 },
  ];
}

/** What the maker prints for the power at full demand: what a healthy machine takes, within its ±. */
function publishedPowerW(healthy: SystemParameters, outdoorC: number, seed: number): number {
  const system = new System(
    { ...healthy, probes: [], outdoorAir: { ...healthy.outdoorAir, temperatureC: outdoorC } },
    seed,
    T0,
  );
  system.setpoint('u1', 10);
  system.advance(T0 + 900_000);
  const off = 1 + 0.05 * randomStream(seed, 'printed power').between(-1, 1);
  return system.outdoorUnit.powerW * off;
}
