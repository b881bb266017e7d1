/** What can be wrong with a probe, beside the errors that its data sheet allows. */
import {
  humidityRatioFromVapourPressure,
  saturationHumidityRatio,
  vapourPressurePa,
  wetBulbC,
} from '../server/measure/moist-air.ts';

export interface ProbeFault {
  /** How wet it is in a stream of droplets, 0…1: at 1 it reads the wet bulb and saturation. */
  readonly wet?: number;
  /** How fast its temperature walks off, K/h; what it has walked stays. */
  readonly driftKPerH?: number;
}

/** Air as a probe meets it. */
interface Met {
  readonly temperatureC: number;
  readonly vapourPressurePa: number;
  readonly pressurePa: number;
}

/**
 * What a wet probe finds around itself: water evaporates from it and cools it towards the wet bulb, and the
 * air at its sensors is damper by as much. So its enthalpy is hardly off, and its split of sensible and latent
 * is.
 * @param wet how wet it is, 0…1
 */
export function wetted<Air extends Met>(around: Air, wet: number): Air {
  if (wet === 0) return around;
  const { temperatureC, vapourPressurePa: vapourPa, pressurePa } = around;
  const W = humidityRatioFromVapourPressure(vapourPa, pressurePa);
  const wetC = Math.min(wetBulbC(temperatureC, W, pressurePa), temperatureC);
  const saturatedPa = vapourPressurePa(saturationHumidityRatio(wetC, pressurePa), pressurePa);
  return {
    ...around,
    temperatureC: temperatureC + wet * (wetC - temperatureC),
    vapourPressurePa: vapourPa + wet * (saturatedPa - vapourPa),
  };
}
