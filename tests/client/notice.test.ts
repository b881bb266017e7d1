import { describe, expect, it } from 'vitest';
import { Turns, type TurnState } from '../../client/notice/turns.ts';
import { callWords, noticeWords, spokenWords } from '../../client/words/notice.ts';
import { scalesFor } from '../../client/words/scales.ts';
import { clockMinutes } from '../../client/words/times.ts';
import { captureChoices, captureWords, testWords } from '../../client/words/when.ts';
import type { EventMessage, SettlingSnapshot, UnitSnapshot } from '../../server/protocol.ts';
import { eventWith, plain, T0, unitWith } from './fixtures.ts';

type Name = SettlingSnapshot['state'];
const si = scalesFor({ temperature: 'C', flow: 'm3h', power: 'kW' });
const us = scalesFor({ temperature: 'F', flow: 'cfm', power: 'Btuh' });
const units = (states: Record<string, Name>, events: EventMessage[] = []): TurnState => ({
  units: Object.fromEntries(
    Object.entries(states).map(([id, state]) => [id, unitWith({ settling: { state } })]),
  ),
  events,
});
/** A unit that cycles, with a mean over so many cycles. */
const cycling = (count: number): UnitSnapshot =>
  unitWith({
    settling: {
      ...{ state: 'cycling', plateauW: 2050, plateauU95W: 51 },
      cycle: { periodS: 600, amplitudeW: 900, count, meanU95W: null },
    },
  });

describe('turns', () => {
  it('what is steady already when it is first seen calls nobody', () => {
    const turns = new Turns();
    expect(turns.take(units({ u1: 'steady', u2: 'settling' }), 0)).toEqual([]);
    expect(turns.take(units({ u1: 'steady', u2: 'settling' }), 1000)).toEqual([]);
  });

  it('each unit calls when it becomes steady, and when it stops being so, whatever follows', () => {
    const turns = new Turns();
    turns.take(units({ u1: 'settling', u2: 'steady' }), 0);
    expect(turns.take(units({ u1: 'steady', u2: 'cycling' }), 1000)).toEqual([
      { unit: 'u1', kind: 'steady' },
      { unit: 'u2', kind: 'lost' },
    ]);
    expect(turns.take(units({ u1: 'steady', u2: 'settling' }), 2000)).toEqual([]);
    expect(turns.take(units({ u1: 'waiting', u2: 'settling' }), 62_000)).toEqual([
      { unit: 'u1', kind: 'lost' },
    ]);
  });

  it('at most once a minute for each unit; what holds is told when the minute is over', () => {
    const turns = new Turns();
    turns.take(units({ u1: 'settling' }), 0);
    const calls: [number, string][] = [];
    // It flaps for three minutes, and is steady in the end.
    for (let s = 1; s <= 300; s++) {
      const state = s > 180 || s % 2 === 1 ? 'steady' : 'settling';
      for (const { kind } of turns.take(units({ u1: state }), 1000 * s)) calls.push([s, kind]);
    }
    expect(calls).toEqual([
      [1, 'steady'],
      [62, 'lost'],
      [123, 'steady'],
    ]);
  });
});

describe('turns that a person expects', () => {
  const fan = eventWith({ id: 'e2', kind: 'fan', unit: 'u1', speed: 'low' });
  const old = eventWith({ t: T0 - 600_000, kind: 'setpoint', unit: 'u1', valueC: 20 });
  /** What is called when `u1` and `u2` settle again so long after the events were told. */
  function lostAfter(ms: number, before: EventMessage[], after: EventMessage[]): string[] {
    const turns = new Turns();
    turns.take(units({ u1: 'steady', u2: 'steady' }, before), 0);
    turns.take(units({ u1: 'steady', u2: 'steady' }, after), 1000);
    const calls = turns.take(units({ u1: 'settling', u2: 'settling' }, after), 1000 + ms);
    // What was not called is not called later either.
    expect(turns.take(units({ u1: 'settling', u2: 'settling' }, after), 200_000)).toEqual([]);
    return calls.map(({ unit, kind }) => `${unit} ${kind}`);
  }

  it.each<[string, EventMessage[], EventMessage[], string[]]>([
    ['a fan speed of one', [old], [old, fan], ['u2 lost']],
    ['an airflow of one', [old], [old, { ...fan, kind: 'airflow' }], ['u2 lost']],
    ['a setpoint dated anew', [old], [{ ...old, t: T0 }], ['u2 lost']],
    ['a setpoint of the visit', [], [eventWith({ kind: 'setpoint' })], []],
    ['a note', [old], [old, eventWith({ id: 'e2', unit: 'u1' })], ['u1 lost', 'u2 lost']],
    ['a new name', [old], [{ ...old, text: 'first' }], ['u1 lost', 'u2 lost']],
    ['nothing', [old], [old], ['u1 lost', 'u2 lost']],
  ])('after %s', (_, before, after, calls) => {
    expect(lostAfter(14_000, before, after)).toEqual(calls);
  });

  it('a change of long ago is none', () => {
    expect(lostAfter(16_000, [old], [old, fan])).toEqual(['u1 lost', 'u2 lost']);
  });

  it('it calls when it is steady again after the change', () => {
    const turns = new Turns();
    turns.take(units({ u1: 'steady' }), 0);
    turns.take(units({ u1: 'settling' }, [fan]), 1000);
    expect(turns.take(units({ u1: 'steady' }, [fan]), 30_000)).toEqual([
      { unit: 'u1', kind: 'steady' },
    ]);
  });
});

describe('turns of a unit that cycles', () => {
  it('it calls once, when its mean can be written down', () => {
    const turns = new Turns();
    turns.take(units({ u1: 'settling' }), 0);
    const calls = [1, 2, 3, 4, 2, 5].map((count, i) =>
      turns.take({ units: { u1: cycling(count) }, events: [] }, 600_000 * (i + 1)),
    );
    expect(calls).toEqual([[], [], [{ unit: 'u1', kind: 'cycling' }], [], [], []]);
    expect(turns.take(units({ u1: 'settling' }), 9_000_000)).toEqual([]);
    expect(turns.take(units({ u1: 'steady' }), 9_100_000)).toEqual([
      { unit: 'u1', kind: 'steady' },
    ]);
  });
});

describe('the words of a notice', () => {
  it('say the mean of a unit that cycles', () => {
    const words = noticeWords('cycling', 'Hall', cycling(3), T0, si.power);
    expect(words.title).toBe('Hall is cycling: capture its mean');
    expect(plain(words.text)).toBe(`2.05 ± 0.12 kW over 3 whole cycles at ${clockMinutes(T0)}.`);
  });

  const unit = unitWith({ settling: { levelW: 2631 } });
  it('name the unit, its figure and the time', () => {
    const steady = noticeWords('steady', 'Reading room', unit, T0, si.power);
    expect(steady.title).toBe('Reading room is steady');
    expect(plain(steady.text)).toBe(`2.63 ± 0.11 kW at ${clockMinutes(T0)}.`);
    const lost = noticeWords('lost', 'Reading room', unit, T0, si.power);
    expect(lost.title).toBe('Reading room is no longer steady');
    expect(lost.text).toContain('now settling');
  });

  it('say by which ways a person is called, and what is missing for it', () => {
    const none = {
      ...{ sound: false, isHeard: true, vibration: false, notification: false },
      ...{ speech: false, large: false },
    };
    expect(callWords(none)).toBe('Does not call you when steady.');
    expect(callWords({ ...none, sound: true })).toBe('Calls you when steady: sound.');
    const all = {
      ...{ sound: true, isHeard: false, vibration: true, notification: true },
      ...{ speech: true, large: true },
    };
    expect(callWords(all)).toBe(
      'Calls you when steady: sound (touch the page once first), vibration, notification, spoken words, large figure.',
    );
  });

  it('are said aloud without signs', () => {
    const steady = noticeWords('steady', 'Reading room', unit, T0, si.power);
    expect(spokenWords(steady.text)).toBe(
      `2.63 plus or minus 0.11 kilowatts at ${clockMinutes(T0)}.`,
    );
    expect(spokenWords('−9,790\u00a0±\u00a0380\u202fBtu/h')).toBe(
      'minus 9790 plus or minus 380 B T U per hour',
    );
  });
});

describe('the settings of when', () => {
  it('say what the tests mean, in the chosen units', () => {
    expect(testWords('field', si.difference)).toMatch(/^Field: /);
    expect(plain(testWords('strict', si.difference))).toMatch(
      /30 min.*dry bulb of return and supply within 1\.1 K and wet bulb of both within 0\.56 K/,
    );
    expect(plain(testWords('strict', us.difference))).toMatch(
      /dry bulb.*2\.0 °F.*wet bulb.*1\.0 °F/,
    );
  });

  it('offer what is set already, if it is none of the usual', () => {
    expect(captureChoices(120)).toEqual([null, 60, 120, 300, 600]);
    expect(captureChoices(90)).toEqual([null, 60, 90, 120, 300, 600]);
    expect(captureWords(null)).toContain('off');
    expect(plain(captureWords(300))).toContain('5 min');
  });
});
