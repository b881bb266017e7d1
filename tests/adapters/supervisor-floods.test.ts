/** What the supervisor does with adapters that send more than can be meant. */
import { describe, expect, it } from 'vitest';
import { createStage, reading } from './stage.ts';

describe('an adapter that floods', () => {
  it('has what is over its budget dropped and counted', async () => {
    const { puppet, start, sink, clock } = createStage();
    const flood = puppet('flood', {}, { linesPerS: 100 });
    await start();
    const answers = Array.from({ length: 1250 }, () => flood.host().emit(reading));
    expect(answers.filter((answer) => answer === null)).toHaveLength(100);
    expect(answers.at(-1)).toBe('It sends more than 100 lines a second: this line was dropped.');
    await clock.advance(1000);
    expect(sink.latest('flood')).toMatchObject({
      state: 'running',
      text: 'It sends too much: 1,150 lines over 100 a second were dropped.',
    });
    expect(flood.host().emit(reading)).toBeNull();
  });

  it('has failed after ten seconds of it', async () => {
    const { puppet, start, sink, clock } = createStage();
    const flood = puppet('flood', {}, { linesPerS: 100 });
    const steady = puppet('steady');
    await start();
    for (let second = 1; second <= 10; second += 1) {
      expect(sink.latest('flood').state).toBe('running');
      for (let i = 0; i < 150; i += 1) flood.host().emit(reading);
      steady.host().emit(reading);
      await clock.advance(1000);
    }
    expect(sink.latest('flood')).toMatchObject({
      state: 'retrying',
      text:
        'It kept sending more than 100 lines a second. ' +
        'It is started again after a pause of 1 s.',
    });
    expect(sink.count('flood')).toBe(1000);
    expect(sink.count('steady')).toBe(10);
  });

  it('is a burst, and no failure, when it pauses between', async () => {
    const { puppet, start, sink, clock } = createStage();
    const bursts = puppet('bursts', {}, { linesPerS: 100 });
    await start();
    for (let i = 0; i < 30; i += 1) {
      for (let n = 0; n < 150; n += 1) bursts.host().emit(reading);
      await clock.advance(2000);
    }
    expect(sink.latest('bursts').state).toBe('running');
  });

  it.each([
    [
      'in one go',
      (emit: () => void) => {
        for (;;) emit();
      },
    ],
    [
      'a promise at a time',
      async (emit: () => void) => {
        for (;;) await Promise.resolve(emit());
      },
    ],
  ])('is brought out of an endless loop, %s', async (_, loop) => {
    const { puppet, start, sink } = createStage();
    const wild = puppet('wild', { start: (host) => loop(() => host.emit(reading)) });
    const steady = puppet('steady');
    await start();
    expect(sink.latest('wild').text).toContain('It sent lines in an endless loop');
    expect(wild.calls).toEqual(['start', 'stop']);
    expect(sink.count('wild')).toBe(20_000);
    steady.host().emit(reading);
    expect(sink.count('steady')).toBe(1);
  });

  it('is no flood where the owner allows any number', async () => {
    const { puppet, start, sink } = createStage();
    const replay = puppet('replay', {}, { linesPerS: Infinity });
    await start();
    for (let i = 0; i < 100_000; i += 1) replay.host().emit(reading);
    expect(sink.count('replay')).toBe(100_000);
  });
});
