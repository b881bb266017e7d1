/** Where an airflow comes from, in words. */
import { FAN_TABLE } from '../measure/capacity.ts';
import type { UnitSetup } from '../protocol.ts';
import { written } from './figures.ts';
import { t } from './language.ts';
import { codeWord } from './names.ts';

type AirflowLine = NonNullable<UnitSetup['airflow']>;

const SOURCES: Record<string, string> = {
  entered: t`entered by hand`,
  [FAN_TABLE]: t`from the fan table`,
  measured: t`measured at this unit`,
  sweep: t`from a sweep traverse`,
  grid: t`from a grid traverse`,
  condensate: t`from weighed condensate`,
  heat: t`by a metered heater`,
  reference: t`by a hood or in the duct`,
};

/** Where an airflow comes from: "from the fan table". */
export const sourceWords = (source: string): string => SOURCES[source] ?? source;

/** The coverage factor of a guess. */
export const GUESS_K = 1;

/** "± 6 %, from the fan table, at the supply" */
export function airflowWords({ source, basis, plane, limitPct, limitK }: AirflowLine): string {
  const parts = [sourceWords(source)];
  if (limitPct !== undefined) {
    parts.unshift(`± ${written(limitPct, 0.1)}\u202f%${limitK === GUESS_K ? t` (a guess)` : ''}`);
  }
  // A fan table's figure is a volume at the fan, whatever air it is stated for.
  const isMass = basis === 'standard' && source !== FAN_TABLE;
  parts.push(isMass ? t`as standard air` : t`at the ${codeWord(plane)}`);
  return parts.join(', ');
}
