/**
 * Whether the return breathes supply air all the time. A probe in the room tells: of two streams that
 * mix, the share of the second is how far the mixture lies from the first, by temperature as by moisture.
 */
import { MoistAirError } from '../../measure/moist-air.ts';
import type { Doubt } from '../../protocol.ts';
import { doubt } from '../doubt.ts';
import { airOf, type PlaceAir } from '../place.ts';
import { moistureVariance, temperatureVariance } from './air-change.ts';
import { Held } from './held.ts';
import { kelvins, type Scene } from './scene.ts';
import { sent } from '../../words/sent.ts';

/** Room and supply differ by at least this, K: of less no share can be said. */
const STREAMS_K = 6;
/** Moisture takes part where room and supply differ by this, kg/kg. */
const STREAMS_W = 0.002;
/**
 * What is said to be breathed, at least, and how far room and return differ, K: a room is not the same
 * everywhere, and heated air gathers under the ceiling, where the intake is (common practice, no source).
 */
const LEAST = { cooling: { share: 0.15, k: 1.5 }, heating: { share: 0.2, k: 3 } };
/** Of twice the standard uncertainty a difference is real. */
const SURE = 2;
/** By temperature and by moisture the share is the same, but for this and what the probes allow. */
const SAME = 0.1;
/** The means are over about so long, s. */
const MEAN_S = 60;
const ON_S = 120;
const OFF_S = 120;

/** A mean that forgets. */
function follow(mean: number, value: number): number {
  return Number.isNaN(mean) ? value : mean + (value - mean) / MEAN_S;
}

export class ShortCircuit {
  readonly #held = new Held(ON_S, OFF_S);
  #apartK = NaN;
  #streamsK = NaN;

  /** Takes one second. @returns whether the return breathes supply air, as the room's probe tells */
  second(scene: Scene): boolean {
    if (scene.placed.room.length === 0) {
      if (this.#held.is) this.clear();
      return false;
    }
    const room = roomOf(scene);
    const { temperatureC: roomC } = room;
    const { temperatureC: returnC } = scene.ret;
    const { temperatureC: supplyC } = scene.sup;
    if (roomC === null || returnC === null || supplyC === null) return this.#held.is;
    if (!scene.moving || !scene.delivers || scene.defrosts) {
      this.clear();
      return false;
    }
    this.#apartK = follow(this.#apartK, roomC - returnC);
    this.#streamsK = follow(this.#streamsK, roomC - supplyC);
    return this.#held.second(this.#breathes(scene, room));
  }

  get #share(): number {
    return this.#apartK / this.#streamsK;
  }

  #breathes({ mode, ret, sup }: Scene, room: PlaceAir): boolean {
    const least = LEAST[mode ?? 'cooling'];
    const share = this.#share;
    if (Math.abs(this.#streamsK) < STREAMS_K || share < least.share || share > 1) return false;
    const u = Math.sqrt(temperatureVariance(room) + temperatureVariance(ret));
    if (Math.abs(this.#apartK) < least.k + SURE * u) return false;
    // A warm spot of the room has the room's moisture.
    const [w, wRet, wSup] = [room.humidityRatio, ret.humidityRatio, sup.humidityRatio];
    if (mode !== 'cooling' || w === null || wRet === null || wSup === null) return true;
    if (w - wSup < STREAMS_W) return true;
    const uShare = Math.sqrt(moistureVariance(room) + moistureVariance(ret)) / (w - wSup);
    return (w - wRet) / (w - wSup) > share - SAME - SURE * uShare;
  }

  say({ mode }: Scene, out: Doubt[]): void {
    const pct = Math.round(100 * this.#share);
    const heats = mode === 'heating';
    const apart = kelvins(Math.abs(this.#apartK));
    out.push(
      doubt(
        'return-breathes-supply',
        heats
          ? sent`The return is ${apart} warmer than the room: about ${pct} % of it is supply air, or warm air lies under the ceiling.`
          : sent`The return is ${apart} colder than the room: about ${pct} % of it is supply air.`,
        sent`If only the probe gets it, the figure is too low by that much. If the unit draws it in too, the figure is right, but the unit works against itself.`,
        sent`Hang the return probe right at the intake, out of the outlet’s airstream. Turn the louver, and clear what turns the airstream back.`,
      ),
    );
  }

  clear(): void {
    this.#held.clear();
    this.#apartK = NaN;
    this.#streamsK = NaN;
  }
}

/** The room's air; what is doubtful about it is in no figure. */
function roomOf({ placed, t, pressurePa }: Scene): PlaceAir {
  try {
    return airOf(placed.room, t, pressurePa, []);
  } catch (error) {
    if (!(error instanceof MoistAirError)) throw error;
    return airOf([], t, pressurePa, []);
  }
}
