/**
 * A snapshot as JSON text. It says what `JSON.stringify` would, with numbers to a stated number of
 * decimals instead of seventeen digits: a third of the time and two thirds of the length, and
 * printing snapshots is most of the work of `plateau analyse`.
 *
 * Decimals: °C, % and W 3, J/kg 3, ratios and kg/h 6, humidity ratio and flows 9; each is a thousand
 * times finer than any probe.
 */
import type { Air, CapacitySnapshot, Doubt, Snapshot, UnitSnapshot } from './protocol.ts';

/** '000' to '999'. */
const THREE = Array.from({ length: 1000 }, (_, i) => String(i).padStart(3, '0'));

/** Three decimals. */
function d3(x: number | null): string {
  if (x === null) return 'null';
  const n = Math.round(Math.abs(x) * 1e3);
  if (!(n < 2e9)) return JSON.stringify(x); // far beyond any figure; also NaN and Infinity: null
  const whole = (n / 1e3) | 0;
  const text = `${whole}.${THREE[n - whole * 1e3] ?? ''}`;
  return x < 0 ? `-${text}` : text;
}

/** Six decimals. */
function d6(x: number | null): string {
  if (x === null) return 'null';
  const n = Math.round(Math.abs(x) * 1e6);
  if (!(n < 2e9)) return JSON.stringify(x);
  const whole = (n / 1e6) | 0;
  const rest = n - whole * 1e6;
  const high = (rest / 1e3) | 0;
  const text = `${whole}.${THREE[high] ?? ''}${THREE[rest - high * 1e3] ?? ''}`;
  return x < 0 ? `-${text}` : text;
}

/** Nine decimals, for numbers under two. */
function d9(x: number | null): string {
  if (x === null) return 'null';
  const n = Math.round(Math.abs(x) * 1e9);
  if (!(n < 2e9)) return JSON.stringify(x);
  const whole = (n / 1e9) | 0;
  const rest = n - whole * 1e9;
  const high = (rest / 1e6) | 0;
  const low = rest - high * 1e6;
  const middle = (low / 1e3) | 0;
  const text = `${whole}.${THREE[high] ?? ''}${THREE[middle] ?? ''}${THREE[low - middle * 1e3] ?? ''}`;
  return x < 0 ? `-${text}` : text;
}

function air(a: Air): string {
  return (
    `{"temperatureC":${d3(a.temperatureC)},"humidityPct":${d3(a.humidityPct)},` +
    `"wetBulbC":${d3(a.wetBulbC)},"dewPointC":${d3(a.dewPointC)},` +
    `"humidityRatio":${d9(a.humidityRatio)},"enthalpyJkg":${d3(a.enthalpyJkg)}}`
  );
}

function capacity(c: CapacitySnapshot): string {
  return (
    `{"totalW":${d3(c.totalW)},"sensibleW":${d3(c.sensibleW)},"latentW":${d3(c.latentW)},` +
    `"sensibleHeatRatio":${d6(c.sensibleHeatRatio)},"condensateKgh":${d6(c.condensateKgh)},` +
    `"totalU95W":${d3(c.totalU95W)},"sensibleU95W":${d3(c.sensibleU95W)},` +
    `"latentU95W":${d3(c.latentU95W)},"sensibleHeatRatioU95":${d6(c.sensibleHeatRatioU95)}}`
  );
}

/** Doubts that stand for a whole visit are the same object each second. */
const texts = new WeakMap<Doubt, string>();
function doubt(d: Doubt): string {
  let text = texts.get(d);
  if (text === undefined) texts.set(d, (text = JSON.stringify(d)));
  return text;
}

function unit(u: UnitSnapshot): string {
  const { airflow: f, settling: s } = u;
  return (
    `{"mode":${JSON.stringify(u.mode)},"return":${air(u.return)},"supply":${air(u.supply)},` +
    `"airflow":{"flowM3s":${d9(f.flowM3s)},"standardM3s":${d9(f.standardM3s)},` +
    `"dryAirKgs":${d9(f.dryAirKgs)},"source":${f.source === null ? 'null' : JSON.stringify(f.source)}},` +
    `"capacity":${capacity(u.capacity)},` +
    `"settling":{"state":"${s.state}","since":${s.since},"plateauW":${d3(s.plateauW)},` +
    `"plateauU95W":${d3(s.plateauU95W)},"steadyInS":${d3(s.steadyInS)},` +
    `"levelW":${d3(s.levelW)},"levelDelayS":${d3(s.levelDelayS)},"movedW":${d3(s.movedW)},` +
    `"lookedS":${d3(s.lookedS)},"aheadW":${d3(s.aheadW)},"approachS":${d3(s.approachS)},` +
    `"cycle":${s.cycle === null ? 'null' : JSON.stringify(s.cycle)},` +
    `"defrost":${s.defrost === null ? 'null' : JSON.stringify(s.defrost)}},` +
    `"doubts":[${u.doubts.map(doubt).join(',')}]}`
  );
}

/** The whole line, without a line break. */
export function snapshotJson(snapshot: Snapshot): string {
  let units = '';
  for (const [id, u] of Object.entries(snapshot.units)) {
    units += `${units === '' ? '' : ','}${JSON.stringify(id)}:${unit(u)}`;
  }
  const { sum } = snapshot;
  return (
    `{"type":"snapshot","t":${snapshot.t},"simulated":${snapshot.simulated},"units":{${units}},` +
    `"sum":{"totalW":${d3(sum.totalW)},"sensibleW":${d3(sum.sensibleW)},` +
    `"latentW":${d3(sum.latentW)},"totalU95W":${d3(sum.totalU95W)}}}`
  );
}
