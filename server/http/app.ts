/** The HTTP side of the server, assembled; it does not listen by itself. */
import helmet from '@fastify/helmet';
import staticFiles from '@fastify/static';
import swagger from '@fastify/swagger';
import websocket from '@fastify/websocket';
import fastify, { type FastifyInstance } from 'fastify';
import {
  jsonSchemaTransform,
  serializerCompiler,
  validatorCompiler,
} from 'fastify-type-provider-zod';
import { existsSync } from 'node:fs';
import * as z from 'zod';
import type { EventLine } from '../../adapters/contract.ts';
import { historySchema, stateSchema } from '../protocol.ts';
import { HISTORY_ROWS, type LiveVisit } from '../visit.ts';
import { explainFailures } from './errors.ts';
import { guard } from './guard.ts';
import { keysRoute, type SetKey } from './keys.ts';
import { type PhotoDesk, photoRoutes } from './photos.ts';
import { type ReportDesk, reportRoutes } from './reports.ts';
import { type PushReadings, readingsRoute } from './readings.ts';
import { type ReplayDesk, replayRoute } from './replay.ts';
import { setupRoutes } from './setup.ts';
import { simulationRoute, type Warm } from './simulation.ts';
import { Slices } from './slices.ts';
import { streamRoute } from './stream.ts';
import { type VisitDesk, visitRoutes } from './visits.ts';

/** An id of 128 characters as it may stand in a path: up to nine for one. */
const LONGEST_PARAM = 128 * 9;

export interface AppOptions {
  visit: LiveVisit;
  push: PushReadings;
  /** Why no reading can be kept any more, as a sentence; null: they can. */
  full?: () => string | null;
  /** Called with every event that a person told. */
  told(event: EventLine): void;
  /** Called when a person has forgotten a probe. */
  forgot(probe: string): void;
  /** The visits of the record; left out: there is none. */
  desk?: VisitDesk;
  /** What makes photos, and has them; left out: none are taken. */
  photos?: PhotoDesk;
  /** What makes reports of the visits of the record; left out: none are made. */
  reports?: ReportDesk;
  setKey: SetKey;
  /** Undefined where nothing is simulated. */
  warm?: Warm | undefined;
  /** Undefined where nothing is replayed. */
  replay?: ReplayDesk | undefined;
  version: string;
  allowed: ReadonlySet<string>;
  /** Folder of the built page. */
  clientDir: string;
}

export async function buildApp(options: AppOptions): Promise<FastifyInstance> {
  const { visit, version } = options;
  const app = fastify({
    bodyLimit: 64 * 1024,
    forceCloseConnections: true,
    requestTimeout: 30_000,
    routerOptions: { maxParamLength: LONGEST_PARAM },
    logger: false,
  });
  app.setValidatorCompiler(validatorCompiler);
  app.setSerializerCompiler(serializerCompiler);
  explainFailures(app);
  guard(app, options.allowed);
  await app.register(helmet, {
    // Everything comes from here, and over plain HTTP on a local network: no upgrade to TLS.
    strictTransportSecurity: false,
    contentSecurityPolicy: {
      useDefaults: false,
      directives: {
        defaultSrc: ["'self'"],
        imgSrc: ["'self'", 'data:'],
        objectSrc: ["'none'"],
        baseUri: ["'none'"],
        formAction: ["'self'"],
        frameAncestors: ["'none'"],
      },
    },
  });
  await app.register(swagger, {
    openapi: {
      info: {
        title: 'Plateau',
        version,
        description: 'Delivered capacity of ductless indoor units. SI units, in the field names.',
      },
    },
    transform: jsonSchemaTransform,
  });
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
    replayRoute(api, options.replay); // first: it guards those that follow
    stateRoutes(api, visit, version);
    readingsRoute(api, options.push, () => options.full?.() ?? null);
    setupRoutes(api, {
      visit,
      told: (event) => options.told(event),
      forgot: (probe) => options.forgot(probe),
    });
    keysRoute(api, options.setKey);
    simulationRoute(api, options.warm);
    streamRoute(api, visit);
    if (options.desk !== undefined) visitRoutes(api, options.desk);
    if (options.reports !== undefined) reportRoutes(api, options.reports);
    if (options.photos !== undefined) photoRoutes(api, visit, options.photos);
  });
  if (existsSync(options.clientDir)) {
    await app.register(staticFiles, {
      root: options.clientDir,
      cacheControl: false,
      // As the build has compressed it, where the browser takes that.
      preCompressed: true,
      setHeaders: (reply, path) => {
        const hashed = /[\\/]assets[\\/]/.test(path);
        reply.header('cache-control', hashed ? 'public, max-age=31536000, immutable' : 'no-store');
      },
    });
  }
  await app.ready();
  return app;
}

function stateRoutes(app: FastifyInstance, visit: LiveVisit, version: string): void {
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
    async () => ({
      ok: true,
      version,
      recording: visit.recordState.trouble === null && !visit.isReplay,
    }),
  );
  app.get(
    '/api/state',
    {
      schema: { summary: 'The latest snapshot and all around it', response: { 200: stateSchema } },
    },
    async () => visit.state(),
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
