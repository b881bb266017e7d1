/**
 * Who may talk to this server. Any page that the user visits can reach 127.0.0.1, also under a name
 * of its own (DNS rebinding), so the Host is checked against a list made at start, and then the
 * Origin, on plain requests and on upgrades alike. Scripts send no Origin and are let in.
 */
import type { FastifyInstance } from 'fastify';
import { hostname, networkInterfaces } from 'node:os';

/** The names of this machine to itself. */
export const LOOPBACK = ['localhost', '127.0.0.1', '::1'];
const EVERYWHERE = ['0.0.0.0', '::'];

/** The names by which this server may be called, for what it listens on. */
export function allowedHosts(listen: string, more: readonly string[]): Set<string> {
  const names = new Set([...LOOPBACK, ...more.map((name) => name.toLowerCase())]);
  if (EVERYWHERE.includes(listen)) {
    // By its own name, and as the local network calls it (multicast DNS, RFC 6762).
    const name = hostname()
      .toLowerCase()
      .replace(/\.local$/, '');
    names.add(name).add(`${name}.local`);
    for (const addresses of Object.values(networkInterfaces())) {
      for (const { address } of addresses ?? []) names.add(address.toLowerCase());
    }
  } else {
    names.add(listen.toLowerCase());
  }
  return names;
}

/** The host's name in `example.org:80` or `[::1]:80`, or null for what is no host. */
export function hostnameOf(host: string): string | null {
  const match = /^(?:\[([0-9a-fA-F:.]+)\]|([^:@/\s[\]]+))(?::\d{1,5})?$/.exec(host);
  return (match?.[1] ?? match?.[2] ?? null)?.toLowerCase() ?? null;
}

/** Why a request is refused, or null. */
export function refuseRequest(
  allowed: ReadonlySet<string>,
  host: string | undefined,
  origin: string | undefined,
): string | null {
  const name = host === undefined ? null : hostnameOf(host);
  if (name === null || !allowed.has(name)) {
    return (
      `This server is not called "${host ?? ''}": it answers to ${[...allowed].join(', ')}. ` +
      'Start it with --allowed-host to add a name.'
    );
  }
  if (origin === undefined) return null;
  let from: URL;
  try {
    from = new URL(origin);
  } catch {
    return `A page of the origin "${origin}" may not use this server.`;
  }
  // The same host and port as was called: another program's page on this machine is a stranger too.
  if (from.host.toLowerCase() === host?.toLowerCase()) return null;
  return `A page of ${from.origin} may not use this server.`;
}

/** Refuses strangers before anything else is done with their request. */
export function guard(app: FastifyInstance, allowed: ReadonlySet<string>): void {
  app.addHook('onRequest', async (request, reply) => {
    const { host, origin } = request.headers;
    const why = refuseRequest(allowed, host, origin);
    if (why !== null) await reply.code(403).send({ error: why });
  });
  // An upgrade that was answered instead of made leaves its socket open: nobody else closes it.
  app.addHook('onResponse', async (request) => {
    if (request.headers.upgrade !== undefined) request.raw.socket.destroySoon();
  });
}
