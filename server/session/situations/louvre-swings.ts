/**
 * A louvre that swings: it turns the stream away from the supply probe and back, evenly, every 5 to 30 s
 * (common practice, no source). Nothing else in a unit is so quick and so regular: a controller that
 * hunts takes minutes, gusts and turbulence do not come round.
 *
 * What can be seen: a probe follows with a lag of τ, and shows of a swing with the period P the part
 * 1/√(1 + (2πτ/P)²). A swing of ±3 K every 14 s is ±1.0 K to a probe with a lag of 6 s, ±0.19 K at 35 s; what
 * is smaller than `LEAST_K` cannot be told from nothing, nor can what a probe that is read less than twice
 * a period shows. Then a doubt is missing, and the mean is off all the same.
 */
import type { Doubt } from '../../protocol.ts';
import { doubt } from '../doubt.ts';
import { EvenSwing } from './even-swing.ts';
import { sent } from '../../words/sent.ts';

/** Smaller swings of the supply are noise or rounding, K; of the velocity turbulence, m/s (common practice, no source). */
const LEAST_K = 0.12;
const LEAST_MS = 0.15;

export class LouvreSwings {
  readonly #temperature = new EvenSwing(LEAST_K);
  readonly #velocity = new EvenSwing(LEAST_MS);
  #doubt: Doubt | null = null;

  /** A probe was moved, or the unit is off. */
  restart(): void {
    this.#temperature.restart();
    this.#velocity.restart();
    this.#doubt = null;
  }

  /**
   * Takes one second of a unit that runs; NaN for what is not known.
   * @param differenceK supply less return: what a swing is a part of
   */
  second(supplyC: number, differenceK: number, velocityMs: number): Doubt | null {
    this.#temperature.second(supplyC);
    this.#velocity.second(velocityMs);
    const seen = this.#temperature.found;
    const swing = seen ?? this.#velocity.found;
    if (swing === null) this.#doubt = null;
    else {
      const part = seen === null ? null : seen.amplitude / Math.abs(differenceK);
      this.#doubt ??= louvreSwings(swing.periodS, part);
    }
    return this.#doubt;
  }
}

/** @param part of the temperature difference that the swing is, as the probe shows it; null: it does not */
function louvreSwings(periodS: number, part: number | null): Doubt {
  const pct = Math.max(Math.round(100 * (part ?? 0)), 1);
  const what = part === null ? sent`The velocity in the outlet` : sent`The supply temperature`;
  const size =
    part === null
      ? sent`The supply probe is too slow to show it`
      : sent`It moves the sensible figure by about ±${pct} % as the probe shows it, by more in the air`;
  return doubt(
    'louvre-swings',
    sent`${what} swings evenly, about every ${Math.round(periodS)} s: the louver seems to be swinging.`,
    sent`${size}. Whenever the airstream turns away, the probe reads room air and the mean comes out too low.`,
    sent`Stop the louver with the remote control, not by hand, and make sure the probe hangs in the airstream.`,
  );
}
