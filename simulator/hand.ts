/**
 * A hand with an anemometer before an opening. It sweeps at a person's pace: not quite evenly, a moment's
 * rest at the turns, now and then a stop, and never nearer to an end than half a head; a section that
 * is wider than the head it paints, lane by lane or in a zigzag. Or it holds the head at a point, beside a support rather
 * than before it.
 */
import type { OpeningParameters } from './outlet-field.ts';
import type { Random } from './random.ts';

/** Where the middle of the head is, m from a section's corner. */
export interface Spot {
  section: number;
  alongM: number;
  acrossM: number;
}

/** How a person moves (common practice, no source). */
export interface HandParameters {
  readonly paceMs: number;
  /** Standard deviation of the pace as a part of it, and for how long one lasts, s. */
  readonly unevenness: number;
  readonly unevenS: number;
  readonly stopsPerMin: number;
  /** How it paints what is wider than the head. */
  readonly paints: 'lanes' | 'zigzag';
}

export const HAND: HandParameters = {
  paceMs: 0.1,
  unevenness: 0.2,
  unevenS: 3,
  stopsPerMin: 2,
  paints: 'lanes',
};

/** At a turn it rests so long, least and most, s; it stays off the end by so much (standard deviation). */
const TURN_S = [0.1, 0.5] as const;
const STOP_S = [0.3, 1.2] as const;
const SHY_M = 0.006;
/** A held head moves by so much, m. */
const TREMBLE_M = 0.003;
/** To another point it goes at this pace, m/s. */
const REACH_MS = 0.3;

export class Hand {
  readonly #opening: OpeningParameters;
  readonly #headM: number;
  readonly #parameters: HandParameters;
  readonly #random: Random;
  #doing: 'rest' | 'sweep' | 'hold' = 'rest';
  #did: 'sweep' | 'hold' = 'sweep';
  #spot: Spot = { section: 0, alongM: 0, acrossM: 0 };
  #to: Spot = this.#spot;
  #direction = 1;
  #lane = 0;
  #laneStep = 1;
  #zigzag = 1;
  #pace = 0; // above or below its mean, in standard deviations
  #waitS = 0;

  constructor(
    opening: OpeningParameters,
    headM: number,
    random: Random,
    parameters: HandParameters = HAND,
  ) {
    this.#opening = opening;
    this.#headM = headM;
    this.#random = random;
    this.#parameters = parameters;
  }

  /** Takes the head out of the stream. */
  rest(): void {
    if (this.#doing !== 'rest') this.#did = this.#doing;
    this.#doing = 'rest';
  }

  /** Goes on where it was. */
  goOn(): void {
    this.#doing = this.#did;
  }

  /** Sweeps a section from its left end. */
  sweep(section: number): void {
    this.#doing = 'sweep';
    this.#direction = 1;
    this.#lane = 0;
    this.#laneStep = 1;
    this.#spot = { section, alongM: this.#reach(section, 0), acrossM: this.#laneM(section) };
    this.#to = this.#spot;
    this.#turn(section);
  }

  /** Holds the head at a spot, or as near to it as it gets. */
  hold(at: Spot): void {
    const size = this.#opening.sections[at.section];
    if (size === undefined) return;
    const isThere = this.#doing === 'hold' && this.#spot.section === at.section;
    const half = this.#headM / 2;
    const beside = this.#besideSupport(at);
    this.#to = {
      section: at.section,
      alongM: within(beside, half, size.lengthM - half),
      acrossM: within(at.acrossM, half, size.widthM - half),
    };
    if (!isThere) this.#spot = { ...this.#to };
    this.#doing = 'hold';
  }

  /** Moves on by `dtS` seconds. @returns where the head is then; null: out of the stream */
  step(dtS: number): Spot | null {
    if (this.#doing === 'rest') return null;
    if (this.#doing === 'hold') return this.#toward(dtS);
    const { paceMs, unevenness, unevenS, stopsPerMin } = this.#parameters;
    const stays = Math.exp(-dtS / unevenS);
    this.#pace = this.#pace * stays + Math.sqrt(1 - stays * stays) * this.#random.normal();
    if (this.#random.uniform() < (stopsPerMin / 60) * dtS) {
      this.#waitS = this.#random.between(...STOP_S);
    }
    if (this.#waitS > 0) {
      this.#waitS -= dtS;
      return this.#spot;
    }
    const wayM = paceMs * Math.max(0.2, 1 + unevenness * this.#pace) * dtS;
    const { section } = this.#spot;
    const alongM = this.#spot.alongM + this.#direction * this.#across(wayM);
    const isThere = this.#direction * (alongM - this.#to.alongM) >= 0;
    this.#spot = { ...this.#spot, alongM: isThere ? this.#to.alongM : alongM };
    if (isThere) {
      this.#waitS = this.#random.between(...TURN_S);
      this.#nextLane(section);
      this.#direction = -this.#direction;
      this.#turn(section);
    }
    return this.#spot;
  }

  /** Goes the way, in a zigzag where it paints so. @returns how far that is along the section */
  #across(wayM: number): number {
    const widthM = this.#opening.sections[this.#spot.section]?.widthM ?? NaN;
    const free = widthM - this.#headM;
    if (this.#parameters.paints === 'lanes' || free <= 0) return wayM;
    // While it crosses once it goes on by one head.
    const share = this.#headM / Math.hypot(free, this.#headM);
    const low = this.#headM / 2;
    let acrossM = this.#spot.acrossM + this.#zigzag * wayM * Math.sqrt(1 - share ** 2);
    if (acrossM < low || acrossM > low + free) {
      this.#zigzag = -this.#zigzag;
      acrossM = Math.min(Math.max(acrossM, low), low + free);
    }
    this.#spot = { ...this.#spot, acrossM };
    return wayM * share;
  }

  #turn(section: number): void {
    const alongM = this.#reach(section, this.#direction);
    this.#to = { ...this.#spot, alongM };
  }

  /** The end that it turns at. */
  #reach(section: number, direction: number): number {
    const lengthM = this.#opening.sections[section]?.lengthM ?? NaN;
    const off = this.#headM / 2 + SHY_M * Math.abs(this.#random.normal());
    if (off > lengthM / 2) return lengthM / 2;
    return direction > 0 ? lengthM - off : off;
  }

  /** Lanes side by side, each as wide as the head or less; back again after the last. */
  #nextLane(section: number): void {
    const lanes = this.#lanes(section);
    if (lanes === 1 || this.#parameters.paints === 'zigzag') return;
    if (this.#lane + this.#laneStep < 0 || this.#lane + this.#laneStep >= lanes) {
      this.#laneStep = -this.#laneStep;
    } else this.#lane += this.#laneStep;
    this.#spot = { ...this.#spot, acrossM: this.#laneM(section) };
  }

  #lanes(section: number): number {
    return lanesOf(this.#opening.sections[section]?.widthM ?? NaN, this.#headM);
  }

  #laneM(section: number): number {
    const widthM = this.#opening.sections[section]?.widthM ?? NaN;
    const lanes = this.#lanes(section);
    if (lanes === 1) return widthM / 2;
    return this.#headM / 2 + (this.#lane / (lanes - 1)) * (widthM - this.#headM);
  }

  #toward(dtS: number): Spot {
    const far = Math.hypot(
      this.#to.alongM - this.#spot.alongM,
      this.#to.acrossM - this.#spot.acrossM,
    );
    const part = Math.min(1, (REACH_MS * dtS) / Math.max(far, 1e-9));
    this.#spot = {
      section: this.#to.section,
      alongM: this.#spot.alongM + part * (this.#to.alongM - this.#spot.alongM),
      acrossM: this.#spot.acrossM + part * (this.#to.acrossM - this.#spot.acrossM),
    };
    return { ...this.#spot, alongM: this.#spot.alongM + TREMBLE_M * this.#random.normal() };
  }

  #besideSupport({ section, alongM }: Spot): number {
    for (const support of this.#opening.shape.supports) {
      const clear = (support.widthM + this.#headM) / 2;
      const off = alongM - support.atM;
      if (support.section === section && Math.abs(off) < clear) {
        return support.atM + (off < 0 ? -clear : clear);
      }
    }
    return alongM;
  }
}

/** How many lanes it takes to paint a width with a head, as a person does it. */
export const lanesOf = (widthM: number, headM: number): number =>
  headM >= widthM ? 1 : Math.ceil(widthM / headM - 1e-9);

/** Inside a range, or in its middle where there is none. */
function within(value: number, low: number, high: number): number {
  return low > high ? (low + high) / 2 : Math.min(Math.max(value, low), high);
}
