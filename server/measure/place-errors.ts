/** The errors of the probes at one place of a unit, and of taking them for the whole of it. */
import type { PlaceProbe } from './budget-inputs.ts';
import type { ErrorList } from './error-list.ts';
import { degreesOf, type Evenness, ofMean, pooled } from './evenness.ts';
import type { Side } from './gradients.ts';
import { NORMAL } from './gum.ts';

// Written out with plain numbers: it runs for each unit in each second.

/** A change of the three outputs that is summed up over probes. */
export interface Three {
  total: number;
  sensible: number;
  latent: number;
}
export const none = (): Three => ({ total: 0, sensible: 0, latent: 0 });

/** What a zero in place does by way of the temperatures: what it found, and what it could not see. */
export interface ZeroEffect {
  found: Three;
  common: Three;
}

/** Nothing is known but what the probes show. */
export const UNKNOWN: Evenness = { spotK: 0, degrees: 0, wPerK: 0, walked: false };

/** The errors of one place's probes, and what their mean is off by because the air is uneven. */
export function placeErrors(
  g: Side,
  name: string,
  probes: readonly PlaceProbe[],
  even: Evenness,
  list: ErrorList,
  shared: readonly { t: Three; h: Three }[],
  zero: ZeroEffect | null,
): void {
  let sumT = 0;
  let sumW = 0;
  let meanT = 0;
  let meanW = 0;
  for (const p of probes) {
    sumT += p.flowShare;
    meanT += p.flowShare * p.temperatureC;
    if (p.humidityRatio === null) continue;
    sumW += p.flowShare;
    meanW += p.flowShare * p.humidityRatio;
  }
  meanT /= sumT;
  meanW /= sumW;
  let squares = 0;
  // What the probes differ by, and what of that is their own errors: means of squares, W².
  const seen = none();
  const own = none();
  for (const p of probes) {
    const weight = p.flowShare / sumT;
    squares += weight * weight;
    const wPerK = p.humidityRatio === null ? 0 : (p.wPerK * sumT) / sumW;
    const total = g.totalT + g.totalW * wPerK;
    const sensible = g.sensibleT + g.sensibleW * wPerK;
    const latent = g.latentT + g.latentW * wPerK;
    const { u } = p.temperature;
    list.add(
      'temperature',
      p.id,
      p.temperature,
      weight * total,
      weight * sensible,
      weight * latent,
    );
    addSquares(own, weight, total * u, sensible * u, latent * u);
    const group = p.shared < 0 ? undefined : shared[p.shared];
    if (group !== undefined) add(group.t, weight * total, weight * sensible, weight * latent);
    if (zero !== null && p.zeroPerK !== undefined) {
      const w = weight * p.zeroPerK;
      add(zero.found, w * total, w * sensible, w * latent);
      add(zero.common, weight * total, weight * sensible, weight * latent);
    }
    let dW = 0;
    if (p.humidityRatio !== null) {
      const perH = (p.wPerHumidity * p.flowShare) / sumW;
      const t = g.totalW * perH;
      const s = g.sensibleW * perH;
      const l = g.latentW * perH;
      list.add('humidity', p.id, p.humidity, t, s, l);
      const alone = p.humidity.u / weight;
      addSquares(own, weight, t * alone, s * alone, l * alone);
      if (group !== undefined && p.sharesHumidity) add(group.h, t, s, l);
      dW = p.humidityRatio - meanW;
    }
    const dT = p.temperatureC - meanT;
    addSquares(
      seen,
      weight,
      g.totalT * dT + g.totalW * dW,
      g.sensibleT * dT + g.sensibleW * dW,
      g.latentT * dT + g.latentW * dW,
    );
  }
  if (probes.length > 0) uneven(g, name, squares, seen, own, even, list);
}

/** What the mean of a place's probes is off by because the air there differs from spot to spot. */
function uneven(
  g: Side,
  name: string,
  squares: number,
  seen: Three,
  own: Three,
  { spotK, degrees, wPerK, walked }: Evenness,
  list: ErrorList,
): void {
  const seenDegrees = walked ? 0 : degreesOf(squares);
  const all = degrees + seenDegrees;
  if (all < 0.5) return;
  const part = (perK: number, seenSquare: number, ownSquare: number): number => {
    const among = seenDegrees > 0 ? seenSquare / (1 - squares) - ownSquare : 0;
    const spots = Math.sqrt(pooled((perK * spotK) ** 2, degrees, among, seenDegrees));
    return perK < 0 ? -spots : spots;
  };
  const total = part(g.totalT + g.totalW * wPerK, seen.total, own.total);
  const sensible = part(g.sensibleT + g.sensibleW * wPerK, seen.sensible, own.sensible);
  const latent = part(g.latentT + g.latentW * wPerK, seen.latent, own.latent);
  if (total === 0 && sensible === 0 && latent === 0) return;
  const u = ofMean(squares, all, walked);
  list.add('spread', name, { u, shape: NORMAL }, total, sensible, latent);
}

function addSquares(
  to: Three,
  weight: number,
  total: number,
  sensible: number,
  latent: number,
): void {
  to.total += weight * total * total;
  to.sensible += weight * sensible * sensible;
  to.latent += weight * latent * latent;
}

function add(three: Three, total: number, sensible: number, latent: number): void {
  three.total += total;
  three.sensible += sensible;
  three.latent += latent;
}
