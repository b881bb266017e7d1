/** The fan has changed its speed by itself, and the airflow that was told is stale. */
import type { Doubt } from '../../protocol.ts';
import { doubt } from '../doubt.ts';
import { fanRatherThanCompressor } from './fan-or-compressor.ts';
import { type AirSecond, BLOCK_S, type FanStep, slopeOf, Steps } from './fan-step.ts';
import { sent } from '../../words/sent.ts';

/** After what makes the compressor move by itself, nothing is said for so long, s (common practice, no source). */
const COMPRESSOR_MOVES_S = 600;
/** Fan speeds differ by these factors of the heat that a kg of air takes up (common practice, no source). */
const LEAST = 1.12;
const MOST = 2.5;
/** So much more likely than the compressor: fifteen times. */
const BELIEVED = Math.log(15);
/** What a step means for the room shows within so long, in blocks; at least so many are looked at. */
const LOOKED = 48;
const ENOUGH = 12;
/** Readings that come more seldom tell no step from a course of minutes, ms. */
const SELDOM_MS = 10_000;
/** A step that is undone, to this factor, was none. */
const UNDONE = 1.06;
/** A machine in less air gives as much or a little less: at most as flow^0.25 (common practice, no source). */
const FALLS = 0.25;

/** What is known of the unit in a second, beside its air. */
export interface FanSecond {
  t: number;
  /** Whether the supply was heard anew. */
  heard: boolean;
  air: AirSecond;
  heating: boolean;
  pressurePa: number;
  /** Flow of dry air as it was told, kg/s. */
  dryAirKgs: number;
}

/** A step that is being looked at, and the return since. */
interface Pending {
  step: FanStep;
  returnsC: number[];
}

export class FanAuto {
  readonly #steps = new Steps();
  #pending: Pending | null = null;
  /** By which factor the air takes up more than when the airflow was told, by the steps that were the fan's. */
  #ratio = 1;
  #quietUntil = -Infinity;
  #heardT = -Infinity;
  #doubt: Doubt | null = null;

  /** Another airflow is told, or follows the outlet's velocity: what it was before does not matter. */
  told(): void {
    this.#ratio = 1;
    this.#doubt = null;
    this.interrupt();
  }

  /** The compressor is about to move by itself, as after a setpoint or a start. */
  compressorMoves(t: number): void {
    this.#quietUntil = t + 1000 * COMPRESSOR_MOVES_S;
    this.interrupt();
  }

  /** What comes next does not compare with what was. */
  interrupt(): void {
    this.#steps.clear();
    this.#pending = null;
  }

  /** Takes one second in which the unit runs. @returns the doubt, where there is one */
  second(second: FanSecond): Doubt | null {
    const { t } = second;
    if (second.heard) this.#heardT = t;
    if (t - this.#heardT > SELDOM_MS) this.interrupt();
    else if (t >= this.#quietUntil && this.#steps.add(second.air)) this.#look(second);
    return this.#doubt;
  }

  #look(second: FanSecond): void {
    if (this.#pending === null) this.#begin();
    else this.#goOn(this.#pending, second);
  }

  #begin(): void {
    const step = this.#steps.find(LEAST);
    if (step === null) return;
    const ratio = step.after.heatJkg / step.before.heatJkg;
    if (ratio > 1 / MOST && ratio < MOST) this.#pending = { step, returnsC: [] };
    // Off, or just on: no level of before tells anything of what comes.
    else this.#steps.clear();
  }

  #goOn({ step, returnsC }: Pending, second: FanSecond): void {
    const now = this.#steps.last ?? step.after;
    returnsC.push(now.returnC);
    const undone = now.heatJkg / step.before.heatJkg;
    if (undone < UNDONE && undone > 1 / UNDONE) {
      this.interrupt();
      return;
    }
    if (returnsC.length < ENOUGH) return;
    const { heating, pressurePa, dryAirKgs } = second;
    const change = (at: FanStep['before']): number => Math.abs(at.returnC - at.supplyC);
    const sensibleW = 1006 * dryAirKgs * (change(step.after) - change(step.before));
    const since = slopeOf(returnsC);
    if (fanRatherThanCompressor(step, sensibleW, since, heating, pressurePa) >= BELIEVED) {
      // By now the coil has come to rest.
      const { heatJkg } = this.#steps.level ?? step.after;
      this.#ratio *= heatJkg / step.before.heatJkg;
      this.#doubt = isNear(this.#ratio) ? null : fanAuto(this.#ratio);
      this.interrupt();
    } else if (returnsC.length >= LOOKED) this.interrupt();
  }
}

const isNear = (ratio: number): boolean => ratio < LEAST && ratio > 1 / LEAST;

/** How soon after a step it is named at the earliest, s: a level, and what the room does. */
export const NAMED_AFTER_S = BLOCK_S * (ENOUGH + 12);

/**
 * @param ratio how much more heat a kg of air takes up than when the airflow was told: with the load
 *   unchanged, flow × heat is constant
 */
function fanAuto(ratio: number): Doubt {
  const pct = (x: number): number => Math.round(100 * x);
  const parts = [pct(1 / ratio), pct(ratio ** (-1 / (1 - FALLS)))].sort((a, b) => a - b);
  const [low = 0, high = 0] = parts;
  const size = low === high ? `${low} %` : sent`${low} to ${high} %`;
  return doubt(
    'fan-auto',
    sent`The supply became ${ratio > 1 ? sent`further from` : sent`closer to`} the return within a minute or two, and the room did not notice: the fan seems to have ${ratio > 1 ? sent`slowed down` : sent`sped up`} on its own.`,
    sent`The airflow would then be about ${size} of the one in use, and the true figure the same share of the one shown.`,
    sent`Set the fan to a fixed speed and enter its airflow there, or hang a velocity probe in the outlet: the airflow then follows it.`,
  );
}
