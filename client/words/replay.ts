/** What is said of a replay: a visit log that is played. Pure. */
import type { Replay } from '../../server/protocol.ts';
import { clockSeconds, duration } from './times.ts';
import { t as say } from '../../server/words/language.ts';

/** Why nothing can be changed. */
export const UNALTERABLE = say`This is a replay: nothing in it can be changed.`;

export const SIMULATED = say`simulated`;

/** The mark of a chart whose readings are not of real air, or not of now; null where they are. */
export function markOf({
  replayed,
  simulated,
}: {
  replayed: boolean;
  simulated: boolean;
}): string | null {
  if (replayed) return simulated ? say`replay, ${SIMULATED}` : say`replay`;
  return simulated ? SIMULATED : null;
}

/** The speeds that are offered, and that which it has. */
export function speedsOf({ speed }: Replay): number[] {
  const usual = [1, 2, 5, 10, 30, 60];
  return usual.includes(speed) ? usual : [...usual, speed].toSorted((a, b) => a - b);
}

/** Where it is, for those who hear it: "14:02:10, 12 min of 1 h 20 min". */
export function placeWords({ from, to }: Replay, t: number): string {
  if (from === null || to === null) return clockSeconds(t);
  const [gone, all] = [duration((t - from) / 1000), duration((to - from) / 1000)];
  return say`${clockSeconds(t)}, ${gone} of ${all}`;
}

/** How far a key moves in it, ms; null: it is no key for that. */
export function keyStepMs(key: string): number | null {
  switch (key) {
    case 'ArrowLeft':
    case 'ArrowDown':
      return -10_000;
    case 'ArrowRight':
    case 'ArrowUp':
      return 10_000;
    case 'PageDown':
      return -300_000;
    case 'PageUp':
      return 300_000;
    case 'Home':
      return -Infinity;
    case 'End':
      return Infinity;
    default:
      return null;
  }
}
