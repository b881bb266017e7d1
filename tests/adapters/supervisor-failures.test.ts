/** What the supervisor does with adapters that break the contract where it can catch them. */
import { describe, expect, it } from 'vitest';
import { settle } from './fake-clock.ts';
import { createStage, misuse, note, reading } from './stage.ts';

const never = (): Promise<void> => new Promise(() => undefined);

describe('an adapter that fails', () => {
  it.each([
    [
      'throws in start',
      () => {
        throw new Error('no such port');
      },
    ],
    ['rejects in start', () => Promise.reject(new Error('no such port'))],
  ])('is stopped and started again when it %s', async (_, begin) => {
    const { puppet, start, sink, clock } = createStage();
    const bad = puppet('bad', { start: begin });
    await start();
    const text = 'It could not start: no such port. It is started again after a pause of 1 s.';
    expect(sink.latest('bad')).toMatchObject({ state: 'retrying', text });
    await clock.advance(999);
    expect(bad.calls).toEqual(['start', 'stop']);
    await clock.advance(1);
    expect(bad.calls).toEqual(['start', 'stop', 'start', 'stop']);
    expect(sink.states('bad')).toEqual(['starting', 'retrying', 'starting', 'retrying']);
  });

  it.each([
    ['an error without words', new Error(), 'Error.'],
    ['a text', 'cable out', 'cable out.'],
    ['nothing', undefined, 'undefined.'],
    ['lines', new Error('first\n  second'), 'first second.'],
    ['an object of its own', { message: 'odd' }, 'odd.'],
    ['an object without a prototype', Object.create(null), 'The error cannot be put into words.'],
    ['a novel', new Error('x'.repeat(5000)), `${'x'.repeat(299)}…`],
  ])('may throw %s', async (_, thrown: unknown, words) => {
    const { puppet, start, sink } = createStage();
    puppet('bad', {
      start() {
        throw thrown;
      },
    });
    await start();
    expect(sink.latest('bad').text).toBe(
      `It could not start: ${words} It is started again after a pause of 1 s.`,
    );
  });

  it('waits twice as long after each failure, up to a minute with its share of chance', async () => {
    const { puppet, start, clock } = createStage();
    const pauses: number[] = [];
    let last = clock.now();
    puppet('bad', {
      start() {
        pauses.push((clock.now() - last) / 1000);
        last = clock.now();
        throw new Error('still broken');
      },
    });
    await start();
    await clock.advance(91_000);
    expect(pauses).toEqual([0, 1, 2, 4, 8, 16, 30, 30]);
  });

  it('has short pauses again after a minute without a failure', async () => {
    const { puppet, start, sink, clock, supervisor } = createStage();
    puppet('moody', {
      event() {
        throw new Error('not now');
      },
    });
    const failAfter = async (ms: number): Promise<string | null> => {
      await clock.advance(ms);
      supervisor.event(note);
      await settle();
      return sink.latest('moody').text;
    };
    await start();
    expect(await failAfter(0)).toBe(
      'It failed: not now. It is started again after a pause of 1 s.',
    );
    expect(await failAfter(1000)).toContain('a pause of 2 s');
    expect(await failAfter(2000 + 59_999)).toContain('a pause of 4 s');
    expect(await failAfter(4000 + 60_000)).toContain('a pause of 1 s');
  });

  it('is not heard after its failure, but its next run is', async () => {
    const { puppet, start, sink, clock, supervisor } = createStage();
    const bad = puppet('bad', {
      event() {
        throw new Error('gone');
      },
    });
    await start();
    supervisor.event(note);
    await settle();
    const dead = bad.host();
    await clock.advance(1000);
    expect(dead.emit(reading)).toBe('The adapter has been stopped.');
    dead.status('unavailable', 'An old tale.');
    expect(bad.host().emit(reading)).toBeNull();
    expect(sink.count('bad')).toBe(1);
    expect(sink.latest('bad').state).toBe('running');
  });

  it('is given up when it hangs in start, and started again', async () => {
    const { puppet, start, sink, clock } = createStage();
    const hung = puppet('hung', { start: never });
    await start();
    await clock.advance(29_999);
    expect(sink.states('hung')).toEqual(['starting']);
    await clock.advance(1);
    expect(sink.latest('hung')).toMatchObject({
      state: 'retrying',
      text: 'It had not started after 30 s. It is started again after a pause of 1 s.',
    });
    expect(hung.host().signal.aborted).toBe(true);
    await clock.advance(1000);
    expect(hung.calls).toEqual(['start', 'stop', 'start']);
  });

  it('is not stopped before the call of its start has returned', async () => {
    const { puppet, start } = createStage();
    const order: string[] = [];
    puppet('hasty', {
      start(host) {
        misuse(host, 'status', 'splendid');
        order.push('port opened');
      },
      stop: () => void order.push('port closed'),
    });
    await start();
    expect(order).toEqual(['port opened', 'port closed']);
  });

  it.each([
    ['hangs', never, 'Its stop had not ended after 5 s.'],
    ['fails', () => Promise.reject(new Error('stuck')), 'Its stop failed: stuck.'],
  ])('is started again also when its stop %s, which is said', async (_, stop, words) => {
    const { puppet, start, sink, clock, supervisor } = createStage();
    const bad = puppet('bad', {
      event() {
        throw new Error('gone');
      },
      stop,
    });
    await start();
    supervisor.event(note);
    await clock.advance(5000);
    expect(sink.texts('bad').join('\n')).toContain(`It failed: gone. ${words}`);
    await clock.advance(1000);
    expect(bad.calls).toEqual(['start', 'stop', 'start']);
  });

  it('fails by a status or a link that there is not', async () => {
    const { puppet, start, sink, clock } = createStage();
    const odd = puppet('odd');
    const vague = puppet('vague');
    await start();
    misuse(odd.host(), 'link', 'p', { state: 'so-so' });
    misuse(odd.host(), 'link', 7);
    misuse(odd.host(), 'link', 'p', { state: 'lost', needs: 'a battery' });
    await clock.advance(1000);
    expect(sink.links).toEqual([]);
    expect(sink.latest('odd').text).toContain('3 lines were refused, the last one because: A link');
    misuse(odd.host(), 'status', 'splendid');
    expect(sink.latest('odd').text).toContain('It gave a status that is none of running,');
    vague.host().status('unavailable');
    expect(sink.latest('vague').text).toBe('It gives no reason.');
  });
});
