/** The visits of the record: searched, shown, begun and gone on with. */
import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import { Readable } from 'node:stream';
import * as z from 'zod';
import {
  earlierAirflowsSchema,
  earlierCapturesSchema,
  knownOutletsSchema,
  oldVisitSchema,
  visitListSchema,
} from '../protocol.ts';
import { answers, badRequest, forbidden, notFound } from './answers.ts';
import type { Reporting } from './reports.ts';
import type { StageOf, VisitDesk } from './stage.ts';
import { sent } from '../words/sent.ts';

const NOT_OPEN = sent`Earlier visits can be seen at the computer that runs Plateau: phones are let into this visit only.`;
const NOT_RECORDED = sent`visit: nothing is recorded here, so there is no other visit`;
/** Where there is none. */
const NO_RECORD: VisitDesk = {
  live: '',
  list: () => [],
  has: () => false,
  show: async () => null,
  earlierAirflows: () => [],
  knownOutlets: () => [],
  earlierCaptures: () => [],
  log: () => null,
  begin: async () => NOT_RECORDED,
  keep: () => NOT_RECORDED,
  goOn: async () => NOT_RECORDED,
};

/** Rows of a chart that is shown beside another. */
export const MOST_ROWS = 20_000;
const param = z.object({ visit: z.string().min(1).max(128) });
export const searchSchema = z.object({
  text: z
    .string()
    .max(200)
    .default('')
    .describe('words that a person said of it; all must be there'),
  since: z.coerce.number().default(-1e15).describe('with readings after this time, ms'),
  until: z.coerce.number().default(1e15).describe('and before this one'),
  most: z.coerce.number().int().min(1).max(1000).default(100),
});

export function visitRoutes(plain: FastifyInstance, stageOf: StageOf): void {
  const app = plain.withTypeProvider<ZodTypeProvider>();
  const deskOf = (request: FastifyRequest): VisitDesk => stageOf(request).desk ?? NO_RECORD;
  app.get(
    '/api/visits',
    {
      schema: {
        summary: 'The visits of the record, newest first, and which of them is live',
        querystring: searchSchema,
        response: { 200: visitListSchema },
      },
    },
    async (request) => {
      const desk = deskOf(request);
      const visits = desk.list(request.query);
      const isOwner = request.who.role === 'owner';
      return {
        live: desk.live,
        visits: isOwner ? visits : visits.filter(({ id }) => id === desk.live),
      };
    },
  );

  app.get(
    '/api/airflows/earlier',
    {
      schema: {
        summary: 'Airflows that were measured at this site in earlier visits, newest first',
        response: { 200: earlierAirflowsSchema },
      },
    },
    (request) => ({ airflows: deskOf(request).earlierAirflows() }),
  );

  app.get(
    '/api/outlets/known',
    {
      schema: {
        summary: 'Openings of earlier visits, the newest of each kind (how it is built)',
        response: { 200: knownOutletsSchema },
      },
    },
    (request) => ({ outlets: deskOf(request).knownOutlets() }),
  );

  app.get(
    '/api/captures/earlier',
    {
      schema: {
        summary: 'Captures that were made at this site in earlier visits, newest first',
        response: { 200: earlierCapturesSchema },
      },
    },
    (request) => ({ captures: deskOf(request).earlierCaptures() }),
  );

  app.get(
    '/api/visits/:visit',
    {
      schema: {
        summary: 'A recorded visit: what was said of it, captures, events, checks, chart',
        params: param,
        querystring: z.object({
          points: z.coerce.number().int().min(3).max(MOST_ROWS).default(4000),
        }),
        response: { 200: oldVisitSchema, 404: answers[404] },
      },
    },
    async (request) => {
      const { params, query } = request;
      const desk = deskOf(request);
      needOpen(request, desk, params.visit);
      return (await desk.show(params.visit, query.points)) ?? none(params.visit);
    },
  );

  app.get(
    '/api/visits/:visit/log',
    { schema: { summary: 'A recorded visit as a visit log, JSON lines', params: param } },
    async (request, reply) => {
      const { params } = request;
      const desk = deskOf(request);
      needOpen(request, desk, params.visit);
      const pieces = desk.log(params.visit) ?? none(params.visit);
      reply.header('content-type', 'application/x-ndjson');
      reply.header('content-disposition', `attachment; filename="${logFileName(params.visit)}"`);
      return reply.send(Readable.from(pieces, { objectMode: false }));
    },
  );

  app.post(
    '/api/visits',
    {
      config: { for: 'owner' },
      schema: {
        summary:
          'Ends the live visit and begins another, at a new site or at that of an earlier visit',
        body: z.object({
          like: z.string().min(1).max(128).nullable().optional().describe('a visit at that site'),
          kept: z
            .boolean()
            .optional()
            .describe('false: a quick look, of which nothing is left unless it is kept'),
        }),
        response: { 200: z.object({ live: z.string() }), 400: answers[400], 404: answers[404] },
      },
    },
    async (request) => {
      const { body } = request;
      const desk = deskOf(request);
      const like = body.like ?? null;
      if (like !== null) known(desk, like);
      return changed(desk, await desk.begin(like, body.kept ?? true));
    },
  );

  app.post(
    '/api/visits/:visit/go-on',
    {
      config: { for: 'owner' },
      schema: {
        summary: 'Ends the live visit and goes on with an earlier one',
        params: param,
        response: { 200: z.object({ live: z.string() }), 400: answers[400], 404: answers[404] },
      },
    },
    async (request) => {
      const { params } = request;
      const desk = deskOf(request);
      known(desk, params.visit);
      return changed(desk, await desk.goOn(params.visit));
    },
  );

  app.post(
    '/api/visits/:visit/keep',
    {
      schema: {
        summary: 'Writes down the quick look that is live, from its beginning',
        params: param,
        response: { 200: z.object({ live: z.string() }), 400: answers[400], 404: answers[404] },
      },
    },
    async (request) => {
      const { params } = request;
      const desk = deskOf(request);
      known(desk, params.visit);
      return changed(desk, desk.keep(params.visit));
    },
  );
}

function known(desk: VisitDesk, id: string): void {
  if (!desk.has(id)) none(id);
}
function changed(desk: VisitDesk, why: string | null): { live: string } {
  if (why !== null) throw badRequest(why);
  return { live: desk.live };
}

/** The reports of whoever asks: of visits that are open to them. */
export const reportsOf = (stageOf: StageOf): Reporting => ({
  deskOf(request, id) {
    const { reports = null, desk } = stageOf(request);
    if (desk !== undefined) needOpen(request, desk, id);
    return reports;
  },
  nameOf: (id) => id,
  none(id) {
    throw notFound(
      sent`visit: there is no visit "${id}" in this record; a quick look is recorded once it is kept`,
    );
  },
});

/** Phones are let into the live visit: others are for the computer that holds them. */
export function needOpen({ who }: FastifyRequest, desk: VisitDesk, id: string): void {
  if (who.role !== 'owner' && id !== desk.live) throw forbidden(NOT_OPEN);
}

function none(id: string): never {
  throw notFound(sent`visit: there is no visit "${id}" in this record`);
}

/** What a visit's log is called as a file. */
export function logFileName(id: string): string {
  return `${id.replace(/[^\w.-]/g, '_')}.ndjson`;
}
