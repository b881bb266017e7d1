/** The air at one place of a unit: the means of its live probes, with their covariance. */
import {
  humidityRatioFromDewPoint,
  saturationHumidityRatio,
  stateFromHumidityRatio,
  statePartials,
} from '../measure/moist-air.ts';
import {
  meanCovariance,
  type PointCovariance,
  type ProbeShare,
  rectangular,
} from '../measure/uncertainty.ts';
import type { Air, Doubt } from '../protocol.ts';
import { doubts } from './doubts.ts';
import type { ProbeRecord } from './probe.ts';

export interface PlaceAir {
  /** As it is shown. */
  air: Air;
  /** Null where no probe with a live temperature hangs. */
  temperatureC: number | null;
  humidityRatio: number | null;
  /** Null where a probe's limits are not known. */
  covariance: PointCovariance | null;
}

export const NO_AIR: Air = {
  temperatureC: null,
  humidityPct: null,
  wetBulbC: null,
  dewPointC: null,
  humidityRatio: null,
  enthalpyJkg: null,
};

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
  const shares: ProbeShare[] = [];
  let limitsKnown = true;
  let sumT = 0;
  let sumW = 0;
  let nW = 0;
  for (const probe of probes) {
    const { temperatureC } = probe.now;
    if (Number.isNaN(temperatureC)) {
      if (probe.lastT > -Infinity) out.push(doubts.stale(probe, t));
      continue;
    }
    if (probe.temperatureC?.late(t) === true) out.push(doubts.late(probe, t));
    const share = shareOf(probe, temperatureC, pPa, out);
    limitsKnown &&= share.limitsKnown;
    shares.push(share);
    sumT += temperatureC;
    if (share.humidityRatio !== null) {
      sumW += share.humidityRatio;
      nW++;
    }
  }
  const n = shares.length;
  if (n === 0) return { air: NO_AIR, temperatureC: null, humidityRatio: null, covariance: null };
  const temperatureC = sumT / n;
  const humidityRatio = nW > 0 ? sumW / nW : null;
  return {
    air: shown(temperatureC, humidityRatio, pPa),
    temperatureC,
    humidityRatio,
    covariance: limitsKnown ? meanCovariance(shares) : null,
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
  pPa: number,
  out: Doubt[],
): ProbeShare & { limitsKnown: boolean } {
  const { humidityPct, dewPointC } = probe.now;
  const { limits } = probe;
  const share: ProbeShare & { limitsKnown: boolean } = {
    temperatureC,
    humidityRatio: null,
    uTemperature: rectangular(limits.temperatureC ?? 0),
    uHumidity: 0,
    wPerK: 0,
    wPerHumidity: 0,
    limitsKnown: limits.temperatureC !== undefined,
  };
  if (!Number.isNaN(humidityPct)) {
    if (humidityPct >= 100) out.push(doubts.saturated(probe));
    const s = statePartials(temperatureC, Math.min(humidityPct, 100), pPa);
    share.humidityRatio = s.humidityRatio;
    share.wPerK = s.wPerK;
    share.wPerHumidity = s.wPerPct;
    share.uHumidity = rectangular(limits.humidityPct ?? 0);
    share.limitsKnown &&= limits.humidityPct !== undefined;
  } else if (!Number.isNaN(dewPointC)) {
    if (dewPointC >= temperatureC) {
      out.push(doubts.saturated(probe));
      share.humidityRatio = saturationHumidityRatio(temperatureC, pPa);
    } else {
      share.humidityRatio = humidityRatioFromDewPoint(dewPointC, pPa);
    }
    share.wPerHumidity = statePartials(Math.min(dewPointC, temperatureC), 100, pPa).wPerK;
    share.uHumidity = rectangular(limits.dewPointC ?? 0);
    share.limitsKnown &&= limits.dewPointC !== undefined;
  }
  return share;
}
