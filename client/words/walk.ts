/** A walk along the outlet or the intake in words, and how even the air there is. */
import type { PlaceEvenness, ProbeState, Walk } from '../../server/protocol.ts';
import { percent, withSign, written } from './figures.ts';
import type { Scales } from './scales.ts';
import { counted, t } from '../../server/words/language.ts';
import { allOf, codeWord } from '../../server/words/names.ts';

export type WalkPlace = Walk['place'];
type Probes = Record<string, ProbeState>;

/** What a place is called where air goes in or out. */
export const openingOf = (place: WalkPlace): string =>
  codeWord(place === 'return' ? t`intake` : t`outlet`);

export const WALK = {
  title: t`Walk the outlet`,
  why: (opening: string): string =>
    t`One spot is not the whole ${opening}. Move one probe along it while another stays put: that shows how uneven the air is and how far off the fixed probe reads. Plateau corrects it, and the ± gets smaller.`,
  asMeasured: t`Run the unit at the fan speed and louver position that you measure at.`,
  hold: (opening: string): string =>
    t`Start, and hold the probe still at one end of the ${opening} until it settles.`,
  move: t`Tap Go. Move it to the other end and back at an even pace, for a minute or more. Tap End.`,
  caution: (opening: string): string =>
    t`Keep hand, probe and leads out of the ${opening}: a blower wheel turns behind it, and the fins are sharp. On a ladder, keep three points of contact or have someone else hold the probe.`,
  simulated: t`A simulated probe walks on its own.`,
  along: t`Along which opening`,
  outlet: t`the outlet`,
  intake: t`the intake`,
  moving: t`Moving probe`,
  start: t`Start`,
  noneStays: (opening: string): string => t`Another live probe must stay in the ${opening}.`,
  stays: (probes: readonly string[]): string =>
    counted(probes.length, t`${allOf(probes)} stays.`, t`${allOf(probes)} stay.`),
  status: (verdict: string): string => t`Walk: ${verdict}.`,
  enough: t`Enough heard: go back to where you began, and end.`,
  heard: (percent: string): string => t`${percent} of the time needed.`,
  go: t`Go`,
  cancel: t`Cancel`,
  end: t`End`,
  tooEarly: t`If you end now, nothing is corrected.`,
  holds: t`This holds until one of those probes is moved or checked. Walk again after you move the louver.`,
  again: t`Walk again`,
  enter: t`Enter how even it is`,
};

export const EVENNESS = {
  title: t`How even the air is`,
  how: t`How much spots differ from each other: one standard deviation, in percent of the difference between return and supply. Leave empty for the usual assumption.`,
  outlet: t`Outlet, %`,
  intake: t`Intake, %`,
};

/** What the fields of evenness are called in a sentence. */
export const EVENNESS_FIELDS = { outlet: t`The outlet`, intake: t`The intake` };

/** The live probes that stay at a place of a unit, by their names. */
export function stayingAt(probes: Probes, unit: string, place: WalkPlace, moved: string): string[] {
  return Object.entries(probes)
    .filter(([id, p]) => id !== moved && p.unit === unit && p.place === place && p.state === 'live')
    .map(([, { name }]) => name);
}

/** A probe that can be moved. */
export interface Mover {
  id: string;
  probe: ProbeState;
}

/**
 * Live probes that tell a temperature, best first: one that hangs nowhere, one of the other place, and
 * last one of the place itself or without humidity.
 */
export function movers(probes: Probes, unit: string, place: WalkPlace): Mover[] {
  const rank = ({ unit: at, place: hangs, values }: ProbeState): number => {
    if (values.humidityPct === undefined && values.dewPointC === undefined) return 4;
    if (hangs === 'outdoor') return 3;
    if (at === null || hangs === null) return 0;
    if (at !== unit) return 2;
    return hangs === place ? 3 : 1;
  };
  return Object.entries(probes)
    .filter(([, { state, values }]) => state === 'live' && values.temperatureC !== undefined)
    .map(([id, probe]) => ({ id, probe }))
    .sort((a, b) => rank(a.probe) - rank(b.probe));
}

/** The verdict in a word or three. */
export function walkWord({ verdict }: Walk): string {
  switch (verdict) {
    case 'settling':
      return t`Hold still`;
    case 'settled':
      return t`Ready to go`;
    case 'waiting':
      return t`Walking`;
    case 'found':
      return t`Enough`;
  }
}

/** "Spots differ by 0.8 K (one standard deviation)." Null while nothing is known. */
export function spotWords({ spotK }: Walk, scales: Scales): string | null {
  if (spotK === null) return null;
  return t`Spots differ by ${withSign(spotK, scales.offset)} (one standard deviation).`;
}

/** "Supply, left reads 0.6 K warmer than the whole outlet: the figure is 6 % too low." */
export function biasWords(
  { biasK, totalPct, place }: Walk,
  staying: readonly string[],
  scales: Scales,
): string | null {
  if (biasK === null) return null;
  const who = staying.length === 1 ? (staying[0] ?? '') : t`The first fixed probe`;
  const by = withSign(Math.abs(biasK), scales.offset);
  const whole = openingOf(place);
  const reads =
    biasK < 0
      ? t`${who} reads ${by} colder than the whole ${whole}`
      : t`${who} reads ${by} warmer than the whole ${whole}`;
  if (totalPct === null) return `${reads}.`;
  const off = percent(Math.abs(totalPct));
  return totalPct < 0
    ? t`${reads}: with it alone the total is ${off} too low.`
    : t`${reads}: with it alone the total is ${off} too high.`;
}

/** Where the interval has it from. */
export function evennessWords({ spotsPct, from }: PlaceEvenness, place: WalkPlace): string {
  const opening = openingOf(place);
  const share = t`${written(spotsPct, spotsPct < 10 ? 0.1 : 1)}\u202f% of the difference between return and supply`;
  switch (from) {
    case 'assumed':
      return t`Nobody has walked the ${opening} yet: Plateau assumes that its spots differ by ${share}.`;
    case 'entered':
      return t`Entered: spots of the ${opening} differ by ${share}.`;
    case 'walked':
      return t`Measured by a walk: spots of the ${opening} differ by ${share}, and the probes there are corrected.`;
  }
}
