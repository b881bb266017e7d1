/** What the room in which airflow is measured says, apart from what its methods and forms say. */
import type { Method } from './measuring.ts';
import { counted, t } from '../../server/words/language.ts';

export const ROOM = {
  title: t`Airflow`,
  noUnit: t`Place the probes first. Then the unit appears here and you can measure its airflow.`,
  toProbes: t`To the probes`,
  moves: (name: string) => t`${name} moves`,
  none: t`No airflow yet. Without it there is no capacity.`,
  follows: (known: string) => t`Follows the velocity probe. Entered: ${known}.`,
  enter: t`Enter the airflow`,
  enterAnother: t`Enter another`,
  zero: t`Zero in place:`,
  measure: t`Measure it`,
  voice: t`Say each step aloud`,
};

export const COIL = {
  legend: t`The coil is`,
  options: [
    [null, t`as seen`],
    ['dry', t`dry`],
    ['wet', t`wet`],
  ] as const,
};

/** What a method asks for before it begins, and what begins it. */
interface Steps {
  /** Said before the fields. */
  first?: string;
  list?: string[];
  act: string;
  /** The field for watts, and how a sentence about it begins. */
  watts?: { label: string; called: string };
  /** Said below the field. */
  last?: string;
}

export const STEPS: Record<Method, Steps> = {
  sweep: {
    list: [
      t`Set the fan speed and the louver as they will be when you capture.`,
      t`Hold the head 6 to 20 mm (1/4 to 3/4 in) off the louver, square to the air.`,
      t`Start. Go end to end and back at an even pace. The page says how long.`,
    ],
    act: t`Start the sweep`,
  },
  grid: { act: t`Start at the first point` },
  condensate: {
    list: [
      t`Let it cool steadily for 15 minutes first, so that coil and pan are full.`,
      t`Empty the bucket, put it under the drain, and start.`,
      t`After half an hour, take it away, tap “The bucket is away”, and weigh the water.`,
    ],
    act: t`The bucket is under it`,
  },
  heat: {
    first: t`Fan alone. Hang the return probe in the room’s air, before the heater. Never leave the heater alone, keep it clear of anything that burns, and leave the intake free.`,
    watts: { label: t`Power of the heater, W`, called: t`The power of the heater` },
    last: t`Let the fan run alone for 3 minutes first.`,
    act: t`The heater is on`,
  },
  zero: {
    first: t`Compressor off, fan on, until the coil is dry. Any difference then left between return and supply, beyond the fan’s own heat, comes from the probes and where they hang.`,
    watts: { label: t`Power of the fan, W`, called: t`The power of the fan` },
    act: t`Start`,
  },
};
export const DRY_NOW = t`The coil is dry now: a good moment.`;
export const wattsMissing = (called: string): string => t`${called}: enter watts.`;

/** Where the points of a grid lie. */
export const RULES = {
  legend: t`Points`,
  options: [
    ['equal-area', t`equal areas`],
    ['log-tchebycheff', t`log-Tchebycheff`],
  ] as const,
  hint: t`Equal areas for a slot or a grille, log-Tchebycheff (ISO 3966) for a duct.`,
};

/** Which opening, and which anemometer. */
export const WITH = {
  noOutlet: t`First enter the width and length of the opening.`,
  enterOutlet: t`Enter the outlet`,
  opening: t`Opening`,
  change: t`Change the opening`,
  another: t`Another opening`,
  noProbe: t`No anemometer yet. Turn it on: it shows up here with its first reading.`,
  probe: t`Anemometer`,
  describe: t`Its head and accuracy`,
};

/** While one runs. */
export const RUNNING = {
  hold: t`I hold it there`,
  next: t`At the next point`,
  section: (n: number) => t`Section ${n}`,
  end: t`End`,
  pause: t`Pause`,
  resume: t`Go on`,
  cancel: t`Cancel`,
  points: (held: number, part: string) =>
    counted(held, t`1 point held. ${part} of all.`, t`${held} points held. ${part} of all.`),
  mean: (seconds: number, mean: string) => t`${seconds}\u202fs, mean ${mean}`,
  minutes: (minutes: number) => t`${minutes}\u202fmin`,
  away: t`The bucket is away`,
  water: { label: t`Water, g or ml`, called: t`The water` },
  noWater: t`The water: weigh it, and enter grams or milliliters.`,
  power: {
    label: t`Power on the meter, W (left empty: as entered at the start)`,
    called: t`The power`,
  },
  trace: t`Velocity over the last minute`,
  traced: (top: string) => t`Last minute, 0 to ${top}`,
  loses: (told: string) => t`The air loses ${told} of moisture.`,
  rise: (told: string) => t`Rise by the heater: ${told}.`,
  apart: (told: string) => t`Supply less return: ${told}.`,
};

/** What stands before a text that warns: color is never the only sign. */
export const marked = (text: string, warns: boolean): string => (warns ? `! ${text}` : text);

/** An opening as a screen reader says it. @param sizes of its sections */
export const openingWords = (sizes: readonly string[]): string =>
  counted(
    sizes.length,
    t`Opening of one section: ${sizes.join(', ')}`,
    t`Opening of ${sizes.length} sections: ${sizes.join(', ')}`,
  );
