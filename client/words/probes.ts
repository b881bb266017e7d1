/** A probe in words: where it hangs, how well it is heard, what it reads, and what it needs. */
import type { Doubt, ProbeState, UnitSnapshot, VisitSetup } from '../../server/protocol.ts';
import { NO_FIGURE, percent, withSign, written } from './figures.ts';
import type { Scales } from './scales.ts';
import { duration } from './times.ts';
import { codeWord } from '../../server/words/names.ts';
import { t as say } from '../../server/words/language.ts';

export type Place = NonNullable<ProbeState['place']>;
/** A place that a probe can hang at; outdoors belongs to no unit. */
export interface Spot {
  unit: string | null;
  place: Place;
}

/** Younger than this is now. */
const NOW_S = 5;
const LOW_BATTERY_PCT = 20;
const STATES = { connecting: say`connecting`, live: say`live`, stale: say`late`, lost: say`lost` };

/** "return, Reading room", "outdoor" */
export function spotWords({ unit, place }: Spot, visit: VisitSetup): string {
  const name = unit === null ? null : (visit.units[unit]?.name ?? unit);
  return name === null ? codeWord(place) : `${codeWord(place)}, ${name}`;
}

export const NOT_PLACED = say`not placed`;

/** Where a probe hangs; "not placed" where nobody has said. */
export function whereWords({ unit, place }: ProbeState, visit: VisitSetup): string {
  return place === null ? NOT_PLACED : spotWords({ unit, place }, visit);
}

/** Whether a probe hangs at a spot. */
export function hangsAt({ unit, place }: ProbeState, spot: Spot): boolean {
  // Outdoors is the same for all units, whichever one it is said to belong to.
  return place === spot.place && (place === 'outdoor' || unit === spot.unit);
}

/** What it reads now: "26.4 °C  51 %"; a dash where nothing is live. */
export function valueWords({ values }: ProbeState, scales: Scales): string {
  const { temperatureC, humidityPct, dewPointC, velocityMs, pressurePa, powerW } = values;
  const parts: string[] = [];
  if (temperatureC !== undefined) parts.push(withSign(temperatureC, scales.temperature));
  if (humidityPct !== undefined) parts.push(percent(humidityPct));
  if (dewPointC !== undefined)
    parts.push(say`dew point ${withSign(dewPointC, scales.temperature)}`);
  if (velocityMs !== undefined) parts.push(`${written(velocityMs, 0.01)}\u202fm/s`);
  if (pressurePa !== undefined) parts.push(withSign(pressurePa, scales.pressure));
  if (powerW !== undefined) parts.push(`${written(powerW, 1)}\u202fW`);
  return parts.join(' \u2002') || NO_FIGURE;
}

/** An anemometer hangs nowhere: it is taken in the hand to measure an airflow. */
export const inHand = ({ anemometer, place }: ProbeState): boolean =>
  anemometer !== undefined && place === null;

/** When its last reading came. @param t the server's time, null while the connection is lost */
export function ageWords({ state, lastT }: ProbeState, t: number | null): string {
  if (lastT === null) return state === 'connecting' ? say`connecting` : say`no reading yet`;
  if (t === null) return say`not live`;
  const seconds = (t - lastT) / 1000;
  if (state === 'live')
    return seconds < NOW_S ? say`heard now` : say`heard ${duration(seconds)} ago`;
  return say`${STATES[state]}, last heard ${duration(seconds)} ago`;
}

/** How often it speaks: "every 2 s", "3 a second"; null while that is not known. */
export function rateWords({ intervalMs }: ProbeState): string | null {
  if (intervalMs === null) return null;
  const aSecond = Math.round(1000 / intervalMs);
  if (aSecond >= 2) return say`${aSecond} a second`;
  return say`every ${duration(Math.max(1, intervalMs / 1000))}`;
}

export interface Signal {
  /** 0 to 4. */
  bars: number;
  words: string;
}
/** Received power from which on it is called so, dBm (common practice, no source). */
const SIGNALS = [
  [-60, 4, say`strong`],
  [-70, 3, say`good`],
  [-80, 2, say`fair`],
  [-90, 1, say`weak`],
] as const;

/** How well its radio is heard: "−61 dBm, good"; null for a probe that has none. */
export function signalOf({ signalDbm }: ProbeState): Signal | null {
  if (signalDbm === null) return null;
  const [, bars, word] = SIGNALS.find(([from]) => signalDbm >= from) ?? [0, 0, say`very weak`];
  return { bars, words: say`${written(signalDbm, 1)}\u202fdBm, ${word}` };
}

/** Something about a probe that wants a hand: what is wrong, and what to do. */
export type Trouble = Pick<Doubt, 'code' | 'text' | 'remedy'>;

/** Doubts that say of a probe what its own state says: one sentence is enough. */
const OF_THE_STATE = new Set(['probe-stale', 'probe-unheard']);
/** Doubts that name a probe with which nothing need be done. */
const NO_HAND = new Set(['humidity-saturated', 'humidity-range']);

/** What its own state says against it. */
function ownTroubles(probe: ProbeState): Trouble[] {
  const { name, state, needs, lastT, place, batteryPct } = probe;
  const isInHand = inHand(probe);
  const found: Trouble[] = [];
  if (needs === 'key') {
    const text = say`The key of ${name} is missing or does not fit.`;
    const remedy = say`Enter the key that came with it, or remove the key if the probe no longer encrypts.`;
    found.push({ code: 'key', text, remedy });
  } else if (state === 'connecting') {
    const remedy = say`Wait a moment. If it takes long, bring the probe closer.`;
    found.push({ code: 'connecting', text: say`${name} is connecting.`, remedy });
  } else if (isInHand && state !== 'live') {
    // It sends while it traverses an outlet.
  } else if (state === 'lost' && lastT === null) {
    const remedy = say`Turn it on and bring it closer.`;
    found.push({ code: 'unheard', text: say`No reading from ${name} yet.`, remedy });
  } else if (state === 'lost') {
    const remedy = say`Check its battery and its distance. Forget it if it is gone.`;
    found.push({ code: 'lost', text: say`${name} is lost.`, remedy });
  } else if (state === 'stale') {
    const remedy = say`Check its battery and its distance.`;
    found.push({ code: 'late', text: say`${name} is late.`, remedy });
  }
  if (place === null && !isInHand) {
    const text = say`${name} has no place yet.`;
    found.push({ code: 'unplaced', text, remedy: say`Place it.` });
  }
  if (batteryPct !== null && batteryPct < LOW_BATTERY_PCT) {
    const text = say`The battery of ${name} is at ${percent(batteryPct)}.`;
    found.push({ code: 'battery', text, remedy: say`Replace or charge it before the next visit.` });
  }
  return found;
}

/** All that wants a hand about a probe: what its state says, and the doubts that name it. */
export function troublesOf(
  id: string,
  probe: ProbeState,
  units: Record<string, UnitSnapshot>,
): Trouble[] {
  const found = ownTroubles(probe);
  const silent = probe.state === 'lost' || probe.state === 'stale';
  for (const { doubts } of Object.values(units)) {
    for (const doubt of doubts) {
      if (doubt.probe !== id || NO_HAND.has(doubt.code) || (silent && OF_THE_STATE.has(doubt.code)))
        continue;
      if (!found.some(({ code }) => code === doubt.code)) found.push(doubt);
    }
  }
  return found;
}

/** What wants a hand first: without a key or a place it is of no use, then doubts, then what is lost. */
const FIRST = ['key', 'unplaced'];
const LAST = ['connecting', 'late', 'unheard', 'lost', 'battery'];

function rankOf(troubles: readonly Trouble[]): number {
  const ranks = troubles.map(({ code }) => {
    if (FIRST.includes(code)) return FIRST.indexOf(code);
    return FIRST.length + (LAST.includes(code) ? 1 + LAST.indexOf(code) : 0);
  });
  return Math.min(...ranks, FIRST.length + LAST.length + 1);
}

/** A probe in the list of all. */
export interface Listed {
  id: string;
  probe: ProbeState;
  troubles: Trouble[];
}

/**
 * All probes, those that want a hand first.
 * @param held the order that is on the screen and must not change now; null: none
 */
export function listed(
  probes: Record<string, ProbeState>,
  units: Record<string, UnitSnapshot>,
  held: readonly string[] | null = null,
): Listed[] {
  const all = Object.entries(probes).map(([id, probe]) => {
    const troubles = troublesOf(id, probe, units);
    return { id, probe, troubles, rank: rankOf(troubles) };
  });
  const place = (id: string): number => {
    const at = held?.indexOf(id) ?? -1;
    return at < 0 ? Infinity : at; // new ones come last while the order is held
  };
  return all.sort((a, b) => {
    const before = place(a.id) - place(b.id);
    return Number.isNaN(before) || before === 0 ? a.rank - b.rank : before;
  });
}

/** "7 probes: 1 to place, 1 lost, 5 in order." */
export function summaryWords(list: readonly Listed[]): string {
  const has = (codes: readonly string[]): number =>
    list.filter(({ troubles }) => troubles.some(({ code }) => codes.includes(code))).length;
  const unplaced = has(['unplaced']);
  const silent = has(['lost', 'late', 'unheard', 'key', 'connecting']);
  const differ = has(['probes-differ']);
  const wanting = list.filter(({ troubles }) => troubles.length > 0).length;
  const parts = [
    ...(unplaced > 0 ? [say`${unplaced} to place`] : []),
    ...(silent > 0 ? [say`${silent} not read`] : []),
    ...(differ > 0 ? [say`${differ} that disagree`] : []),
    say`${list.length - wanting} in order`,
  ];
  const count = list.length === 1 ? say`1 probe` : say`${list.length} probes`;
  return `${count}: ${parts.join(', ')}.`;
}
