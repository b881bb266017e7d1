/**
 * The way through a visit in words: what each place says by now, what it warns of, and what comes next.
 * Nothing is forced: you can go to any place at any time. Pure.
 */
import type { Doubt, State, UnitSnapshot, VerdictMessage } from '../../server/protocol.ts';
import { partOf, type Place, PLACES } from '../view-address.ts';
import { gathered, warningCount, wayOn } from './doubts.ts';
import { withSign } from './figures.ts';
import { inHand, listed } from './probes.ts';
import { firstAgainst, isIn, tooEarly, worthTelling } from './reasons.ts';
import type { Scales } from './scales.ts';
import { stateWord } from './settling.ts';
import { shownCapacity, shownParts } from './shown.ts';
import { roughDuration } from './times.ts';
import { SHORT_WORDS, verdictOf } from './verdict-word.ts';
import { counted, t } from '../../server/words/language.ts';

/** The names of the places on the screen. */
const NAMES: Record<Place, string> = {
  probes: t`Probes`,
  airflow: t`Airflow`,
  figure: t`Capacity`,
  verdict: t`Verdict`,
  record: t`Record`,
};

export interface Station {
  place: Place;
  href: string;
  name: string;
  /** What it says by now, in a word or two. */
  says: string;
  /** How many warnings there are. */
  doubts: number;
  /** Whether what it is for has been reached. */
  done: boolean;
  /** Whether the figure of now may be written down. */
  steady: boolean;
}

/** What is known of a unit on its way. */
export interface Underway {
  told: State;
  unitId: string | null;
  /** Whether what was told is of now. */
  live: boolean;
}

/** Where a doubt is mended: what is mended nowhere on the page is of the figure. */
export function placeOf({ code, text }: Doubt): Place {
  const way = wayOn(code, text);
  return way === null ? 'figure' : partOf(way.href === '#settings' ? '#record' : way.href).place;
}

const capturesOf = ({ told, unitId }: Underway): number =>
  told.captures.filter(({ unit, struck }) => unit === unitId && struck === undefined).length;

const unitOf = ({ told, unitId, live }: Underway): UnitSnapshot | null =>
  live && unitId !== null ? (told.units[unitId] ?? null) : null;

const probesWords = (all: number, placed: number): string => {
  if (all === 0) return t`none yet`;
  return placed === all ? t`${all} placed` : t`${all - placed} to place`;
};

/** The five places of the visit, as they stand for one unit. */
export function stationsOf(underway: Underway, scales: Scales): Station[] {
  const { told, unitId } = underway;
  const unit = unitOf(underway);
  const doubts = unit === null ? [] : worthTelling(unit.doubts);
  const doubtsOf = (place: Place): number =>
    gathered(doubts.filter((doubt) => placeOf(doubt) === place)).length;
  const probes = Object.values(told.probes);
  const placed = probes.filter((probe) => probe.place !== null || inHand(probe)).length;
  // A probe that wants a hand and is no doubt of this unit's figure: not placed, lost, another unit's.
  const wanting = listed(told.probes, underway.live ? told.units : {}).filter(
    ({ troubles }) => troubles.length > 0,
  ).length;
  const checked = probes.some(({ check }) => check !== null);
  const captures = told.captures.filter(({ struck }) => struck === undefined).length;
  const flowM3s =
    unit?.airflow.flowM3s ??
    (unitId === null ? null : (told.visit.units[unitId]?.airflow?.flowM3s ?? null));
  const shown = unit === null ? null : shownParts(shownCapacity(unit), scales.power).total;
  const recording = told.record.trouble === null && told.record.kept;

  const verdict = verdictOf(told, unitId)?.verdict ?? null;

  const stand: Record<Place, Pick<Station, 'says' | 'doubts' | 'done'>> = {
    probes: {
      says: probesWords(probes.length, placed),
      doubts: Math.max(wanting, doubtsOf('probes')),
      done: checked && placed > 0,
    },
    airflow: {
      says: flowM3s === null ? t`not known` : withSign(flowM3s, scales.flow),
      doubts: doubtsOf('airflow'),
      done: flowM3s !== null,
    },
    figure: {
      says:
        shown?.value !== null && shown !== null
          ? `${shown.value}\u202f${scales.power.sign}`
          : t`no figure`,
      doubts: doubtsOf('figure'),
      done: capturesOf(underway) > 0,
    },
    verdict: {
      says: verdict === null ? t`none yet` : SHORT_WORDS[verdict.verdict],
      doubts: 0,
      done: verdict !== null && IS_TOLD.includes(verdict.verdict),
    },
    record: {
      says: recording
        ? captures === 0
          ? t`no capture`
          : counted(captures, t`1 capture`, t`${captures} captures`)
        : t`not kept`,
      doubts: doubtsOf('record') + (told.record.trouble === null ? 0 : 1),
      done: captures > 0 && told.visit.title !== '',
    },
  };
  return PLACES.map((place) => ({
    place,
    href: `#${place}`,
    name: NAMES[place],
    ...stand[place],
    steady: place === 'figure' && unit?.settling.state === 'steady',
  }));
}

/** What the mark of a place says, for those who hear it: "done, 1 warning". */
export const stationMore = ({ doubts, done }: Station): string =>
  [...(done ? [t`done`] : []), ...(doubts === 0 ? [] : [warningCount(doubts)])].join(', ');

/** What comes next: where, and for which unit where it is another than the one that is watched. */
export interface Step {
  text: string;
  href: string;
  unit?: string;
}

/** Verdicts that say something. */
const IS_TOLD: readonly VerdictMessage['verdict'][] = ['meets', 'falls-short'];

/** A setpoint that nobody has told yet leaves open whether the unit gives all it has. */
const PUSH = t`push the setpoint`;

/**
 * The next thing to do; null where nothing is known of now, and in a replay. What cannot be had again
 * comes first: a figure that is steady is captured, whatever else there is to mend.
 */
export function nextStep(underway: Underway): Step | null {
  const { told, unitId, live } = underway;
  // What is played has been done.
  if (!live || told.replay !== null) return null;
  if (Object.keys(told.probes).length === 0) {
    return { text: t`turn on your probes`, href: '#probes' };
  }
  if (told.check?.phase === 'running') {
    return tooEarly(told.check)
      ? { text: t`leave the probes in the check`, href: '#side-by-side' }
      : { text: t`end the check`, href: '#side-by-side' };
  }
  if (told.walk?.phase === 'running') return { text: t`finish the walk`, href: '#walk' };
  const measuring = Object.values(told.measuring).find(
    ({ phase }) => phase === 'running' || phase === 'paused',
  );
  if (measuring !== undefined) {
    const text = measuring.method === 'zero' ? t`finish the zero` : t`finish the airflow`;
    return { text, href: '#airflow', unit: measuring.unit };
  }
  const unit = unitOf(underway);
  const has = (code: string): boolean => unit !== null && isIn(unit, code);
  if (unitId === null || unit === null || has('return-missing') || has('supply-missing')) {
    return { text: t`place the probes`, href: '#probes' };
  }
  if (has('airflow-missing')) return { text: t`measure the airflow`, href: '#airflow' };
  const isCaptured = capturesOf(underway) > 0;
  const { state, steadyInS, defrost } = unit.settling;
  if (state === 'steady' && defrost === null && !isCaptured) {
    const against = firstAgainst(unit);
    return against === null
      ? { text: t`capture the figure`, href: '#figure' }
      : { text: t`clear the warnings`, href: '#doubts' };
  }
  if (isCaptured) return afterCapture(underway);
  if (has('check-missing'))
    return { text: t`check the probes side by side`, href: '#side-by-side' };
  if ((told.visit.units[unitId]?.setpointC ?? null) === null)
    return { text: PUSH, href: '#figure' };
  if (state === 'settling' && steadyInS !== null) {
    return { text: t`wait, about ${roughDuration(steadyInS)}`, href: '#figure' };
  }
  return { text: t`wait: ${stateWord(unit.settling).toLowerCase()}`, href: '#figure' };
}

/** One unit is captured: its verdict, the next one, who it is for, and the end. */
function afterCapture({ told, unitId, live }: Underway): Step {
  // Full demand is shown while it runs: later it would have to be brought there again.
  if (verdictOf(told, unitId)?.verdict.verdict === 'not-asked') {
    return { text: t`run the push test`, href: '#verdict' };
  }
  const ids = Object.keys(told.units);
  const at = unitId === null ? -1 : ids.indexOf(unitId);
  const others = [...ids.slice(at + 1), ...ids.slice(0, Math.max(at, 0))];
  const open = others.find((id) => capturesOf({ told, unitId: id, live }) === 0);
  if (open !== undefined) {
    return { text: t`on to ${told.visit.units[open]?.name ?? open}`, href: '#figure', unit: open };
  }
  if (told.visit.details.customer === undefined && told.visit.details.technician === undefined) {
    return { text: t`enter the customer`, href: '#settings' };
  }
  return { text: t`hand the record over`, href: '#record' };
}
