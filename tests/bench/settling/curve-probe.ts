/**
 * A probe of the curves: temperature and relative humidity each follow by a lag of their own. It is
 * the relative humidity itself that lags (not the vapour pressure), as a film of polymer would that
 * keeps to its own temperature: in a ramp the two together describe air that never was.
 */
import type { Limits, Reading } from '../../../adapters/contract.ts';
import { relativeHumidityPct } from '../../../server/measure/moist-air.ts';
import { type Random, randomStream } from '../../../simulator/random.ts';
import type { Point } from './curve-air.ts';

export interface ProbeKind {
  /** Between readings, s, and how much that varies, as a share. */
  intervalS: number;
  jitter: number;
  lagC: number;
  lagPct: number;
  noiseC: number;
  noisePct: number;
  resolutionC: number;
  resolutionPct: number;
  /** Silences an hour, and how long they last, s. */
  dropoutsPerH: number;
  dropoutS: number;
  /** Share of readings that are hit. */
  spikes: number;
  /** Correlation time of the noise, s; 0: from reading to reading by chance. */
  memoryS: number;
}

export const LIMITS = { temperatureC: 0.4, humidityPct: 2.5 };

/** What a log says of such a probe. */
export function limitsOf({ resolutionC, resolutionPct }: ProbeKind, share: number): Limits {
  const limits = {
    temperatureC: share * LIMITS.temperatureC,
    humidityPct: share * LIMITS.humidityPct,
  };
  return resolutionC > 0.05 ? { ...limits, resolutionC, resolutionPct } : limits;
}

export class CurveProbe {
  readonly #id: string;
  readonly #kind: ProbeKind;
  readonly #random: Random;
  readonly #errorC: number;
  readonly #errorPct: number;
  #tC = NaN;
  #rhPct = NaN;
  #nextS: number;
  #silentUntilS = -1;
  /** Noise of the last reading, as a share of its standard deviation, and when that was, s. */
  #noise = { c: 0, pct: 0, atS: -Infinity };

  /**
   * @param how what it is like, and the share of its limits within which its errors are
   * @param of the kind of visit: each has probes of its own
   */
  constructor(
    id: string,
    how: { probe: ProbeKind; errors: number; limitShare: number },
    seed: number,
    of: string,
  ) {
    this.#id = id;
    this.#kind = how.probe;
    const errors = randomStream(seed, `error ${id} ${of}`);
    const { temperatureC, humidityPct } = LIMITS;
    const share = how.errors * how.limitShare;
    this.#errorC = share * errors.between(-temperatureC, temperatureC);
    this.#errorPct = share * errors.between(-humidityPct, humidityPct);
    this.#random = randomStream(seed, `readings ${id} ${of}`);
    this.#nextS = this.#random.between(0, how.probe.intervalS);
  }

  /** Follows the air of the second from `fromS` to `fromS + 1`; what it says on the way goes to `out`. */
  second(fromS: number, air: Point, pPa: number, startT: number, out: Reading[]): void {
    const rhPct = Math.min(relativeHumidityPct(air.tC, air.W, pPa), 100);
    let now = fromS;
    while (this.#nextS < fromS + 1) {
      this.#follow(this.#nextS - now, air.tC, rhPct);
      now = this.#nextS;
      this.#say(now, startT, out);
      const { intervalS, jitter } = this.#kind;
      this.#nextS += intervalS * (1 + this.#random.between(-jitter, jitter));
    }
    this.#follow(fromS + 1 - now, air.tC, rhPct);
  }

  #follow(s: number, tC: number, rhPct: number): void {
    if (Number.isNaN(this.#tC)) {
      this.#tC = tC;
      this.#rhPct = rhPct;
    }
    this.#tC += -Math.expm1(-s / this.#kind.lagC) * (tC - this.#tC);
    this.#rhPct += -Math.expm1(-s / this.#kind.lagPct) * (rhPct - this.#rhPct);
  }

  #say(nowS: number, startT: number, out: Reading[]): void {
    const { noiseC, noisePct, resolutionC, resolutionPct, spikes } = this.#kind;
    const random = this.#random;
    const noise = this.#noiseAt(nowS);
    let tC = this.#tC + this.#errorC + noiseC * noise.c;
    let rhPct = this.#rhPct + this.#errorPct + noisePct * noise.pct;
    if (random.uniform() < spikes) {
      const sign = random.uniform() < 0.5 ? -1 : 1;
      if (random.uniform() < 0.5) tC += sign * random.between(4, 40);
      else rhPct += sign * random.between(12, 60);
    }
    if (this.#silent(nowS)) return;
    out.push({
      type: 'reading',
      t: startT - 1000 + Math.round(1000 * nowS),
      probe: this.#id,
      temperatureC: rounded(tC, resolutionC),
      humidityPct: Math.min(Math.max(rounded(rhPct, resolutionPct), 0), 100),
    });
  }

  #noiseAt(nowS: number): { c: number; pct: number } {
    const { memoryS } = this.#kind;
    const { c, pct, atS } = this.#noise;
    const keep = memoryS === 0 ? 0 : Math.exp((atS - nowS) / memoryS);
    const fresh = Math.sqrt(1 - keep * keep);
    this.#noise = {
      c: keep * c + fresh * this.#random.normal(),
      pct: keep * pct + fresh * this.#random.normal(),
      atS: nowS,
    };
    return this.#noise;
  }

  #silent(nowS: number): boolean {
    const { dropoutsPerH, dropoutS, intervalS } = this.#kind;
    if (nowS < this.#silentUntilS) return true;
    if (this.#random.uniform() >= (dropoutsPerH * intervalS) / 3600) return false;
    this.#silentUntilS = nowS + this.#random.wait(dropoutS);
    return true;
  }
}

function rounded(value: number, resolution: number): number {
  const perUnit = 1 / resolution;
  return Math.round(value * perUnit) / perUnit;
}
