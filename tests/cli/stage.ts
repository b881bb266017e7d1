/** A server as a process on a data folder of its own, for tests of the whole program; all of it ends with the test. */
import { afterEach, beforeAll } from 'vitest';
import { type State, stateSchema } from '../../server/protocol.ts';
import { built, type RunningServer, startServer, tempFolder } from '../program.ts';

export interface Stage {
  /** The data folder. */
  readonly folder: string;
  /** The server that was started last. */
  readonly server: RunningServer;
  run: (command: 'demo' | 'start', ...more: string[]) => Promise<RunningServer>;
  /** @param body an object as JSON, a text as JSON lines, bytes as a JPEG */
  call: (path: string, method?: string, body?: string | object | Uint8Array) => Promise<Response>;
  state: () => Promise<State>;
}

export function stage(): Stage {
  let folder = tempFolder();
  let server: RunningServer | null = null;
  beforeAll(() => built(), 60_000);
  afterEach(async () => {
    await server?.end();
    server = null;
    folder.remove();
    folder = tempFolder();
  });
  const on: Stage = {
    get folder() {
      return folder.path;
    },
    get server() {
      if (server === null) throw new Error('no server was started');
      return server;
    },
    run: async (command, ...more) =>
      (server = await startServer(command, ['--port', '0', '--data', folder.path, ...more])),
    call: (path, method = 'GET', body) =>
      fetch(`${on.server.url}${path}`, { method, ...(body === undefined ? {} : sent(body)) }),
    state: async () => stateSchema.parse(await (await on.call('/api/state')).json()),
  };
  return on;
}

function sent(body: string | object | Uint8Array): RequestInit {
  const as = (type: string): Record<string, string> => ({ 'content-type': type });
  if (typeof body === 'string') return { headers: as('application/x-ndjson'), body };
  if (body instanceof Uint8Array) return { headers: as('image/jpeg'), body: Buffer.from(body) };
  return { headers: as('application/json'), body: JSON.stringify(body) };
}
