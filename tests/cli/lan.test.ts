/** The program itself on a real network: by the address that other machines use, with `--lan` and without. */
import { networkInterfaces } from 'node:os';
import { expect, test } from 'vitest';
import { WebSocket } from 'ws';
import { stage } from './stage.ts';

const on = stage();

/** An address of this machine that is not its own loopback; null where it is in no network. */
const address =
  Object.values(networkInterfaces())
    .flatMap((list) => list ?? [])
    .find(({ internal, family }) => !internal && family === 'IPv4')?.address ?? null;

/** How a call that comes by way of the network is answered. */
const statusOf = async (port: number, path: string): Promise<number> =>
  (await fetch(`http://${address}:${port}${path}`)).status;

test.skipIf(address === null)(
  'with --lan a phone gets the empty page, and with a code the visit; no code is printed into a log',
  async () => {
    const { port, out } = await on.run('demo', '--lan');
    await expect.poll(out).toContain(`Phones find it at http://${address}:${port}`);
    expect(out()).not.toMatch(/\b\d{4} ?\d{4}\b(?![\d.-])/);
    expect(await statusOf(port, '/')).toBe(200);
    for (const path of ['/api/state', '/api/health', '/api/docs', '/api/history']) {
      expect([path, await statusOf(port, path)]).toEqual([path, 401]);
    }
    const socket = new WebSocket(`ws://${address}:${port}/api/stream`);
    const refused = await new Promise((resolve) => {
      socket.on('error', () => undefined);
      socket.on('unexpected-response', (_request, { statusCode }) => resolve(statusCode));
      socket.on('message', () => resolve('a frame'));
    });
    expect(refused).toBe(401);

    const json = { 'content-type': 'application/json' };
    const made = await fetch(`http://127.0.0.1:${port}/api/phones/codes`, {
      ...{ method: 'POST', headers: json, body: '{"role":"viewer"}' },
    });
    const { code } = (await made.json()) as { code: string };
    const joined = await fetch(`http://${address}:${port}/api/session`, {
      ...{ method: 'POST', headers: json, body: JSON.stringify({ code, name: 'Ana' }) },
    });
    const cookie = joined.headers.getSetCookie()[0]?.split(';')[0] ?? '';
    const state = await fetch(`http://${address}:${port}/api/state`, { headers: { cookie } });
    expect(state.status).toBe(200);
    const put = await fetch(`http://${address}:${port}/api/visit`, {
      ...{ method: 'PUT', headers: { ...json, cookie }, body: '{"title":"x"}' },
    });
    expect(put.status).toBe(403);
  },
);

test.skipIf(address === null)(
  'without --lan another machine gets nothing, whatever the server listens on',
  async () => {
    const { port } = await on.run('demo', '--host', '0.0.0.0');
    for (const path of ['/', '/api/state', '/api/session']) {
      expect([path, await statusOf(port, path)]).toEqual([path, 403]);
    }
    expect((await fetch(`http://127.0.0.1:${port}/api/state`)).status).toBe(200);
  },
);
