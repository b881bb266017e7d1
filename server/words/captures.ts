/** How a capture was made, in words. */
import { cyclesOf } from './cycles.ts';
import type { Capture } from '../protocol.ts';
import { clockMinutes, duration } from './times.ts';
import { t } from './language.ts';

/** "from 14:02 over 6 min, steady, by hand" */
export function howMade({ from, to, state, cycles, by, open }: Capture): string {
  const span = duration((to - from) / 1000);
  const whole = cycles === undefined ? t`whole cycles` : cyclesOf(cycles);
  const parts = [
    t`from ${clockMinutes(from)} over ${span}`,
    state === 'steady' ? t`steady` : whole,
    by === 'touch' ? t`by hand` : t`automatic`,
  ];
  if (open === true) parts.push(t`still growing`);
  return parts.join(', ');
}
