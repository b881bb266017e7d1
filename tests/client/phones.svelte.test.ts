/** What the page says of phones, and of what others have changed. */
import { describe, expect, test } from 'vitest';
import { Others } from '../../client/phones/others.svelte.ts';
import { changedWords } from '../../client/words/changed.ts';
import { codeGoodWords, codeText, phoneWords } from '../../client/words/phones.ts';
import { refusalWords } from '../../client/words/refusals.ts';
import { partOf } from '../../client/view-address.ts';
import type { Changed } from '../../server/protocol/access.ts';
import { eventWith, probeWith, stateWith, T0, UNIT, VISIT } from './fixtures.ts';

const TOLD = stateWith({
  t: T0,
  visit: {
    ...VISIT,
    units: { u1: { ...UNIT, name: 'Study' } },
  },
  probes: { p1: probeWith({ name: 'alder' }) },
});
const ana = (what: string, name = 'Ana'): Pick<Changed, 'name' | 'what'> => ({ name, what });

describe('what another has changed', () => {
  test.each([
    ['units/u1/airflow', 'Ana changed the airflow of Study.'],
    ['units/u1/expectation', 'Ana changed what Study should deliver.'],
    ['units/u1', 'Ana changed the set-up of Study.'],
    ['units/u9/airflow', 'Ana changed the airflow of u9.'],
    ['probes/p1', 'Ana changed the probe alder.'],
    ['probes/gone', 'Ana took a probe out of the list.'],
    ['outlets/o9', 'Ana changed an opening.'],
    ['systems/s1', 'Ana changed the outdoor unit.'],
    ['visit', 'Ana changed the visit settings.'],
    ['captures/photo', 'Ana added a photo to a capture.'],
    ['events', 'Ana made an entry.'],
  ])('%s: %s', (what, words) => {
    expect(changedWords(ana(what), TOLD)).toBe(words);
  });

  test('the computer itself has no name; of an event it says which, if it is the one just told', () => {
    expect(changedWords(ana('visit', ''), TOLD)).toBe(
      'Somebody at the computer changed the visit settings.',
    );
    const told = (agoMs: number) => ({
      ...TOLD,
      events: [eventWith({ kind: 'setpoint', unit: 'u1', valueC: 18, t: T0 - agoMs })],
    });
    expect(changedWords(ana('events'), told(1000))).toBe('Ana changed the setpoint of Study.');
    expect(changedWords(ana('events'), told(60_000))).toBe('Ana made an entry.');
  });

  test('a form is told of what is its own and later than its opening, by the path as written', () => {
    const others = new Others();
    const take = (what: string, name: string): void =>
      others.take({ type: 'changed', by: 'phone-1', name, what });
    take('units/u1/airflow', 'before');
    const opened = others.count;
    expect(others.since(opened, ['units/u1/airflow'])).toBeNull();
    take('units/u1', 'other');
    expect(others.since(opened, ['units/u1/airflow'])).toBeNull();
    take('units/u1/airflow', 'Ana');
    take('probes/ble%3A00aa', 'Ben');
    expect(others.since(opened, ['units/u1/airflow'])?.name).toBe('Ana');
    expect(others.since(opened, ['probes/ble:00aa'])?.name).toBe('Ben');
    // A form that has been open for very long is told all the same.
    for (let i = 0; i < 500; i++) take('visit', 'Cleo');
    expect(others.since(opened, ['visit'])?.name).toBe('Cleo');
    expect(others.since(others.count, ['visit'])).toBeNull();
  });
});

describe('codes and phones', () => {
  test.each([
    ['1', '1'],
    ['1234', '1234'],
    ['12345', '1234 5'],
    ['1234 5678', '1234 5678'],
    ['12-34 56.78 90', '1234 5678'],
    ['abc', ''],
  ])('%s is shown as %s', (typed, shown) => {
    expect(codeText(typed)).toBe(shown);
  });

  test('how long a code is good, and whether a phone is here', () => {
    expect(codeGoodWords({ untilT: T0 + 540_000 }, T0)).toMatch(
      /^Good once, until \d\d:\d\d \(9\u202fmin more\)\.$/u,
    );
    const phone = { role: 'operator', sinceT: T0 - 600_000, lastT: T0 - 20_000 } as const;
    expect(phoneWords({ ...phone, here: true })).toMatch(/^Operator since \d\d:\d\d, here now$/);
    expect(phoneWords({ ...phone, here: false })).toMatch(
      /^Operator since \d\d:\d\d, last heard at \d\d:\d\d$/,
    );
  });

  test('a refused code begins with what its field is called', () => {
    expect(refusalWords('code: it is not one that can be used')).toBe(
      'The code: it is not one that can be used.',
    );
  });

  test('where phones are let in is a part of the record', () => {
    expect(partOf('#phones')).toEqual({ place: 'record', looked: null, phones: true });
  });
});
