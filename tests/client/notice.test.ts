import { describe, expect, it } from 'vitest';
import { Turns } from '../../client/notice/turns.ts';
import { callWords, noticeWords } from '../../client/words/notice.ts';
import { scalesFor } from '../../client/words/scales.ts';
import { clockMinutes } from '../../client/words/times.ts';
import { captureChoices, captureWords, testWords } from '../../client/words/when.ts';
import type { SettlingSnapshot, UnitSnapshot } from '../../server/protocol.ts';
import { T0, unitWith } from './fixtures.ts';

type Name = SettlingSnapshot['state'];
const si = scalesFor({ temperature: 'C', flow: 'm3h', power: 'kW' });
const us = scalesFor({ temperature: 'F', flow: 'cfm', power: 'Btuh' });
const plain = (text: string): string => text.replace(/[\u202f\u00a0]/g, ' ');
const units = (states: Record<string, Name>): Record<string, UnitSnapshot> =>
  Object.fromEntries(
    Object.entries(states).map(([id, state]) => [id, unitWith({ settling: { state } })]),
  );

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

describe('the words of a notice', () => {
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
    const none = { sound: false, isHeard: true, vibration: false, notification: false };
    expect(callWords(none)).toBe('Does not call you when steady.');
    expect(callWords({ ...none, sound: true })).toBe('Calls you when steady: sound.');
    expect(callWords({ sound: true, isHeard: false, vibration: true, notification: true })).toBe(
      'Calls you when steady: sound (touch the page once before), vibration, notification.',
    );
  });
});

describe('the settings of when', () => {
  it('say what the tests mean, in the chosen units', () => {
    expect(testWords('field', si.difference)).toMatch(/^Field: /);
    expect(plain(testWords('strict', si.difference))).toMatch(/30 min.*1\.1 K.*0\.56 K/);
    expect(plain(testWords('strict', us.difference))).toMatch(/2\.0 °F.*1\.0 °F/);
  });

  it('offer what is set already, if it is none of the usual', () => {
    expect(captureChoices(120)).toEqual([null, 60, 120, 300, 600]);
    expect(captureChoices(90)).toEqual([null, 60, 90, 120, 300, 600]);
    expect(captureWords(null)).toContain('off');
    expect(plain(captureWords(300))).toContain('5 min');
  });
});
