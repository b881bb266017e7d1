/** What bucket, heater and zero have in common: each second of air, and a message that says how it is. */
import type { Measuring } from '../../protocol.ts';
import type { UnitAir } from './unit-air.ts';

export interface AirWork {
  readonly method: 'condensate' | 'heat' | 'zero';
  readonly unit: string;
  from: number;
  /** Nothing counts any more, but it has not ended. */
  readonly paused: boolean;
  /** Takes a second, which stands for so many. */
  second(air: UnitAir, seconds: number): void;
  /** @param said what has come of it; null while it runs */
  message(t: number, phase: Measuring['phase'], said: string | null): Measuring;
  clockSet(shiftMs: number): void;
}

/** A message of one that has neither outlet nor anemometer. */
export function otherMessage(
  { unit, method, from }: AirWork,
  t: number,
  phase: Measuring['phase'],
  now: Pick<Measuring, 'text' | 'warns' | 'progress' | 'difference' | 'differenceU95'>,
): Measuring {
  return {
    type: 'measuring',
    ...{ unit, method, phase, from, t, ...now },
    ...{ outlet: null, probe: null, velocityMs: null, section: null, rule: null },
    sections: [],
    points: [],
  };
}
