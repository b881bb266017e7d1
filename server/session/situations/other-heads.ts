/**
 * Other heads of the same outdoor unit: they take their part of what the compressor has. A head that was
 * at rest and falls to another level within two minutes, untold, while its return stays as it is, has
 * lost a part to another, or to its own control. Where a head of the visit rises at the same time, that
 * one is named. Else it is said as a possibility, and only where the room is still far from the setpoint:
 * near it, a control turns down by itself.
 */
import type { Doubt } from '../../protocol.ts';
import { doubt } from '../doubt.ts';
import { kw, type Scene } from './scene.ts';
import { sent } from '../../words/sent.ts';

/** Seconds of a mean, and means of the time before, of the change, and after. */
const BLOCK_S = 10;
const BEFORE = 24;
const BETWEEN = 9;
const AFTER = 6;
const KEPT = BEFORE + BETWEEN + AFTER;
/** At rest: highest less lowest mean, as a part of the level. */
const REST = 0.08;
/** It has fallen by a part of this size, and not to nothing. Less than the least is scatter, W. */
const LEAST = 0.15;
const MOST = 0.65;
const LEAST_W = 100;
/** A return that moves by more is a cause of its own, K. */
const RETURN_K = 0.7;
/** So far from the setpoint a control asks for all there is, K (common practice, no source). */
const DEMANDS_K = 2;
/** A head takes up at least this part of what another has lost. */
const TAKES = 0.25;
/** Looked for another for so long, blocks; said for so long, blocks; over when back at this part. */
const LOOKED = 30;
const STANDS = 120;
const BACK = 0.93;

/** What the heads of a visit have taken up or lost lately, by unit: of one visit. */
export class HeadsTogether {
  readonly #rises = new Map<string, { name: string; riseW: number }>();

  tell(id: string, name: string, riseW: number): void {
    const known = this.#rises.get(id);
    if (known === undefined) this.#rises.set(id, { name, riseW });
    else {
      known.name = name;
      known.riseW = riseW;
    }
  }

  /** The other head that has taken up most, where that is a part of what `id` has lost. */
  taker(id: string, lostW: number): { name: string; riseW: number } | null {
    let best: { name: string; riseW: number } | null = null;
    for (const [other, rise] of this.#rises) {
      if (other === id || !(rise.riseW > TAKES * lostW)) continue;
      if (best === null || rise.riseW > best.riseW) best = rise;
    }
    return best === null ? null : { ...best };
  }
}

interface Fall {
  fromW: number;
  toW: number;
  taker: { name: string; riseW: number } | null;
  /** The control had no cause to turn down. */
  demands: boolean;
  blocks: number;
}

/** One head. */
export class OtherHeads {
  readonly #id: string;
  readonly #together: HeadsTogether;
  readonly #watts = new Float64Array(KEPT).fill(NaN);
  readonly #returnC = new Float64Array(KEPT).fill(NaN);
  #n = 0;
  #seconds = 0;
  #sumW = 0;
  #sumC = 0;
  /** Blocks since something was told. */
  #quiet = 0;
  #fall: Fall | null = null;

  constructor(id: string, together: HeadsTogether) {
    this.#id = id;
    this.#together = together;
  }

  /** Something was told to this unit: what it does now has its cause. */
  told(): void {
    this.#quiet = 0;
    this.#fall = null;
  }

  /** Takes one second; adds what is doubtful. @param name the unit's own */
  second(scene: Scene, name: string, out: Doubt[]): void {
    const { figures, ret } = scene;
    this.#sumW += figures.totalW ?? NaN;
    this.#sumC += ret.temperatureC ?? NaN;
    if (++this.#seconds === BLOCK_S) this.#block(name, scene);
    if (this.#fall !== null) say(this.#fall, out);
  }

  #block(name: string, scene: Scene): void {
    const watts = this.#sumW / BLOCK_S;
    this.#watts[this.#n % KEPT] = watts;
    this.#returnC[this.#n % KEPT] = this.#sumC / BLOCK_S;
    this.#n++;
    this.#seconds = 0;
    this.#sumW = 0;
    this.#sumC = 0;
    if (scene.defrosts) this.told();
    this.#quiet++;
    const before = this.#mean(this.#watts, KEPT, BEFORE);
    const after = this.#mean(this.#watts, AFTER, AFTER);
    this.#together.tell(this.#id, name, after - before);
    if (this.#fall === null) this.#look(before, after, demands(scene));
    else this.#follow(this.#fall, watts);
  }

  #look(before: number, after: number, demands: boolean): void {
    const lost = before - after;
    if (this.#quiet < KEPT || !(lost > LEAST_W)) return;
    if (lost < LEAST * before || lost > MOST * before) return;
    const moved = this.#mean(this.#returnC, AFTER, AFTER) - this.#mean(this.#returnC, KEPT, BEFORE);
    if (!(Math.abs(moved) < RETURN_K)) return;
    if (!this.#rests(KEPT, BEFORE, before) || !this.#rests(AFTER, AFTER, after)) return;
    const taker = this.#together.taker(this.#id, lost);
    this.#fall = { fromW: before, toW: after, taker, demands, blocks: 0 };
  }

  #follow(fall: Fall, watts: number): void {
    if (++fall.blocks < LOOKED)
      fall.taker ??= this.#together.taker(this.#id, fall.fromW - fall.toW);
    if (fall.blocks > STANDS || watts > BACK * fall.fromW) this.#fall = null;
  }

  /** The mean of `count` blocks, the first of them `ago` blocks ago; NaN where one is not known. */
  #mean(of: Float64Array, ago: number, count: number): number {
    let sum = 0;
    for (let i = 0; i < count; i++) sum += of[(this.#n - ago + i + KEPT) % KEPT] ?? NaN;
    return sum / count;
  }

  #rests(ago: number, count: number, level: number): boolean {
    let [low, high] = [Infinity, -Infinity];
    for (let i = 0; i < count; i++) {
      const watts = this.#watts[(this.#n - ago + i + KEPT) % KEPT] ?? NaN;
      low = Math.min(low, watts);
      high = Math.max(high, watts);
    }
    return high - low <= REST * level;
  }
}

function demands({ mode, setpointC, ret: { temperatureC } }: Scene): boolean {
  if (setpointC === null || temperatureC === null) return false;
  const leftK = mode === 'heating' ? setpointC - temperatureC : temperatureC - setpointC;
  return leftK >= DEMANDS_K;
}

function say({ fromW, toW, taker, demands }: Fall, out: Doubt[]): void {
  if (taker === null && !demands) return;
  const lost = kw(fromW - toW);
  const share = Math.round(100 * (1 - toW / fromW));
  out.push(
    taker === null
      ? doubt(
          'other-head',
          sent`The figure fell by ${share} % within two minutes with no change entered and the room still far from the setpoint.`,
          sent`Another head on the same outdoor unit may have started, or the fan changed speed on its own. The unit may be able to deliver ${lost} more.`,
          sent`Check whether other heads run, and whether mode and fan speed are as they were.`,
        )
      : doubt(
          'other-head',
          sent`${taker.name} took up ${kw(taker.riseW)} as this unit fell by ${lost}: they seem to share an outdoor unit.`,
          sent`The figure is what this unit gets while the other runs too.`,
          sent`For all that it can deliver, switch ${taker.name} off and wait. Note which heads ran.`,
        ),
  );
}
