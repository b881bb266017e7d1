/**
 * Situations of the trade that a unit can be in: what explains a figure that is nothing, or has the wrong
 * sign, and what makes one doubtful that looks right. Of those that explain the same, the first holds.
 */
import type { Doubt } from '../../protocol.ts';
import { doubts } from '../doubts.ts';
import { riseOf } from './air-change.ts';
import { CoilDrying } from './coil-drying.ts';
import { DuctHeat } from './duct-heat.ts';
import { FanAuto } from './fan-auto.ts';
import { LouvreSwings } from './louvre-swings.ts';
import { type HeadsTogether, OtherHeads } from './other-heads.ts';
import { OutletProbe } from './outlet-probe.ts';
import { ProbesDiffer } from './probes-differ.ts';
import { Reheat } from './reheat.ts';
import type { Scene } from './scene.ts';
import { ShortCircuit } from './short-circuit.ts';

/** Of a figure without an interval, W. */
const NOTHING_W = 50;
/** Supply this much on the wrong side of return tells that something is amiss, K. */
const WRONG_SIDE_K = 0.5;

export class Situations {
  readonly #differ = [new ProbesDiffer('return'), new ProbesDiffer('supply')];
  readonly #outletProbe = new OutletProbe();
  readonly #reheat = new Reheat();
  readonly #coilDrying = new CoilDrying();
  readonly #shortCircuit = new ShortCircuit();
  readonly #ductHeat = new DuctHeat();
  readonly #otherHeads: OtherHeads;
  readonly #fanAuto = new FanAuto();
  readonly #louvre = new LouvreSwings();

  constructor(id: string, together: HeadsTogether) {
    this.#otherHeads = new OtherHeads(id, together);
  }

  /** Takes one second, and adds what it finds. @param name the unit's */
  second(scene: Scene, name: string, out: Doubt[]): void {
    this.#outletProbe.second(scene, out);
    this.#fanOrLouvre(scene, out);
    if (this.#probesDiffer(scene, out)) return;
    this.#otherHeads.second(scene, name, out);
    if (this.#shortCircuit.second(scene)) this.#shortCircuit.say(scene, out);
    else if (scene.alongShare !== null) out.push(doubts.recirculation(scene.alongShare));
    this.#wrongOrNothing(scene, out);
  }

  /** What moves by itself while the coil's work does not. */
  #fanOrLouvre(s: Scene, out: Doubt[]): void {
    const { t, figures, dryAirKgs, ret, sup } = s;
    const returnC = ret.temperatureC ?? NaN;
    const supplyC = sup.temperatureC ?? NaN;
    const swings = s.delivers
      ? this.#louvre.second(supplyC, supplyC - returnC, s.velocityMs)
      : this.#louvre.restart();
    if (swings) out.push(swings);
    if (s.follows) this.#fanAuto.told();
    else if (!s.delivers || s.comesAndGoes) this.#fanAuto.compressorMoves(t);
    if (figures.totalW === null || dryAirKgs === null || s.follows) {
      this.#fanAuto.interrupt();
      return;
    }
    const steps = this.#fanAuto.second({
      t,
      heard: s.heard,
      air: {
        heatJkg: figures.totalW / dryAirKgs,
        returnC,
        supplyC,
        returnW: ret.humidityRatio ?? NaN,
        supplyW: sup.humidityRatio ?? NaN,
      },
      heating: s.mode === 'heating',
      pressurePa: s.pressurePa,
      dryAirKgs,
    });
    if (steps === null) return;
    out.push(steps);
    // What the fan explains is no other head's doing.
    this.#otherHeads.told();
  }

  #probesDiffer(scene: Scene, out: Doubt[]): boolean {
    let is = false;
    for (const place of this.#differ) {
      if (!place.second(scene)) continue;
      place.say(scene, out);
      is = true;
    }
    return is;
  }

  /** Why the figure is nothing, or has the wrong sign. */
  #wrongOrNothing(scene: Scene, out: Doubt[]): void {
    const { mode, moving, delivers, figures } = scene;
    const reheats = this.#reheat.second(scene);
    const dries = this.#coilDrying.second(scene);
    const gains = this.#ductHeat.second(scene);
    this.#ductHeat.say(out);
    if (reheats) this.#reheat.say(scene, out);
    else if (dries) this.#coilDrying.say(scene, out);
    if (reheats || dries || gains) return;
    // Nobody is sent to the unit while its probes may be what is wrong.
    if (this.#differ.some((place) => place.may)) return;
    const rise = riseOf(scene.ret, scene.sup);
    const warmer = mode === 'cooling' && rise > WRONG_SIDE_K;
    const colder = mode === 'heating' && rise < -WRONG_SIDE_K;
    if (warmer) out.push(doubts.supplyWarmer(figures.totalW));
    if (colder) out.push(doubts.supplyColder());
    if (!moving || delivers || figures.totalW === null) return;
    // A figure of the wrong sign is not none.
    const isNone = figures.totalW >= -(figures.totalU95W ?? NOTHING_W);
    if (isNone || !(warmer || colder)) out.push(doubts.nothingDelivered());
  }

  /** Something was told to the unit: a setpoint, a fan speed, an airflow. */
  told(): void {
    this.#otherHeads.told();
  }

  /** A reading has stood for more than a minute: what changes with the next one may have done so slowly. */
  stands(): void {
    this.#otherHeads.told();
    this.#fanAuto.interrupt();
    this.#louvre.restart();
  }

  /** Another airflow, or fan speed, is told. */
  airflowTold(): void {
    this.#fanAuto.told();
  }

  /** The compressor is about to move, as after a setpoint of this unit or of another one beside it. */
  compressorMoves(t: number): void {
    this.#fanAuto.compressorMoves(t);
  }

  /** The figures are of another kind from now on. */
  beginAnew(): void {
    this.#fanAuto.interrupt();
    this.#louvre.restart();
  }

  /** Its probes hang elsewhere: what was found is of the past. */
  probesMoved(): void {
    for (const place of this.#differ) place.clear();
    this.#reheat.clear();
    this.#coilDrying.clear();
    this.#shortCircuit.clear();
    this.#ductHeat.clear();
  }
}
