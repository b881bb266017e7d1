/** How a capture was made, in words. */
import { cyclesOf } from '../measure/whole-cycles.ts';
import type { Capture } from '../protocol.ts';
import { clockMinutes, duration } from './times.ts';

/** "from 14:02 over 6 min, steady, by hand" */
export function howMade({ from, to, state, cycles, by, open }: Capture): string {
  const span = duration((to - from) / 1000);
  const whole = cycles === undefined ? 'whole cycles' : cyclesOf(cycles);
  const parts = [
    `from ${clockMinutes(from)} over ${span}`,
    state === 'steady' ? 'steady' : whole,
    by === 'touch' ? 'by hand' : 'automatic',
  ];
  if (open === true) parts.push('still growing');
  return parts.join(', ');
}
