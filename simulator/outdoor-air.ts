/** The air outdoors: given, with a slow drift. */
import { humidityRatio } from '../server/measure/moist-air.ts';
import type { Air } from './air.ts';

export interface OutdoorAirParameters {
  readonly temperatureC: number;
  /** Relative humidity at the start, %. */
  readonly humidityPct: number;
  /** How fast it warms, K/h (negative: cools). The humidity ratio stays. */
  readonly driftKPerH: number;
}

/** Makes the outdoor air as a function of the seconds since the start. */
export function outdoorAir(
  parameters: OutdoorAirParameters,
  pressurePa: number,
): (elapsedS: number) => Air {
  const { temperatureC, humidityPct, driftKPerH } = parameters;
  const W = humidityRatio(temperatureC, humidityPct, pressurePa);
  return (elapsedS) => ({
    temperatureC: temperatureC + (driftKPerH * elapsedS) / 3600,
    humidityRatio: W,
  });
}
