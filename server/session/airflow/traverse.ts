/** A traverse of an opening, from its start to its end: sweep or point by point. */
import type { TraverseEvent } from '../../../adapters/contract.ts';
import type { PointVelocity } from '../../measure/airflow/grid.ts';
import type { Rule } from '../../measure/airflow/positions.ts';
import type { SectionVelocity } from '../../measure/airflow/sweep.ts';
import type { Measuring, OutletState, PointProgress } from '../../protocol.ts';
import { heldU, SectionSweep, type SweptSection } from '../../signal/section-sweep.ts';
import type { ProbeRecord } from '../probe.ts';
import { gridGuide, sectionSeconds, sweepGuide } from './guide.ts';

/** The vane comes to a point's velocity within this, ms; a point is settled when its mean is this sure (a part of it). */
const COMES_MS = 2000;
const POINT_LEAST_S = 5;
const POINT_U = 0.04;
const POINT_MOST_S = 30;
/** In slow air so many m/s are as good. */
const POINT_U_MS = 0.02;

/** A point that is held at: from its beginning, and from when the vane has come to its velocity. */
interface HeldPoint {
  at: { section: number; row: number; column: number };
  all: SectionSweep;
  settled: SectionSweep;
}

export class RunningTraverse {
  readonly unit: string;
  readonly outletId: string;
  readonly method: 'sweep' | 'grid';
  readonly probe: ProbeRecord;
  readonly rule: Rule;
  from: number;
  #paused = false;
  #section = 0;
  readonly #sections = new Map<number, SectionSweep>();
  readonly #points = new Map<string, HeldPoint>();
  #held: HeldPoint | null = null;
  #velocityMs = NaN;
  #heardT: number;

  constructor(
    { t, unit, method = 'sweep', rule = 'equal-area' }: TraverseEvent,
    outletId: string,
    probe: ProbeRecord,
  ) {
    this.from = this.#heardT = t;
    this.unit = unit;
    this.outletId = outletId;
    this.method = method;
    this.rule = rule;
    this.probe = probe;
    probe.traversing = true;
    if (method === 'sweep') this.#sections.set(0, new SectionSweep(t, true));
  }

  /** A velocity of its probe. */
  reading(t: number, velocityMs: number): void {
    this.#velocityMs = velocityMs;
    this.#heardT = t;
    for (const open of this.#open()) open.add(t, velocityMs);
  }

  pause(t: number): void {
    this.#paused = true;
    for (const open of this.#open()) open.pause(t);
  }

  resume(t: number): void {
    this.#paused = false;
    for (const open of this.#open()) open.resume(t);
  }

  /** On to another section, or back to an earlier one, which goes on. */
  section(t: number, index = this.#section + 1): void {
    for (const open of this.#open()) open.pause(t);
    this.#paused = false;
    this.#section = index;
    this.#held = null;
    if (this.method === 'grid') return;
    const known = this.#sections.get(index);
    if (known === undefined) this.#sections.set(index, new SectionSweep(t, true));
    else known.resume(t);
  }

  /** The probe is held at a point from now on; one that was held before is measured anew. */
  point(t: number, row: number, column: number, section = this.#section): void {
    for (const open of this.#open()) open.pause(t);
    this.#paused = false;
    this.#section = section;
    this.#held = {
      at: { section, row, column },
      all: new SectionSweep(t, false),
      settled: new SectionSweep(t + COMES_MS, false),
    };
    this.#points.set([section, row, column].join(), this.#held);
  }

  clockSet(shiftMs: number): void {
    this.from += shiftMs;
    this.#heardT += shiftMs;
    for (const sweep of this.#sections.values()) sweep.clockSet(shiftMs);
    for (const { all, settled } of this.#points.values()) {
      all.clockSet(shiftMs);
      settled.clockSet(shiftMs);
    }
  }

  /** Ends it at `t`: nothing is added afterwards. */
  close(t: number): void {
    for (const open of this.#open()) open.pause(t);
    this.probe.traversing = false;
  }

  /** What each section of a sweep tells; null of one that was not swept. */
  swept(count: number): (SweptSection | null)[] {
    return Array.from({ length: count }, (_, i) => {
      const result = this.#sections.get(i)?.result();
      return result === undefined || result.readings === 0 ? null : result;
    });
  }

  /** The points that were held at, with their means. */
  held(): PointVelocity[] {
    return [...this.#points.values()].flatMap(({ at, ...sweeps }) => {
      const best = bestOf(sweeps);
      const { meanMs } = best;
      return Number.isNaN(meanMs) ? [] : [{ ...at, meanMs, uMs: heldU(best) * Math.abs(meanMs) }];
    });
  }

  /** As it is told each second. */
  message(t: number, outlet: OutletState, phase: Measuring['phase']): Measuring {
    const now = t - this.#heardT <= 3000 && !Number.isNaN(this.#velocityMs);
    const silentS = (t - this.#heardT) / 1000;
    const points = this.#pointProgress();
    const headM = this.probe.anemometer?.headM ?? null;
    const sections = outlet.sections.map((size, i) => {
      const result = this.#sections.get(i)?.result();
      const seconds = result?.seconds ?? 0;
      return {
        meanMs: result === undefined || seconds === 0 ? null : result.meanMs,
        seconds,
        progress: Math.min(1, seconds / sectionSeconds(size, headM)),
      };
    });
    const running = this.#sections.get(this.#section);
    const { text, warns, progress } =
      this.method === 'sweep'
        ? sweepGuide({
            outlet,
            headM,
            section: this.#section,
            sections,
            result: running?.result() ?? null,
            isAway: running?.isAway ?? false,
            silentS,
            paused: this.#paused,
          })
        : gridGuide({
            outlet,
            rule: this.rule,
            points,
            at: this.#held?.at ?? null,
            silentS,
            paused: this.#paused,
          });
    return {
      type: 'measuring',
      unit: this.unit,
      method: this.method,
      phase: phase === 'running' && this.#paused ? 'paused' : phase,
      from: this.from,
      t,
      text,
      warns,
      progress,
      outlet: this.outletId,
      probe: this.probe.id,
      velocityMs: now ? this.#velocityMs : null,
      section: this.#section,
      sections,
      rule: this.method === 'grid' ? this.rule : null,
      points,
      difference: null,
      differenceU95: null,
    };
  }

  #pointProgress(): PointProgress[] {
    return [...this.#points.values()].map(({ at, ...sweeps }) => {
      const result = bestOf(sweeps);
      const { meanMs, seconds } = result;
      const u = heldU(result);
      const isSure = u <= POINT_U || Math.abs(meanMs) * u <= POINT_U_MS;
      const settled = seconds >= POINT_LEAST_S && (isSure || seconds >= POINT_MOST_S);
      return { ...at, meanMs: Number.isNaN(meanMs) ? null : meanMs, settled };
    });
  }

  /** What takes readings at the moment. */
  #open(): SectionSweep[] {
    if (this.method === 'grid') {
      return this.#held === null ? [] : [this.#held.all, this.#held.settled];
    }
    const section = this.#sections.get(this.#section);
    return section === undefined ? [] : [section];
  }
}

/** Without the vane's coming to it, where there is enough after that. */
function bestOf({ all, settled }: Omit<HeldPoint, 'at'>): SweptSection {
  const late = settled.result();
  return late.seconds >= COMES_MS / 1000 ? late : all.result();
}

/** A section as the flow needs it. */
export const velocityOf = ({ meanMs, variation }: SweptSection): SectionVelocity => ({
  meanMs,
  variation,
});
