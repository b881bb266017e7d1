/** How a doubt is made: a code, what is doubtful, what it does to the figure, and what to do. */
import type { Doubt } from '../protocol.ts';
import { sent } from '../words/sent.ts';

/** A time of so many ms in words. */
export const span = (ms: number): string => {
  if (ms < 120_000) return `${Math.round(ms / 1000)} s`;
  if (ms < 7_200_000) return sent`${Math.round(ms / 60_000)} min`;
  return ms < 172_800_000
    ? `${Math.round(ms / 3_600_000)} h`
    : sent`${Math.round(ms / 86_400_000)} days`;
};
/** Sentences without a probe; see `Doubt`. */
export const doubt = (code: string, text: string, effect: string, remedy: string): Doubt => ({
  code,
  text,
  effect,
  remedy,
});
/** A doubt about one probe. */
export const of = (probe: { readonly id: string }, d: Doubt): Doubt => ({ ...d, probe: probe.id });
