/** The barometric pressure of a visit: entered, else a probe's, else from the altitude, else assumed. */
import { pressureAtAltitudePa } from '../measure/moist-air.ts';
import { statement, type Uncertain } from '../measure/gum.ts';
import type { VisitSetup } from '../protocol.ts';
import type { ProbeRecord } from './probe.ts';

export interface Pressure {
  pa: number;
  source: VisitSetup['pressureSource'];
  /** How far it may be off, Pa. */
  error: Uncertain;
}

const SEA_LEVEL_PA = 101_325;
/** ± of a pressure read off a barometer or a weather station, Pa (common practice, no source). */
const ENTERED_LIMIT_PA = 200;
/** ± by which the weather moves it about the standard atmosphere, Pa (common practice, no source). */
const WEATHER_LIMIT_PA = 2000;

/** Picks it; the probes have been sampled for the present second. */
export function pressureOf(
  enteredPa: number | null,
  altitudeM: number | null,
  probes: Iterable<ProbeRecord>,
): Pressure {
  if (enteredPa !== null) {
    return { pa: enteredPa, source: 'entered', error: statement(ENTERED_LIMIT_PA) };
  }
  let sum = 0;
  let n = 0;
  let limit = 0;
  for (const probe of probes) {
    if (Number.isNaN(probe.now.pressurePa)) continue;
    sum += probe.now.pressurePa;
    n++;
    limit = Math.max(limit, probe.limits.pressurePa ?? ENTERED_LIMIT_PA);
  }
  if (n > 0) return { pa: sum / n, source: 'probe', error: statement(limit) };
  const error = statement(WEATHER_LIMIT_PA);
  if (altitudeM !== null) return { pa: pressureAtAltitudePa(altitudeM), source: 'altitude', error };
  return { pa: SEA_LEVEL_PA, source: 'assumed', error };
}
