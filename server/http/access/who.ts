/**
 * Who is asking, and whether they may. At the computer itself everything is open, as it always was. From
 * another machine nothing is, but the page without anything in it, before a code was shown; and without
 * `--lan` not even that.
 */
import type { FastifyInstance, FastifyRequest } from 'fastify';
import type { Changed, Who } from '../../protocol/access.ts';
import { HERE_NAMES, isHere, plainAddress } from './addresses.ts';
import type { AccessBook, Session } from './book.ts';
import { sent } from '../../words/sent.ts';

/**
 * Whom a call is for. `reader`: all who have been let in. `writer`: those who may change the visit that they
 * see. `house`: not those in a class. `owner`: at the computer itself. By default reading calls are for
 * readers and all others for writers.
 */
export type For = 'anyone' | 'reader' | 'writer' | 'house' | 'owner';

export interface Asking {
  role: Who['role'];
  /** Null at the computer itself, and before a code was shown. */
  session: Session | null;
}

declare module 'fastify' {
  interface FastifyRequest {
    who: Asking;
  }
  interface FastifyContextConfig {
    for?: For;
  }
}

const MAY: Record<For, readonly Who['role'][]> = {
  anyone: ['owner', 'operator', 'viewer', 'trainee', null],
  reader: ['owner', 'operator', 'viewer', 'trainee'],
  writer: ['owner', 'operator', 'trainee'],
  house: ['owner', 'operator'],
  owner: ['owner'],
};

const READS = new Set(['GET', 'HEAD', 'OPTIONS']);
const NOT_OPEN = sent`Only the computer that runs Plateau may use it. Start it there with --lan to let phones in.`;
const NO_CODE = sent`This needs a code: ask at the computer that runs Plateau, and enter it on the first page.`;
const ONLY_LOOKS = sent`You are let in to look, not to change anything: ask for an operator code at the computer.`;
const ONLY_HOUSE = sent`In a class this is the instructor’s: nothing was changed.`;
const ONLY_HERE = sent`This can only be done at the computer that runs Plateau.`;

const WHY: Record<Exclude<For, 'anyone'>, string> = {
  reader: NO_CODE,
  writer: ONLY_LOOKS,
  house: ONLY_HOUSE,
  owner: ONLY_HERE,
};

export interface AccessOptions {
  book: AccessBook;
  /** Whether other machines are let in. */
  lan: boolean;
  /** The names by which this server may be called. */
  allowed: ReadonlySet<string>;
}

/** The name of the cookie: those of two servers on one machine are apart. */
export const cookieName = ({ socket }: FastifyRequest): string =>
  `plateau-${socket.localPort ?? 0}`;

/** Finds out who is asking, and refuses what they may not. To be called before the routes are added. */
export function checkAccess(app: FastifyInstance, { book, lan, allowed }: AccessOptions): void {
  app.decorateRequest('who');
  app.addHook('onRequest', async (request, reply) => {
    const here = isHere(request.socket.remoteAddress, request.headers, lan ? HERE_NAMES : allowed);
    if (!here && !lan) return reply.code(403).send({ error: NOT_OPEN });
    const token = request.cookies[cookieName(request)];
    const address = plainAddress(request.socket.remoteAddress);
    // Who has joined on this computer itself is who they have joined as.
    const session = token === undefined ? null : book.of(token, address);
    request.who = { session, role: session?.role ?? (here ? 'owner' : null) };
    const need = neededFor(request);
    if (MAY[need].includes(request.who.role)) return;
    if (request.who.role === null) return reply.code(401).send({ error: NO_CODE });
    return reply.code(403).send({ error: need === 'anyone' ? NO_CODE : WHY[need] });
  });
}

/** By the route that was found, not by the address that was asked for: that can be written in many ways. */
function neededFor({ routeOptions, method }: FastifyRequest): For {
  const { url, config } = routeOptions;
  if (url === undefined || !url.startsWith('/api')) return 'anyone'; // the empty page
  return config.for ?? (READS.has(method) ? 'reader' : 'writer');
}

/** What people make of a visit, two of them perhaps at once. */
const OF_THE_VISIT = /^\/api\/(captures|events|outlets|probes|systems|units|visit)(\/|$)/;

/** What others are told of a call that has changed something; null: it has not. */
export function changeBy(request: FastifyRequest, status: number): Changed | null {
  const { method, who, url } = request;
  const path = url.split('?')[0] ?? '';
  if (READS.has(method) || status >= 300 || !OF_THE_VISIT.test(path)) return null;
  return {
    type: 'changed',
    by: who.session?.id ?? 'owner',
    name: who.session?.name ?? '',
    what: path.replace(/^\/api\//, ''),
  };
}
