/** What the situations of one second are told by. */
import type { Mode } from '../../../adapters/contract.ts';
import type { CapacitySnapshot } from '../../protocol.ts';
import type { PlaceAir, PlacedProbes } from '../place.ts';
import { sent } from '../../words/sent.ts';

export interface Scene {
  /** When the second ends, ms. */
  t: number;
  pressurePa: number;
  mode: Mode | null;
  /** A person has told the mode. */
  isTold: boolean;
  /** As last told, °C; null where nobody has. */
  setpointC: number | null;
  placed: PlacedProbes;
  ret: PlaceAir;
  sup: PlaceAir;
  figures: CapacitySnapshot;
  /** Flow of dry air, kg/s; null where not known. */
  dryAirKgs: number | null;
  /** The fan runs. */
  moving: boolean;
  /** The figure can be told from nothing. */
  delivers: boolean;
  /** The share of supply air in the return by how both move, see `Recirculation`. */
  alongShare: number | null;
  /** A defrost goes on, or has just ended. */
  defrosts: boolean;
  /** Whether the supply was heard anew. */
  heard: boolean;
  /** In the outlet, m/s; NaN where it is not known. */
  velocityMs: number;
  /** Whether it comes and goes by itself: it cycles, or defrosts. */
  comesAndGoes: boolean;
  /** Whether the airflow follows the velocity in the outlet. */
  follows: boolean;
}

/** Power in words: "−0.4 kW". */
export function kw(watts: number): string {
  const text = (Math.abs(watts) / 1000).toFixed(1);
  return sent`${watts < 0 && text !== '0.0' ? '−' : ''}${text} kW`;
}

/** A difference of temperature in words: "2.3 K (4.1 °F)", from 5 K on in whole ones. */
export function kelvins(k: number): string {
  const digits = k < 5 ? 1 : 0;
  return `${k.toFixed(digits)} K (${(1.8 * k).toFixed(digits)} °F)`;
}

/** Moisture in words: "1.8 g/kg (13 gr/lb)". */
export const moistureWords = (humidityRatio: number): string =>
  sent`${(1000 * humidityRatio).toFixed(1)} g/kg (${(7000 * humidityRatio).toFixed(0)} gr/lb)`;
