/** Adapters that fail where no caller is left to catch it: each in a way of its own. */
import { EventEmitter } from 'node:events';
import { connect, createServer, type AddressInfo } from 'node:net';
import { setTimeout as pause } from 'node:timers/promises';
import type { Adapter } from '../../adapters/contract.ts';

function broken(start: () => void, stop: () => void = () => undefined): () => Adapter {
  return () => ({ name: 'broken', start, stop });
}

function fail(): never {
  throw new Error('the battery fell out');
}

/** Makes an adapter that starts well, then fails with "the battery fell out" (or a socket's error). */
export const brokenAdapters: Readonly<Record<string, () => Adapter>> = {
  'a timer': broken(() => void setTimeout(fail, 5)),
  'an immediate': broken(() => void setImmediate(fail)),
  'the next tick': broken(() => process.nextTick(fail)),
  'a promise that nobody awaits': broken(() => void Promise.resolve().then(fail)),
  'an async function, later': broken(
    () =>
      void pause(5)
        .then(() => pause(5))
        .then(fail),
  ),
  'an emitter without a listener for errors': broken(() => {
    const radio = new EventEmitter();
    setTimeout(() => radio.emit('error', new Error('the battery fell out')), 5);
  }),
  'a socket without a listener for errors': broken(() => {
    const server = createServer().listen(0, '127.0.0.1', () => {
      const { port } = server.address() as AddressInfo;
      server.close(() => connect(port, '127.0.0.1'));
    });
  }),
  "a server's connection": broken(() => {
    const server = createServer(() => {
      server.close();
      fail();
    }).listen(0, '127.0.0.1', () => {
      const { port } = server.address() as AddressInfo;
      const caller = connect(port, '127.0.0.1', () => caller.end());
    });
  }),
};
