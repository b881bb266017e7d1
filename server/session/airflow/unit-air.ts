/** What the methods other than a traverse read of a unit's air, second by second. */
import { volumeM3kg } from '../../measure/air-model.ts';
import { ofMean } from '../../measure/evenness.ts';
import { statement } from '../../measure/gum.ts';
import type { UnitEvenness } from '../evenness.ts';
import { moistureGap } from '../moisture.ts';
import { LEFT_PER_K } from '../correction.ts';
import type { LiveProbe, PlaceAir } from '../place.ts';
import { type ZeroProbe, zeroOf } from '../placed-zero.ts';

/** The air of one second at a unit; null: not known. */
export interface UnitAir {
  returnC: number | null;
  /** Supply less return, K. */
  riseK: number | null;
  /** Standard uncertainty of that by the probes and their places, K; of what a second scatters: no part. */
  riseU: number;
  /** By how much that grows with each kelvin that the supply warms, as a part of it. */
  risePerK: number;
  /** The live probes of both places; none where the ± of one of them is not known. */
  probes: readonly { place: ZeroProbe['place']; probe: LiveProbe }[];
  /** Return less supply, kg/kg, and its standard uncertainty. */
  dropW: number | null;
  dropU: number;
  humidityRatio: number | null;
  /** Volume per kg of dry air, m³/kg. */
  supplyVolumeM3kg: number | null;
  returnVolumeM3kg: number | null;
  /** Of the coil, 0 dry to 1 wet. */
  wetness: number;
}

const NOT_KNOWN: UnitAir = {
  returnC: null,
  riseK: null,
  riseU: NaN,
  risePerK: NaN,
  probes: [],
  dropW: null,
  dropU: NaN,
  humidityRatio: null,
  supplyVolumeM3kg: null,
  returnVolumeM3kg: null,
  wetness: 0,
};

/** Air of which no humidity is known is taken for this, kg/kg: 1 % of its density. */
const TYPICAL_W = 0.008;

/** @param wetness of the coil, 0 to 1 */
export function unitAir(
  ret: PlaceAir,
  sup: PlaceAir,
  even: UnitEvenness,
  pPa: number,
  wetness: number,
): UnitAir {
  const air = { ...NOT_KNOWN, wetness };
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
  const zero = zeroOf(ret, sup);
  air.riseU = Math.hypot(ownU(ret), ownU(sup), zero?.shared.found.u ?? 0);
  air.risePerK = LEFT_PER_K * sheetU(sup);
  if (ret.limitsKnown && sup.limitsKnown) {
    air.probes = [
      ...ret.probes.map((probe) => ({ place: 'return' as const, probe })),
      ...sup.probes.map((probe) => ({ place: 'supply' as const, probe })),
    ];
  }
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

const ofMeanU = ({ probes }: PlaceAir, uOf: (probe: LiveProbe) => number): number =>
  Math.sqrt(probes.reduce((sum, p) => sum + uOf(p) ** 2, 0)) / probes.length;
const ownU = (place: PlaceAir): number => ofMeanU(place, (p) => p.temperature.u);
const sheetU = (place: PlaceAir): number =>
  ofMeanU(place, ({ limits }) => statement(limits.temperatureC ?? 0, limits.k).u);
