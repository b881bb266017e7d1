/**
 * Who asks an archive: whoever shows a token, in a header (a van's computer, a script) or in a cookie (a
 * page that was given one). It is looked up at every call: one that is withdrawn lets nobody in from then on.
 */
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { sent } from '../../words/sent.ts';
import type { ArchiveDatabase, Asker, Role } from '../database.ts';
import { tokenHash } from '../tokens.ts';

declare module 'fastify' {
  interface FastifyRequest {
    /** Null: nobody who is let in. */
    asker: Asker | null;
  }
  interface FastifyContextConfig {
    /** Whom a call of the archive is for; readers and the owner where it is not said. */
    roles?: readonly Role[] | 'anyone';
  }
}

const READERS: readonly Role[] = ['reader', 'owner'];
export const ONLY_OWNER: readonly Role[] = ['owner'];
export const ONLY_VANS: readonly Role[] = ['van'];

const NO_TOKEN = sent`This needs a token: ask at the office, and enter it on the first page.`;
const NOT_YOURS = sent`This token is not for that: ask at the office.`;

/** The name of the cookie: those of two servers on one machine are apart. */
export const cookieName = ({ socket }: FastifyRequest): string =>
  `plateau-archive-${socket.localPort ?? 0}`;

/** Finds out who asks, and refuses what they may not. To be called before the routes are added. */
export function checkTokens(app: FastifyInstance, db: ArchiveDatabase): void {
  app.decorateRequest('asker', null);
  app.addHook('onRequest', async (request, reply) => {
    const { url, config } = request.routeOptions;
    if (url === undefined || !url.startsWith('/api')) return; // the empty page
    const token = bearer(request) ?? request.cookies[cookieName(request)];
    const hash = token === undefined ? null : tokenHash(token);
    request.asker = hash === null ? null : await db.whoShows(hash);
    const roles = config.roles ?? READERS;
    if (roles === 'anyone') return;
    if (request.asker === null) return reply.code(401).send({ error: NO_TOKEN });
    if (!roles.includes(request.asker.role)) return reply.code(403).send({ error: NOT_YOURS });
  });
}

/** Who asks, at a call that nobody else gets to. */
export function askerOf({ asker }: FastifyRequest): Asker {
  if (asker === null) throw Object.assign(new Error(NO_TOKEN), { statusCode: 401 });
  return asker;
}

function bearer({ headers }: FastifyRequest): string | undefined {
  return /^Bearer (\S+)$/i.exec(headers.authorization ?? '')?.[1];
}
