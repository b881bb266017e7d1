/** A thread that makes one report, and ends: the server goes on answering meanwhile. */
import { parentPort, workerData } from 'node:worker_threads';
import * as z from 'zod';
import { KINDS } from '../archive/parcel.ts';
import { VISIT_KINDS } from '../protocol.ts';
import { LANGUAGES } from '../words/language.ts';
import { speakAs } from '../words/speak-as.ts';

const partSchema = z.object({ kind: z.enum(KINDS), data: z.instanceof(Uint8Array) });
const requestSchema = z.object({
  of: z.union([
    z.object({ dataDir: z.string(), visit: z.string() }),
    z.object({
      ...{ id: z.string(), kind: z.enum(VISIT_KINDS) },
      parts: z.array(partSchema),
    }),
  ]),
  units: z.enum(['si', 'ip']),
  paper: z.enum(['letter', 'a4']),
  madeT: z.number(),
  language: z.enum(LANGUAGES),
  locale: z.string().optional(),
});
if (parentPort === null) throw new Error('this is the program of a thread');
const request = requestSchema.parse(workerData);
// First the language: what is loaded after it says its sentences in it.
await speakAs(request.language, request.locale);
const { makeReport } = await import('./make-report.ts');
const made = await makeReport(request);
parentPort.postMessage(made === null ? null : new Uint8Array(made));
