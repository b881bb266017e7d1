/** Checks on what an adapter says: an outside plug-in is not bound by our types. */
import type { AdapterStatus, ProbeLink } from '../../adapters/contract.ts';

const STATUSES: ReadonlySet<unknown> = new Set<AdapterStatus>([
  'running',
  'unavailable',
  'retrying',
]);
const LINKS: ReadonlySet<unknown> = new Set<ProbeLink['state']>([
  'connecting',
  'connected',
  'lost',
]);

export function isStatus(state: unknown): state is AdapterStatus {
  return STATUSES.has(state);
}

export function isLink(link: unknown): link is ProbeLink {
  if (typeof link !== 'object' || link === null || !('state' in link)) return false;
  const dbm = 'signalDbm' in link ? link.signalDbm : undefined;
  const needs = 'needs' in link ? link.needs : undefined;
  if (needs !== undefined && needs !== 'key') return false;
  return LINKS.has(link.state) && (dbm === undefined || Number.isFinite(dbm));
}

/** An id of a probe as the visit log takes it. */
export function isProbeId(id: unknown): id is string {
  return typeof id === 'string' && id.length > 0 && id.length <= 128 && id !== '__proto__';
}
