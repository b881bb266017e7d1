import { Writable } from 'node:stream';
import { expect, test } from 'vitest';
import { Together } from '../../server/http/together.ts';

/** A socket that notes what each write brought. */
function noted(): { socket: Writable; writes: string[] } {
  const writes: string[] = [];
  const socket = new Writable({
    decodeStrings: false,
    write(chunk: string, _encoding, done) {
      writes.push(chunk);
      done();
    },
    writev(chunks, done) {
      writes.push(chunks.map(({ chunk }) => String(chunk)).join(''));
      done();
    },
  });
  return { socket, writes };
}

const nextTurn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

test('what is sent in one turn is one write a socket, in its order', async () => {
  const together = new Together();
  const [a, b] = [noted(), noted()];
  for (const text of ['one ', 'two ', 'three']) {
    for (const { socket } of [a, b]) {
      together.hold(socket);
      socket.cork(); // as the WebSocket does around head and body of a frame
      socket.write(text);
      socket.uncork();
    }
  }
  expect(a.writes).toEqual([]);
  await nextTurn();
  expect(a.writes).toEqual(['one two three']);
  expect(b.writes).toEqual(a.writes);
  together.hold(a.socket);
  a.socket.write('four');
  await nextTurn();
  expect(a.writes).toEqual(['one two three', 'four']);
});

test('a lot does not wait for the end of the turn', async () => {
  const together = new Together();
  const { socket, writes } = noted();
  const lot = 'x'.repeat(300_000);
  for (let i = 0; i < 3; i++) {
    together.hold(socket);
    socket.write(lot);
  }
  expect(writes.length).toBeGreaterThan(0);
  await nextTurn();
  expect(writes.join('').length).toBe(3 * lot.length);
});

test('a socket that was closed meanwhile harms nobody', async () => {
  const together = new Together();
  const [a, b] = [noted(), noted()];
  for (const { socket } of [a, b]) {
    together.hold(socket);
    socket.write('one');
  }
  a.socket.destroy();
  await nextTurn();
  expect(b.writes).toEqual(['one']);
});
