/** What bucket, heater and zero have in common: each second of air, and a message that says how it is. */
import type { Measuring } from '../../protocol.ts';
import type { Settled } from '../../signal/settled-mean.ts';
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

/** How far one is that waits for a difference to settle, and that difference. */
export function waited(
  difference: Settled | null,
  hasSettled: boolean,
  passedS: number,
  wantedS: number,
): Pick<Measuring, 'progress' | 'difference' | 'differenceU95'> {
  return {
    progress: Math.min(hasSettled ? 1 : 0.95, passedS / wantedS),
    difference: difference?.mean ?? null,
    differenceU95: difference === null ? null : 1.96 * difference.u,
  };
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
