/** A visit of simulated air is marked as one from its set-up on, not only from its first figure. */
import { expect, test } from 'vitest';
import type { Line } from '../../adapters/contract.ts';
import { LiveVisit } from '../../server/visit.ts';
import { PERSON } from './live.ts';
import { T0 } from './visit.ts';

const probe = (id: string, place: 'return' | 'outdoor', simulated?: true): Line => ({
  ...{ type: 'probe', id, unit: 'u1', place },
  ...(simulated === undefined ? {} : { simulated }),
});

test.each<[string, Line[], boolean]>([
  ['whose log says so', [{ type: 'visit', version: 1, simulated: true }], true],
  ['with a simulated probe in the return', [probe('r', 'return', true)], true],
  ['with real probes', [probe('r', 'return')], false],
  ['with a simulated probe that makes no figure', [probe('o', 'outdoor', true)], false],
])('before its first figure, a visit %s', (_, lines, marked) => {
  const visit = new LiveVisit(() => T0);
  visit.line({ type: 'unit', id: 'u1', name: 'Study' }, PERSON);
  for (const line of lines) expect(visit.line(line, PERSON)).toBeNull();
  expect(visit.state().t).toBeNull();
  expect(visit.state().simulated).toBe(marked);
});
