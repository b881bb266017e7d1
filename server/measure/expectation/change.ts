/**
 * What a unit delivers against an earlier visit: the difference at like conditions, with an interval in
 * which only those errors cancel that are really shared (JCGM 100:2008, F.1.2.3).
 */
import type { BudgetKind } from '../budget-inputs.ts';
import type { Mode } from '../capacity.ts';
import { statement } from '../gum.ts';
import { factorOf } from './curves.ts';
import type { TotalError } from './judge.ts';
import { type Conditions, expectedAt, type Published } from './published.ts';

/** A captured figure with what it was made of. */
export interface Figure {
  totalW: number;
  errors: readonly TotalError[];
  /** Half of the 95 % interval by scatter. */
  scatterU95W: number;
  mode: Mode;
  fan: string | null;
  wetness: number;
  conditions: { [K in keyof Conditions]: Conditions[K] | null };
  pressurePa: number;
}

/** How the earlier figure was carried to the later conditions. */
export type CarriedBy = 'table' | 'curve' | 'nothing';
/** Why the two do not compare well. */
export type Unlike = 'mode' | 'fan' | 'wetness' | 'conditions';

export interface Change {
  /** Later less earlier, as a part of the earlier one at the later conditions; half of its 95 % interval. */
  part: number;
  u95: number;
  isLikelyReal: boolean;
  carriedBy: CarriedBy;
  /** By what the earlier figure was multiplied. */
  factor: number;
  unlike: Unlike[];
  /** The airflow is the same measurement in both: a change of airflow itself is not in it. */
  isSameAirflow: boolean;
}

/** How far what carries a figure to other conditions may be off, as a part of what it changes: ±. */
const CARRIED_DOUBT: Record<CarriedBy, number> = { table: 0.15, curve: 0.35, nothing: 0 };
/** Without a correction conditions may differ by so much, K. */
const NEAR_K = 2;
const WETNESS_APART = 0.3;
const K95 = 1.96;
const OF_PROBES: readonly BudgetKind[] = ['temperature', 'humidity'];
/** What names the check, or the zero in place, after which the probes' errors are others. */
const OF_CHECK: readonly BudgetKind[] = ['common-temperature', 'common-humidity', 'zero'];
/** Another error each time: how the air lies that day, and how the figure scatters. */
const MOMENTARY: readonly BudgetKind[] = ['scatter', 'spread', 'pressure'];

/** @param published what the maker says of the unit in this mode; null: nothing is entered */
export function changeSince(before: Figure, after: Figure, published: Published | null): Change {
  const { factor, carriedBy } = carried(before, after, published);
  const wanted = factor * before.totalW;
  const checks = (figure: Figure): string => namesOf(figure, OF_CHECK).join();
  const sameCheck = checks(before) === checks(after);
  const isShared = ({ kind }: TotalError): boolean =>
    !MOMENTARY.includes(kind) && (sameCheck || !OF_PROBES.includes(kind));
  const left = [...after.errors];
  const parts: number[] = [];
  for (const error of before.errors) {
    const at = isShared(error)
      ? left.findIndex(({ kind, of }) => kind === error.kind && of === error.of)
      : -1;
    const [match] = at < 0 ? [] : left.splice(at, 1);
    parts.push((match?.totalW ?? 0) - factor * error.totalW);
  }
  parts.push(...left.map(({ totalW }) => totalW));
  parts.push(before.scatterU95W / K95, after.scatterU95W / K95);
  parts.push(statement(CARRIED_DOUBT[carriedBy] * Math.abs(factor - 1)).u * before.totalW);
  const differenceW = after.totalW - wanted;
  const u95W = K95 * Math.hypot(...parts);
  return {
    part: differenceW / wanted,
    u95: u95W / wanted,
    isLikelyReal: Math.abs(differenceW) > u95W,
    ...{ carriedBy, factor },
    unlike: unlikeness(before, after, carriedBy),
    isSameAirflow: namesOf(before, ['airflow']).join() === namesOf(after, ['airflow']).join(),
  };
}

const namesOf = ({ errors }: Figure, kinds: readonly BudgetKind[]): string[] =>
  errors
    .filter(({ kind }) => kinds.includes(kind))
    .map(({ kind, of }) => `${kind} ${of ?? ''}`)
    .sort();

/** What the conditions alone make of the earlier figure. */
function carried(
  before: Figure,
  after: Figure,
  published: Published | null,
): { factor: number; carriedBy: CarriedBy } {
  const there = known(before);
  const here = known(after);
  if (there === null || here === null || before.mode !== after.mode) {
    return { factor: 1, carriedBy: 'nothing' };
  }
  const { mode } = after;
  if (published !== null) {
    const from = expectedAt(mode, published, there, before.pressurePa);
    const to = expectedAt(mode, published, here, after.pressurePa);
    if (typeof from !== 'string' && typeof to !== 'string') {
      const carriedBy = from.by === 'table' && to.by === 'table' ? 'table' : 'curve';
      return { factor: to.totalW / from.totalW, carriedBy };
    }
  }
  const at = ({ outdoorC, indoorC, indoorWetBulbC }: Conditions): number | null =>
    factorOf(mode, outdoorC, mode === 'cooling' ? (indoorWetBulbC ?? NaN) : indoorC);
  const from = at(there);
  const to = at(here);
  return from === null || to === null || !(to / from > 0)
    ? { factor: 1, carriedBy: 'nothing' }
    : { factor: to / from, carriedBy: 'curve' };
}

function known({ mode, conditions }: Figure): Conditions | null {
  const { outdoorC, indoorC, indoorWetBulbC } = conditions;
  if (outdoorC === null || indoorC === null) return null;
  if (mode === 'cooling' && indoorWetBulbC === null) return null;
  return { outdoorC, indoorC, indoorWetBulbC };
}

function unlikeness(before: Figure, after: Figure, carriedBy: CarriedBy): Unlike[] {
  const list: Unlike[] = [];
  if (before.mode !== after.mode) list.push('mode');
  if (before.fan !== after.fan) list.push('fan');
  if (Math.abs(before.wetness - after.wetness) > WETNESS_APART) list.push('wetness');
  const apart = (['outdoorC', 'indoorC', 'indoorWetBulbC'] as const).some((each) => {
    const there = before.conditions[each];
    const here = after.conditions[each];
    return there === null || here === null || Math.abs(there - here) > NEAR_K;
  });
  if (carriedBy === 'nothing' && apart) list.push('conditions');
  return list;
}
