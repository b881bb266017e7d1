/** A thread that encodes one picture anew, and ends: what it took is free again, and nothing stays. */
import { parentPort, workerData } from 'node:worker_threads';
import { reencode } from './reencode.ts';

const given: unknown = workerData;
if (parentPort === null || !(given instanceof Uint8Array)) {
  throw new Error('this is the program of a thread, started with the bytes of a picture');
}
const made = await reencode(Buffer.from(given.buffer, given.byteOffset, given.byteLength));
parentPort.postMessage(made);
