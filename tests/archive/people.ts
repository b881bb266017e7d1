/** Who asks an archive, for tests. */
import type { ArchiveDatabase, Asker } from '../../server/archive/database.ts';
import { makeToken } from '../../server/archive/tokens.ts';
import type { Van } from '../../server/archive/intake.ts';
import { T0 } from './visits.ts';

export const OWNER: Asker = { id: 'o', role: 'owner', van: null, name: 'Office' };
export const READER: Asker = { id: 'r', role: 'reader', van: null, name: 'Desk' };

/** A van of the archive. */
export async function newVan(db: ArchiveDatabase, name: string): Promise<Van & { token: string }> {
  const made = await db.as(OWNER, (ask) => makeToken(ask, { role: 'van', name }, T0));
  if (made.van === null) throw new Error('no van was made');
  return { id: made.id, role: 'van', van: made.van, name, token: made.token };
}
