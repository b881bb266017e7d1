/** What a person says of a visit, a system, a unit or a probe for the record: it changes no figure. */
import type { Line, ProbeLine, SystemLine, UnitLine, VisitLine } from '../../adapters/contract.ts';

const VISIT = ['site', 'address', 'customer', 'technician', 'why', 'conditions'] as const;
const SYSTEM = ['name', 'model', 'serial', 'lineLengthM', 'lineHeightM'] as const;
const UNIT = ['system', 'form', 'model', 'serial', 'nominalW'] as const;
const PROBE = ['serial', 'calibratedT'] as const;

export type VisitDetails = Pick<VisitLine, (typeof VISIT)[number]>;
export type SystemDetails = Pick<SystemLine, (typeof SYSTEM)[number]>;
export type UnitDetails = Pick<UnitLine, (typeof UNIT)[number]>;
export type ProbeDetails = Pick<ProbeLine, (typeof PROBE)[number]>;

/** What was known, with what the line says of it; what a line leaves out stays as it was. */
export const visitDetails = (known: VisitDetails, line: VisitLine): VisitDetails =>
  merged(known, line, VISIT);
export const systemDetails = (known: SystemDetails, line: SystemLine): SystemDetails =>
  merged(known, line, SYSTEM);
export const unitDetails = (known: UnitDetails, line: UnitLine): UnitDetails =>
  merged(known, line, UNIT);
export const probeDetails = (known: ProbeDetails, line: ProbeLine): ProbeDetails =>
  merged(known, line, PROBE);

function merged<L extends Line, K extends keyof L>(
  known: Pick<L, K>,
  line: L,
  fields: readonly K[],
): Pick<L, K> {
  let next = known;
  for (const field of fields) {
    if (line[field] !== undefined) next = { ...next, [field]: line[field] };
  }
  return next;
}
