/** What a person says of a visit, a system, a unit or a probe for the record: it changes no figure. */
import type { Line, ProbeLine, SystemLine, UnitLine, VisitLine } from '../../adapters/contract.ts';

const VISIT = ['site', 'address', 'customer', 'technician', 'why', 'conditions'] as const;
const MORE = ['heads', 'othersRun', 'combinedCoolingW', 'combinedHeatingW'] as const;
const SYSTEM = ['name', 'model', 'serial', 'lineLengthM', 'lineHeightM', ...MORE] as const;
const UNIT = ['system', 'form', 'model', 'serial', 'nominalW'] as const;
const PROBE = ['serial', 'calibratedT'] as const;

/** What is known: in a line null takes it away. */
type Known<L, K extends keyof L> = { [F in K]?: NonNullable<L[F]> | undefined };
export type VisitDetails = Known<VisitLine, (typeof VISIT)[number]>;
export type SystemDetails = Known<SystemLine, (typeof SYSTEM)[number]>;
export type UnitDetails = Known<UnitLine, (typeof UNIT)[number]>;
export type ProbeDetails = Known<ProbeLine, (typeof PROBE)[number]>;

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
  known: Known<L, K>,
  line: L,
  fields: readonly K[],
): Known<L, K> {
  let next = known;
  for (const field of fields) {
    const said = line[field];
    if (said === undefined) continue;
    next = { ...next, [field]: said };
    if (said === null) delete next[field];
  }
  return next;
}
