/** `PUT /api/simulation/warm`: takes a simulated probe in the hand, as a person would a real one. */
import type { FastifyInstance } from 'fastify';
import type { ZodTypeProvider } from 'fastify-type-provider-zod';
import * as z from 'zod';
import { answers, notFound } from './answers.ts';
import type { StageOf } from './stage.ts';
import { sent } from '../words/sent.ts';

export function simulationRoute(plain: FastifyInstance, stageOf: StageOf): void {
  plain.withTypeProvider<ZodTypeProvider>().put(
    '/api/simulation/warm',
    {
      schema: {
        summary:
          'In a demo: takes a simulated probe in a warm hand, until another is taken or null is sent',
        body: z.object({ probe: z.string().min(1).max(128).nullable() }),
        response: answers,
      },
    },
    async (request) => {
      const { body } = request;
      const { warm } = stageOf(request);
      if (warm === undefined) {
        throw notFound(sent`Nothing is simulated here: take the probe in your own hand.`);
      }
      if (!warm(body.probe)) {
        throw notFound(sent`probe: there is no simulated probe "${body.probe ?? ''}" in this demo`);
      }
      return { ok: true as const };
    },
  );
}
