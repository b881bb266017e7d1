/**
 * Heat that the air takes up between the probes with the fan alone, as in a duct through a hot space: the
 * supply is warmer than the return at the same moisture, by more than a fan makes of it. Once found it
 * counts for the visit: while the unit cools the same heat comes in and cannot be seen.
 *
 * Nobody need say that the unit is ducted. What it takes is a person who has told that it cools: else
 * the same air is that of a unit that heats a little.
 */
import { moistHeat } from '../../measure/moist-air.ts';
import type { Doubt } from '../../protocol.ts';
import { doubt } from '../doubt.ts';
import { moistureU, riseOf, temperatureVariance, waterOut } from './air-change.ts';
import { Held } from './held.ts';
import { kelvins, kw, type Scene } from './scene.ts';
import { sent } from '../../words/sent.ts';

/** What a fan alone makes warmer, at most: 150 W in 0.2 kg/s (common practice, no source), K. */
const FAN_K = 0.7;
/** More than this is no duct: probes in each other's place, or a unit that heats (no source), K. */
const MOST_K = 8;
const SURE = 2;
/** The moisture is the same, but for the probes and this, kg/kg. */
const SAME_W = 0.0003;
const ON_S = 120;
/** The rise is a mean over about so long, s. */
const MEAN_S = 60;

export class DuctHeat {
  readonly #held = new Held(ON_S, 10);
  #riseK = NaN;
  /** As found: what comes in beside the fan's own heat, W, and the rise, K. */
  #gainW: number | null = null;
  #foundK = 0;

  /** Takes one second. @returns whether the fan runs alone now, and heat comes in */
  second(scene: Scene): boolean {
    const { ret, sup, dryAirKgs } = scene;
    const rise = riseOf(ret, sup);
    const seen = this.#seen(scene, rise);
    this.#riseK =
      !seen || Number.isNaN(this.#riseK) ? rise : this.#riseK + (rise - this.#riseK) / MEAN_S;
    const is = this.#held.second(seen);
    if (is && seen && dryAirKgs !== null) {
      this.#gainW = dryAirKgs * moistHeat(ret.humidityRatio ?? 0) * (this.#riseK - FAN_K / 2);
      this.#foundK = this.#riseK;
    }
    return is;
  }

  #seen({ mode, isTold, ret, sup, moving, delivers }: Scene, rise: number): boolean {
    if (mode !== 'cooling' || !isTold || !moving || delivers) return false;
    if (!(rise > FAN_K && rise < MOST_K)) return false;
    const u = Math.sqrt(temperatureVariance(ret) + temperatureVariance(sup));
    if (rise < FAN_K + SURE * u) return false;
    const out = Math.abs(waterOut(ret, sup));
    return Number.isNaN(out) || out < SAME_W + SURE * moistureU(ret, sup);
  }

  say(out: Doubt[]): void {
    if (this.#gainW === null) return;
    out.push(
      doubt(
        'heat-between',
        sent`With the fan alone the supply is ${kelvins(this.#foundK)} warmer than the return, at the same moisture: the air picks up heat between the probes, as in a duct through a hot space.`,
        sent`That is at least ${kw(this.#gainW)}, and more when cold air flows. The figure is what reaches the room. In cooling, the unit itself delivers at least that much more.`,
        sent`For the capacity of the unit itself, hang the supply probe right at its own outlet and the return probe at its own intake. Switch off and lock out before you open a duct, and mind the heat in an attic.`,
      ),
    );
  }

  /** Probes have been hung elsewhere. */
  clear(): void {
    this.#held.clear();
    this.#gainW = null;
    this.#riseK = NaN;
  }
}
