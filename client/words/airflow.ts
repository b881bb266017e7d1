/** An airflow in words, and what a person enters of one. */
import { FAN_TABLE, REFERENCE } from '../../server/measure/capacity.ts';
import { GUESS_K } from '../../server/words/airflow.ts';
import type { Airflow } from '../live/api.ts';
import { readEntry, startText } from './entry.ts';
import { PERCENT, type Scale } from './scales.ts';
import { codeWord } from '../../server/words/names.ts';
import { t } from '../../server/words/language.ts';

export { airflowWords, sourceWords } from '../../server/words/airflow.ts';

/** Where a person may have an airflow from. */
export const ORIGINS = [
  { source: FAN_TABLE, name: t`the fan table` },
  { source: 'measured', name: t`measured at this unit` },
  { source: REFERENCE, name: t`a flow hood or a duct traverse` },
  { source: 'entered', name: t`known some other way` },
] as const;

/** What the form says; its accuracy, plane and basis are those of a fan table as well. */
export const FIELDS = {
  title: t`Airflow`,
  flow: (sign: string) => t`Airflow, ${sign}`,
  called: t`The airflow`,
  source: t`Where the figure comes from`,
  sourceCalled: t`The source`,
  limit: t`Accuracy, ± %`,
  limitCalled: t`The accuracy`,
  kind: t`That accuracy is`,
  kinds: { bound: t`a sure limit`, guess: t`a guess` },
  stated: (k: number | undefined) => t`stated, k = ${k ?? 2}`,
  guess: t`A guess counts as right two times out of three.`,
  plane: t`Measured at`,
  planes: [
    ['supply', codeWord('supply')],
    ['return', codeWord('return')],
  ],
  basis: t`Flow basis`,
  bases: [
    ['actual', t`actual air`],
    ['standard', t`standard air`],
  ],
  standard: t`Standard air is dry air at 1.204 kg/m³: 20 °C, sea level.`,
  ofTable: t`Enter what the table states. The fan moves that volume in any air, so the basis does not change the capacity.`,
  save: t`Save`,
  saveWithout: t`Save without ±`,
} as const;

/**
 * What a ± is: a bound that surely holds; a guess, which is a standard uncertainty, right in two cases
 * out of three (JCGM 100:2008, 4.3.6); or stated with a coverage factor, as it was told.
 */
export type LimitKind = 'bound' | 'guess' | 'stated';

/** The fields of the form. */
export interface AirflowEntry {
  flow: string;
  limit: string;
  /** Null: not chosen yet. */
  source: string | null;
  kind: LimitKind;
  basis: Airflow['basis'];
  plane: Airflow['plane'];
}

/** What the fields start with. @param source of a new one, where that is known */
export function startEntry(
  airflow: Airflow | null,
  scale: Scale,
  source: string | null = null,
): AirflowEntry {
  const k = airflow?.limitK;
  return {
    flow: startText(airflow?.flowM3s, scale),
    limit: startText(airflow?.limitPct, PERCENT),
    source: airflow?.source ?? source,
    kind: k === undefined ? 'bound' : k === GUESS_K ? 'guess' : 'stated',
    basis: airflow?.basis ?? 'actual',
    plane: airflow?.plane ?? 'supply',
  };
}

/** The server accepts no more. */
const HIGHEST_M3S = 10;

/** What the form holds: an airflow, why it cannot be taken, or nothing that is not told already. */
export type Entered =
  { airflow: Airflow; refusal: null } | { airflow: null; refusal: string | null };
const refuse = (refusal: string | null): Entered => ({ airflow: null, refusal });

/** Reads the form. What was not touched stays as exact as it was. @param before what holds now */
export function enteredAirflow(entry: AirflowEntry, before: Airflow | null, scale: Scale): Entered {
  const start = startEntry(before, scale);
  const isKept = (key: keyof AirflowEntry): boolean => before !== null && entry[key] === start[key];
  if ((['flow', 'limit', 'source', 'kind', 'basis', 'plane'] as const).every(isKept)) {
    return refuse(null);
  }
  const least = scale.read(scale.finest);
  const flow = readEntry(entry.flow, { name: t`The airflow`, scale, least, most: HIGHEST_M3S });
  if (flow.refusal !== null) return refuse(flow.refusal);
  if (flow.si === null) return refuse(t`The airflow is missing. Enter it in ${scale.sign}.`);
  if (entry.source === null)
    return refuse(t`The source is missing. Choose where the figure comes from.`);
  const name = t`The accuracy`;
  const limit = readEntry(entry.limit, { name, scale: PERCENT, least: 0, most: 100 });
  if (limit.refusal !== null) return refuse(limit.refusal);

  // A figure that was typed over is not that of the traverse any more.
  const isTold = ORIGINS.some(({ source }) => source === entry.source);
  const airflow: Airflow = {
    source: isTold || isKept('flow') ? entry.source : 'measured',
    flowM3s: before !== null && isKept('flow') ? before.flowM3s : flow.si,
    basis: entry.basis,
    plane: entry.plane,
  };
  const limitPct = isKept('limit') ? before?.limitPct : (limit.si ?? undefined);
  if (limitPct === undefined) return { airflow, refusal: null };
  airflow.limitPct = limitPct;
  const limitK = { bound: undefined, guess: GUESS_K, stated: before?.limitK }[entry.kind];
  if (limitK !== undefined) airflow.limitK = limitK;
  return { airflow, refusal: null };
}

/** Asked once of an airflow without a ±. */
export const NO_LIMIT = t`The accuracy is missing. Without it the capacity has no ±, and nobody can tell how sure it is. Enter one, a guess if need be, or save without it.`;
