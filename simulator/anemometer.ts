/**
 * An anemometer in a hand before an opening: a head that averages, in a turbulent stream, and a probe that
 * lags behind it. It speaks while it traverses, and only then.
 */
import { gridPoints, type Rule } from '../server/measure/airflow/positions.ts';
import { Hand, type HandParameters, type Spot } from './hand.ts';
import { type OpeningParameters, OutletField } from './outlet-field.ts';
import { Probe, type ProbeParameters, type ProbeReading, type Surroundings } from './probe.ts';
import { type Random, randomStream } from './random.ts';

export interface AnemometerParameters {
  readonly probe: ProbeParameters;
  readonly headM: number;
  /** What a head's mean swings by, as a part of it, and for how long a swing lasts, s. */
  readonly turbulence: number;
  readonly eddyS: number;
  readonly hand?: HandParameters;
}

/** What blows through the opening. */
export interface Stream {
  readonly flowM3s: number;
  readonly temperatureC: number;
}

/** The head moves on in steps of so long, ms. */
export const HAND_STEP_MS = 100;
const STEP_S = HAND_STEP_MS / 1000;
/** A vane is brought to speed before the tap that begins a section, s. */
const COMES_S = 6;

export class HeldAnemometer {
  readonly parameters: AnemometerParameters;
  readonly field: OutletField;
  readonly hand: Hand;
  readonly #probe: Probe;
  readonly #random: Random;
  #eddy = 0;
  #isAnew = false;
  /** How long it has been switched on, ms: the probe's own time. */
  #onMs = 0;

  /** @param seed of the streams that are its own: the rest of a simulation draws as without it */
  constructor(opening: OpeningParameters, parameters: AnemometerParameters, seed: number) {
    const { probe, headM, hand } = parameters;
    this.parameters = parameters;
    this.field = new OutletField(opening);
    this.hand = new Hand(opening, headM, randomStream(seed, `${probe.id} hand`), hand);
    this.#probe = new Probe(probe, seed, HAND_STEP_MS);
    this.#random = randomStream(seed, `${probe.id} turbulence`);
  }

  get probe(): Probe {
    return this.#probe;
  }

  /** Sweeps a section from its left end; the vane is at speed when it begins. Others than there are: none. */
  sweep(section: number): void {
    if (this.field.parameters.sections[section] === undefined) return;
    this.hand.sweep(section);
    this.bringToSpeed();
  }

  /** Holds at a point of a rule's grid; one that there is not: nothing happens. */
  holdAt(rule: Rule, point: { section: number; row: number; column: number }): void {
    const { sections } = this.field.parameters;
    const found = gridPoints(rule, sections).find(
      ({ section, row, column }) =>
        section === point.section && row === point.row && column === point.column,
    );
    if (found !== undefined) this.hand.hold(found);
  }

  /** The head is in the stream, and the vane at speed, when what comes now begins. */
  bringToSpeed(): void {
    this.#isAnew = true;
  }

  /**
   * Moves from `fromMs` to `toMs` (since the start), reading on the way.
   * @param around what the probe is in where it is out of the stream
   */
  step(
    fromMs: number,
    toMs: number,
    stream: Stream,
    around: Surroundings,
    take: (elapsedMs: number, reading: ProbeReading) => void,
  ): void {
    const offMs = fromMs - this.#onMs;
    const until = this.#onMs + toMs - fromMs;
    for (let ms = this.#onMs; ms < until; ms += HAND_STEP_MS) {
      const at = this.#at(this.hand.step(STEP_S), stream, around);
      if (this.#isAnew) this.#probe.follow(COMES_S, at);
      this.#isAnew = false;
      this.#probe.step(ms, ms + HAND_STEP_MS, at, (onMs, reading) => {
        take(offMs + onMs, reading);
      });
    }
    this.#onMs = until;
  }

  #at(spot: Spot | null, stream: Stream, around: Surroundings): Surroundings {
    const { headM, turbulence, eddyS } = this.parameters;
    const stays = Math.exp(-STEP_S / eddyS);
    this.#eddy = this.#eddy * stays + Math.sqrt(1 - stays * stays) * this.#random.normal();
    if (spot === null) return around;
    const mean = this.field.headMs(stream.flowM3s, headM, spot);
    return {
      ...around,
      temperatureC: this.field.temperatureC(stream.temperatureC, spot.section, spot.alongM),
      velocityMs: mean * (1 + turbulence * this.#eddy),
    };
  }
}
