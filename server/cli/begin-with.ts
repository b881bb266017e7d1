/** What a new visit begins with: what was known of probes, and of the site where it was visited before. */
import type { Line } from '../../adapters/contract.ts';
import { Session, type SessionSink } from '../session.ts';
import { toEarlierCheck } from '../session/correction.ts';
import type { ProbeRecord } from '../session/probe.ts';
import type { RecordedLine } from '../visit-log/recorded.ts';

const NOBODY = { adapter: null, simulated: false };

/** Of another site only this holds as well: first all names and limits, then what checks found. */
export function probeLines(probes: Iterable<ProbeRecord>): Line[] {
  const all = [...probes];
  return [
    ...all.map(({ id, name, limits, anemometer, details }): Line => ({
      ...{ type: 'probe', id, name, limits },
      ...(anemometer === undefined ? {} : { anemometer }),
      ...details,
    })),
    ...all.flatMap(({ id, correction }): Line[] =>
      correction === null ? [] : [{ type: 'probe', id, check: toEarlierCheck(correction) }],
    ),
  ];
}

/**
 * The same site again: what it is called and how high it lies, its outdoor systems, and its units, each
 * with its airflow as it was last known. Who came, and why, is for the new visit to say.
 * @param site the site's id
 */
export function siteLines(session: Session, site: string): Line[] {
  const { title, details, systems, units, outlets, altitudeM, mode } = session.setup();
  const known = {
    ...(altitudeM === null ? {} : { altitudeM }),
    ...(mode === null ? {} : { mode }),
    ...(details.address === undefined ? {} : { address: details.address }),
    ...(details.customer === undefined ? {} : { customer: details.customer }),
  };
  return [
    { type: 'visit', version: 1, title, site, ...known },
    ...Object.entries(systems).map(([id, system]): Line => ({ type: 'system', id, ...system })),
    ...Object.entries(units).map(([id, unit]): Line => ({
      ...{ type: 'unit', id, name: unit.name, fanSpeeds: unit.fanSpeeds },
      ...unit.details,
      ...(unit.airflow === null ? {} : { airflow: unit.airflow }),
      ...(unit.fanTable === null ? {} : { fanTable: unit.fanTable }),
    })),
    ...Object.entries(units).flatMap(([unit, { published }]) =>
      published.map((said): Line => ({ type: 'expectation', unit, ...said })),
    ),
    ...Object.entries(outlets).map(([id, outlet]): Line => ({ type: 'outlet', id, ...outlet })),
  ];
}

/** A session that has been through the lines of a record. */
export function played(lines: Iterable<RecordedLine>): Session {
  const nothing = (): void => {};
  const sink: SessionSink = {
    snapshot: nothing,
    capture: nothing,
    check: nothing,
    walk: nothing,
    event: nothing,
    probe: nothing,
    setup: nothing,
  };
  const session = new Session(sink);
  for (const { after, ...line } of lines) session.apply(line, NOBODY, after);
  return session;
}
