/**
 * Faults of a ductless system, each with a size: what is changed of a scenario so that it has them. Several
 * can be present at once.
 */
import type { Place } from './probe.ts';
import type { ProbeFault } from './probe-fault.ts';
import type { SystemParameters, UnitParameters } from './system.ts';

/** Those of the machine and around it, which the causes of a verdict can name. */
export const CAPACITY_FAULTS = [
  'dirty-wheel',
  'clogged-filter',
  'dirty-coil',
  'low-charge',
  'other-heads',
  'turned-down',
  'recirculation',
  'uneven-outlet',
] as const;
/** What a machine does by itself, and what is wrong with no more than a probe. */
const WAYS = ['fan-on-auto', 'reheat', 'cycling', 'frost'] as const;
const PROBE_FAULTS = ['wet-probe', 'drifting-probe', 'swapped-probes'] as const;

export const FAULT_KINDS = [...CAPACITY_FAULTS, ...WAYS, ...PROBE_FAULTS] as const;
export type CapacityFault = (typeof CAPACITY_FAULTS)[number];
export type FaultKind = (typeof FAULT_KINDS)[number];

/**
 * `size` of a dirty wheel, filter and coil: 0 (clean) to 1 (as dirty as they get); of a low charge: the part
 * that is missing; of other heads: what they ask for over the outdoor unit's most; of one that is turned
 * down: the part of full demand that is not asked for; of recirculation: the part of the supply that goes
 * back into the return; of an uneven outlet: from its left to its right end, K.
 *
 * Of a fan on auto: how far from the setpoint it still runs as it was set, K; nearer it runs at its slowest. Of
 * reheat: the part of the heat taken that is given back. Of cycling: what the compressor cannot go below, over
 * its most. Of frost: what is on the outdoor coil at first, over what begins a defrost.
 *
 * Of a wet supply probe: 0 (dry) to 1 (it reads the wet bulb); of a drifting one: what it walks off, K/h; of
 * swapped probes, return and supply: 1.
 */
export interface Fault {
  readonly kind: FaultKind;
  readonly size: number;
}

/** The least and the most of each size. */
export const FAULT_SIZES: Readonly<Record<FaultKind, readonly [least: number, most: number]>> = {
  'dirty-wheel': [0, 1],
  'clogged-filter': [0, 1],
  'dirty-coil': [0, 1],
  'low-charge': [0, 0.5],
  'other-heads': [0, 2],
  'turned-down': [0, 0.9],
  recirculation: [0, 0.6],
  'uneven-outlet': [0, 12],
  'fan-on-auto': [0, 10],
  reheat: [0, 0.8],
  cycling: [0.1, 0.9],
  frost: [0, 1],
  'wet-probe': [0, 1],
  'drifting-probe': [-20, 20],
  'swapped-probes': [1, 1],
};

/** Those that only one mode knows. */
export const FAULT_MODES: Readonly<Partial<Record<FaultKind, 'cooling' | 'heating'>>> = {
  reheat: 'cooling',
  frost: 'heating',
  'wet-probe': 'cooling',
};

/** Those that a visit begins with: they cannot come in its course. */
export const FROM_THE_START: readonly FaultKind[] = ['frost'];

/** The scenario with these faults of one unit, or of the outdoor unit that it hangs on. */
export function withFaults(
  parameters: SystemParameters,
  unit: string,
  faults: readonly Fault[],
): SystemParameters {
  return faults.reduce((so, fault) => withFault(so, unit, fault), parameters);
}

function withFault(p: SystemParameters, unit: string, { kind, size }: Fault): SystemParameters {
  const at = (change: (u: UnitParameters) => Partial<UnitParameters>): SystemParameters => ({
    ...p,
    units: p.units.map((u) => (u.id === unit ? { ...u, ...change(u) } : u)),
  });
  switch (kind) {
    case 'dirty-wheel':
      return at(({ head }) => ({ head: { ...head, fouling: size } }));
    case 'clogged-filter':
      return at(({ head }) => ({ head: { ...head, filterLoading: size } }));
    case 'dirty-coil':
      return at(({ head }) => ({ head: { ...head, coilFouling: size } }));
    case 'recirculation':
      return at(({ head }) => ({ head: { ...head, recirculation: size } }));
    case 'turned-down':
      return at((u) => ({ setpointC: setpointFor(u, 1 - size, p.mode === 'cooling' ? 1 : -1) }));
    case 'low-charge':
      return { ...p, outdoorUnit: { ...p.outdoorUnit, chargeError: -size } };
    case 'other-heads':
      return { ...p, outdoorUnit: { ...p.outdoorUnit, othersW: size * p.outdoorUnit.maxW } };
    case 'uneven-outlet':
      return withUnevenOutlet(
        at(() => ({ outletK: size })),
        unit,
        size,
      );
    case 'fan-on-auto':
      return at((u) => onAuto(u, size));
    case 'reheat':
      return at(({ head }) => ({ head: { ...head, reheat: size } }));
    case 'cycling':
      return withCycling(p, unit, size);
    case 'frost': {
      const frostKg = size * p.outdoorUnit.frost.limitKg;
      return { ...p, outdoorUnit: { ...p.outdoorUnit, frostKg } };
    }
    case 'wet-probe':
      return withProbeFault(p, unit, { wet: size });
    case 'drifting-probe':
      return withProbeFault(p, unit, { driftKPerH: size });
    case 'swapped-probes':
      return withSwappedProbes(p, unit);
  }
}

/** It starts and stops closely about the setpoint, and gives too much while it runs. */
function withCycling(p: SystemParameters, unit: string, size: number): SystemParameters {
  return {
    ...p,
    outdoorUnit: { ...p.outdoorUnit, minW: size * p.outdoorUnit.maxW },
    units: p.units.map((u) =>
      u.id === unit ? { ...u, thermostat: { ...u.thermostat, onK: 0.25, offK: 0.3 } } : u,
    ),
  };
}

/** On auto the fan runs as it was set while the room is far from the setpoint, and else at its slowest. */
function onAuto({ fan, head }: UnitParameters, fromK: number): Partial<UnitParameters> {
  const slowest = head.fanSpeeds[0]?.name ?? fan;
  const autoFan = [
    { fromK: -Infinity, speed: slowest },
    { fromK, speed: fan },
  ];
  return { head: { ...head, autoFan } };
}

/** The supply probes of a unit with something wrong with them. */
function withProbeFault(p: SystemParameters, unit: string, fault: ProbeFault): SystemParameters {
  return {
    ...p,
    probes: p.probes.map((probe) =>
      probe.unit === unit && probe.place === 'supply'
        ? { ...probe, fault: { ...probe.fault, ...fault } }
        : probe,
    ),
  };
}

const OTHER_END: Partial<Record<Place, Place>> = { return: 'supply', supply: 'return' };

/** What is said to hang in the return hangs in the supply, and the other way round. */
function withSwappedProbes(p: SystemParameters, unit: string): SystemParameters {
  return {
    ...p,
    probes: p.probes.map((probe) => {
      const place = OTHER_END[probe.place];
      if (probe.unit !== unit || place === undefined || probe.saidPlace !== undefined) return probe;
      return { ...probe, place, saidPlace: probe.place };
    }),
  };
}

/** The setpoint at which the room as it is at first asks for a part of all there is. */
function setpointFor({ room, thermostat }: UnitParameters, demand: number, sign: number): number {
  const { base, gainPerK } = thermostat;
  return room.temperatureC - (sign * (demand - base)) / gainPerK;
}

/** One probe hangs a quarter of the length off the middle; more hang evenly about it. */
function withUnevenOutlet(p: SystemParameters, unit: string, outletK: number): SystemParameters {
  const isThere = (id: string | null, place: string): boolean => id === unit && place === 'supply';
  const many = p.probes.filter((probe) => isThere(probe.unit, probe.place)).length;
  let i = 0;
  return {
    ...p,
    probes: p.probes.map((probe) => {
      if (!isThere(probe.unit, probe.place)) return probe;
      const at = many === 1 ? 0.75 : (i++ + 0.5) / many;
      return { ...probe, unevenK: outletK * (at - 0.5) };
    }),
  };
}
