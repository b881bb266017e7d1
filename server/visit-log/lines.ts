/** A visit log as a stream of its lines, for the replay. */
import { LogReader } from './reader.ts';
import type { RecordedLine } from './recorded.ts';

/**
 * The lines of a log in order of time; refused ones are passed over.
 * @param chunks the log's text, in pieces
 */
export async function* linesOf(chunks: AsyncIterable<string>): AsyncGenerator<RecordedLine> {
  let ready: RecordedLine[] = [];
  const reader = new LogReader({
    line: (line, _number, after) => ready.push(after === undefined ? line : { ...line, after }),
    refused: () => {},
  });
  for await (const chunk of chunks) {
    reader.write(chunk);
    const lines = ready;
    ready = [];
    yield* lines;
  }
  reader.end();
  yield* ready;
}
