/** A thread that makes one report, and ends: the server goes on answering meanwhile. */
import { parentPort, workerData } from 'node:worker_threads';
import * as z from 'zod';
import { makeReport } from './make-report.ts';

const requestSchema = z.object({
  dataDir: z.string(),
  visit: z.string(),
  units: z.enum(['si', 'ip']),
  paper: z.enum(['letter', 'a4']),
  madeT: z.number(),
});
if (parentPort === null) throw new Error('this is the program of a thread');
const made = await makeReport(requestSchema.parse(workerData));
parentPort.postMessage(made === null ? null : new Uint8Array(made));
