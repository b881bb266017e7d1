/** What a capacity does when the air at one of its places changes: first derivatives in closed form. */
import { type AirModel, moistHeat, VOLUME_RATIO } from './air-model.ts';
import type { BudgetInputs } from './budget-inputs.ts';
import { type Capacity, effectiveSupply } from './capacity.ts';
import { ZERO_CELSIUS_K } from './saturation.ts';

/** What 1 K and 1 kg/kg at one place do to total, sensible and latent. */
export interface Side {
  totalT: number;
  sensibleT: number;
  latentT: number;
  totalW: number;
  sensibleW: number;
  latentW: number;
}

// Written out with plain numbers: it runs for each unit in each second.

/** The sensitivities of a capacity to the air at return and supply; `result` is of the same inputs. */
export function gradients(
  result: Capacity,
  { mode, ret, supply, flow }: BudgetInputs,
  model: AirModel,
): { ret: Side; sup: Side } {
  const point = effectiveSupply(mode, ret, supply);
  const heating = mode === 'heating';
  const m = heating ? -result.dryAirKgs : result.dryAirKgs;
  const c1 = moistHeat(ret.humidityRatio, model);
  const c2 = moistHeat(point.humidityRatio, model);
  const v1 = model.vapourHeat * ret.temperatureC;
  const v2 = model.vapourHeat * point.temperatureC;
  const h = heating ? 0 : model.vapourEnthalpy;
  // y = ṁ (g1 − g2): total with ∂g/∂t = c_pa and ∂g/∂W = h_v0 + c_v t, sensible without h_v0, latent h_v0.
  const r: Side = {
    totalT: m * c1,
    sensibleT: m * c1,
    latentT: 0,
    totalW: m * (h + v1),
    sensibleW: m * v1,
    latentW: m * h,
  };
  const s: Side = {
    totalT: -m * c2,
    sensibleT: -m * c2,
    latentT: 0,
    totalW: -m * (h + v2),
    sensibleW: -m * v2,
    latentW: -m * h,
  };
  if (flow.basis === 'actual') {
    // ṁ = Q/v: relative sensitivity of 1/v to t and W of the flow's plane.
    const at = flow.plane === 'return' ? ret : point;
    const side = flow.plane === 'return' ? r : s;
    const perK = -1 / (at.temperatureC + ZERO_CELSIUS_K);
    const perW = -VOLUME_RATIO / (1 + VOLUME_RATIO * at.humidityRatio);
    side.totalT += result.totalW * perK;
    side.sensibleT += result.sensibleW * perK;
    side.latentT += result.latentW * perK;
    side.totalW += result.totalW * perW;
    side.sensibleW += result.sensibleW * perW;
    side.latentW += result.latentW * perW;
  }
  if (heating) {
    // The supply's humidity is the return's.
    r.totalW += s.totalW;
    r.sensibleW += s.sensibleW;
    s.totalW = 0;
    s.sensibleW = 0;
  }
  return { ret: r, sup: s };
}
