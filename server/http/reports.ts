/** What is handed over of a recorded visit: its report, and its captures and readings as tables. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import { Readable } from 'node:stream';
import * as z from 'zod';
import { answers } from './answers.ts';
import { LineOfWork } from './line-of-work.ts';
import { sent } from '../words/sent.ts';
import { type Language, LANGUAGES } from '../words/language.ts';
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

/** In which units, on which paper. */
export interface ReportForm {
  units: 'si' | 'ip';
  paper: 'letter' | 'a4';
  language: Language;
  /** How numbers and days are written, BCP 47; as is usual for the language where it is not there. */
  locale?: string | undefined;
}

/** What stands between these calls and the record; null: there is no such visit. */
export interface ReportDesk {
  report(id: string, form: ReportForm): Promise<Uint8Array | null>;
  captures(id: string): Promise<string | null>;
  /** In pieces of text. */
  readings(id: string): Promise<Iterable<string> | null>;
}

export interface Reporting {
  /** For who asks; null: nothing is recorded. @throws where that visit is not open to them */
  deskOf: (request: FastifyRequest, id: string) => ReportDesk | null;
  /** What its files are called, without an ending. */
  nameOf: (id: string) => string;
  /** There is no such visit. @throws */
  none: (id: string) => never;
}

export function reportRoutes(plain: FastifyInstance, { deskOf, nameOf, none }: Reporting): void {
  const app = plain.withTypeProvider<ZodTypeProvider>();
  const opened = (request: FastifyRequest, id: string): ReportDesk =>
    deskOf(request, id) ?? none(id);
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
      const reports = opened(request, params.visit);
      const { units, paper = units === 'ip' ? 'letter' : 'a4', language, locale } = query;
      const made = await work.add(0, async () => ({
        pdf: await reports.report(params.visit, { units, paper, language, locale }),
      }));
      if (made === null) return reply.code(503).send({ error: BUSY });
      if (made.pdf === null) return none(params.visit);
      return file(reply, nameOf(params.visit), 'pdf', 'application/pdf').send(
        Buffer.from(made.pdf),
      );
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
      const text =
        (await opened(request, params.visit).captures(params.visit)) ?? none(params.visit);
      return file(reply, `${nameOf(params.visit)}-captures`, 'csv', CSV).send(text);
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
      const pieces =
        (await opened(request, params.visit).readings(params.visit)) ?? none(params.visit);
      return file(reply, `${nameOf(params.visit)}-readings`, 'csv', CSV).send(
        Readable.from(pieces, { objectMode: false }),
      );
    },
  );
}

const CSV = 'text/csv; charset=utf-8; header=present';

function file(reply: FastifyReply, name: string, ending: string, type: string): FastifyReply {
  const safe = name.replace(/[^\w.-]/g, '_');
  return reply
    .header('content-type', type)
    .header('content-disposition', `attachment; filename="${safe}.${ending}"`);
}
