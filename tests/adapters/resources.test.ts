/** The canary of the conformance suite: what an adapter could leave behind is found. */
import { createServer } from 'node:net';
import { afterEach, beforeEach, expect, it, vi } from 'vitest';
import { watchResources, type Resources } from './resources.ts';

let resources: Resources;
beforeEach(() => {
  resources = watchResources();
});
afterEach(() => resources.end());

const gone = () => vi.waitFor(() => expect(resources.alive()).toEqual([]));

it('finds an interval that is not cleared', async () => {
  const timer = resources.run(() => setInterval(() => undefined, 1000));
  expect(resources.alive()).toEqual(['Timeout']);
  clearInterval(timer);
  await gone();
});

it('finds what was made later, from a promise', async () => {
  const timer = await resources.run(async () => {
    await Promise.resolve();
    return setTimeout(() => undefined, 1000).unref();
  });
  expect(resources.alive()).toEqual(['Timeout']);
  clearTimeout(timer);
  await gone();
});

it('finds a server that still listens', async () => {
  const server = resources.run(() => createServer().listen(0, '127.0.0.1'));
  await vi.waitFor(() => expect(resources.alive()).toContain('TCPSERVERWRAP'));
  server.close();
  await gone();
});

it("does not look at other people's", () => {
  const timer = setInterval(() => undefined, 1000);
  expect(resources.alive()).toEqual([]);
  clearInterval(timer);
});
