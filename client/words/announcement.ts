/**
 * What a screen reader is told by itself: the state and the warnings, without any figure that changes
 * from second to second, or it would be read out again with each.
 */
import type { Doubt, ProbeState, UnitSnapshot } from '../../server/protocol.ts';
import { worthTelling } from './reasons.ts';
import { stateWord } from './settling.ts';
import { t, translated } from '../../server/words/language.ts';

/** Doubts whose own text holds an age or an amount that changes, without it. */
const CALM_TEXTS: Record<string, (probe: string) => string> = {
  'probe-stale': (probe) => t`${probe} has sent nothing for a while.`,
  'probe-late': (probe) => t`${probe} is late.`,
  'probes-differ': (probe) => t`${probe} disagrees with another probe at its place.`,
  'return-breathes-supply': () => t`Supply air seems to get into the return.`,
  'heat-between': () => t`The air picks up heat between the probes.`,
  'check-old': () => t`The side-by-side check is old.`,
  'probe-wet': (probe) => t`${probe} is probably wet.`,
  'humidity-range': (probe) => t`${probe} reads humidity near an end of its scale.`,
  'humidity-disagrees': () =>
    t`Supply and return differ in moisture more than a heating coil can explain.`,
};

export type Names = Record<string, Pick<ProbeState, 'name'>>;

/** What is doubtful, in a short sentence that does not change with each second. */
export function calmText({ code, probe, text }: Doubt, probes: Names): string {
  const name = probe === undefined ? t`A probe` : (probes[probe]?.name ?? probe);
  return CALM_TEXTS[code]?.(name) ?? translated(text);
}

/** "Reading room: settling." */
export const stateAnnouncement = (name: string, unit: UnitSnapshot | null): string =>
  unit === null
    ? t`${name}: waiting for readings.`
    : `${name}: ${stateWord(unit.settling).toLowerCase()}.`;

/** "R is late." Apart from the state: what is doubtful is not said again when the unit becomes steady. */
export function doubtAnnouncement(unit: UnitSnapshot, probes: Names): string {
  const doubts = worthTelling(unit.doubts).map((doubt) => calmText(doubt, probes));
  return [...new Set(doubts)].join(' ');
}
