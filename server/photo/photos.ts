/** Pictures encoded anew, one at a time, in a thread that is bounded in time and memory. */
import { Worker } from 'node:worker_threads';
import type { Reencoded } from './limits.ts';
import { sent } from '../words/sent.ts';

/** A picture that takes longer is made to: an ordinary one takes one or two seconds. */
const LONGEST_MS = 15_000;
const TOO_LONG = sent`This picture takes too long to be read: take another one, or make it smaller. Nothing was added.`;
const FAILED = sent`This picture could not be read: take another one, or make it smaller. Nothing was added.`;
/** Of the engine; pixels are counted before (`MOST_PIXELS`), and lie outside of it. */
const HEAP_MB = 128;

/**
 * Encodes a picture anew.
 * @param file the built program of the thread
 * @returns a JPEG without anything but pixels, or why there is none, as a sentence
 */
export function reencodeAside(
  file: string,
  bytes: Uint8Array,
  { longestMs = LONGEST_MS } = {},
): Promise<Reencoded> {
  return new Promise((resolve) => {
    const thread = new Worker(file, {
      workerData: bytes,
      resourceLimits: { maxOldGenerationSizeMb: HEAP_MB },
      env: {},
      stdout: true, // what the codecs say is of no use to anybody
      stderr: true,
    });
    const done = (made: Reencoded): void => {
      clearTimeout(late);
      resolve(made);
      void thread.terminate();
    };
    const late = setTimeout(() => done({ refusal: TOO_LONG }), longestMs);
    thread.once('message', (made: Reencoded) => done(made));
    thread.once('error', () => done({ refusal: FAILED }));
    thread.once('exit', () => done({ refusal: FAILED }));
  });
}
