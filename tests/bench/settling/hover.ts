/**
 * Hover: the stationary wandering of a capacity that nobody has changed. It is a sum of damped swings,
 * each kept going by chance: autocorrelation e^(−t/damping) cos(2πt/period), weighted.
 *
 * `LABORATORY` is a laboratory heat pump held at 5.8 kW for 41 minutes and read every 5 s. Its record is
 * not to be had; what is known of it stands in `LABORATORY_RECORD`, and the two swings were fitted to it.
 */
import type { Random } from '../../../simulator/random.ts';

/** One damped swing; a period of Infinity makes it a memory that only fades. */
export interface Swing {
  /** Its part of the variance; those of a spectrum add up to 1. */
  weight: number;
  dampingS: number;
  periodS: number;
}

export type Spectrum = readonly Swing[];

/** Autocorrelation by lag, s; standard deviation of means by their length, s, as a share of the sd. */
export const LABORATORY_RECORD = {
  autocorrelation: { 5: 0.9, 10: 0.78, 20: 0.45, 30: 0.15, 60: -0.3, 120: -0.2, 180: 0.4 },
  // 1.0, 0.4 and 0.2 % of a figure whose own sd is 1.3 to 1.5 %.
  scatterOfMeans: { 60: 0.71, 120: 0.29, 180: 0.14 },
};

export const LABORATORY: Spectrum = [
  { weight: 0.647, dampingS: 453, periodS: 172.7 },
  { weight: 0.353, dampingS: 44.7, periodS: 76 },
];

/** The machines that hover: this one, and others, so that no judge is made for one alone. */
export const MACHINES = {
  laboratory: (): Spectrum => LABORATORY,
  'other swing': (random: Random): Spectrum => {
    const periodS = random.between(80, 300);
    const weight = random.between(0.4, 0.8);
    return [
      { weight, dampingS: periodS * random.between(0.5, 3), periodS },
      { weight: 1 - weight, dampingS: random.between(15, 60), periodS: random.between(40, 120) },
    ];
  },
  fading: (random: Random): Spectrum => [
    { weight: 1, dampingS: random.between(10, 60), periodS: Infinity },
  ],
  slow: (random: Random): Spectrum => [
    { weight: 0.6, dampingS: random.between(100, 200), periodS: Infinity },
    { weight: 0.4, dampingS: random.between(10, 40), periodS: Infinity },
  ],
} satisfies Record<string, (random: Random) => Spectrum>;

export type Machine = keyof typeof MACHINES;

/** Autocorrelation at a lag, s. */
export function autocorrelation(spectrum: Spectrum, lagS: number): number {
  let sum = 0;
  for (const { weight, dampingS, periodS } of spectrum) {
    sum += weight * Math.exp(-lagS / dampingS) * Math.cos((2 * Math.PI * lagS) / periodS);
  }
  return sum;
}

/** Standard deviation of the mean of so many seconds, as a share of that of a single one. */
export function scatterOfMean(spectrum: Spectrum, seconds: number): number {
  let variance = 1 / seconds;
  for (let k = 1; k < seconds; k++) {
    variance += (2 / seconds) * (1 - k / seconds) * autocorrelation(spectrum, k);
  }
  return Math.sqrt(variance);
}

/**
 * One value a second, of mean 0 and standard deviation 1, stationary from the first on. Each swing is
 * a pointer that turns, shrinks, and is pushed at random in both its directions; the hover is the sum of
 * what they point to the right.
 */
export function hover(spectrum: Spectrum, random: Random): () => number {
  const pointers = spectrum.map(({ weight, dampingS, periodS }) => {
    const keep = Math.exp(-1 / dampingS);
    const angle = (2 * Math.PI) / periodS;
    const size = Math.sqrt(weight);
    return {
      ...{ x: size * random.normal(), y: size * random.normal() },
      ...{ cos: keep * Math.cos(angle), sin: keep * Math.sin(angle) },
      push: size * Math.sqrt(1 - keep * keep),
    };
  });
  return () => {
    let sum = 0;
    for (const p of pointers) {
      const x = p.cos * p.x - p.sin * p.y + p.push * random.normal();
      p.y = p.sin * p.x + p.cos * p.y + p.push * random.normal();
      p.x = x;
      sum += x;
    }
    return sum;
  };
}
