/** The evidence that a capture gives of a unit's health, with what the session knows of the unit. */
import type { Mode } from '../../measure/capacity.ts';
import { tableFlow } from '../../measure/airflow/fan-table.ts';
import {
  type Evidence,
  evidenceOf,
  type Item,
  type Seen,
} from '../../measure/expectation/evidence.ts';
import { statement } from '../../measure/gum.ts';
import type { Capture, CaptureSetting, PushTest } from '../../protocol.ts';
import type { UnitRecord } from '../unit.ts';

/** How far a fan table may be off where nobody says, %: common practice, no source. */
const FAN_TABLE_LIMIT_PCT = 10;
/** A spread from spot to spot that was walked is known to a quarter of itself: standard uncertainty. */
const WALKED_U = 0.25;
const K95 = 1.96;

/** What is known beside the capture and the unit. */
export interface Beside {
  mode: Mode;
  expectedW: Item;
  /** What the outdoor unit takes, and what is printed for full demand. */
  powerW: Item | null;
  expectedPowerW: Item | null;
  isFullDemand: boolean;
  push: PushTest | null;
  otherHeads: Seen['otherHeads'];
}

/** Null where the capture does not say enough. */
export function visitEvidence(unit: UnitRecord, capture: Capture, beside: Beside): Evidence | null {
  const { at, totalW, totalU95W } = capture;
  if (at === undefined || totalU95W === null) return null;
  const { indoorC, supplyC, indoorPct, supplyPct, flowM3s } = at;
  if (indoorC === null || supplyC === null || flowM3s === null) return null;
  const own = unit.airErrors();
  const flow = unit.flowNow();
  const wanted = wantedFlow(unit, at);
  const { push } = beside;
  return evidenceOf({
    ...{ mode: beside.mode, pressurePa: at.pressurePa, capacityChange: null },
    ...{ totalW: { value: totalW, u: totalU95W / K95 }, expectedW: beside.expectedW },
    return: air(indoorC, own.return.temperatureU, indoorPct, own.return.humidityU),
    supply: air(supplyC, own.supply.temperatureU, supplyPct, own.supply.humidityU),
    roomC: at.roomC === null ? null : { value: at.roomC, u: own.return.temperatureU },
    flowM3s: { value: flowM3s, u: flow.u * flowM3s },
    ...{ isFlowMeasured: flow.measured, wantedFlowM3s: wanted },
    ...{ powerW: beside.powerW, expectedPowerW: beside.expectedPowerW },
    pushGainW: push === null ? null : { value: push.differenceW, u: push.differenceU95W / K95 },
    spotK: spot(unit),
    seen: {
      fullDemand: beside.isFullDemand ? 'shown' : 'not-shown',
      otherHeads: beside.otherHeads,
      cycling: capture.state === 'cycling' ? 'yes' : 'no',
      coil: at.wetness > 0.7 ? 'wet' : at.wetness < 0.1 ? 'dry' : null,
      filter: unit.filter,
      probes: unit.done().includes('check') ? 'checked' : 'unchecked',
    },
  });
}

const air = (
  temperatureC: number,
  temperatureU: number,
  humidityPct: number | null,
  humidityU: number,
): { temperatureC: Item; humidityPct: Item | null } => ({
  temperatureC: { value: temperatureC, u: temperatureU },
  humidityPct: humidityPct === null ? null : { value: humidityPct, u: humidityU },
});

/** What the fan table says for the speed that was set; null without one. */
function wantedFlow(unit: UnitRecord, { fan, wetness }: CaptureSetting): Item | null {
  const { table } = unit.table;
  const wanted = table === null || fan === null ? null : tableFlow(table, fan, wetness);
  if (wanted === null) return null;
  const { flowM3s, limitPct = FAN_TABLE_LIMIT_PCT } = wanted;
  return { value: flowM3s, u: statement(limitPct / 100).u * flowM3s };
}

/** How much the supply differs from spot to spot, where somebody has walked the outlet. */
function spot(unit: UnitRecord): Item | null {
  const { spotsPct, from } = unit.evenness.supply.toState();
  if (from !== 'walked' || Number.isNaN(unit.splitK)) return null;
  const spotK = (spotsPct / 100) * Math.abs(unit.splitK);
  return { value: spotK, u: WALKED_U * spotK };
}
