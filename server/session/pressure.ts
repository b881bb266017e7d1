/** The barometric pressure of a visit: entered, else a probe's, else from the altitude, else assumed. */
import { meanPerPa } from '../measure/budget.ts';
import { type AirPoint, capacity, type Capacity, type Flow } from '../measure/capacity.ts';
import type { Mode } from '../../adapters/contract.ts';
import { pressureAtAltitudePa } from '../measure/moist-air.ts';
import { statement, type Uncertain } from '../measure/gum.ts';
import type { Doubt, VisitSetup } from '../protocol.ts';
import { doubt } from './doubt.ts';
import type { PlaceAir } from './place.ts';
import type { ProbeRecord } from './probe.ts';
import { sent } from '../words/sent.ts';

export interface Pressure {
  pa: number;
  source: VisitSetup['pressureSource'];
  /** How far it may be off, Pa. */
  error: Uncertain;
}

const SEA_LEVEL_PA = 101_325;
/** Of a figure next to nothing, a change is no share that says anything, %. */
const UNREADABLE_PCT = 5;
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

/** The height for which the doubt says what an assumed pressure costs, m. */
const STEP_M = 100;

const assumed = (effect: string): Doubt =>
  doubt(
    'pressure-assumed',
    sent`No barometric pressure entered: Plateau assumes 101.3 kPa (sea level).`,
    effect,
    sent`Enter the pressure or the altitude.`,
  );

/** Sea level is assumed, and there is no figure of which could be said what that costs. */
export const pressureAssumed = (): Doubt =>
  assumed(sent`On higher ground a figure is off by up to 1.2 % for each 100 m.`);

/**
 * Sea level is assumed: what that costs of this unit's figure. Thin air weighs less, which takes from an
 * actual flow (and nothing from a mass flow); but at one relative humidity it holds more water a
 * kilogram, which gives back on a wet coil.
 * @param c the capacity of these points and this flow
 * @returns null where it costs nothing, as of a mass flow while heating
 */
export function pressureAssumedAt(
  mode: Mode,
  c: Capacity,
  { from, to }: { from: AirPoint; to: AirPoint },
  ret: PlaceAir,
  sup: PlaceAir,
  flow: Flow,
): Doubt | null {
  const pa = pressureAtAltitudePa(STEP_M);
  const up = (point: AirPoint, { probes }: PlaceAir): AirPoint => ({
    temperatureC: point.temperatureC,
    humidityRatio: point.humidityRatio + meanPerPa(probes) * (pa - SEA_LEVEL_PA),
  });
  const pct = 100 * (c.totalW / capacity(mode, up(from, ret), up(to, sup), flow, pa).totalW - 1);
  const size = Math.abs(pct).toFixed(1);
  if (size === '0.0') return null;
  if (!(Math.abs(pct) < UNREADABLE_PCT)) return pressureAssumed();
  return assumed(
    sent`On higher ground this figure is too ${pct > 0 ? sent`high` : sent`low`} by about ${size} % for each ${STEP_M} m.`,
  );
}
