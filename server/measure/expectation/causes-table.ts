/**
 * What can keep a ductless unit from what it should deliver: how each cause shows in the evidence, what to
 * look at next, and what to mind there. `expects` says of an item what it is where the cause is just worth
 * naming, where it is as bad as it gets, and how much units of one size differ (one standard deviation). What
 * a cause does not mention is as in a healthy unit.
 *
 * Where `source` names none, rows are common practice; spreads are so throughout.
 */
import { USUAL_CONTACT } from './coil-air.ts';
import type { MeasuredItem, Seen } from './evidence.ts';
import { sent } from '../../words/sent.ts';

/** At the smallest size, at the largest, and the spread. */
export type Expects = readonly [small: number, large: number, spread: number];

/** How often each value is seen, 0 to 1. */
export type Likelihoods = {
  readonly [K in keyof Seen]: Readonly<Record<NonNullable<Seen[K]>, number>>;
};

export interface CauseRow {
  /** What it may be, as a title. */
  name: string;
  /** The next thing to look at. */
  look: string;
  caution: string;
  source: string;
  expects: Partial<Readonly<Record<MeasuredItem, Expects>>>;
  seen: Partial<Likelihoods>;
}

/** A healthy unit, and how much such units differ. */
export const HEALTHY_ROW: Readonly<Record<MeasuredItem, Expects>> = {
  capacityRatio: [1, 1, 0.05],
  capacityChange: [1, 1, 0.05],
  airflowRatio: [1, 1, 0.04],
  differenceRatio: [1, 1, 0.05],
  sensibleExcess: [0, 0, 0.03],
  contactFactor: [USUAL_CONTACT, USUAL_CONTACT, 0.04],
  powerRatio: [1, 1, 0.05],
  pushGain: [0, 0, 0.03],
  recirculation: [0.03, 0.03, 0.03],
  unevenness: [0.04, 0.04, 0.03],
};

export const HEALTHY_SEEN: Likelihoods = {
  fullDemand: { shown: 0.8, 'not-shown': 0.2 },
  otherHeads: { running: 0.2, off: 0.8 },
  cycling: { yes: 0.05, no: 0.95 },
  coil: { wet: 0.7, dry: 0.3 },
  filter: { clean: 0.8, loaded: 0.2 },
  probes: { checked: 0.5, unchecked: 0.5 },
};

const POWER_OFF = sent`Switch the unit off and lock the power out before any part comes off: parts inside stay live, the wheel can turn, and fins are sharp. Stand on a firm ladder. Follow the manufacturer’s instructions.`;
const LADDER = sent`Stand on a firm ladder, and keep hands and tools out of the outlet while the fan runs.`;
const REFRIGERANT = sent`Only licensed persons open the refrigerant circuit or put gauges on it, by the manufacturer’s instructions and local codes. Wear eye and hand protection: refrigerant burns the skin.`;

/** In the order in which equally likely ones are named: what is quickest to look at comes first. */
export const CAUSES = {
  'not-asked': {
    name: sent`Likely it is not asked for all it has`,
    look: sent`Push the setpoint well past the room’s temperature, set the fan to high, end quiet and economy modes, and wait until it is steady.`,
    caution: sent`Nothing has to be opened for this.`,
    source: sent`common practice, no source`,
    expects: {
      capacityRatio: [0.9, 0.35, 0.08],
      capacityChange: [0.9, 0.35, 0.08],
      differenceRatio: [0.92, 0.45, 0.08],
      sensibleExcess: [0.03, 0.25, 0.06],
      powerRatio: [0.85, 0.3, 0.08],
      pushGain: [0.06, 0.6, 0.1],
    },
    seen: {
      fullDemand: { shown: 0.02, 'not-shown': 0.98 },
      cycling: { yes: 0.3, no: 0.7 },
      coil: { wet: 0.5, dry: 0.5 },
    },
  },
  filter: {
    name: sent`Likely the filter is loaded`,
    look: sent`Look at the filter. Wash or replace it, and measure the airflow again.`,
    caution: sent`Switch the unit off before you open the front. Stand on a firm ladder.`,
    source: sent`capacity against airflow: NREL/TP-5500-56354 (2013), single-speed units; the rest common practice`,
    expects: {
      capacityRatio: [0.985, 0.94, 0.05],
      capacityChange: [0.985, 0.94, 0.05],
      airflowRatio: [0.93, 0.7, 0.04],
      differenceRatio: [1.06, 1.25, 0.06],
      sensibleExcess: [-0.02, -0.09, 0.04],
      powerRatio: [0.99, 0.95, 0.05],
    },
    seen: { filter: { clean: 0.03, loaded: 0.97 } },
  },
  wheel: {
    name: sent`Likely the blower wheel is dirty`,
    look: sent`Make sure that the fan runs at the speed that was entered. Then look through the outlet at the blades of the wheel with a light.`,
    caution: POWER_OFF,
    source: sent`capacity against airflow: NREL/TP-5500-56354 (2013), single-speed units; the rest common practice`,
    expects: {
      capacityRatio: [0.98, 0.9, 0.05],
      capacityChange: [0.98, 0.9, 0.05],
      airflowRatio: [0.9, 0.6, 0.04],
      differenceRatio: [1.08, 1.33, 0.06],
      sensibleExcess: [-0.03, -0.11, 0.04],
      powerRatio: [0.98, 0.92, 0.05],
    },
    seen: {},
  },
  coil: {
    name: sent`Likely the indoor coil is dirty`,
    look: sent`Take the filter out and look at the fins of the coil with a light. A coil that is clogged lets less air through, and cools less of it.`,
    caution: POWER_OFF,
    source: sent`Siegel, Walker and Sherman (2002): fouling mostly costs less than 5 % of capacity; the rest common practice`,
    expects: {
      capacityRatio: [0.98, 0.88, 0.05],
      capacityChange: [0.98, 0.88, 0.05],
      airflowRatio: [0.95, 0.82, 0.04],
      differenceRatio: [1.04, 1, 0.06],
      sensibleExcess: [-0.02, -0.1, 0.04],
      contactFactor: [0.8, 0.62, 0.04],
      powerRatio: [0.97, 0.9, 0.05],
    },
    seen: {},
  },
  'other-heads': {
    name: sent`Likely other heads take their share`,
    look: sent`Switch the other heads on this outdoor unit off, wait until it is steady, and capture again. Note which heads ran.`,
    caution: sent`Ask before you switch off what somebody needs.`,
    source: sent`common practice, no source`,
    expects: {
      capacityRatio: [0.92, 0.5, 0.07],
      capacityChange: [0.92, 0.5, 0.07],
      differenceRatio: [0.93, 0.65, 0.06],
      sensibleExcess: [0.02, 0.18, 0.05],
      contactFactor: [0.86, 0.83, 0.04],
      powerRatio: [1.03, 1.12, 0.05],
    },
    seen: { otherHeads: { running: 0.97, off: 0.03 } },
  },
  charge: {
    name: sent`Likely the refrigerant charge is low`,
    look: sent`Airflow and demand are as they should be and the coil does little: compare line length and factory charge with the manufacturer’s instructions, look for oil at the flare joints, and have the charge checked.`,
    caution: REFRIGERANT,
    source: sent`NIST TN 1848 (2014) for capacity and power; with an expansion valve of its own a unit shows little of it (Choi and Kim 2002)`,
    expects: {
      capacityRatio: [0.92, 0.5, 0.07],
      capacityChange: [0.92, 0.5, 0.07],
      differenceRatio: [0.93, 0.65, 0.06],
      sensibleExcess: [0.02, 0.18, 0.05],
      contactFactor: [0.86, 0.83, 0.04],
      powerRatio: [1, 0.95, 0.05],
    },
    seen: { coil: { wet: 0.6, dry: 0.4 }, otherHeads: { running: 0.1, off: 0.9 } },
  },
  recirculation: {
    name: sent`Likely the return draws supply air`,
    look: sent`Turn the louver away from the intake, clear what turns the airstream back, and measure again with the return probe right at the intake.`,
    caution: LADDER,
    source: sent`common practice, no source`,
    expects: {
      capacityRatio: [1, 0.95, 0.07],
      recirculation: [0.14, 0.5, 0.03],
      powerRatio: [1, 0.85, 0.08],
      pushGain: [0, 0.5, 0.15],
    },
    seen: { fullDemand: { shown: 0.6, 'not-shown': 0.4 }, cycling: { yes: 0.2, no: 0.8 } },
  },
  'uneven-outlet': {
    name: sent`Likely the probe’s spot is not the outlet’s mean`,
    look: sent`Walk the outlet again, hang more supply probes along it, and capture again. If it stays uneven, look for a coil that is partly blocked, and for a louver that is bent.`,
    caution: LADDER,
    source: sent`common practice, no source`,
    expects: {
      capacityRatio: [1, 1, 0.1],
      capacityChange: [1, 1, 0.1],
      differenceRatio: [1, 1, 0.1],
      sensibleExcess: [0, 0, 0.05],
      unevenness: [0.09, 0.3, 0.03],
    },
    seen: {},
  },
  probes: {
    name: sent`Likely the probes are off`,
    look: sent`Check the probes side by side, and capture again. Look whether one is wet or dusty, or hangs in sun or against the housing.`,
    caution: LADDER,
    source: sent`common practice, no source`,
    expects: {
      capacityRatio: [1, 1, 0.15],
      capacityChange: [1, 1, 0.15],
      differenceRatio: [1, 1, 0.1],
      sensibleExcess: [0, 0, 0.1],
      contactFactor: [USUAL_CONTACT, USUAL_CONTACT, 0.1],
    },
    seen: { probes: { checked: 0.1, unchecked: 0.9 } },
  },
} as const satisfies Record<string, CauseRow>;

export type CauseCode = keyof typeof CAUSES;

const pct = (x: number): string => String(Math.round(100 * x));
const plusMinus = (x: number, half: number): string => `${pct(x)} ± ${pct(half)} %`;

/** What an item says, as a sentence. @param half of its 95 % interval */
export const SAYS: Readonly<Record<MeasuredItem, (value: number, half: number) => string>> = {
  capacityRatio: (x, half) => sent`It delivers ${plusMinus(x, half)} of what is expected.`,
  capacityChange: (x, half) =>
    sent`It delivers ${plusMinus(x, half)} of what it did at the baseline.`,
  airflowRatio: (x, half) => sent`It moves ${plusMinus(x, half)} of the air that it should.`,
  differenceRatio: (x, half) =>
    sent`Return and supply differ by ${plusMinus(x, half)} of what a healthy unit shows.`,
  sensibleExcess: (x, half) =>
    sent`The sensible heat ratio is ${Math.abs(x).toFixed(2)} ± ${half.toFixed(2)} ${x < 0 ? sent`lower` : sent`higher`} than that of a healthy unit.`,
  contactFactor: (x, half) =>
    sent`The coil brings ${plusMinus(x, half)} of the air to its own temperature; about ${pct(USUAL_CONTACT)} % is usual.`,
  powerRatio: (x, half) =>
    sent`It draws ${plusMinus(x, half)} of the power that goes with full demand.`,
  pushGain: (x, half) =>
    sent`When the setpoint was pushed, the figure ${x < 0 ? sent`fell` : sent`rose`} by ${plusMinus(Math.abs(x), half)}.`,
  recirculation: (x, half) =>
    sent`About ${plusMinus(Math.max(0, x), half)} of the return air is supply air.`,
  unevenness: (x, half) =>
    sent`Along the outlet the air differs by ${plusMinus(x, half)} of the difference between return and supply.`,
};

/** What has been seen, as a sentence. */
export const SEEN_SAYS: {
  readonly [K in keyof Seen]: Readonly<Record<NonNullable<Seen[K]>, string>>;
} = {
  fullDemand: {
    shown: sent`Full demand has been shown.`,
    'not-shown': sent`Full demand has not been shown.`,
  },
  otherHeads: {
    running: sent`Other heads on the same outdoor unit run.`,
    off: sent`No other head on the same outdoor unit runs.`,
  },
  cycling: { yes: sent`It cycles.`, no: sent`It does not cycle.` },
  coil: { wet: sent`The coil is wet.`, dry: sent`The coil is dry.` },
  filter: { clean: sent`The filter is clean.`, loaded: sent`The filter is loaded.` },
  probes: {
    checked: sent`The probes were checked side by side.`,
    unchecked: sent`Nobody has checked the probes side by side.`,
  },
};
