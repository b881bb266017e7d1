/** What the places of an archive ask, each by its address and schema. */
import {
  type ArchivedVisit,
  archivedVisitSchema,
  type ArchiveRole,
  type ArchiveUnit,
  archiveUnitsSchema,
  type Audit,
  auditSchema,
  type BookProbe,
  newTokenSchema,
  probeBookSchema,
  type ProbeHistory,
  probeHistorySchema,
  type Token,
  tokensSchema,
  type TypeComparison,
  typeComparisonSchema,
  type Types,
  typesSchema,
  type UnitHistory,
  unitHistorySchema,
} from '../../server/protocol/archive.ts';
import * as z from 'zod/mini';
import { sending } from '../live/ask.ts';
import type { Asked } from '../live/visits.ts';
import { askArchive } from './ask.ts';

const at = (kind: string, id: string | number): string =>
  `/api/archive/${kind}/${encodeURIComponent(id)}`;
const doneSchema = z.object({ ok: z.literal(true) });
/** Null, or why it was not done. */
const done = async (path: string, init: RequestInit): Promise<string | null> =>
  (await askArchive(path, doneSchema, init)).trouble;

async function listOf<T, K>(asked: Promise<Asked<T>>, take: (got: T) => K): Promise<Asked<K>> {
  const answer = await asked;
  if (answer.trouble !== null) return { got: null, trouble: answer.trouble };
  return { got: take(answer.got), trouble: null };
}

/** By which van a visit is, at which site, and its units. */
export const placeOfVisit = (visit: string): Promise<Asked<ArchivedVisit>> =>
  askArchive(at('visits', visit), archivedVisitSchema);

/** Units by words of their names, types, serial numbers and sites. */
export const findUnits = (text: string): Promise<Asked<ArchiveUnit[]>> =>
  listOf(
    askArchive(
      `/api/archive/units?${new URLSearchParams({ text: text.trim() }).toString()}`,
      archiveUnitsSchema,
    ),
    ({ units }) => units,
  );
export const unitHistory = (unit: string): Promise<Asked<UnitHistory>> =>
  askArchive(at('units', unit), unitHistorySchema);

export const listTypes = (): Promise<Asked<Types['types']>> =>
  listOf(askArchive('/api/archive/types', typesSchema), ({ types }) => types);
export const compareType = (model: string): Promise<Asked<TypeComparison>> =>
  askArchive(at('types', model), typeComparisonSchema);

export const listProbes = (): Promise<Asked<BookProbe[]>> =>
  listOf(askArchive('/api/archive/probes', probeBookSchema), ({ probes }) => probes);
export const probeHistory = (probe: string): Promise<Asked<ProbeHistory>> =>
  askArchive(at('probes', probe), probeHistorySchema);

export const listTokens = (): Promise<Asked<Token[]>> =>
  listOf(askArchive('/api/archive/tokens', tokensSchema), ({ tokens }) => tokens);
/** Makes a token, which is told this once. */
export const makeToken = (of: {
  role: ArchiveRole;
  name: string;
  van?: string;
}): Promise<Asked<{ id: string; token: string }>> =>
  askArchive('/api/archive/tokens', newTokenSchema, sending('POST', of));
export const withdrawToken = (id: string): Promise<string | null> =>
  done(at('tokens', id), sending('DELETE'));
export const readAudit = (): Promise<Asked<Audit['entries']>> =>
  listOf(askArchive('/api/archive/audit', auditSchema), ({ entries }) => entries);

/** Deletes a visit with all its versions. */
export const deleteVisit = (visit: string): Promise<string | null> =>
  done(at('visits', visit), sending('DELETE'));
/** Takes what is personal out of a site and all its visits. */
export const erasePersonal = (site: number): Promise<string | null> =>
  done(`${at('sites', site)}/erase`, sending('POST'));
