/**
 * What is being measured of the units' airflow in a visit: at most one traverse (there is one anemometer
 * in the hand), and one bucket, heater or zero for each unit. What one ends with becomes the unit's
 * airflow.
 */
import type {
  Airflow,
  CondensateEvent,
  EventLine,
  HeatEvent,
  TraverseEvent,
  ZeroEvent,
} from '../../../adapters/contract.ts';
import { REFERENCE } from '../../measure/capacity.ts';
import { statement } from '../../measure/gum.ts';
import type { SectionVelocity } from '../../measure/airflow/sweep.ts';
import type { AirflowResult, Measuring, ZeroResult } from '../../protocol.ts';
import { liftZeros } from '../placed-zero.ts';
import type { ProbeRecord } from '../probe.ts';
import type { UnitRecord } from '../unit.ts';
import { againstTable } from './against-table.ts';
import { RunningDrain } from './drain.ts';
import { RunningHeat } from './heater.ts';
import type { Outlets } from './outlets.ts';
import {
  airflowOf,
  type Circumstances,
  gridResult,
  referenceResult,
  sectionsOf,
  sweepResult,
} from './results.ts';
import { RunningTraverse } from './traverse.ts';
import { type FoundZero, RunningZero } from './zero-in-place.ts';
import { sent } from '../../words/sent.ts';

/** The visit, as this needs it. */
export interface AirflowHost {
  readonly probes: ReadonlyMap<string, ProbeRecord>;
  readonly units: ReadonlyMap<string, UnitRecord>;
  readonly outlets: Outlets;
  tell(measuring: Measuring): void;
  result(result: AirflowResult): void;
  zero(zero: ZeroResult): void;
  /** The unit's airflow is another from `t` on. */
  use(unit: UnitRecord, airflow: Airflow, t: number): void;
  /** What these probes read is corrected otherwise from `t` on. */
  corrected(probes: readonly string[], t: number): void;
  /** A probe is taken from its place, or hangs there again. */
  placeAnew(probe: ProbeRecord, t: number): void;
}

type AirflowEvent = TraverseEvent | CondensateEvent | HeatEvent | ZeroEvent;
const KINDS: readonly EventLine['kind'][] = ['traverse', 'condensate', 'heat', 'zero'];
export const isOfAirflow = (line: EventLine): line is AirflowEvent => KINDS.includes(line.kind);

/** Sweeps of one outlet, one anemometer and one fan speed count as repeats for so long, ms. */
const REPEATS_MS = 45 * 60_000;

/** A new measurement counts unless its uncertainty is so many times that of the one in use. */
const WORSE = 1.5;

interface Series {
  key: string;
  t: number;
  sweeps: SectionVelocity[][];
}

/** Means of the moist air's density at the opening while a traverse runs. */
interface Density {
  sum: number;
  n: number;
}

export class Airflows {
  readonly #host: AirflowHost;
  #traverse: RunningTraverse | null = null;
  #density: Density = { sum: 0, n: 0 };
  readonly #works = new Map<string, RunningDrain | RunningHeat | RunningZero>();
  /** The references of each unit that have been told, m³/s. */
  readonly #references = new Map<string, number[]>();
  readonly #series = new Map<string, Series>();

  constructor(host: AirflowHost) {
    this.#host = host;
  }

  /** Takes an event. @returns why it was refused, naming the field, or null */
  event(line: AirflowEvent): string | null {
    const unit = this.#host.units.get(line.unit);
    if (unit === undefined) return sent`unit: there is no unit "${line.unit}" in this visit`;
    if (line.kind === 'traverse') return this.#traverseEvent(line, unit);
    return line.phase === 'start' ? this.#begin(line, unit) : this.#endWork(line, unit);
  }

  /** An airflow that a person tells: one by a hood or in the duct is a result, once. */
  told(unit: UnitRecord, airflow: Airflow, t: number): void {
    if (airflow.source !== REFERENCE) return;
    const { supplyVolumeM3kg, returnVolumeM3kg } = unit.airNow();
    const about = this.#about(unit, t, t, unit.isSimulated);
    const volume = airflow.plane === 'supply' ? supplyVolumeM3kg : returnVolumeM3kg;
    const result = referenceResult(airflow, volume, about);
    if (result === null) return;
    const told = this.#references.get(unit.id) ?? [];
    if (told.some((q) => Math.abs(q / result.flowM3s - 1) < 1e-6)) return;
    this.#references.set(unit.id, [...told, result.flowM3s]);
    const against = againstTable(result, unit.table.table);
    this.#host.result(against === null ? result : { ...result, warnings: [against] });
  }

  /** A velocity that has just been read. */
  reading(probe: string, t: number, velocityMs: number): void {
    if (this.#traverse?.probe.id === probe) this.#traverse.reading(t, velocityMs);
  }

  /** Takes the second that ends at `t`, which stands for so many. */
  second(t: number, standsS: number): void {
    const { units, outlets } = this.#host;
    const traverse = this.#traverse;
    if (traverse !== null) {
      const outlet = outlets.get(traverse.outletId);
      const density = units.get(traverse.unit)?.densityAt(outlet?.plane ?? 'supply') ?? null;
      if (density !== null)
        this.#density = { sum: this.#density.sum + density, n: this.#density.n + 1 };
      if (outlet !== undefined) this.#host.tell(traverse.message(t, outlet, 'running'));
    }
    for (const work of this.#works.values()) {
      const air = units.get(work.unit)?.airNow();
      if (air !== undefined) work.second(air, standsS);
      this.#host.tell(work.message(t, work.paused ? 'paused' : 'running', null));
    }
  }

  clockSet(shiftMs: number): void {
    this.#traverse?.clockSet(shiftMs);
    for (const work of this.#works.values()) work.clockSet(shiftMs);
    for (const series of this.#series.values()) series.t += shiftMs;
  }

  /** Whether that probe is in use for a traverse. */
  holds(probe: string): boolean {
    return this.#traverse?.probe.id === probe;
  }

  #traverseEvent(line: TraverseEvent, unit: UnitRecord): string | null {
    if (line.phase === 'start') return this.#start(line, unit);
    const run = this.#traverse;
    if (run === null || run.unit !== line.unit) {
      return sent`phase: no traverse is running at "${line.unit}": start one first`;
    }
    const { t } = line;
    switch (line.phase) {
      case 'pause':
        run.pause(t);
        return null;
      case 'resume':
        run.resume(t);
        return null;
      case 'section':
        run.section(t, line.section);
        return null;
      case 'point':
        if (run.method !== 'grid') return sent`phase: a sweep has no points: start a grid for that`;
        if (line.row === undefined) return sent`row: is missing; rows of a section count from 0`;
        if (line.column === undefined)
          return sent`column: is missing; points of a row count from 0`;
        run.point(t, line.row, line.column, line.section);
        return null;
      case 'cancel':
        this.#close(run, t, 'cancelled');
        return null;
      case 'end':
        this.#end(run, t, unit);
        return null;
    }
  }

  #start(line: TraverseEvent, unit: UnitRecord): string | null {
    const { outlets, probes } = this.#host;
    if (line.outlet === undefined)
      return sent`outlet: is missing; give the id of an outlet of the unit`;
    const outlet = outlets.get(line.outlet);
    if (outlet === undefined)
      return sent`outlet: there is no outlet "${line.outlet}" in this visit`;
    if (outlet.unit !== unit.id) {
      return sent`outlet: "${line.outlet}" is an outlet of "${outlet.unit}", not of "${unit.id}"`;
    }
    if (line.probe === undefined) return sent`probe: is missing; give the id of the anemometer`;
    const probe = probes.get(line.probe);
    if (probe === undefined) return sent`probe: there is no probe "${line.probe}" in this visit`;
    if (probe.inCheck || probe.walking) {
      return sent`probe: "${probe.name}" is in a check or a walk: end that first`;
    }
    if (this.#traverse !== null) this.#close(this.#traverse, line.t, 'cancelled');
    this.#traverse = new RunningTraverse(line, line.outlet, probe);
    this.#density = { sum: 0, n: 0 };
    this.#host.placeAnew(probe, line.t);
    this.#host.tell(this.#traverse.message(line.t, outlet, 'running'));
    return null;
  }

  /** @param text what has come of it; left out: what the last second said */
  #close(run: RunningTraverse, t: number, phase: 'ended' | 'cancelled', text?: string): void {
    this.#traverse = null;
    run.close(t);
    this.#host.placeAnew(run.probe, t);
    const outlet = this.#host.outlets.get(run.outletId);
    if (outlet === undefined) return;
    const last = run.message(t, outlet, phase);
    const said = phase === 'cancelled' ? sent`Cancelled. Nothing was worked out.` : text;
    this.#host.tell({ ...last, text: said ?? last.text, warns: false });
  }

  #end(run: RunningTraverse, t: number, unit: UnitRecord): void {
    const outlet = this.#host.outlets.get(run.outletId);
    if (outlet === undefined) return;
    run.close(t);
    const about = this.#about(unit, run.from, t, run.probe.simulated);
    const { sum, n } = this.#density;
    const density = n === 0 ? null : sum / n;
    let result: AirflowResult | null;
    if (run.method === 'grid') result = gridResult(run, outlet, density, about);
    else {
      const sections = sectionsOf(run.swept(outlet.sections.length));
      const key = JSON.stringify([run.outletId, outlet, run.probe.id, unit.fan]);
      result =
        sections === null
          ? null
          : sweepResult(run, outlet, this.#repeats(unit.id, key, t, sections), density, about);
    }
    if (result === null || !(result.flowM3s > 0)) {
      const why =
        result === null
          ? sent`Nothing was measured: no airflow.`
          : sent`The air went the other way: no airflow. Turn the anemometer around and begin again.`;
      this.#series.delete(unit.id);
      this.#close(run, t, 'ended', why);
      return;
    }
    this.#close(run, t, 'ended', result.warnings[0] ?? sent`Done.`);
    this.#finish(result, unit);
  }

  /** The sweeps of a series, this one the last. */
  #repeats(unit: string, key: string, t: number, sections: SectionVelocity[]): SectionVelocity[][] {
    const known = this.#series.get(unit);
    const goesOn = known?.key === key && t - known.t <= REPEATS_MS;
    const sweeps = goesOn ? [...known.sweeps, sections] : [sections];
    this.#series.set(unit, { key, t, sweeps });
    return sweeps;
  }

  /** One that is much less sure than what was measured at the same speed before stands beside it. */
  #finish(result: AirflowResult, unit: UnitRecord): void {
    const airflow = airflowOf(result);
    const { measured, u } = unit.flowNow();
    const used = !measured || airflowU(airflow) <= WORSE * u;
    const against = againstTable(result, unit.table.table);
    const warnings = against === null ? result.warnings : [against, ...result.warnings];
    this.#host.result({ ...result, warnings, used });
    if (used) this.#host.use(unit, airflow, result.t);
  }

  #begin(line: CondensateEvent | HeatEvent | ZeroEvent, unit: UnitRecord): null {
    if (line.kind === 'zero') this.#liftZero(unit, line.t);
    const open = this.#works.get(unit.id);
    if (open !== undefined) this.#host.tell(open.message(line.t, 'cancelled', sent`Cancelled.`));
    const work =
      line.kind === 'condensate'
        ? new RunningDrain(line, unit.wetness)
        : line.kind === 'heat'
          ? new RunningHeat(line, unit.riseBefore(), unit.wetness)
          : new RunningZero(line);
    this.#works.set(unit.id, work);
    this.#host.tell(work.message(line.t, 'running', null));
    return null;
  }

  /** A zero begins with what the probes read without the one before. */
  #liftZero({ id }: UnitRecord, t: number): void {
    const { probes } = this.#host;
    const ids = [...probes.values()].filter((p) => p.unit === id).map((p) => p.id);
    if (liftZeros(ids, probes)) this.#host.corrected(ids, t);
  }

  #endWork(line: CondensateEvent | HeatEvent | ZeroEvent, unit: UnitRecord): string | null {
    const work = this.#works.get(unit.id);
    if (work === undefined || work.method !== line.kind) {
      return sent`phase: nothing of the kind is running at "${line.unit}": start it first`;
    }
    const { t } = line;
    // What has been heard so far is not given away for a number that was forgotten.
    if (line.kind === 'condensate' && line.phase === 'end' && line.massKg === undefined) {
      return sent`massKg: is missing; weigh the water and give kilograms`;
    }
    if (line.phase === 'pause') {
      if (work instanceof RunningDrain) work.pause(t);
      this.#host.tell(work.message(t, 'paused', null));
      return null;
    }
    this.#works.delete(unit.id);
    if (line.phase === 'cancel') {
      this.#host.tell(work.message(t, 'cancelled', sent`Cancelled. Nothing was worked out.`));
      return null;
    }
    const about = this.#about(unit, work.from, t, unit.isSimulated);
    const found = this.#worked(work, line, about, unit);
    const text = typeof found === 'string' ? found : (textOf(found) ?? sent`Done.`);
    this.#host.tell(work.message(t, 'ended', text));
    if (typeof found === 'string') return null;
    if ('placed' in found) this.#zero(found, t);
    else this.#finish(found, unit);
    return null;
  }

  /** What a zero has found is taken off from its end on. */
  #zero({ result, placed }: FoundZero, t: number): void {
    for (const [id, zero] of placed ?? []) {
      const probe = this.#host.probes.get(id);
      if (probe !== undefined) probe.zero = zero;
    }
    this.#host.zero(result);
    if (placed !== null) this.#host.corrected([...placed.keys()], t);
  }

  #worked(
    work: RunningDrain | RunningHeat | RunningZero,
    line: CondensateEvent | HeatEvent | ZeroEvent,
    about: Circumstances,
    unit: UnitRecord,
  ): AirflowResult | FoundZero | string {
    if (work instanceof RunningDrain && line.kind === 'condensate') return work.end(line, about);
    if (work instanceof RunningHeat && line.kind === 'heat') return work.end(line, about);
    if (work instanceof RunningZero && line.kind === 'zero') {
      const { dryAirKgs, u } = unit.flowNow();
      return work.end(line, dryAirKgs, u);
    }
    return sent`Nothing was measured.`;
  }

  #about(unit: UnitRecord, from: number, t: number, simulated: boolean): Circumstances {
    return { t, from, unit: unit.id, fan: unit.fan, wetness: unit.wetness, simulated };
  }
}

const airflowU = ({ limitPct = 0, limitK }: Airflow): number => statement(limitPct / 100, limitK).u;

const textOf = (found: AirflowResult | FoundZero): string | undefined =>
  'placed' in found
    ? `${found.result.text}${found.placed === null ? '' : ` ${sent`From now on that is taken off.`}`}`
    : found.warnings[0];
