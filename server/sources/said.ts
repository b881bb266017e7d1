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
  return typeof link === 'object' && link !== null && 'state' in link && LINKS.has(link.state);
}
