/** A walk along the outlet or the intake in words, and how even the air there is. */
import type { PlaceEvenness, ProbeState, Walk } from '../../server/protocol.ts';
import { percent, withSign, written } from './figures.ts';
import type { Scales } from './scales.ts';

export type WalkPlace = Walk['place'];
type Probes = Record<string, ProbeState>;

/** What a place is called where air goes in or out. */
export const openingOf = (place: WalkPlace): string => (place === 'return' ? 'intake' : 'outlet');

export const WALK = {
  title: 'Walk the outlet',
  why: (opening: string): string =>
    `One spot is not the whole ${opening}. Move one probe along it while another stays put: that shows ` +
    'how uneven the air is and how far off the fixed probe reads. Plateau corrects it, and the ± gets ' +
    'smaller.',
  asMeasured: 'Run the unit at the fan speed and louver position that you measure at.',
  hold: (opening: string): string =>
    `Start, and hold the probe still at one end of the ${opening} until it settles.`,
  move: 'Tap Go. Move it to the other end and back at an even pace, for a minute or more. Tap End.',
  caution: (opening: string): string =>
    `Keep hand, probe and leads out of the ${opening}: a blower wheel turns behind it, and the fins are ` +
    'sharp. On a ladder, keep three points of contact or have someone else hold the probe.',
  simulated: 'A simulated probe walks on its own.',
  along: 'Along which opening',
  outlet: 'the outlet',
  intake: 'the intake',
  moving: 'Moving probe',
  start: 'Start',
  noneStays: (opening: string): string => `Another live probe must stay in the ${opening}.`,
  stays: (probes: readonly string[]): string =>
    `${probes.join(' and ')} ${probes.length === 1 ? 'stays' : 'stay'}.`,
  status: (verdict: string): string => `Walk: ${verdict}.`,
  enough: 'Enough heard: go back to where you began, and end.',
  heard: (percent: string): string => `${percent} of the time needed.`,
  go: 'Go',
  cancel: 'Cancel',
  end: 'End',
  tooEarly: 'If you end now, nothing is corrected.',
  holds:
    'This holds until one of those probes is moved or checked. Walk again after you move the louver.',
  again: 'Walk again',
  enter: 'Enter how even it is',
};

export const EVENNESS = {
  title: 'How even the air is',
  how:
    'How much spots differ from each other: one standard deviation, in percent of the difference ' +
    'between return and supply. Leave empty for the usual assumption.',
  outlet: 'Outlet, %',
  intake: 'Intake, %',
};

/** What the fields of evenness are called in a sentence. */
export const EVENNESS_FIELDS = { outlet: 'The outlet', intake: 'The intake' };

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
      return 'Hold still';
    case 'settled':
      return 'Ready to go';
    case 'waiting':
      return 'Walking';
    case 'found':
      return 'Enough';
  }
}

/** "Spots differ by 0.8 K (one standard deviation)." Null while nothing is known. */
export function spotWords({ spotK }: Walk, scales: Scales): string | null {
  if (spotK === null) return null;
  return `Spots differ by ${withSign(spotK, scales.offset)} (one standard deviation).`;
}

/** "Supply, left reads 0.6 K warmer than the whole outlet: the figure is 6 % too low." */
export function biasWords(
  { biasK, totalPct, place }: Walk,
  staying: readonly string[],
  scales: Scales,
): string | null {
  if (biasK === null) return null;
  const who = staying.length === 1 ? (staying[0] ?? '') : 'The first fixed probe';
  const by = withSign(Math.abs(biasK), scales.offset);
  const reads = `${who} reads ${by} ${biasK < 0 ? 'colder' : 'warmer'} than the whole ${openingOf(place)}`;
  if (totalPct === null) return `${reads}.`;
  const off = percent(Math.abs(totalPct));
  return `${reads}: with it alone the total is ${off} too ${totalPct < 0 ? 'low' : 'high'}.`;
}

/** Where the interval has it from. */
export function evennessWords({ spotsPct, from }: PlaceEvenness, place: WalkPlace): string {
  const opening = openingOf(place);
  const share = `${written(spotsPct, spotsPct < 10 ? 0.1 : 1)}\u202f% of the difference between return and supply`;
  switch (from) {
    case 'assumed':
      return `Nobody has walked the ${opening} yet: Plateau assumes that its spots differ by ${share}.`;
    case 'entered':
      return `Entered: spots of the ${opening} differ by ${share}.`;
    case 'walked':
      return `Measured by a walk: spots of the ${opening} differ by ${share}, and the probes there are corrected.`;
  }
}
