/** Situations of the trade that a figure does not show by itself: each has a file, and a doubt. */
import type { Mode } from '../../../adapters/contract.ts';
import type { CapacitySnapshot, Doubt } from '../../protocol.ts';
import type { PlaceAir } from '../place.ts';
import { FanAuto } from './fan-auto.ts';
import { LouvreSwings } from './louvre-swings.ts';

/** One second of a unit, as situations are looked for in it. */
export interface SituationSecond {
  t: number;
  mode: Mode | null;
  /** Whether the supply was heard anew. */
  heard: boolean;
  /** The air of both places; null where it cannot be. */
  air: { ret: PlaceAir; sup: PlaceAir } | null;
  /** In the outlet, m/s; NaN where it is not known. */
  velocityMs: number;
  figures: CapacitySnapshot;
  /** Flow of dry air in use, kg/s; null where there is no figure. */
  dryAirKgs: number | null;
  pressurePa: number;
  /** Whether it delivers what can be told from nothing. */
  delivers: boolean;
  /** Whether it comes and goes by itself: it cycles, or defrosts. */
  comesAndGoes: boolean;
  /** Whether the airflow follows the velocity in the outlet. */
  follows: boolean;
}

export class Situations {
  readonly #fanAuto = new FanAuto();
  readonly #louvre = new LouvreSwings();

  /** Another airflow, or fan speed, is told. */
  airflowTold(): void {
    this.#fanAuto.told();
  }

  /** The compressor is about to move, as after a setpoint of this unit or of another one beside it. */
  compressorMoves(t: number): void {
    this.#fanAuto.compressorMoves(t);
  }

  /** A probe hangs elsewhere, or the figures are of another kind. */
  beginAnew(): void {
    this.#fanAuto.interrupt();
    this.#louvre.restart();
  }

  /** Takes one second, and adds to `found` what is doubtful. */
  second(s: SituationSecond, found: Doubt[]): void {
    const { t, figures, dryAirKgs } = s;
    const returnC = s.air?.ret.temperatureC ?? NaN;
    const supplyC = s.air?.sup.temperatureC ?? NaN;
    if (s.delivers) add(found, this.#louvre.second(supplyC, supplyC - returnC, s.velocityMs));
    else this.#louvre.restart();
    if (s.follows) this.#fanAuto.told();
    else if (!s.delivers || s.comesAndGoes) this.#fanAuto.compressorMoves(t);
    if (figures.totalW === null || dryAirKgs === null || s.follows) {
      this.#fanAuto.interrupt();
      return;
    }
    const doubt = this.#fanAuto.second({
      t,
      heard: s.heard,
      air: {
        heatJkg: figures.totalW / dryAirKgs,
        returnC,
        supplyC,
        returnW: s.air?.ret.humidityRatio ?? NaN,
        supplyW: s.air?.sup.humidityRatio ?? NaN,
      },
      heating: s.mode === 'heating',
      pressurePa: s.pressurePa,
      dryAirKgs,
    });
    add(found, doubt);
  }
}

function add(found: Doubt[], doubt: Doubt | null): void {
  if (doubt !== null) found.push(doubt);
}
