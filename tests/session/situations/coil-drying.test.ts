/** The coil dries with the fan alone: in the simulator, whose balance of water is tested. */
import { expect, test } from 'vitest';
import { scenario } from '../../../simulator/scenarios.ts';
import { play, type Second, spansOf } from './play.ts';

/** Cooling for a quarter of an hour, then the compressor rests and the fan goes on. */
function stopped(name: string): Second[] {
  const seconds: Second[] = [];
  play(scenario(name), 1500, {
    acts: [{ atS: 900, setpointC: 30 }],
    each: (second) => seconds.push(second),
  });
  return seconds;
}

test.each(['plain', 'humid'])('%s: said within a minute of the stop', (name) => {
  const seconds = stopped(name);
  const [first, ...more] = spansOf(seconds)['coil-drying'] ?? [];
  expect(first?.[0]).toBeGreaterThan(900);
  expect(first?.[0]).toBeLessThan(960);
  expect(more).toEqual([]);
  for (const { s, codes, truth } of seconds) {
    if (!codes.includes('coil-drying')) continue;
    expect(truth.latentW).toBeLessThan(0);
    expect(codes, `at ${s} s`).not.toContain('nothing-delivered');
  }
});

test('over once next to nothing goes back any more', () => {
  const seconds: Second[] = [];
  play(scenario('plain'), 2700, {
    acts: [{ atS: 900, setpointC: 30 }],
    each: (second) => seconds.push(second),
  });
  const last = seconds.at(-1);
  expect(Math.abs(last?.truth.latentW ?? NaN)).toBeLessThan(100);
  expect(last?.codes).toContain('nothing-delivered');
  expect(last?.codes).not.toContain('coil-drying');
});
