/** The walk of a visit, where one runs: who may start it, and what its end does to units and probes. */
import type { WalkEvent } from '../../adapters/contract.ts';
import type { Walk } from '../protocol.ts';
import type { WalkReading } from '../signal/outlet-walk.ts';
import type { ProbeRecord } from './probe.ts';
import type { UnitRecord } from './unit.ts';
import { RunningWalk } from './walk.ts';
import { sent } from '../words/sent.ts';

/** The visit, as a walk needs it. */
export interface WalkHost {
  readonly probes: ReadonlyMap<string, ProbeRecord>;
  readonly units: ReadonlyMap<string, UnitRecord>;
  tell(walk: Walk): void;
  /** The figures of a unit are others from `t` on: another set of probes counts, or they read otherwise. */
  beginAnew(unit: UnitRecord, t: number): void;
}

const NOT_RUNNING = sent`phase: no walk is running: start one first`;
const SILENT: WalkReading = { temperatureC: NaN, humidityRatio: NaN };

export class Walks {
  readonly #host: WalkHost;
  #walk: RunningWalk | null = null;

  constructor(host: WalkHost) {
    this.#host = host;
  }

  /** Takes an event. @returns why it was refused, naming the field, or null */
  event(line: WalkEvent): string | null {
    if (line.phase === 'start') return this.#start(line);
    if (this.#walk === null) return NOT_RUNNING;
    if (line.phase === 'go') this.#walk.go();
    else this.#end(line.t, this.#walk);
    return null;
  }

  clockSet(shiftMs: number): void {
    this.#walk?.clockSet(shiftMs);
  }

  /** Takes the second that ends at `t`; the probes have been sampled. */
  second(t: number, pPa: number): void {
    const walk = this.#walk;
    const unit = walk === null ? undefined : this.#host.units.get(walk.unit);
    if (walk === null || unit === undefined) return;
    const read = (id: string): WalkReading => this.#host.probes.get(id)?.air(pPa) ?? SILENT;
    const effect = unit.placeEffect(walk.place);
    const staying = walk.staying.map(read);
    this.#host.tell(walk.second(t, read(walk.moving.id), staying, unit.splitK, effect));
  }

  /** These probes hang elsewhere, or read otherwise: a walk during which they stay tells nothing any more. */
  spoil(ids: readonly string[], t: number): void {
    if (this.#walk === null || !ids.some((id) => this.#walk?.staying.includes(id))) return;
    this.#walk.spoil();
    this.#end(t, this.#walk);
  }

  /** The probe that is moved counts nowhere meanwhile. */
  #start({ t, unit: id, place, probe: probeId }: WalkEvent): string | null {
    const { units, probes } = this.#host;
    const unit = units.get(id);
    const moving = probes.get(probeId);
    if (unit === undefined) return sent`unit: there is no unit "${id}" in this visit`;
    if (moving === undefined) return sent`probe: there is no probe "${probeId}" in this visit`;
    if (moving.inCheck) {
      return sent`probe: "${moving.name}" lies in a side-by-side check: end the check first`;
    }
    const staying = [...probes.values()].filter(
      (p) => p !== moving && p.unit === id && p.place === place && p.isLive(t) && !p.inCheck,
    );
    if (staying.length === 0) {
      return sent`place: no other live probe hangs in the ${place} of "${id}": one has to stay there while "${moving.name}" is moved`;
    }
    if (this.#walk !== null) this.#end(t, this.#walk);
    const ids = staying.map((p) => p.id);
    this.#walk = new RunningWalk(t, id, place, moving, ids, unit.placeEffect(place));
    this.#takenOrBack(t, moving.id);
    return null;
  }

  /** What it has found holds from its end on. */
  #end(t: number, walk: RunningWalk): void {
    this.#walk = null;
    const unit = this.#host.units.get(walk.unit);
    const result = walk.result();
    this.#host.tell(walk.end(t));
    if (result !== null && unit !== undefined) {
      unit.evenness[walk.place].walked(t, walk.staying, result, walk.splitK);
      this.#host.beginAnew(unit, t);
    }
    this.#takenOrBack(t, walk.moving.id);
  }

  /** The probe that walks is taken from its own place, or hangs there again. */
  #takenOrBack(t: number, id: string): void {
    const own = this.#host.units.get(this.#host.probes.get(id)?.unit ?? '');
    if (own !== undefined) this.#host.beginAnew(own, t);
  }
}
