/**
 * The compressor rests, the fan runs on, and the coil dries: the air takes its water up and gets colder
 * by as much, along a line of constant wet bulb. Latent and sensible cancel.
 */
import type { Doubt } from '../../protocol.ts';
import { doubt } from '../doubt.ts';
import { moistureU, riseOf, waterOut } from './air-change.ts';
import { Held } from './held.ts';
import { kw, type Scene } from './scene.ts';
import { sent } from '../../words/sent.ts';

/** Colder by this much: both signs together are no error of a probe, K. */
const COLDER_K = 1;
/** More water by so many standard uncertainties, and this, kg/kg. */
const SURE = 2;
const MORE_W = 0.0002;

export class CoilDrying {
  readonly #held = new Held(10, 20);

  /** Takes one second. @returns whether the coil dries */
  second({ mode, ret, sup, moving, delivers }: Scene): boolean {
    const may = mode === 'cooling' && moving && !delivers && riseOf(ret, sup) < -COLDER_K;
    const into = -waterOut(ret, sup);
    return this.#held.second(may && into > MORE_W && into > MORE_W + SURE * moistureU(ret, sup));
  }

  say({ figures: { sensibleW, latentW } }: Scene, out: Doubt[]): void {
    const parts =
      sensibleW === null || latentW === null
        ? sent`The air gets colder and moister`
        : sent`The air loses ${kw(sensibleW)} sensible and takes up ${kw(-latentW)} as moisture`;
    out.push(
      doubt(
        'coil-drying',
        sent`The fan runs and the coil dries: the water on it goes back into the air.`,
        sent`${parts}: apart from probe errors the two cancel, and the unit delivers nothing.`,
        sent`For the capacity, set it well below room temperature so that the compressor runs. Before a fan-only test, wait until the coil is dry.`,
      ),
    );
  }

  clear(): void {
    this.#held.clear();
  }
}
