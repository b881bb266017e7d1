/** Reports made beside the server, in a thread that is bounded in time and memory. */
import { Worker } from 'node:worker_threads';
import type { ReportRequest } from './make-report.ts';

/** A visit of a day with many probes takes some ten seconds on a small computer. */
const LONGEST_MS = 120_000;
const HEAP_MB = 768;

/**
 * @param file the built program of the thread
 * @returns the PDF; null where there is no such visit
 * @throws Error with a sentence where it cannot be made
 */
export function reportAside(file: string, request: ReportRequest): Promise<Uint8Array | null> {
  return new Promise((resolve, reject) => {
    const thread = new Worker(file, {
      workerData: request,
      resourceLimits: { maxOldGenerationSizeMb: HEAP_MB },
    });
    const fail = (why: string): void => {
      clearTimeout(late);
      reject(new Error(`The report could not be made: ${why}`));
      void thread.terminate();
    };
    const late = setTimeout(() => fail('it takes too long. Try the command line'), LONGEST_MS);
    thread.once('message', (made: Uint8Array | null) => {
      clearTimeout(late);
      resolve(made);
      void thread.terminate();
    });
    thread.once('error', (error) => fail(error instanceof Error ? error.message : String(error)));
    thread.once('exit', () => fail('its thread ended early'));
  });
}
