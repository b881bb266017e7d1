/**
 * What a person does to measure airflow, done in the simulation as the events tell: a hand with the
 * anemometer, a bucket under the drain, a heater before the intake, the fan alone.
 */
import { randomStream } from '../../simulator/random.ts';
import type { HeldAnemometer } from '../../simulator/anemometer.ts';
import type { System } from '../../simulator/system.ts';
import type { CondensateEvent, EventLine, HeatEvent, Line, TraverseEvent } from '../contract.ts';

/** A heater of which nobody says the power, W. */
const USUAL_W = 1500;
/** Its meter is off by up to this, and between these parts of its heat do not go through the unit. */
const METER = 0.01;
const ESCAPE = [0.005, 0.035] as const;
/** What the bucket holds is said so often, ms: there is nobody to weigh it. */
const WEIGH_MS = 300_000;

interface Bucket {
  startKg: number;
  nextT: number;
}

export class AirflowPlay {
  readonly #system: System;
  readonly #emit: (line: Line) => void;
  readonly #units: ReadonlySet<string>;
  readonly #escape: number;
  readonly #meter: number;
  readonly #buckets = new Map<string, Bucket>();
  #held: HeldAnemometer | null = null;
  #rule: 'equal-area' | 'log-tchebycheff' = 'equal-area';
  #method: 'sweep' | 'grid' = 'sweep';
  #section = 0;

  constructor(system: System, seed: number, emit: (line: Line) => void) {
    const random = randomStream(seed, 'heater');
    this.#system = system;
    this.#emit = emit;
    this.#units = new Set(system.parameters.units.map(({ id }) => id));
    this.#escape = random.between(...ESCAPE);
    this.#meter = random.between(-METER, METER);
  }

  event(line: EventLine): void {
    if (!('unit' in line) || line.unit === undefined || !this.#units.has(line.unit)) return;
    if (line.kind === 'traverse') this.#traverse(line);
    if (line.kind === 'condensate') this.#condensate(line);
    if (line.kind === 'heat') this.#heat(line);
    if (line.kind === 'zero') this.#system.fanAlone(line.unit, line.phase === 'start');
  }

  /** To be called now and then: says what the buckets hold. */
  tick(): void {
    const { t } = this.#system;
    for (const [unit, bucket] of this.#buckets) {
      if (t < bucket.nextT) continue;
      bucket.nextT += WEIGH_MS;
      const grams = Math.round(1000 * this.caughtKg(unit));
      this.#emit({ type: 'event', t, kind: 'note', unit, text: `The bucket holds ${grams} g.` });
    }
  }

  /** What the bucket of a unit has caught, kg. */
  caughtKg(unit: string): number {
    return this.#drainedKg(unit) - (this.#buckets.get(unit)?.startKg ?? NaN);
  }

  #traverse(line: TraverseEvent): void {
    if (line.phase === 'start') {
      const isHeld = line.probe === this.#system.parameters.anemometer?.probe.id;
      this.#held = this.#system.traverse(isHeld ? line.unit : null);
      this.#rule = line.rule ?? 'equal-area';
      this.#section = 0;
      this.#method = line.method ?? 'sweep';
      if (this.#method === 'grid')
        this.#held?.holdAt(this.#rule, { section: 0, row: 0, column: 0 });
      else this.#held?.sweep(0);
    } else if (line.phase === 'section') {
      this.#section = line.section ?? this.#section + 1;
      if (this.#method === 'sweep') this.#held?.sweep(this.#section);
    } else if (line.phase === 'point') {
      const { section = this.#section, row = 0, column = 0 } = line;
      this.#section = section;
      this.#held?.holdAt(this.#rule, { section, row, column });
    } else if (line.phase === 'pause') this.#held?.hand.rest();
    else if (line.phase === 'resume') this.#held?.hand.goOn();
    else this.#held = this.#system.traverse(null);
  }

  #condensate({ unit, phase }: CondensateEvent): void {
    if (phase !== 'start') this.#buckets.delete(unit);
    else {
      const nextT = this.#system.t + WEIGH_MS;
      this.#buckets.set(unit, { startKg: this.#drainedKg(unit), nextT });
    }
  }

  #heat({ unit, phase, powerW = USUAL_W }: HeatEvent): void {
    const on = phase === 'start';
    this.#system.fanAlone(unit, on);
    const trueW = on ? powerW * (1 + this.#meter) : 0;
    this.#system.heater(unit, { powerW: trueW, escape: this.#escape });
  }

  #drainedKg(unit: string): number {
    return this.#system.parts(unit).unit.coil.drainedKg;
  }
}
