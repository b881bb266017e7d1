/**
 * Dehumidifying with reheat: water leaves the air, and the air comes out warmer than it went in. The
 * total is what the room loses in enthalpy all the same; its sensible part is negative.
 */
import type { Doubt } from '../../protocol.ts';
import { doubt } from '../doubt.ts';
import { riseOf, takesWater } from './air-change.ts';
import { Held } from './held.ts';
import { kw, type Scene } from './scene.ts';
import { sent } from '../../words/sent.ts';

/** Warmer than the return by this much, K. */
const WARMER_K = 0.3;

export class Reheat {
  readonly #held = new Held(1, 60);

  /** Takes one second. @returns whether it dries with reheat */
  second({ mode, ret, sup, moving }: Scene): boolean {
    const seen = mode === 'cooling' && moving && riseOf(ret, sup) > WARMER_K;
    return this.#held.second(seen && takesWater(ret, sup));
  }

  say({ figures: { sensibleW, latentW } }: Scene, out: Doubt[]): void {
    const parts =
      sensibleW === null || latentW === null
        ? sent`Sensible is negative, latent positive`
        : sent`Sensible is ${kw(sensibleW)}, latent ${kw(latentW)}`;
    out.push(
      doubt(
        'reheat',
        sent`The unit takes water out of the air and warms the air again: it dehumidifies with reheat.`,
        sent`${parts}. The total is what the room loses, not what the unit delivers in cooling.`,
        sent`For the cooling capacity, set the unit to cooling. Do not compare this figure with a cooling table.`,
      ),
    );
  }

  clear(): void {
    this.#held.clear();
  }
}
