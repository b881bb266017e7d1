/** What is handed over of a recorded visit: its report, and its captures and readings as tables. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import { Readable } from 'node:stream';
import * as z from 'zod';
import { answers, notFound } from './answers.ts';
import { LineOfWork } from './line-of-work.ts';
import type { ReportDesk, StageOf } from './stage.ts';
import { needOpen } from './visits.ts';
import { sent } from '../words/sent.ts';
import { LANGUAGES } from '../words/language.ts';
import { isLocale } from '../words/speak-as.ts';

const param = z.object({ visit: z.string().min(1).max(128) });
const formSchema = z.object({
  units: z.enum(['si', 'ip']).default('si').describe('kW, °C, m³/h; or Btu/h, °F, cfm'),
  paper: z.enum(['letter', 'a4']).optional().describe('letter with ip, else a4'),
  language: z.enum(LANGUAGES).default('en'),
  locale: z
    .string()
    .max(35)
    .refine(isLocale, 'is no tag of a language and place, as "es-MX"')
    .optional()
    .describe('how numbers and days are written, BCP 47'),
});
const busy = z.object({ error: z.string() });
const BUSY = sent`Too many reports are waiting to be made. Ask again soon.`;

export function reportRoutes(plain: FastifyInstance, stageOf: StageOf): void {
  const app = plain.withTypeProvider<ZodTypeProvider>();
  // One after another: each takes a core for some seconds.
  const work = new LineOfWork();
  app.get(
    '/api/visits/:visit/report.pdf',
    {
      schema: {
        summary: 'The report of a recorded visit, a PDF',
        params: param,
        querystring: formSchema,
        produces: ['application/pdf'],
        response: { 404: answers[404], 503: busy },
      },
    },
    async (request, reply) => {
      const { params, query } = request;
      const { reports } = opened(stageOf, request, params.visit);
      const { units, paper = units === 'ip' ? 'letter' : 'a4', language, locale } = query;
      const made = await work.add(0, async () => ({
        pdf: await reports.report(params.visit, { units, paper, language, locale }),
      }));
      if (made === null) return reply.code(503).send({ error: BUSY });
      if (made.pdf === null) return none(params.visit);
      return file(reply, params.visit, 'pdf', 'application/pdf').send(Buffer.from(made.pdf));
    },
  );

  app.get(
    '/api/visits/:visit/captures.csv',
    {
      schema: {
        summary: 'The captures of a recorded visit as a table, SI, units in the header',
        params: param,
        produces: ['text/csv'],
        response: { 404: answers[404] },
      },
    },
    async (request, reply) => {
      const { params } = request;
      const { reports } = opened(stageOf, request, params.visit);
      const text = (await reports.captures(params.visit)) ?? none(params.visit);
      return file(reply, `${params.visit}-captures`, 'csv', CSV).send(text);
    },
  );

  app.get(
    '/api/visits/:visit/readings.csv',
    {
      schema: {
        summary: 'Every reading of a recorded visit as a table, SI, units in the header',
        params: param,
        produces: ['text/csv'],
        response: { 404: answers[404] },
      },
    },
    async (request, reply) => {
      const { params } = request;
      const { reports } = opened(stageOf, request, params.visit);
      const pieces = reports.readings(params.visit) ?? none(params.visit);
      return file(reply, `${params.visit}-readings`, 'csv', CSV).send(
        Readable.from(pieces, { objectMode: false }),
      );
    },
  );
}

/** The reports of who is asking, where that visit is open to them. */
function opened(stageOf: StageOf, request: FastifyRequest, id: string): { reports: ReportDesk } {
  const { reports, desk } = stageOf(request);
  if (desk !== undefined) needOpen(request, desk, id);
  return { reports: reports ?? none(id) };
}

const CSV = 'text/csv; charset=utf-8; header=present';

function file(reply: FastifyReply, name: string, ending: string, type: string): FastifyReply {
  const safe = name.replace(/[^\w.-]/g, '_');
  return reply
    .header('content-type', type)
    .header('content-disposition', `attachment; filename="${safe}.${ending}"`);
}

function none(id: string): never {
  throw notFound(
    sent`visit: there is no visit "${id}" in this record; a quick look is recorded once it is kept`,
  );
}
