/**
 * What the units of a visit should deliver, together: heads on one outdoor unit share its compressor and
 * its power, and the outdoor air is the same for all.
 */
import { factorOf } from '../../measure/expectation/curves.ts';
import { likelyCauses } from '../../measure/expectation/causes.ts';
import { efficiency, UNSAID_POWER } from '../../measure/expectation/efficiency.ts';
import type { SharedBy } from '../../measure/expectation/shared-heads.ts';
import { statement } from '../../measure/gum.ts';
import type { Mode } from '../../measure/capacity.ts';
import type { Capture, Expected, VerdictMessage } from '../../protocol.ts';
import type { SystemDetails } from '../../visit-log/details.ts';
import type { ProbeRecord } from '../probe.ts';
import type { UnitRecord } from '../unit.ts';
import type { Around } from './expectation.ts';
import { QUANTITIES } from './span-log.ts';
import { visitEvidence } from './visit-evidence.ts';

/** ± of the outdoor temperature, K: as a person tells it, and by a probe whose limits nobody said. */
const ENTERED_OUTDOOR_K = 2;
const UNSAID_OUTDOOR_K = 1;
/** ± of what an outdoor unit gives to all its heads, away from rating. */
const COMBINED_LIMIT = 0.1;
/** At rating: outdoors, and the indoor temperature that counts, °C. */
const RATING = {
  cooling: { outdoor: 35, inside: 19.44 },
  heating: { outdoor: 8.33, inside: 21.11 },
} as const;
const K95 = 1.96;

/** What it sees of the visit. */
export interface OfVisit {
  probes: ReadonlyMap<string, ProbeRecord>;
  units: ReadonlyMap<string, UnitRecord>;
  systems: ReadonlyMap<string, SystemDetails>;
  /** The site's pressure in use, Pa, and the outdoor air as a person told it, °C. */
  pressurePa: () => number;
  enteredOutdoorC: () => number | null;
}

interface Power {
  powerW: number;
  u: number;
  from: 'probe' | 'entered';
}

export class Expectations {
  readonly #of: OfVisit;
  /** What stands around a unit in one second, written over for each. */
  readonly #second = new Float64Array(QUANTITIES.length);

  constructor(of: OfVisit) {
    this.#of = of;
  }

  /** Takes a second that has been worked out for all units; `outdoorC` is what probes outdoors tell. */
  second(t: number, standsS: number, outdoorC: number | null): void {
    const isPowered = this.#isPowered();
    const outdoors = outdoorC ?? this.#of.enteredOutdoorC() ?? NaN;
    const now = this.#second;
    for (const unit of this.#of.units.values()) {
      const { latest } = unit;
      // In the order of QUANTITIES.
      now[0] = latest?.return.temperatureC ?? NaN;
      now[1] = latest?.return.wetBulbC ?? NaN;
      now[2] = latest?.return.humidityPct ?? NaN;
      now[3] = latest?.supply.temperatureC ?? NaN;
      now[4] = latest?.supply.humidityPct ?? NaN;
      now[5] = this.#roomC(unit.id);
      now[6] = outdoors;
      now[7] = isPowered ? (this.#powerOf(unit)?.powerW ?? NaN) : NaN;
      now[8] = isPowered ? (this.#heatOf(unit)?.value ?? NaN) : NaN;
      unit.expectation.log.second(t, standsS, now);
    }
  }

  /** The verdict on a capture that has just been made; null where nothing can be expected of it. */
  verdict(capture: Capture): VerdictMessage | null {
    const unit = this.#of.units.get(capture.unit);
    const { at } = capture;
    if (unit === undefined || at === undefined) return null;
    const { outdoorC, indoorC, indoorWetBulbC } = at;
    const mode: Mode = capture.latentW === null ? 'heating' : 'cooling';
    const conditions = {
      outdoorC: outdoorC ?? this.#of.enteredOutdoorC(),
      ...{ indoorC, indoorWetBulbC },
    };
    const around = this.#around(unit, mode, conditions, at.fan);
    const judged = unit.expectation.verdict(capture, around);
    if (judged === null) return null;
    const { here, verdict } = judged;
    const power = this.#powerOf(unit);
    const evidence = visitEvidence(unit, capture, {
      mode,
      expectedW: { value: verdict.expectedW, u: verdict.expectedU95W / K95 },
      powerW: at.powerW === null || power === null ? null : { value: at.powerW, u: power.u },
      expectedPowerW: here.expected.powerW,
      isFullDemand: verdict.fullDemand !== null,
      push: unit.expectation.push.last,
      otherHeads: this.#otherHeads(unit, around),
    });
    const causes = evidence === null ? [] : likelyCauses(evidence);
    return { ...verdict, causes };
  }

  /** What each unit should deliver now, and what it does. */
  now(t: number): Expected[] {
    return [...this.#of.units.values()].map((unit) => this.#nowOf(unit, t));
  }

  #nowOf(unit: UnitRecord, t: number): Expected {
    const { latest, expectation } = unit;
    const mode = latest?.mode ?? null;
    const conditions = {
      outdoorC: this.outdoorC() ?? this.#of.enteredOutdoorC(),
      indoorC: latest?.return.temperatureC ?? null,
      indoorWetBulbC: latest?.return.wetBulbC ?? null,
    };
    const around = this.#around(unit, mode ?? 'cooling', conditions, unit.fan);
    const here = expectation.here(mode, around);
    const told = { type: 'expected', unit: unit.id, t } as const;
    const shown = { fullDemand: expectation.push.shown, push: expectation.push.last };
    const all = { ...shown, efficiency: this.#efficiency(unit) };
    if (typeof here === 'string') return { ...told, now: null, why: here, ...all };
    if (mode === null) return { ...told, now: null, why: 'no-mode', ...all };
    const { totalW, totalU95W } = latest?.capacity ?? { totalW: null, totalU95W: null };
    const dryAirKgs = latest?.airflow.dryAirKgs ?? null;
    const judged = expectation.judge(
      mode,
      {
        totalW: totalW ?? 0,
        errors: unit.budget,
        scatterW: 0,
        dryAirKgs: dryAirKgs ?? 0,
        returnProbes: [...this.#of.probes.values()]
          .filter((probe) => probe.unit === unit.id && probe.place === 'return')
          .map(({ id }) => id),
      },
      here,
      around,
    );
    const known = totalW !== null && totalU95W !== null;
    return {
      ...told,
      now: {
        ...{ mode, expectedW: here.share.totalW, expectedU95W: K95 * judged.expectedU },
        ...{ limit: expectation.limit(mode), basis: here.expected.by },
        ...{ atMost: here.share.atMost, limited: here.share.limited },
        ...{ altitudeFactor: here.expected.altitudeFactor, conditions: here.conditions },
        outdoorFrom: around.outdoorFrom,
        otherSpeed: expectation.isAtOtherSpeed(mode, unit.fan),
        ratio: totalW === null ? null : judged.ratio,
        ratioU95: known ? judged.ratioU95 : null,
        probability: known ? judged.probability : null,
      },
      why: null,
      ...all,
    };
  }

  #around(
    unit: UnitRecord,
    mode: Mode,
    conditions: Around['conditions'],
    fan: string | null,
  ): Around {
    const probed = this.outdoorC() !== null;
    return {
      conditions,
      outdoorU: probed ? this.#outdoorU() : statement(ENTERED_OUTDOOR_K).u,
      outdoorFrom: probed ? 'probe' : 'entered',
      pPa: this.#of.pressurePa(),
      shared: this.#shared(unit, mode, conditions),
      fan,
      done: unit.done(),
    };
  }

  /** Of the probes that hang outdoors, whichever unit they are said to belong to; null where none tells. */
  outdoorC(): number | null {
    let sum = 0;
    let n = 0;
    for (const { place, now } of this.#of.probes.values()) {
      if (place !== 'outdoor' || Number.isNaN(now.temperatureC)) continue;
      sum += now.temperatureC;
      n++;
    }
    return n === 0 ? null : sum / n;
  }

  /** Of the probes in the room of a unit; NaN where none tells. */
  #roomC(unit: string): number {
    let sum = 0;
    let n = 0;
    for (const probe of this.#of.probes.values()) {
      if (probe.place !== 'room' || probe.unit !== unit) continue;
      if (Number.isNaN(probe.now.temperatureC)) continue;
      sum += probe.now.temperatureC;
      n++;
    }
    return sum / n;
  }

  #outdoorU(): number {
    let widest = 0;
    for (const { place, limits } of this.#of.probes.values()) {
      if (place !== 'outdoor') continue;
      widest = Math.max(widest, statement(limits.temperatureC ?? UNSAID_OUTDOOR_K, limits.k).u);
    }
    return widest;
  }

  /** The units on the same outdoor unit, this one among them. */
  #group(unit: UnitRecord): UnitRecord[] {
    const { system } = unit.details;
    if (system === undefined) return [unit];
    return [...this.#of.units.values()].filter((each) => each.details.system === system);
  }

  #system({ details: { system } }: UnitRecord): SystemDetails {
    return system === undefined ? {} : (this.#of.systems.get(system) ?? {});
  }

  /** Heads of the same outdoor unit that run as well. */
  #shared(unit: UnitRecord, mode: Mode, { outdoorC, ...indoor }: Around['conditions']): SharedBy {
    const group = this.#group(unit);
    const { heads, othersRun, combinedCoolingW, combinedHeatingW } = this.#system(unit);
    const others = group.flatMap((each): SharedBy['others'] => {
      if (each === unit || !each.delivers) return [];
      const { totalW, totalU95W } = each.latest?.capacity ?? {};
      const known = typeof totalW === 'number' && typeof totalU95W === 'number';
      return [known ? { totalW, u: totalU95W / K95 } : null];
    });
    const unseen = (heads ?? group.length) > group.length;
    // Heads that nobody has said anything of may run.
    const all = (unseen && othersRun !== false) || othersRun === true ? [...others, null] : others;
    const rated = mode === 'cooling' ? combinedCoolingW : combinedHeatingW;
    const counts = mode === 'cooling' ? indoor.indoorWetBulbC : indoor.indoorC;
    const { outdoor, inside } = RATING[mode];
    const there = factorOf(mode, outdoor, inside);
    const here = outdoorC === null || counts === null ? null : factorOf(mode, outdoorC, counts);
    if (rated === undefined || here === null || there === null) {
      return { combined: null, others: all };
    }
    const totalW = (rated * here) / there;
    return { combined: { totalW, u: statement(COMBINED_LIMIT).u * totalW }, others: all };
  }

  /** Whether anything is known of power: in most visits nothing is. */
  #isPowered(): boolean {
    for (const { now } of this.#of.probes.values()) if (!Number.isNaN(now.powerW)) return true;
    for (const { powerW } of this.#of.units.values()) if (powerW !== null) return true;
    return false;
  }

  /** Whether other heads run; null: nobody knows. */
  #otherHeads(unit: UnitRecord, { shared }: Around): 'running' | 'off' | null {
    if ((shared?.others ?? []).some((other) => other !== null)) return 'running';
    const { heads, othersRun } = this.#system(unit);
    if (othersRun !== undefined) return othersRun ? 'running' : 'off';
    return heads !== undefined && heads <= this.#group(unit).length ? 'off' : null;
  }

  /** What the outdoor unit takes with all its heads. */
  #powerOf(unit: UnitRecord): Power | null {
    const group = this.#group(unit);
    const ids = new Set(group.map(({ id }) => id));
    let powerW = 0;
    let n = 0;
    // One that hangs outdoors and belongs to nobody is the meter of the only outdoor unit there is.
    const isOnly = group.length === this.#of.units.size;
    for (const { unit: at, place, now } of this.#of.probes.values()) {
      if (Number.isNaN(now.powerW)) continue;
      if (at === null ? !isOnly || place !== 'outdoor' : !ids.has(at)) continue;
      powerW += now.powerW;
      n++;
    }
    if (n > 0) return { powerW, u: statement(UNSAID_POWER).u * powerW, from: 'probe' };
    const told = group.find((each) => each.powerW !== null);
    const powerToldW = told?.powerW ?? null;
    if (told === undefined || powerToldW === null) return null;
    const limit = (told.powerLimitPct ?? 100 * UNSAID_POWER) / 100;
    return { powerW: powerToldW, u: statement(limit).u * powerToldW, from: 'entered' };
  }

  /** What all its heads deliver; null where one of them has no figure, or has no probes and may run. */
  #heatOf(unit: UnitRecord): { value: number; u: number | null } | null {
    const group = this.#group(unit);
    const { heads, othersRun } = this.#system(unit);
    if ((heads ?? group.length) > group.length && othersRun !== false) return null;
    let value = 0;
    let square = 0;
    let known = true;
    for (const { latest } of group) {
      const { totalW = null, totalU95W = null } = latest?.capacity ?? {};
      if (totalW === null) return null;
      value += totalW;
      known &&= totalU95W !== null;
      square += ((totalU95W ?? 0) / K95) ** 2;
    }
    return { value, u: known ? Math.sqrt(square) : null };
  }

  #efficiency(unit: UnitRecord): Expected['efficiency'] {
    const power = this.#powerOf(unit);
    const heat = this.#heatOf(unit);
    if (power === null || heat === null) return null;
    const { value, u } = heat;
    const found = efficiency({ value, u: u ?? 0 }, { value: power.powerW, u: power.u });
    if (found === null) return null;
    const u95 = u === null ? null : K95 * found.u;
    return { value: found.value, u95, powerW: power.powerW, from: power.from };
  }
}
