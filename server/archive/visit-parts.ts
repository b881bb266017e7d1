/** What a parcel holds, once all of it has come and was found well. */
import { chartHead } from '../store/chart-part.ts';
import { decodeSegment, readingsIn, readingsOf } from '../store/segment.ts';
import { interleaved, lineOf } from '../store/visit-lines.ts';
import type { RecordedLine } from '../visit-log/recorded.ts';
import {
  type Head,
  headSchema,
  jsonOf,
  type Part,
  partsOf,
  type ToldOf,
  toldSchema,
} from './parcel.ts';

export interface VisitParts {
  head: Head;
  told: ToldOf;
  parts: Part[];
  readings: number;
  /** Ids of its photos. */
  photos: string[];
}

/** A line that is no reading, as it stands in a part: how many readings came before it, and its text. */
export function* lineTexts({ data }: Part): Generator<{ before: number; text: string }> {
  const all = Buffer.from(data.buffer, data.byteOffset, data.length).toString();
  for (const each of all.split('\n')) {
    if (each === '') continue;
    const tab = each.indexOf('\t');
    const before = Number(each.slice(0, tab));
    if (tab < 1 || !Number.isInteger(before)) throw new Error('a line says not where it stands');
    yield { before, text: each.slice(tab + 1) };
  }
}

/**
 * Looks a whole parcel over: every line by its schema and in its place, every block by its head.
 * @throws Error with a sentence where anything of it is not as it should be
 */
export function readParcel(parcel: Uint8Array): VisitParts {
  const visit = readParts(partsOf(parcel));
  for (const part of visit.parts) {
    if (part.kind !== 'l') continue;
    for (const { before } of lineTexts(part)) {
      if (before > visit.readings) throw new Error('a line stands behind more readings than came');
    }
  }
  return visit;
}

/** The same of parts. @throws Error with a sentence */
export function readParts(parts: Part[]): VisitParts {
  let head: Head | null = null;
  let told: ToldOf | null = null;
  let readings = 0;
  let lines = 0;
  const photos = new Set<string>();
  for (const part of parts) {
    switch (part.kind) {
      case 'h':
        if (head !== null) throw new Error('it says twice what the visit is');
        head = jsonOf(part, headSchema);
        break;
      case 'l':
        for (const { text } of lineTexts(part)) {
          const line = lineOf(lines++, text);
          if (line.type === 'photo') photos.add(line.id);
        }
        break;
      case 's':
        readings += readingsIn(part.data);
        break;
      case 'r':
        if (told !== null) throw new Error('it says twice what was told of the visit');
        told = jsonOf(part, toldSchema);
        break;
      case 'c':
        chartHead(part.data);
        break;
    }
  }
  if (head === null || told === null) throw new Error('what was told of the visit is missing');
  return { head, told, parts, readings, photos: [...photos] };
}

/** Every line of a visit's parts, in the order in which it was taken. */
export function partLines(parts: readonly Part[]): Generator<RecordedLine> {
  return interleaved(readings(parts), otherLines(parts));
}

function* readings(parts: readonly Part[]): Generator<RecordedLine> {
  for (const { kind, data } of parts) if (kind === 's') yield* readingsOf(decodeSegment(data));
}

/** Those that are no readings, each with how many readings came before it. */
export function* otherLines(
  parts: readonly Part[],
): Generator<{ before: number; line: RecordedLine }> {
  let n = 0;
  for (const part of parts) {
    if (part.kind !== 'l') continue;
    for (const { before, text } of lineTexts(part)) yield { before, line: lineOf(n++, text) };
  }
}
