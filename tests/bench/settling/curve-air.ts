/** The supply air that a prescribed capacity needs. Nothing here knows of a coil or a room. */
import {
  enthalpyJkg,
  humidityRatio,
  moistHeat,
  relativeHumidityPct,
  volumeM3kg,
} from '../../../server/measure/moist-air.ts';

export interface Point {
  tC: number;
  W: number;
}

/** More than this no supply air holds: what would, keeps its enthalpy and gives up moisture. */
const WETTEST_PCT = 98;

/** Temperature of air of an enthalpy (J/kg) and humidity ratio. */
function temperatureOf(h: number, W: number): number {
  return (h - enthalpyJkg(0, W)) / moistHeat(W);
}

/** Air of this enthalpy and relative humidity. */
function atHumidity(h: number, rhPct: number, pPa: number): Point {
  let low = -30;
  let high = 60;
  for (let i = 0; i < 40; i++) {
    const t = (low + high) / 2;
    if (enthalpyJkg(t, humidityRatio(t, rhPct, pPa)) < h) low = t;
    else high = t;
  }
  const W = humidityRatio(low, rhPct, pPa);
  return { tC: temperatureOf(h, W), W };
}

/** Flow of dry air, kg/s, of a volume flow at the supply that delivers `totalW` with air like `guess`. */
function dryAir(flowM3s: number, supply: Point, pPa: number): number {
  return flowM3s / volumeM3kg(supply.tC, supply.W, pPa);
}

/** The supply air and the latent part on a plateau: as wet as `rhPct` where the coil is wet. */
export function plateauAir(
  totalW: number,
  ret: Point,
  flowM3s: number,
  rhPct: number,
  pPa: number,
): { supply: Point; latentW: number } {
  let supply = ret;
  let latentW = 0;
  for (let i = 0; i < 6; i++) {
    const m = dryAir(flowM3s, supply, pPa);
    const h = enthalpyJkg(ret.tC, ret.W) - totalW / m;
    supply = atHumidity(h, rhPct, pPa);
    // A coil that stays dry: the air keeps its moisture.
    if (supply.W > ret.W || totalW < 0) supply = { tC: temperatureOf(h, ret.W), W: ret.W };
    latentW = m * enthalpyJkg(0, ret.W - supply.W);
  }
  return { supply, latentW };
}

/**
 * The supply air of any second. `totalW` is kept to exactly; where the latent part would ask for more
 * than saturated air, it is made less.
 * @param guess the supply air a second before
 */
export function supplyAir(
  totalW: number,
  latentW: number,
  ret: Point,
  flowM3s: number,
  guess: Point,
  pPa: number,
): { supply: Point; latentW: number } {
  let supply = guess;
  let m = 0;
  let capped = false;
  for (let i = 0; i < (capped ? 8 : 3); i++) {
    m = dryAir(flowM3s, supply, pPa);
    const h = enthalpyJkg(ret.tC, ret.W) - totalW / m;
    const W = Math.max(ret.W - latentW / (m * enthalpyJkg(0, 1)), 1e-5);
    supply = { tC: temperatureOf(h, W), W };
    if (relativeHumidityPct(supply.tC, supply.W, pPa) <= WETTEST_PCT) continue;
    capped = true;
    supply = atHumidity(h, WETTEST_PCT, pPa);
  }
  return { supply, latentW: m * enthalpyJkg(0, ret.W - supply.W) };
}
