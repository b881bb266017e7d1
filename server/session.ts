/**
 * One visit: lines in, one snapshot a second out. The same code runs live and over a visit log; its
 * only clock is the time in the readings, and what `advanceTo` is told.
 */
import type {
  AmendEvent,
  BaselineEvent,
  ClockEvent,
  EventLine,
  ExpectationLine,
  OutletLine,
  Line,
  Mode,
  ProbeLine,
  ProbeLink,
  Reading,
  RemarkEvent,
  StrikeEvent,
  SystemLine,
  UnitLine,
  VisitLine,
} from '../adapters/contract.ts';
import type {
  AirflowResult,
  Budget,
  Capture,
  Check,
  EventMessage,
  Expected,
  Measuring,
  Snapshot,
  VerdictMessage,
  VisitSetup,
  Walk,
  ZeroResult,
} from './protocol.ts';
import { Airflows, isOfAirflow } from './session/airflow/airflows.ts';
import { MeasuredAirflows } from './session/airflow/measured-airflows.ts';
import { Outlets } from './session/airflow/outlets.ts';
import { Expectations } from './session/expectation/expectations.ts';
import { RunningCheck } from './session/check.ts';
import {
  type SystemDetails,
  systemDetails,
  unitDetails,
  type VisitDetails,
  visitDetails,
} from './visit-log/details.ts';
import { fromEarlierCheck } from './session/correction.ts';
import { FULL, Photos } from './session/photos.ts';
import type { PlacedProbes } from './session/place.ts';
import { liftZeros } from './session/placed-zero.ts';
import { type Pressure, pressureOf } from './session/pressure.ts';
import { ProbeRecord, type Source } from './session/probe.ts';
import { nextSecond, STEP_MS } from './session/strides.ts';
import { noRoomFor, noRoomToHear, whoGivesWay } from './session/room.ts';
import { sumOf } from './session/sum.ts';
import { ToldEvents } from './session/told-events.ts';
import { HeadsTogether } from './session/situations/other-heads.ts';
import { UnitRecord, type UnitSettings } from './session/unit.ts';
import { Walks } from './session/walks.ts';
import { whyLate, JUMP_MS } from './visit-log/lateness.ts';
import { sent } from './words/sent.ts';

/** Which capture a person means. */
export type OfCapture = Pick<RemarkEvent, 'unit' | 'from' | 'to' | 'by'>;

const MAX_SYSTEMS = 32;
/** A steady span is captured by itself after so long, where nothing else is set, s. */
const CAPTURE_AFTER_S = 120;

/** Of probes that are known by a check before they have sent anything. */
const NO_SOURCE: Source = { adapter: null, simulated: false };
const noProbes = (): PlacedProbes => ({
  return: [],
  supply: [],
  outlet: [],
  room: [],
  check: null,
  walking: false,
});
const NO_PROBES = noProbes();
const NO_SUM: Snapshot['sum'] = { totalW: null, sensibleW: null, latentW: null, totalU95W: null };
function isSimulated(at: PlacedProbes): boolean {
  return at.return.some((p) => p.simulated) || at.supply.some((p) => p.simulated);
}

/** What a session tells its owner. */
export interface SessionSink {
  snapshot(snapshot: Snapshot): void;
  capture(capture: Capture): void;
  /** A side-by-side check runs, or has ended. */
  check(check: Check): void;
  /** A walk along an outlet or intake runs, or has ended. */
  walk(walk: Walk): void;
  /** An airflow is being measured, or a zero in place; or that has ended. */
  measuring?(measuring: Measuring): void;
  /** What has been measured. */
  airflow?(result: AirflowResult): void;
  zero?(zero: ZeroResult): void;
  /** Whether a capture that has just been told is what the unit should deliver. */
  verdict?(verdict: VerdictMessage, capture: Capture): void;
  event(event: EventMessage): void;
  /**
   * A probe that is new, or of which something is known anew (not: another reading).
   * @param forgotten there is no such probe any more, until it is heard again
   */
  probe(probe: ProbeRecord, forgotten: boolean): void;
  /** The set-up has changed: units, names, airflow, pressure, mode. */
  setup(): void;
}

export class Session {
  readonly probes = new Map<string, ProbeRecord>();
  readonly units = new Map<string, UnitRecord>();
  /** The last snapshot, null before the first. */
  latest: Snapshot | null = null;
  readonly #sink: SessionSink;
  #title = '';
  #details: VisitDetails = {};
  readonly #systems = new Map<string, SystemDetails>();
  #mode: Mode | null = null;
  #pressurePa: number | null = null;
  #altitudeM: number | null = null;
  /** What a person says of the outdoor air, °C. */
  #enteredOutdoorC: number | null = null;
  #simulated = false;
  #pressure: Pressure = pressureOf(null, null, []);
  /** Time of the newest line, ms; −∞ before the first. */
  #newestT = -Infinity;
  /** Time of the newest reading: what lateness is judged by, so that no event can shut readings out. */
  #newestReadingT = -Infinity;
  /** When the visit began, ms. */
  #beganT = Infinity;
  /** The next whole second to be worked out, and the last one that was. */
  #nextT = Infinity;
  #workedT = -Infinity;
  /** Time of the newest reading, or of the visit's first line: since then it is silent, ms. */
  #heardT = -Infinity;
  /** Defrosts are found, not told: their events have ids of their own. */
  #defrosts = 0;
  readonly #told = new ToldEvents();
  readonly #photos = new Photos();
  readonly #settings: UnitSettings;
  #check: RunningCheck | null = null;
  readonly #walks: Walks;
  readonly #outlets = new Outlets();
  readonly #airflows: Airflows;
  readonly #measured = new MeasuredAirflows();
  readonly #expectations: Expectations;
  /** Probes by unit id, kept for the second's work; rebuilt when one is placed. */
  #placed: Map<string, PlacedProbes> | null = null;

  /** @param everySpan a capture of each span, whatever the visit says of when one is made by itself */
  constructor(sink: SessionSink, { everySpan = false } = {}) {
    this.#sink = sink;
    this.#settings = {
      ...{ steadyTest: 'field', captureAfterS: CAPTURE_AFTER_S, everySpan },
      heads: new HeadsTogether(),
    };
    this.#walks = new Walks({
      probes: this.probes,
      units: this.units,
      tell: (walk) => this.#sink.walk(walk),
      beginAnew: (unit, t) => {
        this.#placed = null;
        this.#captured(unit.beginAnew(t));
        this.#sink.setup();
      },
    });
    this.#expectations = new Expectations({
      ...{ probes: this.probes, units: this.units, systems: this.#systems },
      pressurePa: () => this.#pressure.pa,
      enteredOutdoorC: () => this.#enteredOutdoorC,
    });
    this.#airflows = new Airflows({
      ...{ probes: this.probes, units: this.units, outlets: this.#outlets },
      tell: (measuring) => this.#sink.measuring?.(measuring),
      result: (result) => {
        this.#measured.tell(result);
        this.#sink.airflow?.(result);
      },
      zero: (zero) => this.#sink.zero?.(zero),
      use: (unit, airflow, t) => {
        this.#captured(unit.setAirflow(airflow, t));
        this.#sink.setup();
        this.#tellEvent({ type: 'event', t, kind: 'airflow', unit: unit.id });
      },
      corrected: (ids, t) => this.#corrected(ids, t),
      placeAnew: ({ id, unit }, t) => {
        this.#placed = null;
        if (unit !== null) this.#unit(unit).anemometerMoved(t);
        this.#zeroEnds([id], t);
      },
    });
  }

  /** Time of the newest line, ms; null before the first. */
  get newestT(): number | null {
    return this.#newestT === -Infinity ? null : this.#newestT;
  }

  /** Has any reading come? */
  get begun(): boolean {
    return this.#newestReadingT > -Infinity;
  }

  /**
   * Takes one line that the schema has let through.
   * @param after of a line of a record: see `outOfTurn`
   * @returns why it was refused, naming the field, or null. What was there before stays.
   */
  apply(line: Line, source: Source, after?: number): string | null {
    if (after !== undefined) this.#closeAt(after);
    const newestT = this.#newestT;
    const refusal = this.#take(line, source);
    if (refusal === null) return null;
    // One that is refused leaves no trace: the record does not hold it.
    this.#newestT = newestT;
    if (newestT === -Infinity) this.#nextT = Infinity;
    return refusal;
  }

  #take(line: Line, source: Source): string | null {
    if (line.type !== 'reading') {
      const full = noRoomFor(line, this.units, this.probes);
      if (full !== null) return full;
    }
    switch (line.type) {
      case 'reading':
        return this.#reading(line, source);
      case 'visit':
        return this.#visit(line);
      case 'system':
        return this.#system(line);
      case 'unit':
        return this.#unitLine(line);
      case 'outlet':
        return this.#outlet(line);
      case 'expectation':
        return this.#expectation(line);
      case 'probe':
        return this.#probeLine(line, source);
      case 'airflow': {
        const refusal = this.#timed(line.t);
        if (refusal !== null) return refusal;
        const unit = this.#unit(line.unit);
        this.#airflows.told(unit, line.airflow, line.t);
        this.#captured(unit.setAirflow(line.airflow, line.t));
        this.#sink.setup();
        this.#tellEvent({ type: 'event', t: line.t, kind: 'airflow', unit: line.unit }, line.id);
        return null;
      }
      case 'event':
        return this.#event(line);
      case 'photo':
        return this.#photos.take(line);
    }
  }

  /**
   * Up to which second all has been worked out, ms, where a reader of the record could not tell that from
   * the times of the lines, or would take this one for another's error; undefined where a line comes in
   * its turn. Recorded with the line, it has the visit made again exactly as it was.
   */
  outOfTurn(line: Line): number | undefined {
    if (this.#nextT === Infinity) return undefined; // nothing has a time yet
    const workedT = this.#workedT === -Infinity ? this.#nextT - STEP_MS : this.#shownT();
    if (line.type === 'event' && line.kind === 'clock') return workedT;
    const t = 't' in line ? line.t : undefined;
    if (t === undefined || t < this.#newestT || t <= workedT) return workedT;
    const jumps = this.begun && t > this.#newestReadingT + JUMP_MS;
    return jumps && line.type === 'reading' ? workedT : undefined;
  }

  /** The link of a probe has changed. */
  link(id: string, link: ProbeLink, source: Source): void {
    // Of one too many nothing is known until it sends something.
    if (noRoomFor({ type: 'probe', id }, this.units, this.probes) !== null) return;
    const probe = this.#probe(id, source);
    probe.link = link;
    this.#sink.probe(probe, false);
  }

  /**
   * Lets time go on to `t`: all whole seconds up to it are worked out. Of a silence only some are, see
   * strides.ts: so much work a line, however far apart lines are.
   */
  advanceTo(t: number): void {
    while (this.#nextT <= t) {
      this.#second(this.#nextT);
      this.#nextT = nextSecond(this.#nextT, this.#heardT, this.probes.values());
    }
  }

  /**
   * The same for a visit that is looked at: in the seconds that are not worked out, what stands is told
   * again with their time.
   */
  showAt(t: number): void {
    this.advanceTo(t);
    const { latest } = this;
    const second = Math.floor(t / STEP_MS) * STEP_MS;
    if (latest === null || latest.t >= second) return;
    this.latest = { ...latest, t: second };
    this.#sink.snapshot(this.latest);
  }

  /** Ends a stride: what comes next is of the seconds after `t`, and after what has been shown. */
  #closeAt(t: number): void {
    this.advanceTo(t);
    if (this.#workedT === -Infinity) return;
    const last = Math.max(t, this.#shownT());
    if (last > this.#workedT) this.#second(last);
    this.#nextT = this.#workedT + STEP_MS;
  }

  /** The last whole second that has been told, worked out or not. */
  #shownT(): number {
    const toldT = Math.floor((this.latest?.t ?? 0) / STEP_MS) * STEP_MS;
    return Math.max(toldT, this.#workedT);
  }

  /** The log has ended: works out the second that the last line lies in, and ends open spans. */
  finish(): void {
    if (this.#newestT > -Infinity) this.#closeAt(Math.ceil(this.#newestT / STEP_MS) * STEP_MS);
    for (const unit of this.units.values()) this.#captured(unit.finish());
  }

  /** What is set up, and the pressure in use. */
  setup(): VisitSetup {
    return {
      title: this.#title,
      details: this.#details,
      systems: Object.fromEntries(this.#systems),
      mode: this.#mode,
      pressurePa: this.#pressure.pa,
      pressureSource: this.#pressure.source,
      altitudeM: this.#altitudeM,
      outdoorC: this.#enteredOutdoorC,
      steadyTest: this.#settings.steadyTest,
      captureAfterS: this.#settings.captureAfterS,
      units: Object.fromEntries([...this.units].map(([id, unit]) => [id, unit.setup()])),
      outlets: this.#outlets.toState(),
    };
  }

  /** Whether what is shown is simulated: before the first figure, what the figure will be made of. */
  get simulated(): boolean {
    if (this.latest !== null) return this.latest.simulated;
    if (this.#simulated) return true;
    return [...(this.#placed ??= this.#place()).values()].some(isSimulated);
  }

  /** Works out the second that ends at `t`; what it finds stands for those since the last one as well. */
  #second(t: number): void {
    const standsS = this.#workedT === -Infinity ? 1 : (t - this.#workedT) / STEP_MS;
    this.#workedT = t;
    for (const probe of this.probes.values()) probe.sample(t);
    if (this.#check !== null) this.#sink.check(this.#check.second(t));
    const { source } = this.#pressure;
    this.#pressure = pressureOf(this.#pressurePa, this.#altitudeM, this.probes.values());
    // A barometer that is heard, or not any more, makes a step of it.
    if (this.#pressure.source !== source) this.#beginAnew(t - STEP_MS);
    const placed = (this.#placed ??= this.#place());
    const snapshot: Snapshot = {
      type: 'snapshot',
      t,
      simulated: this.#simulated,
      units: {},
      sum: NO_SUM,
    };
    const outdoorC = this.#expectations.outdoorC();
    const captures: Capture[] = [];
    for (const [id, unit] of this.units) {
      const at = placed.get(id) ?? NO_PROBES;
      const simulated = this.#simulated || isSimulated(at);
      snapshot.simulated ||= simulated;
      const made = unit.second(t, standsS, at, this.#mode, this.#pressure, outdoorC, simulated);
      if (made.length > 0) captures.push(...made);
      if (unit.latest !== null) snapshot.units[id] = unit.latest;
      if (unit.tableMoved) this.#sink.setup();
      for (const news of unit.defrost) {
        this.#tellEvent(
          { type: 'event', kind: 'defrost', unit: id, ...news },
          `d${++this.#defrosts}`,
        );
      }
    }
    this.#expectations.second(t, standsS, outdoorC);
    snapshot.sum = sumOf(this.units.values());
    this.#walks.second(t, this.#pressure.pa);
    this.#airflows.second(t, standsS);
    const isShown = this.latest?.t === t; // as what stood: a line has ended the stride there
    this.latest = snapshot;
    if (!isShown) this.#sink.snapshot(snapshot);
    for (const capture of captures) this.#captured(capture);
  }

  #place(): Map<string, PlacedProbes> {
    const placed = new Map<string, PlacedProbes>();
    for (const probe of this.probes.values()) {
      if (probe.unit === null) continue;
      let at = placed.get(probe.unit);
      if (at === undefined) {
        at = noProbes();
        placed.set(probe.unit, at);
      }
      if (probe.traversing) continue;
      if (probe.inCheck) {
        at.check = this.#check;
        continue;
      }
      if (probe.walking) {
        at.walking = true;
        continue;
      }
      const { place } = probe;
      if (place !== null && place !== 'outdoor') at[place].push(probe);
    }
    return placed;
  }

  /** Lets time go on to a line's own time; refuses a line that is too late. */
  #timed(t: number): string | null {
    const late = whyLate(t, null, -Infinity, this.#newestReadingT);
    if (late === null) this.#goOn(t);
    return late;
  }

  #goOn(t: number): void {
    if (this.#nextT === Infinity) {
      this.#nextT = Math.ceil(t / STEP_MS) * STEP_MS;
      this.#heardT = t;
    }
    if (t < this.#beganT) this.#beganT = t;
    if (t > this.#newestT) {
      this.#newestT = t;
      // A second ends with the readings dated on it: those before it are complete now.
      this.#closeAt(Math.ceil(t / STEP_MS) * STEP_MS - STEP_MS);
    }
  }

  #reading(line: Reading, source: Source): string | null {
    const known = this.probes.get(line.probe);
    const late = whyLate(line.t, line.probe, known?.lastT ?? -Infinity, this.#newestReadingT);
    if (late !== null) return late;
    if (known !== undefined && known.adapter !== source.adapter && known.adapter !== null) {
      if (known.isLive(line.t)) {
        return sent`probe: "${line.probe}" is a live probe of the source "${known.adapter}"; give yours another id`;
      }
    }
    if (known === undefined || known.lastT === -Infinity) {
      const full = noRoomToHear(line.probe, this.probes);
      if (full !== null) return full;
    }
    this.#goOn(line.t);
    if (this.#newestReadingT === -Infinity && this.latest === null) {
      // Nothing has been worked out: the visit begins with its first reading, whatever was told before.
      this.#newestT = line.t;
      this.#nextT = Math.ceil(line.t / STEP_MS) * STEP_MS;
      this.#heardT = line.t;
    }
    // Only a reading that is taken may make others late.
    if (line.t > this.#newestReadingT) this.#newestReadingT = this.#heardT = line.t;
    const probe = known ?? this.#probe(line.probe, source, true);
    probe.adapter = source.adapter;
    probe.simulated ||= source.simulated || this.#simulated;
    const first = probe.lastT === -Infinity;
    const why = probe.add(line);
    if (line.velocityMs !== undefined && why === null) {
      this.#airflows.reading(line.probe, line.t, line.velocityMs);
    }
    if (first) this.#sink.probe(probe, false);
    return why;
  }

  #visit(line: VisitLine): string | null {
    const refusal = line.t === undefined ? null : this.#timed(line.t);
    if (refusal !== null) return refusal;
    const before = [this.#mode, this.#pressurePa, this.#altitudeM].join();
    if (line.title !== undefined) this.#title = line.title;
    this.#details = visitDetails(this.#details, line);
    if (line.pressurePa !== undefined) this.#pressurePa = line.pressurePa;
    if (line.altitudeM !== undefined) {
      this.#altitudeM = line.altitudeM;
      // Of the two the last that was told counts.
      if (line.pressurePa === undefined) this.#pressurePa = null;
    }
    if (line.outdoorC !== undefined) {
      this.#enteredOutdoorC = line.outdoorC;
      this.#judgeAnew(this.units.values());
    }
    if (line.mode !== undefined) this.#mode = line.mode;
    if (line.simulated !== undefined) this.#simulated = line.simulated;
    if (line.steadyTest !== undefined) this.#settings.steadyTest = line.steadyTest;
    if (line.captureAfterS !== undefined) this.#settings.captureAfterS = line.captureAfterS;
    this.#pressure = pressureOf(this.#pressurePa, this.#altitudeM, this.probes.values());
    if (before !== [this.#mode, this.#pressurePa, this.#altitudeM].join()) {
      this.#beginAnew(this.#now());
    }
    this.#sink.setup();
    return null;
  }

  /** Figures before and after are not of one kind. */
  #beginAnew(t: number): void {
    for (const unit of this.units.values()) this.#captured(unit.beginAnew(t));
  }

  #system(line: SystemLine): string | null {
    const refusal = line.t === undefined ? null : this.#timed(line.t);
    if (refusal !== null) return refusal;
    const known = this.#systems.get(line.id);
    if (known === undefined && this.#systems.size >= MAX_SYSTEMS) {
      return sent`id: "${line.id}" would be one too many: a visit has at most ${MAX_SYSTEMS} outdoor units`;
    }
    this.#systems.set(line.id, systemDetails(known ?? {}, line));
    this.#judgeAnew(this.units.values());
    this.#sink.setup();
    return null;
  }

  #outlet(line: OutletLine): string | null {
    const refusal = line.t === undefined ? null : this.#timed(line.t);
    if (refusal !== null) return refusal;
    const why = this.#outlets.tell(line);
    if (why !== null) return why;
    this.#unit(line.unit);
    this.#sink.setup();
    return null;
  }

  #expectation(line: ExpectationLine): string | null {
    const refusal = line.t === undefined ? null : this.#timed(line.t);
    if (refusal !== null) return refusal;
    const unit = this.#unit(line.unit);
    unit.expectation.tell(line);
    this.#judgeAnew([unit]);
    this.#sink.setup();
    return null;
  }

  #unitLine(line: UnitLine): string | null {
    const refusal = line.t === undefined ? null : this.#timed(line.t);
    if (refusal !== null) return refusal;
    const unit = this.#unit(line.id);
    if (line.name !== undefined) unit.name = line.name;
    unit.details = unitDetails(unit.details, line);
    if (line.fanSpeeds !== undefined) unit.fanSpeeds = line.fanSpeeds;
    if (line.powerW !== undefined) unit.powerW = line.powerW;
    if (line.filter !== undefined) {
      unit.filter = line.filter;
      this.#judgeAnew([unit]);
    }
    if (line.powerLimitPct !== undefined) unit.powerLimitPct = line.powerLimitPct;
    if (line.unevenPct !== undefined) {
      unit.evenness.enter(line.unevenPct);
      this.#captured(unit.knownBetter());
    }
    if (line.airflow !== undefined) this.#captured(unit.setAirflow(line.airflow, this.#now()));
    if (unit.table.tell(line)) this.#captured(unit.followTable(this.#now()));
    this.#sink.setup();
    return null;
  }

  #probeLine(line: ProbeLine, source: Source): string | null {
    const refusal = line.t === undefined ? null : this.#timed(line.t);
    if (refusal !== null) return refusal;
    if (line.forgotten === true) return this.#forget(line.id);
    const probe = this.#probe(line.id, source);
    const before = { unit: probe.unit, place: probe.place };
    if (line.check !== undefined) {
      const limits = line.check.probes.map((id) => this.probes.get(id)?.limits ?? {});
      this.#zeroEnds([probe.id], this.#now());
      probe.correction = fromEarlierCheck(line.check, limits);
      if (probe.unit !== null) {
        this.#unit(probe.unit).corrected();
        this.#captured(this.#unit(probe.unit).beginAnew(this.#now()));
      }
    }
    probe.simulated ||= line.simulated === true || source.simulated;
    const limits = JSON.stringify(probe.limits);
    const moved = probe.describe(line);
    if (probe.unit !== null && JSON.stringify(probe.limits) !== limits) {
      this.#captured(this.#unit(probe.unit).knownBetter());
    }
    if (moved) {
      this.#zeroEnds([probe.id], this.#now());
      this.#walks.spoil([probe.id], this.#now());
      this.#placed = null;
      for (const { unit, place } of [before, probe]) {
        if (unit !== null) this.#captured(this.#unit(unit).probeMoved(this.#now(), place));
      }
    }
    this.#sink.probe(probe, false);
    return null;
  }

  /** These probes read otherwise from `t` on: figures before and after are not of one kind. */
  #corrected(ids: readonly string[], t: number): void {
    const probes = ids.map((id) => this.probes.get(id)).filter((probe) => probe !== undefined);
    for (const id of new Set(probes.map(({ unit }) => unit))) {
      if (id === null) continue;
      this.#unit(id).corrected();
      this.#captured(this.#unit(id).beginAnew(t));
    }
    for (const probe of probes) this.#sink.probe(probe, false);
  }

  /** These probes hang elsewhere, or are corrected otherwise: a zero that they hold is of the past. */
  #zeroEnds(ids: readonly string[], t: number): void {
    const held = [...this.probes.values()].filter(({ zero }) => zero !== null);
    if (!liftZeros(ids, this.probes)) return;
    const lifted = held.filter(({ zero }) => zero === null).map(({ id }) => id);
    this.#corrected(lifted, t);
  }

  /** As if it had never been heard, but for what it has told already. */
  #forget(id: string): string | null {
    const probe = this.probes.get(id);
    if (probe === undefined) return sent`probe: there is no probe "${id}" in this visit`;
    if (probe.inCheck) {
      return sent`probe: "${probe.name}" lies in a side-by-side check: end the check, then forget it`;
    }
    if (probe.walking) {
      return sent`probe: "${probe.name}" is being walked along a place: end the walk, then forget it`;
    }
    if (probe.traversing) {
      return sent`probe: "${probe.name}" traverses an outlet: end the traverse, then forget it`;
    }
    this.#walks.spoil([id], this.#now());
    this.#zeroEnds([id], this.#now());
    this.probes.delete(id);
    this.#placed = null;
    if (probe.unit !== null) {
      this.#captured(this.#unit(probe.unit).probeMoved(this.#now(), probe.place));
    }
    this.#sink.probe(probe, true);
    return null;
  }

  /**
   * The clock was set. What was told goes over to the new clock, in the owner's hands too; what is worked
   * out over time begins anew, and nothing is live until it is heard again.
   */
  #clock({ id, ...event }: ClockEvent): null {
    const { t, shiftMs } = event;
    const oldT = this.#now();
    // Ends open spans, by the old clock: the event that is told moves them too.
    for (const unit of this.units.values()) this.#captured(unit.clockSet(shiftMs));
    for (const probe of this.probes.values()) probe.clockSet(shiftMs, this.#beganT, oldT);
    this.#check?.clockSet(shiftMs);
    this.#walks.clockSet(shiftMs);
    this.#airflows.clockSet(shiftMs);
    this.#measured.clockSet(shiftMs);
    this.#told.clockSet(shiftMs);
    this.#beganT += shiftMs;
    this.#newestT = t;
    if (this.begun) this.#newestReadingT = t;
    this.#nextT = Math.floor(t / STEP_MS) * STEP_MS + STEP_MS;
    this.#workedT = this.#nextT - STEP_MS;
    this.#heardT += shiftMs;
    if (this.latest !== null) this.latest = { ...this.latest, t, units: {}, sum: NO_SUM };
    this.#tellEvent(event, id);
    return null;
  }

  #event(line: EventLine): string | null {
    if (line.kind === 'clock') return this.#clock(line);
    const refusal = this.#timed(line.t);
    if (refusal !== null) return refusal;
    // What is done to an earlier event, or to a figure, is no event of the unit.
    if (line.kind === 'amend') return this.#amend(line);
    if (line.kind === 'capture') return this.#touch(line.unit);
    if (line.kind === 'strike') return this.#strike(line);
    if (line.kind === 'remark') return this.#remark(line);
    if (line.kind === 'baseline') return this.#baseline(line);
    if (line.kind === 'walk') {
      const why = this.#walks.event(line);
      if (why !== null) return why;
      if (line.phase === 'start') this.#zeroEnds([line.probe], line.t);
    }
    if (isOfAirflow(line)) {
      const why = this.#airflows.event(line);
      if (why !== null) return why;
    }
    const { id, ...event } = line;
    if (event.kind === 'check') this.#checkEvent(event);
    if (event.kind !== 'setpoint' && event.kind !== 'fan') {
      this.#tellEvent(event, id);
      return null;
    }
    const unit = this.#unit(event.unit);
    if (event.kind === 'setpoint') unit.setpointC = event.valueC;
    else unit.fan = event.speed;
    this.#captured(unit.restart(event.t, event.kind === 'fan'));
    if (event.kind === 'fan') this.#captured(unit.followTable(event.t));
    this.#sink.setup();
    const told = this.#tellEvent(event, id);
    unit.changed(told);
    unit.expectation.push.event(told, this.#mode ?? unit.latest?.mode ?? null);
    if (event.kind === 'fan') return null;
    // Heads of one outdoor unit share its compressor.
    for (const each of this.units.values()) each.compressorMoves(event.t);
    return null;
  }

  #amend(line: AmendEvent): string | null {
    const event = this.#told.amend(line);
    if (typeof event === 'string') return event;
    this.#sink.event(event);
    if (line.toT === undefined || event.unit === undefined) return null;
    if (event.kind === 'setpoint' || event.kind === 'fan') {
      this.#captured(this.#unit(event.unit).redate(event));
    }
    return null;
  }

  #touch(id: string): string | null {
    const unit = this.units.get(id);
    if (unit === undefined) return sent`unit: there is no unit "${id}" in this visit`;
    const capture = unit.touch();
    if (typeof capture === 'string') return capture;
    this.#captured(capture);
    return null;
  }

  /** It is told again, and so is each capture that was compared with it, or is now. */
  #strike({ t, struck = true, text, ...which }: StrikeEvent): string | null {
    const unit = this.units.get(which.unit);
    if (unit === undefined) return sent`unit: there is no unit "${which.unit}" in this visit`;
    const reason = text === undefined || text === '' ? {} : { text };
    const changed = unit.captures.strike(which, struck ? { t, ...reason } : null);
    if (typeof changed === 'string') return changed;
    for (const capture of changed) this.#sink.capture(capture);
    return null;
  }

  /** What was said of a capture: it is told again. */
  #remark({ unit: id, text, photo, off = false, ...which }: RemarkEvent): string | null {
    const captures = this.units.get(id)?.captures;
    if (captures === undefined) return sent`unit: there is no unit "${id}" in this visit`;
    if (text === undefined && photo === undefined) {
      return sent`text: is missing, and so is photo: give the note, the id of a photo, or both`;
    }
    let said: Capture | string | null = null;
    if (photo !== undefined) {
      const whole = this.#photos.whole(photo);
      if (whole === null) {
        return sent`photo: "${photo}" is not in this visit, or pieces of it are missing: send it again`;
      }
      said = off ? captures.photoOff(which, photo) : captures.photo(which, whole);
      if (typeof said === 'string') return said;
    }
    if (text !== undefined) said = captures.note(which, text);
    if (typeof said === 'string') return said;
    if (said !== null) this.#sink.capture(said);
    return null;
  }

  /** Later visits are compared with it. */
  #baseline({ unit: id, from, by, to, airflowT, off = false }: BaselineEvent): string | null {
    const unit = this.units.get(id);
    if (unit === undefined) return sent`unit: there is no unit "${id}" in this visit`;
    if (airflowT !== undefined) {
      const result = this.#measured.baseline(id, airflowT, !off);
      if (typeof result === 'string') return result;
      this.#sink.airflow?.(result);
      return null;
    }
    if (from === undefined || by === undefined) {
      return sent`from: is missing: name a capture by from and by, or an airflow by airflowT`;
    }
    const said = unit.captures.baseline({ from, by, to }, !off);
    if (typeof said === 'string') return said;
    this.#sink.capture(said);
    return null;
  }

  /** Are all pieces of that photo there? */
  hasPhoto(id: string): boolean {
    return this.#photos.whole(id) !== null;
  }

  /** Why a capture takes no photo (of that id), naming the field; null: it does. */
  whyNoPhoto({ unit, ...which }: OfCapture, id?: string): string | null {
    const captures = this.units.get(unit)?.captures;
    if (captures === undefined) return sent`unit: there is no unit "${unit}" in this visit`;
    const isNew = id === undefined || !this.hasPhoto(id);
    return captures.whyNoPhoto(which, id) ?? (isNew && this.#photos.isFull ? FULL : null);
  }

  /** Probes in a check hang nowhere meanwhile; what it finds holds from its end on. */
  #checkEvent(line: Extract<EventLine, { kind: 'check' }>): void {
    const open = this.#check;
    const checked = open?.probeIds ?? [];
    this.#walks.spoil(line.probes, line.t);
    this.#zeroEnds(line.probes, line.t);
    this.#check = null;
    if (open !== null) this.#sink.check(open.end(line.t));
    if (line.phase === 'start') {
      const probes = line.probes.map((id) => this.#probe(id, NO_SOURCE));
      this.#check = new RunningCheck(line.t, probes);
    }
    this.#placed = null;
    // Of the others nothing has changed.
    const ids = new Set([...line.probes, ...checked]);
    const units = new Set([...ids].map((id) => this.probes.get(id)?.unit ?? null));
    for (const [id, unit] of this.units) {
      if (!units.has(id)) continue;
      unit.corrected();
      this.#captured(unit.beginAnew(line.t));
    }
    for (const probe of this.probes.values()) this.#sink.probe(probe, false);
  }

  /** Of what the last interval of each unit was made. */
  budgets(): Budget[] {
    const t = this.latest?.t ?? 0;
    const nameOf = (id: string): string => this.probes.get(id)?.name ?? id;
    return [...this.units.values()].flatMap((unit) => unit.budgetAt(t, nameOf) ?? []);
  }

  /** @param id the one that it has in the visit's record */
  #tellEvent(event: Omit<EventMessage, 'id'>, id?: string): EventMessage {
    const told = this.#told.add(event, id);
    this.#sink.event(told);
    return told;
  }

  #captured(capture: Capture | null): void {
    if (capture === null) return;
    this.#sink.capture(capture);
    this.#judge(capture);
  }

  #judge(capture: Capture): void {
    const verdict = this.#expectations.verdict(capture);
    if (verdict !== null) this.#sink.verdict?.(verdict, capture);
  }

  /** What is expected is another: so is the verdict on the newest capture of each. */
  #judgeAnew(units: Iterable<UnitRecord>): void {
    for (const { captures } of units) if (captures.newest !== null) this.#judge(captures.newest);
  }

  /** What each unit should deliver now, and what it does. */
  expected(): Expected[] {
    return this.#expectations.now(this.latest?.t ?? 0);
  }

  /** The visit's present: its newest line, or the last second worked out. */
  #now(): number {
    return Math.max(this.#newestT, this.latest?.t ?? 0, 0);
  }

  #unit(id: string): UnitRecord {
    let unit = this.units.get(id);
    if (unit === undefined) {
      unit = new UnitRecord(id, this.#settings);
      this.units.set(id, unit);
      this.#sink.setup();
    }
    return unit;
  }

  /** @param isHeard a reading of it is about to be taken */
  #probe(id: string, source: Source, isHeard = false): ProbeRecord {
    let probe = this.probes.get(id);
    if (probe === undefined) {
      const leaves = isHeard ? null : whoGivesWay(this.probes);
      if (leaves !== null) this.#forget(leaves.id);
      probe = new ProbeRecord(id);
      probe.adapter = source.adapter;
      probe.simulated = source.simulated || this.#simulated;
      this.probes.set(id, probe);
    }
    return probe;
  }
}
