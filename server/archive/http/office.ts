/** What the owner does: makes and withdraws tokens, deletes, erases, and sees who did. */
import type { FastifyInstance } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import * as z from 'zod';
import { answers, notFound } from '../../http/answers.ts';
import {
  ARCHIVE_ROLES,
  auditSchema,
  newTokenSchema,
  tokensSchema,
} from '../../protocol/archive.ts';
import { sent } from '../../words/sent.ts';
import type { ArchiveDatabase } from '../database.ts';
import { deleteVisit, erasePersonal, readAudit } from '../office.ts';
import { listTokens, makeToken, withdrawToken } from '../tokens.ts';
import { askerOf, ONLY_OWNER } from './who.ts';

const key = z.coerce.number().int().min(1).max(Number.MAX_SAFE_INTEGER);
const config = { roles: ONLY_OWNER };

export function officeRoutes(plain: FastifyInstance, db: ArchiveDatabase, now: () => number): void {
  const app = plain.withTypeProvider<ZodTypeProvider>();
  app.get(
    '/api/archive/tokens',
    { config, schema: { summary: 'Who is let in', response: { 200: tokensSchema } } },
    async (request) => ({ tokens: await db.as(askerOf(request), listTokens) }),
  );
  app.post(
    '/api/archive/tokens',
    {
      config,
      schema: {
        summary: 'Makes a token: it is answered once, and stands nowhere else',
        body: z.object({
          role: z.enum(ARCHIVE_ROLES),
          name: z.string().trim().min(1).max(80).describe('of a person, or of a van'),
          van: z.string().max(40).optional().describe('another token for this van'),
        }),
        response: { 200: newTokenSchema },
      },
    },
    async (request) => {
      const { body } = request;
      const { id, token } = await db.as(askerOf(request), (ask) => makeToken(ask, body, now()));
      return { id, token };
    },
  );
  app.delete(
    '/api/archive/tokens/:token',
    {
      config,
      schema: {
        summary: 'Withdraws a token: it lets nobody in from now on; what was sent with it stays',
        params: z.object({ token: z.string().min(1).max(40) }),
        response: answers,
      },
    },
    async (request) => {
      const { token } = request.params;
      const done = await db.as(askerOf(request), (ask) => withdrawToken(ask, token, now()));
      if (!done) throw notFound(sent`token: there is no "${token}" that lets anybody in`);
      return { ok: true as const };
    },
  );
  app.get(
    '/api/archive/audit',
    {
      config,
      schema: {
        summary: 'Who made, withdrew, deleted or erased what, the newest first',
        response: { 200: auditSchema },
      },
    },
    async (request) => ({ entries: await db.as(askerOf(request), readAudit) }),
  );
  app.delete(
    '/api/archive/visits/:visit',
    {
      config,
      schema: {
        summary: 'Deletes a visit with all its versions',
        params: z.object({ visit: key }),
        response: answers,
      },
    },
    async (request) => {
      const { visit } = request.params;
      const done = await db.as(askerOf(request), (ask) => deleteVisit(ask, visit));
      if (!done) throw notFound(sent`visit: there is no "${visit}" in this archive`);
      return { ok: true as const };
    },
  );
  app.post(
    '/api/archive/sites/:site/erase',
    {
      config,
      schema: {
        summary: 'Takes what is personal out of a site and all its visits; measurements stay',
        params: z.object({ site: key }),
        response: answers,
      },
    },
    async (request) => {
      const { site } = request.params;
      const done = await db.as(askerOf(request), (ask) => erasePersonal(ask, site, now()));
      if (!done) throw notFound(sent`site: there is no "${site}" that was not erased already`);
      return { ok: true as const };
    },
  );
}
