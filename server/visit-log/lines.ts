/** A visit log as a stream of its lines, for the replay. */
import type { Line } from '../../adapters/contract.ts';
import { LogReader } from './reader.ts';

/**
 * The lines of a log in order of time; refused ones are passed over.
 * @param chunks the log's text, in pieces
 */
export async function* linesOf(chunks: AsyncIterable<string>): AsyncGenerator<Line> {
  let ready: Line[] = [];
  const reader = new LogReader({ line: (line) => ready.push(line), refused: () => {} });
  for await (const chunk of chunks) {
    reader.write(chunk);
    const lines = ready;
    ready = [];
    yield* lines;
  }
  reader.end();
  yield* ready;
}
