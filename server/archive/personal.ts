/**
 * What a visit says of people: taken out, while every measurement stays. Names, addresses, free texts and
 * photos go; what units and probes are, how they were set, and every figure stay.
 */
import { lineOf } from '../store/visit-lines.ts';
import type { Head, Part, ToldOf } from './parcel.ts';
import { jsonPart } from './parcel.ts';
import { lineTexts, type VisitParts } from './visit-parts.ts';

/** Fields of any line that may name somebody, or lead to somebody. */
const PERSONAL = [
  ...['title', 'site', 'address', 'customer', 'technician', 'why', 'conditions', 'text', 'serial'],
] as const;
/** Of visit, system, unit and outlet, not of a probe: that is the company's own. */
const NAMED_BY_PEOPLE = new Set(['unit', 'system', 'outlet']);
/** In place of the van's own name of the site, by which its other visits there would be found. */
const NO_SITE = 'erased';

/** The visit without what is personal in it. */
export function withoutPersonal({ head, told, parts, readings }: VisitParts): VisitParts {
  const plainHead = headWithout(head);
  const plainTold = toldWithout(told);
  return {
    head: plainHead,
    told: plainTold,
    readings,
    photos: [],
    parts: parts.flatMap((part): Part[] => {
      if (part.kind === 'h') return [jsonPart('h', plainHead)];
      if (part.kind === 'r') return [jsonPart('r', plainTold)];
      return part.kind === 'l' ? [linesWithout(part)] : [part];
    }),
  };
}

function headWithout(head: Head): Head {
  const bare = <T extends { id: string; details: Record<string, unknown> }>(named: T): T => {
    const { serial: _, ...details } = named.details;
    return { ...named, name: named.id, details };
  };
  return {
    ...head,
    title: '',
    site: NO_SITE,
    details: {},
    units: head.units.map(bare),
    systems: head.systems.map(bare),
  };
}

function toldWithout(told: ToldOf): ToldOf {
  return {
    ...told,
    captures: told.captures.map(({ note: _, photos: _photos, struck, ...capture }) => ({
      ...capture,
      ...(struck === undefined ? {} : { struck: { t: struck.t } }),
    })),
    events: told.events.map(({ text: _, ...event }) => event),
  };
}

function linesWithout(part: Part): Part {
  let text = '';
  let n = 0;
  for (const { before, text: each } of lineTexts(part)) {
    // Of what is not known nobody can tell whom it names: it does not stay.
    const line = lineOf(n++, each);
    if (line.type === 'photo') continue;
    const kept: Record<string, unknown> = { ...line };
    if (line.type !== 'probe') for (const field of PERSONAL) delete kept[field];
    if (NAMED_BY_PEOPLE.has(line.type)) delete kept['name'];
    if (line.type === 'event' && line.kind === 'remark') continue;
    // A note is a text and nothing else.
    if (line.type === 'event' && line.kind === 'note') kept['text'] = '';
    text += `${before}\t${JSON.stringify(kept)}\n`;
  }
  return { kind: 'l', data: Buffer.from(text) };
}
