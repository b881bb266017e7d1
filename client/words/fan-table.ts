/** A fan table as it is pasted from a spreadsheet or typed: a speed a line, its dry and its wet flow. */
import { tableTroubles } from '../../server/measure/airflow/fan-table.ts';
import type { FanTableState } from '../../server/protocol.ts';
import { readNumber, startText } from './entry.ts';
import type { Scale } from './scales.ts';
import { t } from '../../server/words/language.ts';
import { speedWord } from '../../server/words/names.ts';

/** The heads of its columns. */
export const COLUMNS = [t`Speed`, t`Dry`, t`Wet`] as const;

/** What the room and the form say of it. */
export const FAN_TABLE_WORDS = {
  title: t`Fan table`,
  none: t`Enter the manufacturer’s table by fan speed, for a dry and a wet coil. The flow then follows the fan speed you enter, and the coil as it gets wet.`,
  enter: t`Enter the fan table`,
  change: t`Change the fan table`,
  set: (sign: string, fan: string | null) =>
    fan === null
      ? t`In ${sign}. No fan speed entered yet. Set it next to the figure.`
      : t`In ${sign}. Fan speed entered: ${speedWord(fan)}.`,
  lines: (sign: string) =>
    t`A line for each speed: its name, the flow through a dry coil, through a wet coil, ${sign}`,
  called: t`The fan table`,
  example: t`High; 480; 450`,
  paste: t`Paste it from a spreadsheet, or type it. Use the manufacturer’s names for the speeds. One flow is enough where the table has one.`,
  basis: t`Stated for`,
  plane: t`At the`,
  basisHint: t`A fan moves the same volume in any air, so this does not change the capacity.`,
};

export type ReadTable =
  { speeds: FanTableState['speeds']; refusal: null } | { speeds: null; refusal: string };
const refuse = (refusal: string): ReadTable => ({ speeds: null, refusal });

/** How a heading names its columns, in each language of the page: tables come from anywhere. */
const WET = /\bwet|\bmojad|\bh[uú]med/i;
const DRY = /\bdry|\bsec[oa]/i;
/** The flows that can be right, m³/s. */
const LEAST = 0.01;
const MOST = 5;

/**
 * Reads it: columns are apart by tabs, semicolons, or two spaces; a heading that names dry and wet says
 * which is which (else dry comes first). Slowest or fastest first.
 */
export function readFanTable(text: string, scale: Scale): ReadTable {
  const rows = text
    .split(/\r?\n/)
    .map((line) => line.trim())
    .filter((line) => line !== '')
    .map((line) =>
      line
        .split(/\t|;|\s{2,}|,\s+|\s+(?=[\d.,]+(?:\s|$))/)
        .map((cell) => cell.trim())
        .filter((cell) => cell !== ''),
    );
  if (rows.length === 0) return refuse(t`The fan table is empty. Enter a line for each speed.`);
  let wetFirst = false;
  const speeds: FanTableState['speeds'] = [];
  for (const [i, cells] of rows.entries()) {
    const [name = '', ...rest] = cells;
    const flows = rest.map(readNumber);
    if (i === 0 && flows.every((flow) => flow === null)) {
      const words = cells.join(' ');
      const [wet, dry] = [words.search(WET), words.search(DRY)];
      wetFirst = wet >= 0 && wet < dry;
      continue;
    }
    if (flows.length === 0 || flows.length > 2 || flows.some((flow) => flow === null)) {
      return refuse(
        t`The fan table, line ${i + 1}: “${cells.join(' ')}” is not a speed with one or two flows, as “Medium 480 450”.`,
      );
    }
    const [first, second] = flows.map((flow) => scale.read(flow ?? NaN));
    for (const flow of [first, second]) {
      if (flow !== undefined && !(flow >= LEAST && flow <= MOST)) {
        return refuse(
          t`The fan table, line ${i + 1}: a flow cannot be that. Enter it in ${scale.sign}.`,
        );
      }
    }
    const dryM3s = wetFirst ? second : first;
    const wetM3s = wetFirst ? first : second;
    speeds.push({
      name,
      ...(dryM3s === undefined ? {} : { dryM3s }),
      ...(wetM3s === undefined ? {} : { wetM3s }),
    });
  }
  if (speeds.length === 0)
    return refuse(t`The fan table has a heading only. Enter a line for each speed.`);
  const size = (s: (typeof speeds)[number]): number => s.dryM3s ?? s.wetM3s ?? 0;
  const [slowest, fastest] = [speeds[0], speeds.at(-1)];
  if (slowest !== undefined && fastest !== undefined && size(slowest) > size(fastest))
    speeds.reverse();
  return { speeds, refusal: null };
}

/** What looks wrong in it, as sentences; it can be saved all the same. */
export function tableWarnings(speeds: FanTableState['speeds']): string[] {
  return tableTroubles({ speeds }).map((trouble) => {
    switch (trouble.kind) {
      case 'wet-above-dry':
        return t`${trouble.speed}: more air through a wet coil than a dry one. Are the columns swapped?`;
      case 'slower':
        return t`${trouble.speed} moves less than ${trouble.than}. Are the two swapped?`;
      case 'twice':
        return t`${trouble.speed} is there twice.`;
    }
  });
}

/** The text that a form starts with. */
export function tableText(table: FanTableState | null, scale: Scale): string {
  if (table === null) return '';
  return table.speeds
    .map(({ name, dryM3s, wetM3s }) =>
      [name, startText(dryM3s, scale), startText(wetM3s, scale)]
        .filter((cell) => cell !== '')
        .join('\t'),
    )
    .join('\n');
}
