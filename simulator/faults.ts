/**
 * Faults of a ductless system, each with a size: what is changed of a scenario so that it has them. Several
 * can be present at once.
 */
import type { SystemParameters, UnitParameters } from './system.ts';

export const FAULT_KINDS = [
  'dirty-wheel',
  'clogged-filter',
  'dirty-coil',
  'low-charge',
  'other-heads',
  'turned-down',
  'recirculation',
  'uneven-outlet',
] as const;
export type FaultKind = (typeof FAULT_KINDS)[number];

/**
 * `size` of a dirty wheel, filter and coil: 0 (clean) to 1 (as dirty as they get); of a low charge: the part
 * that is missing; of other heads: what they ask for over the outdoor unit's most; of one that is turned
 * down: the part of full demand that is not asked for; of recirculation: the part of the supply that goes
 * back into the return; of an uneven outlet: from its left to its right end, K.
 */
export interface Fault {
  readonly kind: FaultKind;
  readonly size: number;
}

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
  }
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
