/** What readers ask of an archive: visits, units over the years, types, probes. */
import type { FastifyInstance } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import { Readable } from 'node:stream';
import * as z from 'zod';
import { answers, notFound } from '../../http/answers.ts';
import { sendPhoto } from '../../http/photos.ts';
import type { Reporting } from '../../http/reports.ts';
import { logFileName, MOST_ROWS, searchSchema } from '../../http/visits.ts';
import { oldVisitSchema, visitListSchema } from '../../protocol.ts';
import {
  archivedVisitSchema,
  archiveUnitsSchema,
  probeBookSchema,
  probeHistorySchema,
  typeComparisonSchema,
  typesSchema,
  unitHistorySchema,
} from '../../protocol/archive.ts';
import { idSchema, photoIdSchema } from '../../visit-log/schema.ts';
import { sent } from '../../words/sent.ts';
import type { ArchiveDatabase } from '../database.ts';
import { listProbes, probeHistory } from '../probe-book.ts';
import { archiveReports, type MakeReport } from '../reports.ts';
import { compareType, listTypes } from '../types.ts';
import { findUnits, unitHistory } from '../units.ts';
import {
  archivedLog,
  archivedPhoto,
  placeOfVisit,
  searchArchive,
  showArchived,
} from '../visits.ts';
import { askerOf } from './who.ts';

const key = z.coerce.number().int().min(1).max(Number.MAX_SAFE_INTEGER);

export function readingRoutes(
  plain: FastifyInstance,
  db: ArchiveDatabase,
  now: () => number,
): void {
  const app = plain.withTypeProvider<ZodTypeProvider>();
  app.get(
    '/api/visits',
    {
      schema: {
        summary: 'The visits of the archive, newest first',
        querystring: searchSchema,
        response: { 200: visitListSchema },
      },
    },
    async (request) => ({
      live: null,
      visits: await db.as(askerOf(request), (ask) => searchArchive(ask, request.query)),
    }),
  );
  app.get(
    '/api/visits/:visit',
    {
      schema: {
        summary: 'A visit: what was said of it, captures, events, checks, chart',
        params: z.object({ visit: key }),
        querystring: z.object({
          points: z.coerce.number().int().min(3).max(MOST_ROWS).default(4000),
        }),
        response: { 200: oldVisitSchema, 404: answers[404] },
      },
    },
    async (request) => {
      const { visit } = request.params;
      const { points } = request.query;
      const found = await db.as(askerOf(request), (ask) => showArchived(ask, visit, points));
      return found ?? none('visit', visit);
    },
  );
  app.get(
    '/api/visits/:visit/log',
    { schema: { summary: 'A visit as a visit log, JSON lines', params: z.object({ visit: key }) } },
    async (request, reply) => {
      const { visit } = request.params;
      const pieces = await db.as(askerOf(request), (ask) => archivedLog(ask, visit));
      reply.header('content-type', 'application/x-ndjson');
      const name = logFileName(nameOf(visit));
      reply.header('content-disposition', `attachment; filename="${name}"`);
      return reply.send(Readable.from(pieces ?? none('visit', visit), { objectMode: false }));
    },
  );
  app.get(
    '/api/photos/:photo',
    {
      schema: {
        summary: 'A photo of any visit: a JPEG',
        params: z.object({ photo: photoIdSchema }),
      },
    },
    async (request, reply) => {
      const { photo: id } = request.params;
      return sendPhoto(reply, id, await db.as(askerOf(request), (ask) => archivedPhoto(ask, id)));
    },
  );
  app.get(
    '/api/archive/visits/:visit',
    {
      schema: {
        summary: 'By which van a visit is, at which site, and its units in the archive',
        params: z.object({ visit: key }),
        response: { 200: archivedVisitSchema, 404: answers[404] },
      },
    },
    async (request) => {
      const { visit } = request.params;
      const found = await db.as(askerOf(request), (ask) => placeOfVisit(ask, visit));
      return found ?? none('visit', visit);
    },
  );
  app.get(
    '/api/archive/units',
    {
      schema: {
        summary: 'Units, by words of their names, types, serial numbers and sites',
        querystring: z.object({ text: z.string().max(200).default('') }),
        response: { 200: archiveUnitsSchema },
      },
    },
    async (request) => ({
      units: await db.as(askerOf(request), (ask) => findUnits(ask, request.query.text)),
    }),
  );
  app.get(
    '/api/archive/units/:unit',
    {
      schema: {
        summary: 'A unit over the years, by whichever van',
        params: z.object({ unit: key }),
        response: { 200: unitHistorySchema, 404: answers[404] },
      },
    },
    async (request) => {
      const { unit } = request.params;
      const found = await db.as(askerOf(request), (ask) => unitHistory(ask, unit));
      return found ?? none('unit', unit);
    },
  );
  app.get(
    '/api/archive/types',
    {
      schema: { summary: 'Types of which there are units', response: { 200: typesSchema } },
    },
    async (request) => ({ types: await db.as(askerOf(request), listTypes) }),
  );
  app.get(
    '/api/archive/types/:model',
    {
      schema: {
        summary: 'All units of a type beside each other, and which of them lie outside',
        params: z.object({ model: z.string().min(1).max(200) }),
        response: { 200: typeComparisonSchema, 404: answers[404] },
      },
    },
    async (request) => {
      const { model } = request.params;
      const found = await compareType(db, askerOf(request), model);
      return found ?? none('model', model);
    },
  );
  app.get(
    '/api/archive/probes',
    {
      schema: {
        summary: 'The probe book: all probes, those first that are due for calibration',
        response: { 200: probeBookSchema },
      },
    },
    async (request) => ({ probes: await db.as(askerOf(request), listProbes) }),
  );
  app.get(
    '/api/archive/probes/:probe',
    {
      schema: {
        summary: 'A probe’s offsets over all its checks, and its drift',
        params: z.object({ probe: idSchema }),
        response: { 200: probeHistorySchema, 404: answers[404] },
      },
    },
    async (request) => {
      const { probe } = request.params;
      const found = await db.as(askerOf(request), (ask) => probeHistory(ask, probe, now()));
      return found ?? none('probe', probe);
    },
  );
}

/** What a visit's files are called. */
const nameOf = (visit: string | number): string => `visit-${visit}`;

/** Reports and tables of whoever asks. */
export const reportsOf = (db: ArchiveDatabase, make: MakeReport): Reporting => ({
  deskOf: (request, id) =>
    key.safeParse(id).success ? archiveReports(db, askerOf(request), make) : null,
  nameOf,
  none: (id) => none('visit', id),
});

function none(what: 'visit' | 'unit' | 'model' | 'probe', which: string | number): never {
  throw notFound(sent`${what}: there is no "${which}" in this archive`);
}
