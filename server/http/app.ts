/** The HTTP side of the server, assembled; it does not listen by itself. */
import cookie from '@fastify/cookie';
import rateLimit from '@fastify/rate-limit';
import websocket from '@fastify/websocket';
import fastify, { type FastifyInstance } from 'fastify';
import { serializerCompiler, validatorCompiler } from 'fastify-type-provider-zod';
import * as z from 'zod';
import { historySchema, stateSchema } from '../protocol.ts';
import type { Sending } from '../protocol/archive.ts';
import { HISTORY_ROWS } from '../visit.ts';
import { type AccessRoutes, accessRoutes } from './access/routes.ts';
import { type AccessOptions, checkAccess } from './access/who.ts';
import { notFound, tooMany } from './answers.ts';
import { type ClassDesk, classRoutes, sealEnded, stageOfTrainee } from './class.ts';
import { explainFailures } from './errors.ts';
import { guard } from './guard.ts';
import { keysRoute } from './keys.ts';
import { documentation, pageFiles, securityHeaders } from './page.ts';
import { photoRoutes } from './photos.ts';
import { reportRoutes } from './reports.ts';
import { readingsRoute } from './readings.ts';
import { replayRoute } from './replay.ts';
import { setupRoutes } from './setup.ts';
import { simulationRoute } from './simulation.ts';
import { sendingRoute } from './sending.ts';
import { Slices } from './slices.ts';
import type { Stage, StageOf } from './stage.ts';
import { streamRoute } from './stream.ts';
import { reportsOf, visitRoutes } from './visits.ts';
import { sent } from '../words/sent.ts';

/** An id of 128 characters as it may stand in a path: up to nine for one. */
const LONGEST_PARAM = 128 * 9;

export interface AppOptions {
  /** The live visit of the house, with what serves it. */
  house: Stage;
  /** Who has been let in from other machines. */
  access: AccessOptions & AccessRoutes;
  /** The class; left out: there can be none. */
  classroom?: ClassDesk;
  /** How the sending of visits to the company's archive stands; null: no archive was named. */
  sending?: () => Sending | null;
  version: string;
  /** Folder of the built page. */
  clientDir: string;
  /** A certificate with its key, in PEM; left out: plain HTTP. */
  tls?: { cert: Buffer; key: Buffer } | undefined;
}

export async function buildApp(options: AppOptions): Promise<FastifyInstance> {
  const { house, access, classroom, version, tls } = options;
  const app: FastifyInstance = fastify({
    bodyLimit: 64 * 1024,
    forceCloseConnections: true,
    requestTimeout: 30_000,
    routerOptions: { maxParamLength: LONGEST_PARAM },
    logger: false,
    ...(tls === undefined ? {} : { https: tls }),
  });
  const stageOf: StageOf = ({ who: { session } }) =>
    session === null || session.trainee === null
      ? house
      : ((classroom && stageOfTrainee(classroom.room, session.trainee)) ?? gone());
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(serializerCompiler);
  explainFailures(app);
  guard(app, access.allowed);
  await app.register(cookie);
  checkAccess(app, access);
  await securityHeaders(app);
  await documentation(app, 'Delivered capacity of ductless indoor units.', version);
  await app.register(websocket, {
    options: { maxPayload: 1024, perMessageDeflate: false },
    // Pages first, with a reason; else closing would wait for them for ever.
    preClose(done) {
      for (const client of this.websocketServer.clients)
        client.close(1001, 'the server is stopping');
      this.websocketServer.close();
      done();
    },
  });
  app.register(async (api) => {
    await api.register(rateLimit, {
      timeWindow: '1 minute',
      // The page of a person who works fast, and a source that sends four times a second.
      max: ({ who }) => (who.session === null ? 300 : 1200),
      keyGenerator: ({ who, ip }) => who.session?.id ?? ip,
      allowList: ({ who }) => who.role === 'owner',
      errorResponseBuilder: (_request, { ttl }) => tooMany(Math.ceil(ttl / 1000)),
    });
    replayRoute(api, stageOf); // first: it guards those that follow
    if (classroom !== undefined) sealEnded(api, classroom.room);
    stateRoutes(api, stageOf, version);
    readingsRoute(api, stageOf);
    setupRoutes(api, stageOf);
    keysRoute(api, stageOf);
    simulationRoute(api, stageOf);
    streamRoute(api, stageOf, access.book);
    accessRoutes(api, access);
    visitRoutes(api, stageOf);
    sendingRoute(api, options.sending);
    reportRoutes(api, reportsOf(stageOf));
    photoRoutes(api, stageOf);
    if (classroom !== undefined) classRoutes(api, classroom);
  });
  await pageFiles(app, options.clientDir);
  await app.ready();
  return app;
}

/** Whose visit has just ended. */
function gone(): never {
  throw notFound(sent`The class has ended, and your visit with it.`);
}

function stateRoutes(app: FastifyInstance, stageOf: StageOf, version: string): void {
  app.get(
    '/api/health',
    {
      schema: {
        summary: 'Is it there?',
        response: {
          200: z.object({
            ok: z.literal(true),
            version: z.string(),
            recording: z.boolean().describe('false: the state says why, or a log is played'),
          }),
        },
      },
    },
    async (request) => {
      const { visit } = stageOf(request);
      const recording = visit.recordState.trouble === null && !visit.isReplay;
      return { ok: true, version, recording };
    },
  );
  app.get(
    '/api/state',
    {
      schema: { summary: 'The latest snapshot and all around it', response: { 200: stateSchema } },
    },
    async (request) => stageOf(request).visit.state(),
  );
  const querySchema = z.object({
    since: z.coerce.number().min(0).default(0).describe('rows after this time, ms'),
    until: z.coerce.number().min(0).optional().describe('and up to this one'),
    points: z.coerce.number().int().min(3).max(200_000).default(HISTORY_ROWS),
  });
  app.get(
    '/api/history',
    {
      schema: {
        summary: 'The past in columns, thinned to `points` rows with lows and highs kept',
        querystring: querySchema,
        response: { 200: historySchema },
      },
    },
    async (request, reply) => {
      const { since, until, points } = querySchema.parse(request.query);
      const { visit } = stageOf(request);
      const slices = new Slices();
      const texts: string[] = [];
      for (const text of visit.historyPieces(since, until ?? Infinity, points)) {
        texts.push(text);
        const pause = slices.turn();
        if (pause !== null) await pause;
      }
      // Written already; what is a string is sent as it is.
      return reply
        .type('application/json; charset=utf-8')
        .serializer((text: string) => text)
        .send(texts.join(''));
    },
  );
  app.get('/api/docs', { schema: { hide: true } }, async () => app.swagger());
}
