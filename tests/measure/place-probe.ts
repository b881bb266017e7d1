/** A probe of a budget, for the tests: what it reads, and the standard uncertainties of that. */
import { NORMAL } from '../../server/measure/gum.ts';
import { REAL_AIR, statePartials } from '../../server/measure/moist-air.ts';
import type { PlaceProbe } from '../../server/measure/uncertainty.ts';

export interface ProbeOf {
  tC: number;
  rhPct: number;
  pPa: number;
  uT?: number;
  uRh?: number;
  /** Excess kurtosis of both errors; normal where it is left out. */
  shape?: number;
  shared?: number;
  id?: string;
}

export function placeProbe(of: ProbeOf, model = REAL_AIR): PlaceProbe {
  const { tC, rhPct, pPa, uT = 0, uRh = 0, shape = NORMAL, shared = -1, id = 'p' } = of;
  const { humidityRatio, wPerK, wPerPct, wPerPa } = statePartials(tC, rhPct, pPa, model);
  return {
    id,
    temperatureC: tC,
    humidityRatio,
    wPerK,
    wPerHumidity: wPerPct,
    wPerPa,
    temperature: { u: uT, shape },
    humidity: { u: uRh, shape },
    shared,
    sharesHumidity: shared >= 0,
    flowShare: 1,
  };
}
