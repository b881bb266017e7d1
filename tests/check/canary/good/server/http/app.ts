import fastify from 'fastify';
import { history } from '../history.ts';
import { line } from '../report/record.ts';
import { visit } from '../visit.ts';

export async function listen(port: number): Promise<string> {
  const app = fastify();
  app.get('/api/state', () => ({ count: visit([]), history, text: line(20) }));
  return app.listen({ port });
}
