/**
 * A probe: what its sensors make of the air around them, and when it says so.
 *
 * Each sensor follows its surroundings with a first-order lag and has a fixed error inside the ± of
 * its data sheet, noise and a resolution. The humidity sensor lags in vapour pressure and reports
 * relative humidity at its own, lagging, temperature: humidity and temperature of one probe belong
 * together, as they do in a real one. Readings come at the probe's own rhythm, may drop out for a
 * while, and may be hit by a spike.
 */
import {
  humidityRatioFromVapourPressure,
  relativeHumidityPct,
} from '../server/measure/moist-air.ts';
import { type ProbeFault, wetted } from './probe-fault.ts';
import { type Random, randomStream } from './random.ts';

export type Place = 'return' | 'supply' | 'outlet' | 'room' | 'outdoor';
/** In the order in which a probe draws the errors of its sensors. */
export const QUANTITIES = [
  'temperatureC',
  'humidityPct',
  'velocityMs',
  'pressurePa',
  'powerW',
] as const;
export type Quantity = (typeof QUANTITIES)[number];

/** One sensor of a probe, in the unit of its quantity. */
export interface Sensor {
  /** Time to 63.2 % of a step, s. For humidity: of a step in vapour pressure. */
  readonly lagS: number;
  /** The ± of the data sheet; the sensor's own error is drawn within it. */
  readonly limit: number;
  /** What comes on top of that, % of the reading; its error goes the same way. */
  readonly limitPct?: number;
  /** Standard deviation of the noise. */
  readonly noise: number;
  readonly resolution: number;
}

/** Where a probe hangs, and what is wrong with it there. */
export interface Hanging {
  /** The indoor unit that it hangs at; null outdoors. */
  readonly unit: string | null;
  readonly place: Place;
  /** Where it is said to hang; left out: where it does. */
  readonly saidPlace?: Place | undefined;
  /** How much warmer than the mean the air is just where it hangs, K. */
  readonly unevenK: number;
  readonly fault?: ProbeFault | undefined;
}

export interface ProbeParameters extends Hanging {
  readonly id: string;
  readonly name: string;
  readonly sensors: Partial<Readonly<Record<Quantity, Sensor>>>;
  readonly intervalS: number;
  /** How often it falls silent, and for how long on average. */
  readonly dropoutsPerH: number;
  readonly dropoutS: number;
  readonly spikesPerH: number;
  /** Battery at the start, %, and what it loses, %/h; reported once a minute. */
  readonly batteryPct: number;
  readonly batteryPctPerH: number;
}

/** The truth at the place of a probe. */
export type Surroundings = Readonly<Record<Exclude<Quantity, 'humidityPct'>, number>> & {
  readonly vapourPressurePa: number;
};

/** What a probe says. `t` in ms since the epoch. */
export type ProbeReading = { t: number; probe: string; batteryPct?: number } & Partial<
  Record<Quantity, number>
>;

/** How far off a spike is, least and most. */
const SPIKE: Record<Quantity, readonly [number, number]> = {
  temperatureC: [6, 30],
  humidityPct: [20, 60],
  velocityMs: [2, 8],
  pressurePa: [2000, 20_000],
  powerW: [500, 5000],
};
const BATTERY_EVERY_MS = 60_000;

/** One sensor at work. */
class Channel {
  readonly quantity: Quantity;
  readonly sensor: Sensor;
  readonly ownError: number;
  readonly #stepGain: number;
  readonly #stepS: number;
  value: number | null = null;

  constructor(quantity: Quantity, sensor: Sensor, ownError: number, stepS: number) {
    this.quantity = quantity;
    this.sensor = sensor;
    this.ownError = ownError;
    this.#stepS = stepS;
    this.#stepGain = 1 - Math.exp(-stepS / sensor.lagS);
  }

  follow(dtS: number, truth: number): void {
    if (this.value === null) this.value = truth;
    const gain = dtS === this.#stepS ? this.#stepGain : 1 - Math.exp(-dtS / this.sensor.lagS);
    this.value += gain * (truth - this.value);
  }
}

export class Probe {
  #parameters: ProbeParameters;
  readonly #channels: readonly Channel[];
  readonly #noise: Random;
  readonly #spikes: Random;
  readonly #dropouts: Random;
  readonly #rhythm: Random;
  readonly #intervalMs: number;
  #nextMs: number;
  #silentUntilMs = 0;
  #batteryDueMs = 0;
  #pressurePa = 101_325;
  #driftK = 0;

  /** @param stepMs how long the steps of the simulation are */
  constructor(parameters: ProbeParameters, seed: number, stepMs: number) {
    const { id, sensors } = parameters;
    const errors = randomStream(seed, `${id} error`);
    this.#parameters = parameters;
    this.#channels = QUANTITIES.flatMap((quantity) => {
      const sensor = sensors[quantity];
      if (sensor === undefined) return [];
      const error = errors.between(-sensor.limit, sensor.limit);
      return [new Channel(quantity, sensor, error, stepMs / 1000)];
    });
    this.#noise = randomStream(seed, `${id} noise`);
    this.#spikes = randomStream(seed, `${id} spikes`);
    this.#dropouts = randomStream(seed, `${id} dropouts`);
    this.#rhythm = randomStream(seed, `${id} rhythm`);
    this.#intervalMs = parameters.intervalS * 1000;
    this.#nextMs = Math.ceil(this.#rhythm.uniform() * this.#intervalMs);
  }

  get parameters(): ProbeParameters {
    return this.#parameters;
  }

  /** Hangs elsewhere, or is faulty otherwise, from now on; its sensors go on from where they are. */
  become({ unit, place, saidPlace, unevenK, fault }: Hanging): void {
    this.#parameters = { ...this.#parameters, unit, place, saidPlace, unevenK, fault };
  }

  /** The fixed error of a sensor, in its unit, at zero: what a side-by-side check finds out. */
  errorOf(quantity: Quantity): number {
    return this.#channels.find((each) => each.quantity === quantity)?.ownError ?? 0;
  }

  /** Lets the sensors follow, without a reading. */
  follow(dtS: number, around: Surroundings): void {
    this.#pressurePa = around.pressurePa;
    const found = wetted(around, this.#parameters.fault?.wet ?? 0);
    for (const channel of this.#channels) channel.follow(dtS, truthOf(channel.quantity, found));
  }

  /**
   * Follows from `fromMs` to `toMs` (since the start), reading on the way.
   * @param take is given each reading, with its time in ms since the start
   */
  step(
    fromMs: number,
    toMs: number,
    around: Surroundings,
    take: (elapsedMs: number, reading: ProbeReading) => void,
  ): void {
    let nowMs = fromMs;
    while (this.#nextMs <= toMs) {
      if (this.#nextMs > nowMs) this.#pass((this.#nextMs - nowMs) / 1000, around);
      nowMs = this.#nextMs;
      const reading = this.#read(nowMs);
      if (reading !== null) take(nowMs, reading);
      const gapMs = this.#intervalMs * this.#rhythm.between(0.98, 1.02);
      this.#nextMs += Math.max(Math.round(gapMs), 1);
    }
    if (nowMs < toMs) this.#pass((toMs - nowMs) / 1000, around);
  }

  /** Time passes while it measures: the sensors follow, and one that drifts walks off. */
  #pass(dtS: number, around: Surroundings): void {
    this.follow(dtS, around);
    this.#driftK += ((this.#parameters.fault?.driftKPerH ?? 0) * dtS) / 3600;
  }

  /** A reading, or null where it is lost. Lost ones are drawn too: the later ones stay the same. */
  #read(nowMs: number): ProbeReading | null {
    const p = this.#parameters;
    const reading: ProbeReading = { t: 0, probe: p.id };
    for (const channel of this.#channels) {
      reading[channel.quantity] = this.#valueOf(channel);
    }
    this.#spoil(reading);
    if (nowMs >= this.#batteryDueMs) {
      this.#batteryDueMs = nowMs + BATTERY_EVERY_MS;
      const left = p.batteryPct - (p.batteryPctPerH * nowMs) / 3.6e6;
      reading.batteryPct = Math.max(Math.round(left), 0);
    }
    return this.#isSilent(nowMs) ? null : reading;
  }

  #valueOf(channel: Channel): number {
    const { quantity, sensor, ownError } = channel;
    let value = channel.value ?? 0;
    if (quantity === 'humidityPct') value = this.#humidityFrom(value);
    if (quantity === 'temperatureC') value += this.#driftK;
    const { limit, limitPct, noise } = sensor;
    const more = limitPct === undefined ? 0 : ((limitPct / 100) * value) / limit;
    value += ownError * (1 + more) + noise * this.#noise.normal();
    return within(quantity, round(value, sensor.resolution));
  }

  /** Relative humidity at the sensor's own temperature. */
  #humidityFrom(vapourPressurePa: number): number {
    const own = this.#channels.find((each) => each.quantity === 'temperatureC')?.value ?? 20;
    const p = this.#pressurePa;
    return relativeHumidityPct(own, humidityRatioFromVapourPressure(vapourPressurePa, p), p);
  }

  #spoil(reading: ProbeReading): void {
    const chance = (this.#parameters.spikesPerH * this.#parameters.intervalS) / 3600;
    if (this.#spikes.uniform() >= chance) return;
    const channel = this.#channels[Math.floor(this.#spikes.uniform() * this.#channels.length)];
    if (channel === undefined) return;
    const { quantity, sensor } = channel;
    const [least, most] = SPIKE[quantity];
    const sign = this.#spikes.uniform() < 0.5 ? -1 : 1;
    const value = (reading[quantity] ?? 0) + sign * this.#spikes.between(least, most);
    reading[quantity] = within(quantity, round(value, sensor.resolution));
  }

  #isSilent(nowMs: number): boolean {
    const { dropoutsPerH, dropoutS, intervalS } = this.#parameters;
    if (nowMs < this.#silentUntilMs) return true;
    if (this.#dropouts.uniform() >= (dropoutsPerH * intervalS) / 3600) return false;
    this.#silentUntilMs = nowMs + 1000 * this.#dropouts.wait(dropoutS);
    return true;
  }
}

function truthOf(quantity: Quantity, around: Surroundings): number {
  return quantity === 'humidityPct' ? around.vapourPressurePa : around[quantity];
}

/** To the nearest multiple, without the tail that multiplying by 0.01 leaves. */
function round(value: number, resolution: number): number {
  const perUnit = 1 / resolution;
  return Math.round(value * perUnit) / perUnit;
}

/** A sensor does not say what cannot be: below 0, above 100 %. */
function within(quantity: Quantity, value: number): number {
  if (quantity === 'humidityPct') return Math.min(Math.max(value, 0), 100);
  return quantity === 'temperatureC' ? value : Math.max(value, 0);
}
