/** How the sending of finished visits to the company's archive stands. */
import type { FastifyInstance } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import { type Sending, sendingSchema } from '../protocol/archive.ts';

const NONE: Sending = {
  ...{ archive: null, waiting: 0, visit: null, sentBytes: 0, bytes: 0 },
  ...{ confirmedT: null, trouble: null },
};

export function sendingRoute(plain: FastifyInstance, sending?: () => Sending | null): void {
  plain.withTypeProvider<ZodTypeProvider>().get(
    '/api/sending',
    {
      config: { for: 'house' },
      schema: {
        summary: 'What is on its way to the company’s archive, and what waits',
        response: { 200: sendingSchema },
      },
    },
    async () => sending?.() ?? NONE,
  );
}
