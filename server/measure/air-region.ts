/**
 * Where the air of a place lies on a psychrometric chart, and how sure that is: temperature and humidity
 * ratio are worked out from the same readings, so their errors go together.
 */
import { meanPerPa } from './budget.ts';
import type { BudgetInputs } from './budget-inputs.ts';
import { ErrorList } from './error-list.ts';
import type { Side } from './gradients.ts';
import { none, placeErrors, UNKNOWN } from './place-errors.ts';

/** Temperature, °C, and humidity ratio, kg/kg, with standard uncertainties and their correlation. */
export interface AirRegion {
  temperatureC: number;
  humidityRatio: number;
  uTemperatureK: number;
  uHumidityRatio: number;
  /** −1 to 1; 0 where one of the two is certain. */
  correlation: number;
}

/** A point of a psychrometric chart: °C and kg/kg of dry air. */
export interface ChartPoint {
  temperatureC: number;
  humidityRatio: number;
}

/** The place's own two outputs in the columns of a budget: "total" is t, "sensible" is W. */
const OF_THE_PLACE: Side = {
  ...{ totalT: 1, sensibleT: 0, latentT: 0 },
  ...{ totalW: 0, sensibleW: 1, latentW: 0 },
};

/**
 * The mean air of a place by the errors that its unit's interval is made of (JCGM 102:2011: propagation
 * to more than one output).
 * @returns null where no probe there tells humidity
 */
export function airRegion(place: 'return' | 'supply', inputs: BudgetInputs): AirRegion | null {
  const probes = place === 'return' ? inputs.retProbes : inputs.supplyProbes;
  const even = place === 'return' ? inputs.retEvenness : inputs.supplyEvenness;
  const mean = meanOf(probes);
  if (mean === null) return null;
  const shared = inputs.shared.map((errors) => ({ errors, t: none(), h: none() }));
  const list = new ErrorList();
  const zero = inputs.zero === undefined ? null : { found: none(), common: none() };
  placeErrors(OF_THE_PLACE, place, probes, even ?? UNKNOWN, list, shared, zero);
  if (inputs.zero !== undefined && zero !== null) {
    const { of, found, common } = inputs.zero;
    list.add('zero', of, found, zero.found.total, zero.found.sensible, 0);
    list.add('common-temperature', of, common, zero.common.total, zero.common.sensible, 0);
  }
  for (const { errors, t, h } of shared) {
    list.add('common-temperature', errors.of, errors.temperature, t.total, t.sensible, 0);
    list.add('common-humidity', errors.of, errors.humidity, h.total, h.sensible, 0);
  }
  list.add('pressure', null, inputs.pressurePa, 0, meanPerPa(probes), 0);
  let tt = 0;
  let ww = 0;
  let tw = 0;
  for (const { totalW: t, sensibleW: w } of list.items()) {
    tt += t * t;
    ww += w * w;
    tw += t * w;
  }
  const both = Math.sqrt(tt * ww);
  return {
    ...mean,
    uTemperatureK: Math.sqrt(tt),
    uHumidityRatio: Math.sqrt(ww),
    correlation: both > 0 ? Math.max(-1, Math.min(1, tw / both)) : 0,
  };
}

function meanOf(probes: BudgetInputs['retProbes']): ChartPoint | null {
  let shares = 0;
  let sharesW = 0;
  let t = 0;
  let w = 0;
  for (const { flowShare, temperatureC, humidityRatio } of probes) {
    shares += flowShare;
    t += flowShare * temperatureC;
    if (humidityRatio === null) continue;
    sharesW += flowShare;
    w += flowShare * humidityRatio;
  }
  return sharesW > 0 ? { temperatureC: t / shares, humidityRatio: w / sharesW } : null;
}

/**
 * Half-axes of the smallest region that holds a bivariate normal pair with 95 %, in standard
 * uncertainties: √(χ² of 2 degrees of freedom), 2.45 in JCGM 102:2011, table 1
 * (from memory).
 */
const IN_95 = Math.sqrt(-2 * Math.log(0.05));

/** The outline of the region that holds the air with 95 %, as a closed polyline of `n` points. */
export function regionOutline(region: AirRegion, n = 48): ChartPoint[] {
  const { temperatureC, humidityRatio, uTemperatureK, uHumidityRatio, correlation } = region;
  const across = Math.sqrt(1 - correlation * correlation);
  return Array.from({ length: n }, (_, i) => {
    const angle = (2 * Math.PI * i) / n;
    const a = IN_95 * Math.cos(angle);
    const b = IN_95 * Math.sin(angle);
    return {
      temperatureC: temperatureC + uTemperatureK * a,
      humidityRatio: humidityRatio + uHumidityRatio * (correlation * a + across * b),
    };
  });
}
