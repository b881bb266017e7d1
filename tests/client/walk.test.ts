/** What the screen says of a walk along an outlet, and of how even the air is. */
import { describe, expect, it } from 'vitest';
import type { Walk } from '../../server/protocol.ts';
import { scalesFor } from '../../client/words/scales.ts';
import { biasWords, evennessWords, movers, spotWords, stayingAt } from '../../client/words/walk.ts';
import { EVENNESS, probeWith, T0 } from './fixtures.ts';

const METRIC = scalesFor({ temperature: 'C', flow: 'm3h', power: 'kW' });
const US = scalesFor({ temperature: 'F', flow: 'cfm', power: 'Btuh' });
const WALK: Walk = {
  type: 'walk',
  phase: 'running',
  unit: 'u1',
  place: 'supply',
  probe: 'r',
  from: T0,
  t: T0 + 60_000,
  verdict: 'found',
  progress: 1,
  text: '',
  spotK: 0.8,
  biasK: 1,
  totalPct: -11.2,
};

describe('what a walk has found', () => {
  it('how spots differ, in the units of the page', () => {
    expect(spotWords(WALK, METRIC)).toBe('Spots differ by 0.80\u202fK (one standard deviation).');
    expect(spotWords(WALK, US)).toBe('Spots differ by 1.44\u202f°F (one standard deviation).');
    expect(spotWords({ ...WALK, spotK: null }, METRIC)).toBeNull();
  });

  it('what the probe that stays is off by, and what that does to the total', () => {
    expect(biasWords(WALK, ['Supply'], METRIC)).toBe(
      'Supply reads 1.00\u202fK warmer than the whole outlet: with it alone the total is 11\u202f% too low.',
    );
    const other = { ...WALK, biasK: -0.4, totalPct: null, place: 'return' } as const;
    expect(biasWords(other, ['A', 'B'], METRIC)).toBe(
      'The first fixed probe reads 0.40\u202fK colder than the whole intake.',
    );
  });
});

describe('probes of a walk', () => {
  const probes = {
    s: probeWith({ name: 'Supply', place: 'supply' }),
    r: probeWith({ name: 'Return', place: 'return' }),
    n: probeWith({ name: 'New', unit: null, place: null }),
    x: probeWith({ name: 'Silent', unit: null, place: null, state: 'lost' }),
  };

  it('one that hangs nowhere is offered first, one of the place itself last', () => {
    expect(movers(probes, 'u1', 'supply').map(({ id }) => id)).toEqual(['n', 'r', 's']);
  });

  it('the others of the place stay', () => {
    expect(stayingAt(probes, 'u1', 'supply', 'r')).toEqual(['Supply']);
    expect(stayingAt(probes, 'u1', 'supply', 's')).toEqual([]);
  });
});

describe('how even the air is', () => {
  it('assumed, said or walked', () => {
    expect(evennessWords(EVENNESS.supply, 'supply')).toBe(
      'Nobody has walked the outlet yet: Plateau assumes that its spots differ by 5.0\u202f% of the difference between return and supply.',
    );
    expect(evennessWords({ spotsPct: 12, from: 'entered', walkedT: null }, 'return')).toMatch(
      /^Entered: spots of the intake differ by 12\u202f%/,
    );
    expect(evennessWords({ spotsPct: 3, from: 'walked', walkedT: T0 }, 'supply')).toMatch(
      /are corrected\.$/,
    );
  });
});
