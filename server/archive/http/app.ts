/** The HTTP side of an archive, assembled; it does not listen by itself. */
import cookie from '@fastify/cookie';
import rateLimit from '@fastify/rate-limit';
import fastify, { type FastifyInstance } from 'fastify';
import {
  serializerCompiler,
  validatorCompiler,
  type ZodTypeProvider,
} from 'fastify-type-provider-zod';
import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import * as z from 'zod';
import { answers, tooMany } from '../../http/answers.ts';
import { explainFailures } from '../../http/errors.ts';
import { guard } from '../../http/guard.ts';
import { documentation, pageFiles, securityHeaders } from '../../http/page.ts';
import { reportRoutes } from '../../http/reports.ts';
import { archiveWhoSchema } from '../../protocol/archive.ts';
import { sent } from '../../words/sent.ts';
import type { ArchiveDatabase } from '../database.ts';
import { Intake } from '../intake.ts';
import type { MakeReport } from '../reports.ts';
import { tokenHash } from '../tokens.ts';
import { intakeRoutes } from './intake.ts';
import { officeRoutes } from './office.ts';
import { readingRoutes, reportsOf } from './reading.ts';
import { checkTokens, cookieName } from './who.ts';

const LONGEST_PARAM = 128 * 9;
/** A cookie that was not used for so long is forgotten by the browser, s. */
const COOKIE_S = 90 * 86_400;
const WRONG = sent`token: it is not one that lets anybody in. Ask at the office for another.`;

export interface ArchiveOptions {
  db: ArchiveDatabase;
  /** Wall clock, ms. */
  now: () => number;
  version: string;
  /** Folder of the built page. */
  clientDir: string;
  /** The names by which this server may be called. */
  allowed: ReadonlySet<string>;
  /** A certificate with its key, in PEM; left out: plain HTTP. */
  tls?: { cert: Buffer; key: Buffer } | undefined;
  makeReport: MakeReport;
  /** Behind a proxy that speaks TLS: cookies go over it only. */
  secure: boolean;
}

export async function buildArchive(options: ArchiveOptions): Promise<FastifyInstance> {
  const { db, now, version, tls } = options;
  const app: FastifyInstance = fastify({
    bodyLimit: 64 * 1024,
    forceCloseConnections: true,
    requestTimeout: 120_000, // a piece of a visit over a slow line
    routerOptions: { maxParamLength: LONGEST_PARAM },
    logger: false,
    ...(tls === undefined ? {} : { https: tls }),
  });
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(serializerCompiler);
  explainFailures(app);
  guard(app, options.allowed);
  await app.register(cookie);
  checkTokens(app, db);
  await securityHeaders(app);
  await documentation(app, 'What a company’s vans have measured.', version);
  app.register(async (api) => {
    await api.register(rateLimit, {
      timeWindow: '1 minute',
      max: ({ asker }) => (asker === null ? 60 : 3000),
      keyGenerator: ({ asker, ip }) => asker?.id ?? ip,
      errorResponseBuilder: (_request, { ttl }) => tooMany(Math.ceil(ttl / 1000)),
    });
    sessionRoutes(api, options);
    intakeRoutes(api, new Intake(db, now));
    readingRoutes(api, db, now);
    reportRoutes(api, reportsOf(db, options.makeReport));
    officeRoutes(api, db, now);
    api.get('/api/docs', { config: { roles: 'anyone' }, schema: { hide: true } }, async () =>
      app.swagger(),
    );
  });
  await archivePage(app, options.clientDir);
  await pageFiles(app, options.clientDir);
  await app.ready();
  return app;
}

/** The built page with a mark that it is of an archive: it shows other places then. */
async function archivePage(app: FastifyInstance, clientDir: string): Promise<void> {
  const built = await readFile(join(clientDir, 'index.html'), 'utf8').catch(() => null);
  if (built === null) return;
  const page = built.replace('<div id="page">', '<div id="page" data-archive>');
  app.get('/', { schema: { hide: true } }, async (_request, reply) =>
    reply.type('text/html; charset=utf-8').header('cache-control', 'no-store').send(page),
  );
}

function sessionRoutes(plain: FastifyInstance, { db, version, tls, secure }: ArchiveOptions): void {
  const app = plain.withTypeProvider<ZodTypeProvider>();
  const kept = {
    path: '/',
    httpOnly: true,
    sameSite: 'strict',
    secure: tls !== undefined || secure,
    maxAge: COOKIE_S,
  } as const;
  app.get(
    '/api/health',
    {
      config: { roles: 'anyone' },
      schema: {
        summary: 'Is it there?',
        response: { 200: z.object({ ok: z.literal(true), version: z.string() }) },
      },
    },
    async () => ({ ok: true as const, version }),
  );
  app.get(
    '/api/archive/session',
    {
      config: { roles: 'anyone' },
      schema: { summary: 'Who you are to this archive', response: { 200: archiveWhoSchema } },
    },
    async ({ asker }) => ({ role: asker?.role ?? null, name: asker?.name ?? null, version }),
  );
  app.post(
    '/api/archive/session',
    {
      config: { roles: 'anyone' },
      schema: {
        summary: 'Keeps a token in a cookie, for the page',
        body: z.object({ token: z.string().min(1).max(100) }),
        response: { 200: archiveWhoSchema, 401: z.object({ error: z.string() }) },
      },
    },
    async (request, reply) => {
      const token = request.body.token.trim();
      const hash = tokenHash(token);
      const asker = hash === null ? null : await db.whoShows(hash);
      if (asker === null) return reply.code(401).send({ error: WRONG });
      reply.setCookie(cookieName(request), token, kept);
      return { role: asker.role, name: asker.name, version };
    },
  );
  app.delete(
    '/api/archive/session',
    {
      config: { roles: 'anyone' },
      schema: { summary: 'Forgets the token in the cookie', response: { 200: answers[200] } },
    },
    async (request, reply) => {
      reply.clearCookie(cookieName(request), kept);
      return { ok: true as const };
    },
  );
}
