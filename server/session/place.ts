/** The air at one place of a unit: the means of its live probes, and how far each may be off. */
import {
  humidityRatioFromDewPoint,
  humidityRatioPartials,
  saturationHumidityRatio,
  stateFromHumidityRatio,
} from '../measure/moist-air.ts';
import { statement } from '../measure/gum.ts';
import type { PlaceProbe } from '../measure/uncertainty.ts';
import type { Air, Doubt } from '../protocol.ts';
import { type Correction, humidityError, temperatureError } from './correction.ts';
import { doubts } from './doubts.ts';
import type { ProbeRecord } from './probe.ts';

/** Relative humidity up to which a data sheet's ± mostly holds, and from which it does not. */
const HUMIDITY_RANGE = { low: 10, high: 95 };

/** The probes that hang at a unit, by place. */
export interface PlacedProbes {
  return: ProbeRecord[];
  supply: ProbeRecord[];
  outlet: ProbeRecord[];
  room: ProbeRecord[];
  /** Some of its probes lie in a side-by-side check at the moment. */
  checking: boolean;
}

/** A live probe with what its last check found, which tells whom it can be compared with. */
export interface LiveProbe extends PlaceProbe {
  correction: Correction | null;
}

export interface PlaceAir {
  /** As it is shown. */
  air: Air;
  /** Null where no probe with a live temperature hangs. */
  temperatureC: number | null;
  humidityRatio: number | null;
  /** The live probes, and how far each may be off. */
  probes: LiveProbe[];
  /** Whether all their limits are known. */
  limitsKnown: boolean;
}

export const NO_AIR: Air = {
  temperatureC: null,
  humidityPct: null,
  wetBulbC: null,
  dewPointC: null,
  humidityRatio: null,
  enthalpyJkg: null,
};

/** Air of which nothing is known. */
export const NOTHING: PlaceAir = {
  air: NO_AIR,
  temperatureC: null,
  humidityRatio: null,
  probes: [],
  limitsKnown: false,
};

function whyNot(probe: ProbeRecord, t: number): Doubt {
  if (probe.lastT === -Infinity) return doubts.unheard(probe);
  return probe.isLive(t) ? doubts.noTemperature(probe) : doubts.stale(probe, t);
}

/** Whether the limits of all that the probe measures are known. */
function known({ limits, now }: ProbeRecord): boolean {
  if (limits.temperatureC === undefined) return false;
  if (!Number.isNaN(now.humidityPct)) return limits.humidityPct !== undefined;
  return Number.isNaN(now.dewPointC) || limits.dewPointC !== undefined;
}

/**
 * Averages temperature and humidity ratio (each from its own probe's temperature) over the probes
 * that are live in the second that ends at `t`, and adds to `out` what is doubtful about them.
 * @throws MoistAirError where the readings describe air that cannot be
 */
export function airOf(
  probes: readonly ProbeRecord[],
  t: number,
  pPa: number,
  out: Doubt[],
): PlaceAir {
  const live: LiveProbe[] = [];
  let limitsKnown = true;
  let sumT = 0;
  let sumW = 0;
  let nW = 0;
  for (const probe of probes) {
    const { temperatureC } = probe.now;
    if (Number.isNaN(temperatureC)) {
      out.push(whyNot(probe, t));
      continue;
    }
    if (probe.temperatureC?.late(t) === true) out.push(doubts.late(probe, t));
    const share = shareOf(probe, temperatureC, t, pPa, out);
    limitsKnown &&= known(probe);
    live.push(share);
    sumT += temperatureC;
    if (share.humidityRatio !== null) {
      sumW += share.humidityRatio;
      nW++;
    }
  }
  const n = live.length;
  if (n === 0) return { ...NOTHING };
  const temperatureC = sumT / n;
  const humidityRatio = nW > 0 ? sumW / nW : null;
  const air = shown(temperatureC, humidityRatio, pPa);
  if (n > 1 && (air.humidityPct ?? 0) > 101) out.push(doubts.mixed());
  return {
    air,
    temperatureC,
    humidityRatio,
    probes: live,
    limitsKnown,
  };
}

function shown(temperatureC: number, W: number | null, pPa: number): Air {
  if (W === null) return { ...NO_AIR, temperatureC };
  const state = stateFromHumidityRatio(temperatureC, W, pPa);
  return {
    temperatureC,
    humidityPct: state.humidityPct,
    wetBulbC: state.wetBulbC,
    dewPointC: state.dewPointC,
    humidityRatio: W,
    enthalpyJkg: state.enthalpyJkg,
  };
}

/** W of one probe and how it depends on its readings. Over-saturated readings are cut to saturation. */
function shareOf(
  probe: ProbeRecord,
  temperatureC: number,
  t: number,
  pPa: number,
  out: Doubt[],
): LiveProbe {
  const { humidityPct, dewPointC } = probe.now;
  const { limits, correction } = probe;
  const share: LiveProbe = {
    id: probe.id,
    temperatureC,
    humidityRatio: null,
    wPerK: 0,
    wPerHumidity: 0,
    wPerPa: 0,
    temperature: temperatureError(limits, correction, temperatureC, t),
    humidity: NO_ERROR,
    shared: -1,
    sharesHumidity: false,
    correction,
  };
  if (!Number.isNaN(humidityPct)) {
    if (probe.raw.humidityPct >= 100) out.push(doubts.saturated(probe));
    else if (humidityPct < HUMIDITY_RANGE.low || humidityPct > HUMIDITY_RANGE.high) {
      out.push(doubts.humidityRange(probe));
    }
    const pct = Math.min(Math.max(humidityPct, 0), 100);
    const s = humidityRatioPartials(temperatureC, pct, pPa);
    share.humidityRatio = s.humidityRatio;
    share.wPerK = s.wPerK;
    share.wPerHumidity = s.wPerPct;
    share.wPerPa = s.wPerPa;
    share.humidity = humidityError(limits, correction, pct, t);
  } else if (!Number.isNaN(dewPointC)) {
    if (dewPointC >= temperatureC) {
      out.push(doubts.saturated(probe));
      share.humidityRatio = saturationHumidityRatio(temperatureC, pPa);
    } else {
      share.humidityRatio = humidityRatioFromDewPoint(dewPointC, pPa);
    }
    const s = humidityRatioPartials(Math.min(dewPointC, temperatureC), 100, pPa);
    share.wPerHumidity = s.wPerK;
    share.wPerPa = s.wPerPa;
    share.humidity = statement(limits.dewPointC ?? 0, limits.k);
  }
  return share;
}
const NO_ERROR = { u: 0, shape: 0 };
