/** Listening, and one sentence where that cannot be. */
import type { FastifyInstance } from 'fastify';

/**
 * Begins to listen.
 * @returns where a browser on this computer finds it
 * @throws Error with a sentence
 */
export async function listen(
  app: FastifyInstance,
  { host, port, tls }: { host: string; port: number; tls: unknown },
): Promise<string> {
  try {
    await app.listen({ host, port });
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? error.code : '';
    if (code === 'EADDRINUSE') {
      throw new Error(`port ${port} is taken: end the other program, or choose one with --port`);
    }
    if (code === 'EACCES') {
      throw new Error(
        `port ${port} may not be used by this program: choose one from 1024 up with --port`,
      );
    }
    if (code === 'EADDRNOTAVAIL' || code === 'ENOTFOUND') {
      throw new Error(`this computer has no address "${host}": choose another with --host`);
    }
    throw error;
  }
  const name = host === '0.0.0.0' || host === '::' ? 'localhost' : host;
  const scheme = tls === null ? 'http' : 'https';
  return `${scheme}://${name.includes(':') ? `[${name}]` : name}:${portOf(app) ?? port}`;
}

/** What it listens on; null before. */
export function portOf({ server }: FastifyInstance): number | null {
  const address = server.address();
  return typeof address === 'object' && address !== null ? address.port : null;
}
