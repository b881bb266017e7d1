/** What the room in which airflow is measured says, apart from what its methods and forms say. */
import type { Method } from './measuring.ts';

export const ROOM = {
  title: 'Airflow',
  noUnit: 'Place the probes first. Then the unit appears here and you can measure its airflow.',
  toProbes: 'To the probes',
  moves: (name: string) => `${name} moves`,
  none: 'No airflow yet. Without it there is no capacity.',
  follows: (known: string) => `Follows the velocity probe. Entered: ${known}.`,
  enter: 'Enter the airflow',
  enterAnother: 'Enter another',
  zero: 'Zero in place:',
  measure: 'Measure it',
  voice: 'Say each step aloud',
};

export const COIL = {
  legend: 'The coil is',
  options: [
    [null, 'as seen'],
    ['dry', 'dry'],
    ['wet', 'wet'],
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
      'Set the fan speed and the louver as they will be when you capture.',
      'Hold the head 6 to 20 mm (1/4 to 3/4 in) off the louver, square to the air.',
      'Start. Go end to end and back at an even pace. The page says how long.',
    ],
    act: 'Start the sweep',
  },
  grid: { act: 'Start at the first point' },
  condensate: {
    list: [
      'Let it cool steadily for 15 minutes first, so that coil and pan are full.',
      'Empty the bucket, put it under the drain, and start.',
      'After half an hour, take it away, tap “The bucket is away”, and weigh the water.',
    ],
    act: 'The bucket is under it',
  },
  heat: {
    first:
      'Fan alone. Hang the return probe in the room’s air, before the heater. Never leave the heater alone, keep it clear of anything that burns, and leave the intake free.',
    watts: { label: 'Power of the heater, W', called: 'The power of the heater' },
    last: 'Let the fan run alone for 3 minutes first.',
    act: 'The heater is on',
  },
  zero: {
    first:
      'Compressor off, fan on, until the coil is dry. Any difference then left between return and supply, beyond the fan’s own heat, comes from the probes and where they hang.',
    watts: { label: 'Power of the fan, W', called: 'The power of the fan' },
    act: 'Start',
  },
};
export const DRY_NOW = 'The coil is dry now: a good moment.';
export const wattsMissing = (called: string): string => `${called}: enter watts.`;

/** Where the points of a grid lie. */
export const RULES = {
  legend: 'Points',
  options: [
    ['equal-area', 'equal areas'],
    ['log-tchebycheff', 'log-Tchebycheff'],
  ] as const,
  hint: 'Equal areas for a slot or a grille, log-Tchebycheff (ISO 3966) for a duct.',
};

/** Which opening, and which anemometer. */
export const WITH = {
  noOutlet: 'First enter the width and length of the opening.',
  enterOutlet: 'Enter the outlet',
  opening: 'Opening',
  change: 'Change the opening',
  another: 'Another opening',
  noProbe: 'No anemometer yet. Turn it on: it shows up here with its first reading.',
  probe: 'Anemometer',
  describe: 'Its head and accuracy',
};

/** While one runs. */
export const RUNNING = {
  hold: 'I hold it there',
  next: 'At the next point',
  section: (n: number) => `Section ${n}`,
  end: 'End',
  pause: 'Pause',
  resume: 'Go on',
  cancel: 'Cancel',
  points: (held: number, part: string) =>
    `${held} ${held === 1 ? 'point' : 'points'} held. ${part} of all.`,
  mean: (seconds: number, mean: string) => `${seconds}\u202fs, mean ${mean}`,
  minutes: (minutes: number) => `${minutes}\u202fmin`,
  away: 'The bucket is away',
  water: { label: 'Water, g or ml', called: 'The water' },
  noWater: 'The water: weigh it, and enter grams or milliliters.',
  power: {
    label: 'Power on the meter, W (left empty: as entered at the start)',
    called: 'The power',
  },
  trace: 'Velocity over the last minute',
  traced: (top: string) => `Last minute, 0 to ${top}`,
  loses: (told: string) => `The air loses ${told} of moisture.`,
  rise: (told: string) => `Rise by the heater: ${told}.`,
  apart: (told: string) => `Supply less return: ${told}.`,
};

/** What stands before a text that warns: color is never the only sign. */
export const marked = (text: string, warns: boolean): string => (warns ? `! ${text}` : text);

/** An opening as a screen reader says it. @param sizes of its sections */
export const openingWords = (sizes: readonly string[]): string =>
  `Opening of ${sizes.length === 1 ? 'one section' : `${sizes.length} sections`}: ${sizes.join(', ')}`;
