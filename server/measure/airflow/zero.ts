/**
 * Zero in place: the fan alone, on a dry coil, adds its own watts and nothing else. What return and
 * supply differ by beyond that is the probes' error, and that of their places, in this one state of air.
 */
import { moistHeat } from '../moist-air.ts';
import { statement } from '../gum.ts';

export interface ZeroInputs {
  /** Supply less return, K, as read, and its standard uncertainty by how it scatters. */
  riseK: number;
  riseU: number;
  /** The fan's own heat into the air, W, and ± of it as a part. */
  fanW: number;
  fanLimit?: number | undefined;
  dryAirKgs: number;
  /** Standard uncertainty of that flow, as a part of it. */
  flowU: number;
  humidityRatio: number;
  /** How fast the return gets warmer meanwhile, K/s; 0 where nothing is said. */
  driftKs?: number | undefined;
}

export interface Zero {
  /** What supply less return is off by, K. */
  offsetK: number;
  /** Standard uncertainty, and half-width of 95 %, K. */
  u: number;
  u95K: number;
}

/** A fan's nameplate says its input to so much, and all of it ends in the air (an assumption). */
const FAN_LIMIT = 0.3;

/**
 * The coil's metal follows the air that long later, s; from nothing to twice as long all is equally likely
 * (an assumption: 3 to 8 kJ/K of metal in 0.1 to 0.2 kg/s of air). In a room that warms the supply stays
 * behind by so much.
 */
const COIL_S = 40;

export function zeroInPlace(x: ZeroInputs): Zero {
  const fanK = x.fanW / (x.dryAirKgs * moistHeat(x.humidityRatio));
  const fanU = fanK * Math.hypot(statement(x.fanLimit ?? FAN_LIMIT).u, x.flowU);
  const behindK = COIL_S * (x.driftKs ?? 0);
  const u = Math.hypot(x.riseU, fanU, statement(Math.abs(behindK)).u);
  return { offsetK: x.riseK - fanK + behindK, u, u95K: 1.96 * u };
}
