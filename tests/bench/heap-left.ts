/** What is left of this process's memory once garbage is collected. */
import { setFlagsFromString } from 'node:v8';
import { createContext, runInContext } from 'node:vm';

const MB = 1e6;

// A context that is made after this has a `gc` of its own, without an option on the command line.
setFlagsFromString('--expose-gc');
const context = createContext();

/** Heap and buffers, MB. */
export function left(): { heap: number; buffers: number } {
  runInContext('gc()', context);
  const { heapUsed, arrayBuffers } = process.memoryUsage();
  return { heap: heapUsed / MB, buffers: arrayBuffers / MB };
}
