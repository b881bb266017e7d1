/** The calls by which phones are let in, seen and sent away. */
import type { FastifyInstance } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import * as z from 'zod';
import { codeSchema, phonesSchema, ROLES, whoSchema } from '../../protocol/access.ts';
import { answers, notFound } from '../answers.ts';
import type { AccessBook, OfClass } from './book.ts';
import { plainAddress } from './addresses.ts';
import { cookieName } from './who.ts';
import { sent } from '../../words/sent.ts';

const LONGEST_NAME = 40;
const WRONG = sent`code: it is not one that can be used; each works once, for ten minutes. Ask for another at the computer.`;
const FULL = sent`There is no room for one more phone: withdraw one at the computer first.`;
const WITHDRAWN = sent`You were signed off at the computer. Ask there for a new code.`;
const LEFT = sent`You have signed off.`;
const NOT_OPEN = sent`Start Plateau with --lan to let phones in: no code was made.`;
const refused = z.object({ error: z.string() });

export interface AccessRoutes {
  book: AccessBook;
  lan: boolean;
  /** Whether the page comes over TLS. */
  secure: boolean;
  /** Where other machines find this one. */
  urls: () => string[];
  /** What a code lets in that is of a class; see `AccessBook.join`. */
  ofClass?: OfClass;
}

export function accessRoutes(plain: FastifyInstance, options: AccessRoutes): void {
  const { book, lan, secure, urls, ofClass } = options;
  const app = plain.withTypeProvider<ZodTypeProvider>();
  const cookie = { path: '/', httpOnly: true, sameSite: 'strict', secure } as const;

  app.get(
    '/api/session',
    {
      config: { for: 'anyone' },
      schema: { summary: 'Who you are to this server', response: { 200: whoSchema } },
    },
    ({ who: { role, session } }) => ({
      role,
      id: session?.id ?? (role === 'owner' ? 'owner' : null),
      name: session?.name ?? null,
      lan,
    }),
  );

  app.post(
    '/api/session',
    {
      config: { for: 'anyone' },
      schema: {
        summary: 'Turns a code into a session, which a cookie holds; it ends with the visit',
        body: z.object({
          code: z.string().min(1).max(40),
          name: z
            .string()
            .trim()
            .min(1)
            .max(LONGEST_NAME)
            .describe('as others see who changes something'),
        }),
        response: { 200: whoSchema, 401: refused, 429: refused, 503: refused },
      },
    },
    async (request, reply) => {
      const { code, name } = request.body;
      const joined = book.join(code, name, plainAddress(request.socket.remoteAddress), ofClass);
      if ('why' in joined) {
        if (joined.why === 'wrong') return reply.code(401).send({ error: WRONG });
        if (joined.why === 'full') return reply.code(503).send({ error: FULL });
        const error = sent`Too many wrong codes: wait ${joined.waitS} seconds, then try again.`;
        return reply.code(429).header('retry-after', joined.waitS).send({ error });
      }
      reply.setCookie(cookieName(request), joined.token, cookie);
      const { id, role } = joined.session;
      return { role, id, name: joined.session.name, lan };
    },
  );

  app.delete(
    '/api/session',
    {
      config: { for: 'anyone' },
      schema: { summary: 'Signs this phone off', response: { 200: answers[200] } },
    },
    async (request, reply) => {
      const { session } = request.who;
      if (session !== null) book.end(session.id, LEFT);
      reply.clearCookie(cookieName(request), cookie);
      return { ok: true as const };
    },
  );

  app.get(
    '/api/phones',
    {
      config: { for: 'owner' },
      schema: {
        summary: 'Who has been let in, and where other machines find this one',
        response: { 200: phonesSchema },
      },
    },
    () => ({ lan, urls: lan ? urls() : [], phones: book.sessions, codes: book.waiting }),
  );

  app.post(
    '/api/phones/codes',
    {
      config: { for: 'owner' },
      schema: {
        summary: 'Makes a code that lets one phone in, once, within ten minutes',
        body: z.object({ role: z.enum(ROLES) }),
        response: { 200: codeSchema, 409: answers[409] },
      },
    },
    async ({ body }, reply) => {
      if (!lan) return reply.code(409).send({ error: NOT_OPEN });
      return book.newCode(body.role);
    },
  );

  app.delete(
    '/api/phones/:phone',
    {
      config: { for: 'owner' },
      schema: {
        summary: 'Withdraws a phone: what it shows ends at once',
        params: z.object({ phone: z.string().min(1).max(40) }),
        response: answers,
      },
    },
    async ({ params }) => {
      if (!book.end(params.phone, WITHDRAWN)) {
        throw notFound(sent`phone: there is no "${params.phone}" that is let in`);
      }
      return { ok: true as const };
    },
  );
}
