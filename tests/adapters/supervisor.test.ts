/** What the supervisor does with adapters that keep the contract. */
import { describe, expect, it } from 'vitest';
import type { EventLine } from '../../adapters/contract.ts';
import { settle } from './fake-clock.ts';
import { createStage, note, reading } from './stage.ts';

describe('an adapter', () => {
  it('is starting until its start has ended, then running', async () => {
    const { puppet, start, sink } = createStage();
    let ready = (): void => undefined;
    puppet('slow', { start: () => new Promise((resolve) => (ready = resolve)) });
    await start();
    expect(sink.states('slow')).toEqual(['starting']);
    ready();
    await settle();
    expect(sink.states('slow')).toEqual(['starting', 'running']);
  });

  it('may say how it is before that, and is left alone then', async () => {
    const { puppet, start, sink, clock } = createStage();
    const radio = puppet('radio', {
      async start(host) {
        host.status('unavailable', 'The radio is off: switch it on.');
        await new Promise(() => undefined);
      },
    });
    await start();
    await clock.advance(120_000);
    const text = 'The radio is off: switch it on.';
    expect(sink.latest('radio')).toMatchObject({ state: 'unavailable', text });
    radio.host().status('running');
    expect(sink.latest('radio')).toMatchObject({ state: 'running', text: null });
  });

  it('is what it said last when its start has ended', async () => {
    const { puppet, start, sink } = createStage();
    puppet('radio', { start: (host) => host.status('unavailable', 'There is no radio.') });
    await start();
    expect(sink.states('radio')).toEqual(['starting', 'unavailable']);
  });

  it('has its lines and links passed on, marked where they are made up', async () => {
    const { puppet, start, sink } = createStage();
    const real = puppet('real');
    const play = puppet('play', { simulated: true });
    await start();
    expect(real.host().emit(reading)).toBeNull();
    play.host().emit(reading);
    real.host().link('p', { state: 'connected', signalDbm: -60 });
    expect(sink.lines).toEqual([
      { adapter: 'real', simulated: false, line: reading },
      { adapter: 'play', simulated: true, line: reading },
    ]);
    expect(sink.links).toEqual(['real p connected']);
  });

  it('is told of forgotten probes while it runs, and charged with what it throws then', async () => {
    const { puppet, start, supervisor, sink, clock } = createStage();
    const forgotten: string[] = [];
    puppet('deaf');
    puppet('keen', { forget: (probe) => void forgotten.push(probe) });
    puppet('bad', {
      forget() {
        throw new Error('which one?');
      },
    });
    supervisor.forget('p');
    await start();
    supervisor.forget('q');
    await clock.advance(1);
    expect(forgotten).toEqual(['q']);
    expect(sink.texts('bad').join('\n')).toContain('It failed: which one?');
    expect(sink.states('deaf')).toEqual(['starting', 'running']);
    await supervisor.stopAll();
    supervisor.forget('r');
    expect(forgotten).toEqual(['q']);
  });

  it('is told of events while it runs, if it wants to be', async () => {
    const { puppet, start, supervisor } = createStage();
    const told: EventLine[] = [];
    puppet('deaf');
    puppet('room', { event: (event) => void told.push(event) });
    supervisor.event(note);
    await start();
    supervisor.event(note);
    expect(told).toEqual([note]);
    await supervisor.stopAll();
    supervisor.event(note);
    expect(told).toEqual([note]);
  });

  it('must have a name of its own', () => {
    const { puppet } = createStage();
    puppet('twin');
    expect(() => puppet('twin')).toThrow('There are two adapters of the name "twin"');
  });

  it('learns why a line is refused; the count is shown for a minute', async () => {
    const { puppet, start, sink, clock } = createStage(() => 'probe: is missing');
    const liar = puppet('liar');
    await start();
    expect(liar.host().emit(reading)).toBe('probe: is missing');
    liar.host().emit(reading);
    await clock.advance(1000);
    const text = '2 lines were refused, the last one because: probe: is missing.';
    expect(sink.latest('liar')).toMatchObject({ state: 'running', text });
    await clock.advance(60_000);
    expect(sink.latest('liar')).toMatchObject({ state: 'running', text: null });
  });

  it('is not charged with a fault of the sink', async () => {
    const { puppet, start, sink, clock } = createStage(() => {
      throw new Error('the store is full');
    });
    const victim = puppet('victim');
    await start();
    expect(victim.host().emit(reading)).toBe(
      'Plateau could not take in a line: the store is full.',
    );
    await clock.advance(1000);
    expect(sink.latest('victim').state).toBe('running');
  });
});

describe('an adapter that falls silent', () => {
  it('keeps running; its text says since when, in the clock of the place', async () => {
    const { puppet, start, sink, clock } = createStage();
    const probe = puppet('probe');
    await start();
    await clock.advance(5000);
    probe.host().emit(reading);
    const since = new Date(clock.now()).toTimeString().slice(0, 8);
    await clock.advance(29_000);
    expect(sink.latest('probe').text).toBeNull();
    await clock.advance(1000);
    expect(sink.latest('probe')).toMatchObject({
      state: 'running',
      text: `No readings since ${since}.`,
    });
    await clock.advance(600_000);
    expect(probe.calls).toEqual(['start']);
    probe.host().emit(reading);
    await clock.advance(1000);
    expect(sink.latest('probe').text).toBeNull();
  });

  it('is given its usual pauses three times over', async () => {
    const { puppet, start, sink, clock } = createStage();
    const logger = puppet('logger');
    await start();
    for (let minute = 0; minute < 3; minute += 1) {
      logger.host().emit(reading);
      await clock.advance(60_000);
    }
    expect(sink.states('logger')).toEqual(['starting', 'running', 'running', 'running']);
    logger.host().emit(reading);
    await clock.advance(179_000);
    expect(sink.latest('logger').text).toBeNull();
    await clock.advance(1000);
    expect(sink.latest('logger').text).toContain('No readings since');
  });

  it('is not called silent when it has never delivered, or says something itself', async () => {
    const { puppet, start, sink, clock } = createStage();
    puppet('new');
    const ended = puppet('ended');
    await start();
    ended.host().emit(reading);
    ended.host().status('running', 'The replay has ended.');
    await clock.advance(600_000);
    expect(sink.latest('new').text).toBeNull();
    expect(sink.latest('ended').text).toBe('The replay has ended.');
  });
});

describe('stopping', () => {
  it('goes backwards, and nothing is heard any more', async () => {
    const { puppet, start, sink, clock, supervisor } = createStage();
    const order: string[] = [];
    const first = puppet('first', { stop: () => void order.push('first') });
    puppet('second', { stop: () => void order.push('second') });
    await start();
    await supervisor.stopAll();
    expect(order).toEqual(['second', 'first']);
    expect(first.host().signal.aborted).toBe(true);
    expect(first.host().emit(reading)).toBe('The adapter has been stopped.');
    first.host().link('p', { state: 'lost' });
    first.host().status('unavailable', 'Too late.');
    expect(sink.count('first')).toBe(0);
    expect(sink.links).toEqual([]);
    expect(sink.states('first')).toEqual(['starting', 'running']);
    expect(clock.waiting()).toBe(0);
  });

  it('takes 4 s at most, however many hang', async () => {
    const { puppet, start, clock, supervisor } = createStage();
    const hung = ['a', 'b', 'c', 'd'].map((name) =>
      puppet(name, { stop: () => new Promise(() => undefined) }),
    );
    await start();
    let stopped = false;
    void supervisor.stopAll().then(() => (stopped = true));
    await clock.advance(3999);
    expect(stopped).toBe(false);
    await clock.advance(1);
    expect(stopped).toBe(true);
    expect(hung.map(({ calls }) => calls.at(-1))).toEqual(['stop', 'stop', 'stop', 'stop']);
    expect(clock.waiting()).toBe(0);
  });

  it('takes no longer when one hangs in a stop already', async () => {
    const { puppet, start, clock, supervisor } = createStage();
    const hung = puppet('hung', {
      stop: () => new Promise(() => undefined),
      event() {
        throw new Error('gone');
      },
    });
    await start();
    supervisor.event(note);
    await settle();
    let stopped = false;
    void supervisor.stopAll().then(() => (stopped = true));
    await clock.advance(2000);
    expect(stopped).toBe(true);
    // Started again before that stop has ended: one run, not two.
    supervisor.startAll();
    await clock.advance(60_000);
    expect(hung.calls).toEqual(['start', 'stop', 'start']);
  });

  it('ends the pause of one that was to be started again', async () => {
    const { puppet, start, clock, supervisor } = createStage();
    const bad = puppet('bad', { start: () => Promise.reject(new Error('no such port')) });
    await start();
    await supervisor.stopAll();
    await clock.advance(120_000);
    expect(bad.calls).toEqual(['start', 'stop']);
    expect(clock.waiting()).toBe(0);
  });
});
