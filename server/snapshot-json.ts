/**
 * A snapshot as JSON text. It says what `JSON.stringify` would, with numbers to a stated number of
 * decimals instead of seventeen digits, and writes only what has changed since the snapshot before
 * (slotted-text.ts): printing snapshots is a large part of the work of `plateau analyse`.
 *
 * Decimals: °C, % and W 3, J/kg 3, ratios and kg/h 6, humidity ratio and flows 9; each is a thousand
 * times finer than any probe.
 */
import type { Air, CapacitySnapshot, Doubt, Snapshot, UnitSnapshot } from './protocol.ts';
import { SlottedText } from './slotted-text.ts';

/** The doubts of a unit in the snapshot before, and their text. */
interface DoubtsText {
  of: readonly Doubt[];
  text: string;
}

/** Snapshots of one visit, one after the other, as text. */
export class SnapshotText {
  #text = new SlottedText();
  /** The units that the text has slots for, what stands before each, and what after them all. */
  #ids: string[] = [];
  #heads: string[] = [];
  #tail = '';
  #doubts: DoubtsText[] = [];

  constructor() {
    this.#begin([]);
  }

  /** The whole line of a snapshot, without a line break; it stands until the next one is asked for. */
  of(snapshot: Snapshot): SlottedText {
    const { t, simulated, units, sum } = snapshot;
    if (!this.#fits(units)) this.#begin(Object.keys(units));
    const text = this.#text;
    text.begin();
    text.json('{"type":"snapshot","t":', t);
    text.json(',"simulated":', simulated);
    let i = 0;
    for (const id of this.#ids) {
      const unit = units[id];
      if (unit !== undefined) this.#unit(i++, unit);
    }
    text.number(this.#tail, sum.totalW, 3);
    text.number(',"sensibleW":', sum.sensibleW, 3);
    text.number(',"latentW":', sum.latentW, 3);
    text.number(',"totalU95W":', sum.totalU95W, 3);
    text.end('}}');
    return text;
  }

  #fits(units: Snapshot['units']): boolean {
    let i = 0;
    for (const id in units) if (id !== this.#ids[i++]) return false;
    return i === this.#ids.length;
  }

  /** Other units than before: another text. */
  #begin(ids: string[]): void {
    this.#text = new SlottedText();
    this.#ids = ids;
    this.#heads = ids.map((id, i) => `${i === 0 ? ',"units":{' : '},'}${JSON.stringify(id)}:`);
    this.#tail = `${ids.length === 0 ? ',"units":{' : '}'}},"sum":{"totalW":`;
    this.#doubts = ids.map(() => ({ of: [], text: '[]' }));
  }

  #unit(i: number, u: UnitSnapshot): void {
    const text = this.#text;
    const { airflow: f, settling: s } = u;
    text.literal(this.#heads[i] ?? '');
    text.json('{"mode":', u.mode);
    text.literal(',"return":');
    this.#air(u.return);
    text.literal(',"supply":');
    this.#air(u.supply);
    text.number(',"airflow":{"flowM3s":', f.flowM3s, 9);
    text.number(',"standardM3s":', f.standardM3s, 9);
    text.number(',"dryAirKgs":', f.dryAirKgs, 9);
    text.json(',"source":', f.source);
    text.json('},"airflowFollows":', u.airflowFollows);
    this.#capacity(u.capacity);
    text.json(',"settling":{"state":', s.state);
    text.json(',"since":', s.since);
    text.number(',"plateauW":', s.plateauW, 3);
    text.number(',"plateauU95W":', s.plateauU95W, 3);
    text.number(',"steadyInS":', s.steadyInS, 3);
    text.number(',"levelW":', s.levelW, 3);
    text.number(',"levelSensibleW":', s.levelSensibleW, 3);
    text.number(',"levelLatentW":', s.levelLatentW, 3);
    text.number(',"levelDelayS":', s.levelDelayS, 3);
    text.number(',"movedW":', s.movedW, 3);
    text.number(',"lookedS":', s.lookedS, 3);
    text.number(',"aheadW":', s.aheadW, 3);
    text.number(',"hoverW":', s.hoverW, 3);
    text.number(',"approachS":', s.approachS, 3);
    text.json(',"cycle":', s.cycle);
    text.json(',"defrost":', s.defrost);
    text.raw('},"doubts":', this.#doubtsText(i, u.doubts));
  }

  #air(a: Air): void {
    const text = this.#text;
    text.number('{"temperatureC":', a.temperatureC, 3);
    text.number(',"humidityPct":', a.humidityPct, 3);
    text.number(',"wetBulbC":', a.wetBulbC, 3);
    text.number(',"dewPointC":', a.dewPointC, 3);
    text.number(',"humidityRatio":', a.humidityRatio, 9);
    text.number(',"enthalpyJkg":', a.enthalpyJkg, 3);
    text.literal('}');
  }

  #capacity(c: CapacitySnapshot): void {
    const text = this.#text;
    text.number(',"capacity":{"totalW":', c.totalW, 3);
    text.number(',"sensibleW":', c.sensibleW, 3);
    text.number(',"latentW":', c.latentW, 3);
    text.number(',"sensibleHeatRatio":', c.sensibleHeatRatio, 6);
    text.number(',"condensateKgh":', c.condensateKgh, 6);
    text.number(',"totalU95W":', c.totalU95W, 3);
    text.number(',"sensibleU95W":', c.sensibleU95W, 3);
    text.number(',"latentU95W":', c.latentU95W, 3);
    text.number(',"sensibleHeatRatioU95":', c.sensibleHeatRatioU95, 6);
    text.literal('}');
  }

  /** Doubts that stand for a whole visit are the same objects each second. */
  #doubtsText(i: number, doubts: readonly Doubt[]): string {
    const before = this.#doubts[i];
    if (before !== undefined && isSame(before.of, doubts)) return before.text;
    const text = JSON.stringify(doubts);
    this.#doubts[i] = { of: doubts, text };
    return text;
  }
}

function isSame(a: readonly Doubt[], b: readonly Doubt[]): boolean {
  if (a.length !== b.length) return false;
  for (let i = 0; i < a.length; i++) if (a[i] !== b[i] && !saysTheSame(a[i], b[i])) return false;
  return true;
}

/** Doubts with figures in their sentences are made anew each second, and mostly say the same again. */
function saysTheSame(a: Doubt | undefined, b: Doubt | undefined): boolean {
  return (
    a?.code === b?.code &&
    a?.probe === b?.probe &&
    a?.text === b?.text &&
    a?.effect === b?.effect &&
    a?.remedy === b?.remedy
  );
}

const shared = new SnapshotText();

/** The whole line, without a line break. */
export function snapshotJson(snapshot: Snapshot): string {
  return shared.of(snapshot).toString();
}

/** The same as bytes of UTF-8, which are the caller's. */
export function snapshotBytes(snapshot: Snapshot): Buffer {
  const text = shared.of(snapshot);
  const bytes = Buffer.allocUnsafe(text.length);
  text.copyTo(bytes, 0);
  return bytes;
}
