/** The fan alone on a dry coil: what the probes then differ by beyond its heat is their own. */
import type { ZeroEvent } from '../../../adapters/contract.ts';
import { zeroInPlace } from '../../measure/airflow/zero.ts';
import { NORMAL, type Uncertain } from '../../measure/gum.ts';
import type { Measuring, ZeroResult } from '../../protocol.ts';
import { type Settled, SettledMean } from '../../signal/settled-mean.ts';
import { REAL_K } from '../moisture.ts';
import { type PlacedZero, placedZeros, type ZeroProbe, zeroedU } from '../placed-zero.ts';
import type { UnitAir } from './unit-air.ts';
import { otherMessage, waited, type AirWork } from './work.ts';
import { sent } from '../../words/sent.ts';

const WANTED_S = 300;
/** No more than the last so many seconds are kept. */
const MOST_S = 3600;
/** Return and supply may still move apart by so much, K. */
const STILL_K = 0.05;
/** A coil is dry where the air takes up or loses no more than this, kg/kg, or what the probes tell. */
const DRY_W = 0.0002;

/** What has come of it, and what is taken off each probe from now on; null: nothing is. */
export interface FoundZero {
  result: ZeroResult;
  placed: ReadonlyMap<string, PlacedZero> | null;
}

/** "0.25 K (0.45 °F)" */
const fine = (k: number): string => `${k.toFixed(2)} K (${(1.8 * k).toFixed(2)} °F)`;

export class RunningZero implements AirWork {
  readonly method = 'zero';
  readonly paused = false;
  from: number;
  readonly unit: string;
  readonly #fanW: number | undefined;
  readonly #rise = new SettledMean();
  readonly #drop = new SettledMean();
  readonly #returns: number[] = [];
  /** Of each probe: by how much it reads more than the return's mean. */
  readonly #each = new Map<string, SettledMean>();
  #last: UnitAir | null = null;
  #dropU = NaN;
  #humidityRatio: number | null = null;

  constructor({ t, unit, fanW }: ZeroEvent) {
    this.from = t;
    this.unit = unit;
    this.#fanW = fanW;
  }

  second(air: UnitAir): void {
    this.#rise.second(air.riseK ?? NaN);
    if (air.returnC !== null && air.riseK !== null) this.#returns.push(air.returnC);
    if (this.#returns.length > MOST_S) this.#returns.shift();
    if (air.returnC !== null && air.riseK !== null) {
      this.#last = air;
      for (const { probe } of air.probes) {
        let mean = this.#each.get(probe.id);
        if (mean === undefined) this.#each.set(probe.id, (mean = new SettledMean()));
        mean.second(probe.temperatureC - air.returnC);
      }
    }
    this.#drop.second(air.dropW ?? NaN);
    this.#dropU = air.dropU;
    this.#humidityRatio = air.humidityRatio ?? this.#humidityRatio;
  }

  message(t: number, phase: Measuring['phase'], said: string | null): Measuring {
    const rise = this.#rise.result();
    const found = this.#why(rise);
    const now = waited(rise, found === null, (t - this.from) / 1000, WANTED_S);
    const why = this.#rise.seconds < WANTED_S / 2 ? null : found;
    const text =
      why ??
      (now.progress < 1
        ? sent`Leave the fan on alone, the compressor off, and the probes where they hang.`
        : sent`Enough. Tap End.`);
    return otherMessage(this, t, phase, { text: said ?? text, warns: why !== null, ...now });
  }

  /**
   * @param dryAirKgs the flow in use, and its standard uncertainty as a part of it
   * @returns what was found, or why nothing was, as a sentence
   */
  end(
    { t, fanW = this.#fanW }: ZeroEvent,
    dryAirKgs: number | null,
    flowU: number,
  ): FoundZero | string {
    const rise = this.#rise.result();
    const why = this.#why(rise);
    if (rise === null || why !== null) return sent`${why ?? sent`Too short.`} Nothing was found.`;
    if (dryAirKgs === null)
      return sent`No airflow is known: nothing was found. Enter or measure it first.`;
    if (fanW === undefined) return sent`The watts of the fan were not given: nothing was found.`;
    const zero = zeroInPlace({
      ...{ riseK: rise.mean, riseU: rise.u, fanW, dryAirKgs, flowU },
      humidityRatio: this.#humidityRatio ?? 0.008,
      driftKs: this.#driftKs(rise.seconds),
    });
    const { offsetK, u95K } = zero;
    const real = Math.abs(offsetK) > u95K;
    const found = real
      ? sent`Supply reads ${fine(Math.abs(offsetK))} too ${offsetK > 0 ? sent`warm` : sent`cold`} against return, ± ${fine(u95K)}.`
      : sent`Return and supply agree within ${fine(u95K)} where they hang.`;
    const placed = this.#placed(t, rise.mean - offsetK, { u: zero.u, shape: NORMAL }, offsetK);
    return {
      result: {
        ...{ type: 'zero', t, from: this.from, unit: this.unit, fanW, offsetK, u95K },
        used: typeof placed !== 'string',
        text: typeof placed === 'string' ? `${found} ${placed}` : found,
      },
      placed: typeof placed === 'string' ? null : placed,
    };
  }

  /** What is taken off each probe, or why nothing is, as a sentence. */
  #placed(
    t: number,
    trueRiseK: number,
    error: Uncertain,
    offsetK: number,
  ): FoundZero['placed'] | string {
    const { probes, returnC, riseU } = this.#last ?? { probes: [], returnC: null, riseU: NaN };
    if (probes.length === 0 || returnC === null) {
      return sent`Nothing is taken off: the accuracy of a probe is not known. Enter it first.`;
    }
    const heard = probes.flatMap(({ place, probe }): ZeroProbe[] => {
      const more = this.#each.get(probe.id)?.result();
      if (more === null || more === undefined) return [];
      const { id, limits, temperature } = probe;
      return [{ id, place, limits, meanC: returnC + more.mean, own: temperature }];
    });
    if (Math.abs(offsetK) > REAL_K * Math.hypot(riseU, error.u)) {
      return sent`That is more than the accuracies of the probes explain, so it is not taken off: look for sun, a warm wall or a wet probe, or check the probes side by side.`;
    }
    // Of a zero and a side-by-side check the better one counts: never both.
    if (!(zeroedU(heard, error) < riseU)) {
      return sent`It is not taken off: the side-by-side check knows better.`;
    }
    return placedZeros(t, this.unit, heard, trueRiseK, error);
  }

  /** How fast the return has become warmer in the last seconds, K/s. */
  #driftKs(seconds: number): number {
    const last = this.#returns.slice(-seconds);
    return ((last.at(-1) ?? NaN) - (last[0] ?? NaN)) / seconds;
  }

  clockSet(shiftMs: number): void {
    this.from += shiftMs;
  }

  #why(rise: Settled | null): string | null {
    if (rise === null) return sent`Return and supply have not been heard long enough.`;
    if (Math.abs(rise.ahead) > STILL_K) {
      return sent`Return and supply still move apart: the coil is not at rest yet.`;
    }
    const drop = this.#drop.result();
    if (drop !== null && Math.abs(drop.mean) > Math.max(DRY_W, 2 * this.#dropU)) {
      return sent`The coil is still wet: it dries into the air. Let the fan run until it is dry.`;
    }
    return null;
  }
}
