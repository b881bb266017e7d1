/** What the methods other than a traverse read of a unit's air, second by second. */
import { volumeM3kg } from '../../measure/air-model.ts';
import { ofMean } from '../../measure/evenness.ts';
import type { UnitEvenness } from '../evenness.ts';
import { moistureGap } from '../moisture.ts';
import type { PlaceAir } from '../place.ts';

/** The air of one second at a unit; null: not known. */
export interface UnitAir {
  returnC: number | null;
  /** Supply less return, K. */
  riseK: number | null;
  /** Standard uncertainty of that by the probes and their places, K; of what a second scatters: no part. */
  riseU: number;
  /** Return less supply, kg/kg, and its standard uncertainty. */
  dropW: number | null;
  dropU: number;
  humidityRatio: number | null;
  /** Volume per kg of dry air, m³/kg. */
  supplyVolumeM3kg: number | null;
  returnVolumeM3kg: number | null;
}

const NOT_KNOWN: UnitAir = {
  returnC: null,
  riseK: null,
  riseU: NaN,
  dropW: null,
  dropU: NaN,
  humidityRatio: null,
  supplyVolumeM3kg: null,
  returnVolumeM3kg: null,
};

/** Air of which no humidity is known is taken for this, kg/kg: 1 % of its density. */
const TYPICAL_W = 0.008;

export function unitAir(ret: PlaceAir, sup: PlaceAir, even: UnitEvenness, pPa: number): UnitAir {
  const air = { ...NOT_KNOWN };
  const volume = (place: PlaceAir): number | null =>
    place.temperatureC === null
      ? null
      : volumeM3kg(place.temperatureC, place.humidityRatio ?? TYPICAL_W, pPa);
  air.supplyVolumeM3kg = volume(sup);
  air.returnVolumeM3kg = volume(ret);
  air.returnC = ret.temperatureC;
  air.humidityRatio = ret.humidityRatio ?? sup.humidityRatio;
  if (ret.temperatureC === null || sup.temperatureC === null) return air;
  air.riseK = sup.temperatureC - ret.temperatureC;
  air.riseU = Math.hypot(ownU(ret), ownU(sup));
  const gap = moistureGap(ret.probes, sup.probes);
  if (gap === null) return air;
  air.dropW = -gap.gapW;
  const spots = [
    [even.return.evenness(air.riseK, ret.walked, ret.wPerK), ret],
    [even.supply.evenness(air.riseK, sup.walked, sup.wPerK), sup],
  ] as const;
  let square = gap.uW ** 2;
  for (const [{ spotK, degrees, wPerK, walked }, { probes }] of spots) {
    square += (spotK * wPerK * ofMean(1 / probes.length, degrees, walked)) ** 2;
  }
  air.dropU = Math.sqrt(square);
  return air;
}

const ownU = ({ probes }: PlaceAir): number =>
  Math.sqrt(probes.reduce((sum, p) => sum + p.temperature.u ** 2, 0)) / probes.length;
