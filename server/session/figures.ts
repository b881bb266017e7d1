/** The figures of a unit's capacity with their interval, and the budget that this is made of. */
import type { Airflow, Mode } from '../../adapters/contract.ts';
import { REAL_AIR } from '../measure/air-model.ts';
import { type AirPoint, type Capacity } from '../measure/capacity.ts';
import type { ErrorList } from '../measure/error-list.ts';
import { shapeOfSum, statement, type Uncertain } from '../measure/gum.ts';
import {
  type BudgetInputs,
  capacityUncertainty,
  type TotalErrors,
} from '../measure/uncertainty.ts';
import type { CapacitySnapshot, Doubt } from '../protocol.ts';
import { type Correction, sameCheck } from './correction.ts';
import { doubts } from './doubts.ts';
import type { UnitEvenness } from './evenness.ts';
import { heatingMoisture, rangeDoubts } from './moisture.ts';
import { zeroOf } from './placed-zero.ts';
import type { Follows } from './outlet-velocity.ts';
import type { PlaceAir } from './place.ts';
import type { Pressure } from './pressure.ts';
import { sent } from '../words/sent.ts';

/** Humidity ratio that stands in while heating without any humidity probe, kg/kg. */
const TYPICAL_W = 0.006;

export const NO_CAPACITY: CapacitySnapshot = {
  totalW: null,
  sensibleW: null,
  latentW: null,
  sensibleHeatRatio: null,
  condensateKgh: null,
  totalU95W: null,
  sensibleU95W: null,
  latentU95W: null,
  sensibleHeatRatioU95: null,
};

/** Below this a unit counts as off where no interval says what nothing is, W. */
const NOTHING_W = 50;

/** Whether the figure can be told from nothing: is more than `part` of its interval. */
export function delivered({ totalW, totalU95W }: CapacitySnapshot, part: number): boolean {
  return totalW !== null && totalW > part * (totalU95W ?? NOTHING_W);
}

/** Both points with their humidity, or null where cooling lacks one. */
export function humid(
  mode: Mode,
  retC: number,
  ret: PlaceAir,
  supC: number,
  sup: PlaceAir,
  found: Doubt[],
): { from: AirPoint; to: AirPoint } | null {
  const w1 = ret.humidityRatio;
  const w2 = sup.humidityRatio;
  if (mode === 'cooling') {
    if (w1 === null) found.push(doubts.noHumidity('return'));
    if (w2 === null) found.push(doubts.noHumidity('supply'));
    if (w1 === null || w2 === null) return null;
    return {
      from: { temperatureC: retC, humidityRatio: w1 },
      to: { temperatureC: supC, humidityRatio: w2 },
    };
  }
  if (w1 === null && w2 === null) found.push(doubts.noHumidityHeating());
  heatingMoisture(ret, sup, found);
  const W = w1 ?? w2 ?? TYPICAL_W;
  return {
    from: { temperatureC: retC, humidityRatio: W },
    to: { temperatureC: supC, humidityRatio: W },
  };
}

/** A capacity with what its interval is made of. */
export interface Budgeted {
  capacity: Capacity;
  inputs: BudgetInputs;
  total: TotalErrors;
}

/**
 * Puts figures and interval together, and with them what the interval is made of; without all limits
 * there is no interval, and a doubt says so.
 * @param errors is filled with the budget of the interval
 */
export function figuresOf(
  mode: Mode,
  c: Capacity,
  { from: ret, to: supply }: { from: AirPoint; to: AirPoint },
  retAir: PlaceAir,
  supAir: PlaceAir,
  even: UnitEvenness,
  { flow, follows, pressure }: { flow: Airflow; follows: Follows | null; pressure: Pressure },
  errors: ErrorList,
  found: Doubt[],
): { figures: CapacitySnapshot; budgeted: Budgeted | null } {
  // In heating the coil is dry: of moisture there is nothing to say.
  const wet = mode === 'cooling';
  const figures: CapacitySnapshot = {
    totalW: c.totalW,
    sensibleW: c.sensibleW,
    latentW: wet ? c.latentW : null,
    sensibleHeatRatio: wet ? c.sensibleHeatRatio : null,
    condensateKgh: wet ? c.condensateKgh : null,
    totalU95W: null,
    sensibleU95W: null,
    latentU95W: null,
    sensibleHeatRatioU95: null,
  };
  if (flow.limitPct === undefined) found.push(doubts.limitsUnknown(sent`the airflow`));
  if (!retAir.limitsKnown) found.push(doubts.limitsUnknown(sent`a return probe`));
  if (!supAir.limitsKnown) found.push(doubts.limitsUnknown(sent`a supply probe`));
  if (flow.limitPct === undefined || !retAir.limitsKnown || !supAir.limitsKnown) {
    return { figures, budgeted: null };
  }
  const splitK = ret.temperatureC - supply.temperatureC;
  const inputs: BudgetInputs = {
    mode,
    ret,
    supply,
    flow,
    pPa: pressure.pa,
    retProbes: retAir.probes,
    supplyProbes: supAir.probes,
    retEvenness: even.return.evenness(splitK, retAir.walked, retAir.wPerK),
    supplyEvenness: even.supply.evenness(splitK, supAir.walked, supAir.wPerK),
    flowRelative: flowError(statement(flow.limitPct / 100, flow.limitK), follows),
    spot: follows === null ? undefined : { of: follows.probe, relative: follows.spot },
    pressurePa: pressure.error,
    shared: sharedErrors([retAir, supAir]),
    zero: zeroOf(retAir, supAir)?.shared,
  };
  const u = capacityUncertainty(c, inputs, REAL_AIR, errors);
  figures.totalU95W = u.totalU95W;
  figures.sensibleU95W = u.sensibleU95W;
  if (wet) {
    figures.latentU95W = u.latentU95W;
    figures.sensibleHeatRatioU95 = u.sensibleHeatRatioU95;
    rangeDoubts(c, u, retAir, found);
    rangeDoubts(c, u, supAir, found);
  }
  const ofTotal = (uW: number): number => (1.96 * uW) / Math.abs(c.totalW);
  const atReturn = even.return.doubt(retAir.probes.length, ofTotal(u.uReturnSpreadW));
  if (atReturn !== null) found.push(atReturn);
  const atSupply = even.supply.doubt(supAir.probes.length, ofTotal(u.uSupplySpreadW));
  if (atSupply !== null) found.push(atSupply);
  return { figures, budgeted: { capacity: c, inputs, total: u.total } };
}

/** The told flow's own error, and that of the velocity that it was told at. */
function flowError(told: Uncertain, follows: Follows | null): Uncertain {
  if (follows === null) return told;
  const { reference } = follows;
  return { u: Math.hypot(told.u, reference.u), shape: shapeOfSum([told, reference]) };
}

/** Points each probe to the error that it shares with others of its check. */
function sharedErrors(places: readonly PlaceAir[]): BudgetInputs['shared'] {
  const checks: Correction[] = [];
  for (const { probes } of places) {
    for (const probe of probes) {
      const { correction } = probe;
      if (correction === null) continue;
      probe.sharesHumidity = correction.humidity !== null;
      probe.shared = checks.findIndex((check) => sameCheck(check, correction));
      if (probe.shared < 0) probe.shared = checks.push(correction) - 1;
    }
  }
  return checks.map(({ shared }) => shared);
}
