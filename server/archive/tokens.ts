/** Tokens: made, shown once, kept as a hash, withdrawn. */
import { createHash, randomBytes } from 'node:crypto';
import * as z from 'zod';
import { badRequest } from '../http/answers.ts';
import { sent } from '../words/sent.ts';
import type { Ask, Role } from './database.ts';
import { ROLES } from './database.ts';

const TOKEN = /^[A-Za-z0-9_-]{43}$/;

/** What the database holds of a token; null for what is none. */
export function tokenHash(token: string): Buffer | null {
  return TOKEN.test(token) ? createHash('sha256').update(token).digest() : null;
}

export interface NewToken {
  role: Role;
  name: string;
  /** Of a van: an id that is there already, where another token is made for it. */
  van?: string | undefined;
}

const ID_BYTES = 6;
const newId = (): string => randomBytes(ID_BYTES).toString('hex');

/**
 * Makes one; as the owner.
 * @returns the token, which stands nowhere else
 * @throws Error, to be answered with 400, where there is no such van
 */
export async function makeToken(
  ask: Ask,
  { role, name, van }: NewToken,
  now: number,
): Promise<{ id: string; token: string; van: string | null }> {
  let of: string | null = null;
  if (role === 'van') {
    of = van ?? newId();
    if (van === undefined) {
      await ask.run('INSERT INTO van (id, name, made_t) VALUES ($1, $2, $3)', [of, name, now]);
    } else if (
      (await ask.one(z.object({}), 'SELECT FROM van WHERE id = $1', [van])) === undefined
    ) {
      throw badRequest(sent`van: there is no van "${van}"`);
    }
  }
  const id = newId();
  const token = randomBytes(32).toString('base64url');
  await ask.run(
    'INSERT INTO token (id, role, van, name, hash, made_t) VALUES ($1, $2, $3, $4, $5, $6)',
    [id, role, of, name, tokenHash(token), now],
  );
  return { id, token, van: of };
}

/** Withdraws one: from now on it lets nobody in. @returns whether there was such a one */
export async function withdrawToken(ask: Ask, id: string, now: number): Promise<boolean> {
  const changed = await ask.run(
    'UPDATE token SET withdrawn_t = $2 WHERE id = $1 AND withdrawn_t IS NULL',
    [id, now],
  );
  return changed > 0;
}

const tokenRow = z
  .object({
    ...{ id: z.string(), role: z.enum(ROLES), van: z.string().nullable(), name: z.string() },
    ...{ made_t: z.number(), withdrawn_t: z.number().nullable() },
  })
  .transform(({ made_t, withdrawn_t, ...row }) => ({
    ...{ ...row, madeT: made_t, withdrawnT: withdrawn_t },
  }));

/** All that were ever made, the newest first. */
export const listTokens = (ask: Ask) =>
  ask.rows(
    tokenRow,
    'SELECT id, role, van, name, made_t, withdrawn_t FROM token ORDER BY made_t DESC, id',
  );
