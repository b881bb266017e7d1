/**
 * Columns of figures in one blob, with a head that says what they are: the length of the head (four bytes,
 * little-endian), the head (JSON), the columns one behind the other.
 */
import type * as z from 'zod';

type Figures = Float64Array | Float32Array | Int32Array | Int16Array | Uint16Array | Uint8Array;
const LENGTH_BYTES = 4;

/** A head and its columns as one blob. @param head as JSON can say it */
export function blobOf(head: unknown, columns: readonly Figures[]): Uint8Array {
  const headBytes = Buffer.from(JSON.stringify(head));
  const length = Buffer.alloc(LENGTH_BYTES);
  length.writeUInt32LE(headBytes.length);
  return Buffer.concat([
    length,
    headBytes,
    ...columns.map(
      ({ buffer, byteOffset, byteLength: n }) => new Uint8Array(buffer, byteOffset, n),
    ),
  ]);
}

/**
 * The head of a blob, and where its columns begin.
 * @param what it is, as a sentence about it begins
 * @param bytesOf how many bytes the columns of that head have
 * @throws Error with a sentence where it is damaged, or shorter than its head says
 */
export function headOf<T>(
  data: Uint8Array,
  schema: z.ZodType<T>,
  what: string,
  bytesOf: (head: T) => number,
): { head: T; at: number } {
  const bytes = Buffer.from(data.buffer, data.byteOffset, data.length);
  const at = LENGTH_BYTES + (bytes.length < LENGTH_BYTES ? Infinity : bytes.readUInt32LE());
  if (at > bytes.length) throw new Error(`${what} is cut short`);
  const head = parsed(bytes.toString('utf8', LENGTH_BYTES, at), schema);
  if (head === null) throw new Error(`${what} is damaged: what it holds cannot be told`);
  if (at + bytesOf(head) > bytes.length) throw new Error(`${what} is cut short`);
  return { head, at };
}

function parsed<T>(text: string, schema: z.ZodType<T>): T | null {
  try {
    return schema.parse(JSON.parse(text));
  } catch {
    return null;
  }
}

/** Takes one column after another. Each is a copy: those of eight bytes need not lie on eight in the blob. */
export function columnsFrom(data: Uint8Array, at: number): (bytes: number) => ArrayBuffer {
  return (bytes) => {
    const column = new Uint8Array(bytes);
    column.set(data.subarray(at, (at += bytes)));
    return column.buffer;
  };
}
