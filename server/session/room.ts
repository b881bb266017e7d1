/**
 * How many units and probes a visit takes: more than anybody hangs. A sender that makes an id a line must
 * not fill the memory, nor take the places of probes that are there.
 */
import type { Line } from '../../adapters/contract.ts';
import type { ProbeRecord } from './probe.ts';
import { sent } from '../words/sent.ts';

export const MOST_UNITS = 64;
/** Of probes that have sent readings, and again of those that are only told of. */
export const MOST_PROBES = 256;

/** What a line would add to a visit. */
interface Added {
  unit?: string | null | undefined;
  probes: readonly string[];
}

/** The unit and the probes that a line names, and makes where they are not there. */
function namedBy(line: Line): Added {
  switch (line.type) {
    case 'unit':
      return { unit: line.id, probes: [] };
    case 'airflow':
    case 'outlet':
    case 'expectation':
      return { unit: line.unit, probes: [] };
    case 'probe':
      return line.forgotten === true ? { probes: [] } : { unit: line.unit, probes: [line.id] };
    case 'event':
      if (line.kind === 'setpoint' || line.kind === 'fan') return { unit: line.unit, probes: [] };
      return { probes: line.kind === 'check' && line.phase === 'start' ? line.probes : [] };
    default:
      return { probes: [] };
  }
}

/** Why a line, not a reading, would add one unit or probe too many, naming the field; null: there is room. */
export function noRoomFor(
  line: Line,
  units: ReadonlyMap<string, unknown>,
  probes: ReadonlyMap<string, ProbeRecord>,
): string | null {
  const { unit, probes: ids } = namedBy(line);
  if (typeof unit === 'string' && !units.has(unit) && units.size >= MOST_UNITS) {
    return sent`unit: "${unit}" would be one too many: a visit has at most ${MOST_UNITS} units; begin another visit for more`;
  }
  const added = new Set(ids.filter((id) => !probes.has(id)));
  if (added.size === 0) return null;
  let told = 0;
  let mayGo = 0;
  for (const probe of probes.values()) {
    if (isHeard(probe)) continue;
    told++;
    // To a check that is to be made with it nothing gives way.
    if (line.type === 'probe' && givesWay(probe)) mayGo++;
  }
  if (told + added.size - mayGo <= MOST_PROBES) return null;
  const [id = ''] = added;
  return sent`probe: "${id}" would be one too many: ${MOST_PROBES} probes are told of that have sent nothing yet; forget some of them, or begin another visit`;
}

/** Why the first reading of a probe is not taken; null: there is room. */
export function noRoomToHear(id: string, probes: ReadonlyMap<string, ProbeRecord>): string | null {
  const known = probes.get(id);
  if (known !== undefined && isHeard(known)) return null;
  let heard = 0;
  for (const probe of probes.values()) if (isHeard(probe)) heard++;
  if (heard < MOST_PROBES) return null;
  return sent`probe: "${id}" would be one too many: a visit has at most ${MOST_PROBES} probes; forget some of them, or begin another visit`;
}

/**
 * The oldest probe that is only told of and hangs nowhere, where there are too many of those: it gives way
 * to the next. Null: none has to.
 */
export function whoGivesWay(probes: ReadonlyMap<string, ProbeRecord>): ProbeRecord | null {
  let told = 0;
  let oldest: ProbeRecord | null = null;
  for (const probe of probes.values()) {
    if (isHeard(probe)) continue;
    told++;
    if (oldest === null && givesWay(probe)) oldest = probe;
  }
  return told >= MOST_PROBES ? oldest : null;
}

const isHeard = ({ lastT }: ProbeRecord): boolean => lastT > -Infinity;

/** It has no place, no check, and nothing is being done with it. */
const givesWay = (probe: ProbeRecord): boolean =>
  !isHeard(probe) &&
  probe.unit === null &&
  probe.correction === null &&
  !probe.inCheck &&
  !probe.walking &&
  !probe.traversing;
