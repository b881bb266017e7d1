/** The air at one place of a unit: the means of its live probes, and how far each may be off. */
import {
  humidityRatioFromDewPoint,
  humidityRatioPartials,
  saturationHumidityRatio,
  stateFromHumidityRatio,
} from '../measure/moist-air.ts';
import { statement } from '../measure/gum.ts';
import type { Limits } from '../../adapters/contract.ts';
import type { PlaceProbe } from '../measure/uncertainty.ts';
import type { Air, Doubt } from '../protocol.ts';
import {
  type Correction,
  humidityError,
  humidityWidening,
  temperatureError,
} from './correction.ts';
import { doubt, of } from './doubt.ts';
import { doubts } from './doubts.ts';
import type { EvennessOf } from './evenness.ts';
import { type PlacedZero, zeroedError } from './placed-zero.ts';
import type { ProbeRecord } from './probe.ts';
import { sent } from '../words/sent.ts';

/** The probes that hang at a unit, by place. */
export interface PlacedProbes {
  return: ProbeRecord[];
  supply: ProbeRecord[];
  outlet: ProbeRecord[];
  room: ProbeRecord[];
  /** The side-by-side check that some of its probes lie in at the moment. */
  check: { readonly heardEnough: boolean } | null;
  /** One of its probes is walked along a place at the moment. */
  walking: boolean;
}

/** A live probe with what its last check found, which tells whom it can be compared with. */
export interface LiveProbe extends PlaceProbe {
  name: string;
  /** ∂W/∂t from spot to spot, at constant relative humidity, 1/K; of a dew point within 6 %. */
  spotWPerK: number;
  correction: Correction | null;
  zero: PlacedZero | null;
  limits: Limits;
  /** By how much its humidity's ± is larger than the data sheet's, so near the ends of the scale. */
  widened: number;
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
  /** Whether all of them stayed there during a walk, and what it found is taken off. */
  walked: boolean;
  /** ∂W/∂t of the air there at constant relative humidity, 1/K; 0 where no humidity is known. */
  wPerK: number;
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
  walked: false,
  wPerK: 0,
};

/** A reading of 100 % or more, or a dew point above the temperature. */
const clipped = (probe: ProbeRecord): Doubt =>
  of(
    probe,
    doubt(
      'humidity-saturated',
      sent`${probe.name} reads 100 % or more and counts as 100 %.`,
      sent`Air can hold no more: it can only be drier, and the interval covers that.`,
      sent`Behind a wet coil, nothing to do. Elsewhere, look for water on the probe.`,
    ),
  );

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
 * that are live in the second that ends at `t`, by their shares of the flow, and adds to `out` what is
 * doubtful about them. What a walk has found is taken off, as large as it is at a return less supply
 * of `splitK`.
 * @throws MoistAirError where the readings describe air that cannot be
 */
export function airOf(
  probes: readonly ProbeRecord[],
  t: number,
  pPa: number,
  out: Doubt[],
  even: EvennessOf | null = null,
  splitK = NaN,
): PlaceAir {
  const growth = even?.growth(splitK) ?? 1;
  let walked = true;
  let wPerK = 0;
  const live: LiveProbe[] = [];
  let limitsKnown = true;
  let sumT = 0;
  let sumW = 0;
  let shares = 0;
  let sharesW = 0;
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
    const bias = even?.biasOf(probe.id) ?? null;
    if (bias === null) walked = false;
    else takeOff(share, bias.temperatureK * growth, bias.humidityRatio * growth);
    const { flowShare } = probe;
    shares += flowShare;
    sumT += flowShare * share.temperatureC;
    if (share.humidityRatio === null) continue;
    sharesW += flowShare;
    sumW += flowShare * share.humidityRatio;
    wPerK += flowShare * share.spotWPerK;
  }
  const n = live.length;
  if (n === 0) return { ...NOTHING };
  const temperatureC = sumT / shares;
  const humidityRatio = sharesW > 0 ? sumW / sharesW : null;
  const air = shown(temperatureC, humidityRatio, pPa);
  if (n > 1 && (air.humidityPct ?? 0) > 101) out.push(doubts.mixed());
  return {
    air,
    temperatureC,
    humidityRatio,
    probes: live,
    limitsKnown,
    walked,
    wPerK: sharesW > 0 ? wPerK / sharesW : 0,
  };
}

/** What a probe reads more than the mean of its place. */
function takeOff(share: LiveProbe, temperatureK: number, humidityRatio: number): void {
  share.temperatureC -= temperatureK;
  if (share.humidityRatio !== null && !Number.isNaN(humidityRatio)) {
    share.humidityRatio = Math.max(0, share.humidityRatio - humidityRatio);
  }
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
  const { limits, correction, zero } = probe;
  const share: LiveProbe = {
    id: probe.id,
    name: probe.name,
    temperatureC,
    humidityRatio: null,
    wPerK: 0,
    wPerHumidity: 0,
    wPerPa: 0,
    temperature:
      zero === null
        ? temperatureError(limits, correction, temperatureC, t)
        : zeroedError(limits, zero, temperatureC),
    humidity: NO_ERROR,
    shared: -1,
    sharesHumidity: false,
    zeroPerK: zero?.perK,
    flowShare: probe.flowShare,
    spotWPerK: 0,
    ...{ correction, zero, limits },
    widened: 1,
  };
  if (!Number.isNaN(humidityPct)) {
    if (Math.max(probe.raw.humidityPct, humidityPct) >= 100) out.push(clipped(probe));
    const pct = Math.min(Math.max(humidityPct, 0), 100);
    const s = humidityRatioPartials(temperatureC, pct, pPa);
    share.humidityRatio = s.humidityRatio;
    share.wPerK = s.wPerK;
    share.spotWPerK = s.wPerK;
    share.wPerHumidity = s.wPerPct;
    share.wPerPa = s.wPerPa;
    share.humidity = humidityError(limits, correction, pct, t);
    share.widened = humidityWidening(pct);
  } else if (!Number.isNaN(dewPointC)) {
    if (dewPointC >= temperatureC) {
      out.push(clipped(probe));
      share.humidityRatio = saturationHumidityRatio(temperatureC, pPa);
    } else {
      share.humidityRatio = humidityRatioFromDewPoint(dewPointC, pPa);
    }
    const s = humidityRatioPartials(Math.min(dewPointC, temperatureC), 100, pPa);
    share.wPerHumidity = s.wPerK;
    share.spotWPerK = s.wPerK;
    share.wPerPa = s.wPerPa;
    share.humidity = statement(limits.dewPointC ?? 0, limits.k);
  }
  return share;
}
const NO_ERROR = { u: 0, shape: 0 };
