/** What a person enters of the air outdoors, of power, and of the other heads. */
import type { UnitSetup, VisitSetup } from '../../server/protocol.ts';
import type { SystemChange } from '../live/api.ts';
import { type Field, readEntry, startText } from './entry.ts';
import { PERCENT, type Scale, type Scales, WATTS } from './scales.ts';
import { t } from '../../server/words/language.ts';

export const AROUND = {
  title: t`Outdoors and power`,
  outdoor: (sign: string): string => t`Outdoor temperature, ${sign}`,
  outdoorHow: t`Read it in the shade at the inlet of the outdoor coil. A probe that is placed outdoors is better.`,
  power: t`Power of the outdoor unit with all its heads, W`,
  powerHow: t`From the meter. Only licensed persons open a panel or clamp a conductor.`,
  limit: t`Accuracy of the power, ± %`,
};

export const HEADS = {
  title: t`Heads on this outdoor unit`,
  count: t`How many heads it has`,
  countName: t`The number of heads`,
  others: t`Those without probes`,
  unknown: t`may run`,
  off: t`are off`,
  run: t`run`,
  cooling: (sign: string): string => t`What it gives all heads together, cooling, ${sign}`,
  coolingName: t`The cooling capacity`,
  heating: (sign: string): string => t`Heating, ${sign}`,
  heatingName: t`The heating capacity`,
  how: t`The maker’s figure for all heads at rating conditions. Then a head can be judged by what the others leave.`,
};

const COUNT: Scale = { sign: t`heads`, show: (n) => n, read: (n) => n, finest: 1 };

/** The number fields, by what they are. */
export const outdoorField = ({ temperature }: Scales): Field => ({
  ...{ name: t`The outdoor temperature`, scale: temperature, least: -40, most: 60 },
});
export const POWER_FIELD: Field = { name: t`The power`, scale: WATTS, least: 1, most: 100_000 };
export const POWER_LIMIT: Field = { name: t`The accuracy`, scale: PERCENT, least: 0, most: 50 };
const HEADS_FIELD: Field = { name: HEADS.countName, scale: COUNT, least: 1, most: 64 };

export interface HeadsEntry {
  heads: string;
  othersRun: boolean | null;
  cooling: string;
  heating: string;
}

export function headsEntry(known: VisitSetup['systems'][string], power: Scale): HeadsEntry {
  return {
    heads: startText(known.heads, COUNT),
    othersRun: known.othersRun ?? null,
    cooling: startText(known.combinedCoolingW, power),
    heating: startText(known.combinedHeatingW, power),
  };
}

/** What is told of the outdoor unit, or what cannot be taken, as a sentence. */
export function headsChange(
  entry: HeadsEntry,
  power: Scale,
): { change: SystemChange; refusal: null } | { change: null; refusal: string } {
  const watts = (name: string): Field => ({ name, scale: power, least: 100, most: 1e6 });
  const heads = readEntry(entry.heads, HEADS_FIELD);
  const cooling = readEntry(entry.cooling, watts(HEADS.coolingName));
  const heating = readEntry(entry.heating, watts(HEADS.heatingName));
  const refusal = heads.refusal ?? cooling.refusal ?? heating.refusal;
  if (refusal !== null) return { change: null, refusal };
  return {
    change: {
      heads: heads.si === null ? null : Math.round(heads.si),
      othersRun: entry.othersRun,
      combinedCoolingW: cooling.si,
      combinedHeatingW: heating.si,
    },
    refusal: null,
  };
}

/** The outdoor unit of a head; a new one where it has none. */
export const systemOf = ({ details }: UnitSetup, { systems }: VisitSetup): string => {
  if (details.system !== undefined) return details.system;
  let n = 1;
  while (`s${n}` in systems) n++;
  return `s${n}`;
};
