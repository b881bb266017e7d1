/**
 * The live visit: the session with what surrounds it on a server (its clock, its past, its record,
 * and those who watch). Everything that changes it comes through here.
 */
import type { Line, ProbeLink } from '../adapters/contract.ts';
import { knownFields } from './visit-log/known-fields.ts';
import type { ClockWatch } from './clock-watch.ts';
import { HistoryColumns, type HistoryPart } from './history.ts';
import {
  type AdapterState,
  type AirflowResult,
  type Budget,
  type Capture,
  captureKey,
  type Check,
  type EventMessage,
  type Frame,
  type RecordState,
  type Replay,
  type History,
  type Measuring,
  type Snapshot,
  type State,
  type ValuesMessage,
  type VerdictMessage,
  type Walk,
  type ZeroResult,
} from './protocol.ts';
import { MOST_RESULTS, withAirflow } from './session/airflow/measured-airflows.ts';
import { type OfCapture, Session } from './session.ts';
import type { ProbeRecord, Source } from './session/probe.ts';
import { shiftedCapture, shiftedEvent, shiftedSpan, shiftedVerdict } from './session/clock-set.ts';
import { isAboutEarlier } from './session/told-events.ts';
import { type RecordedLine, whyTooLong } from './visit-log/recorded.ts';
import { sent } from './words/sent.ts';

/** What a page gets of the past at once. */
export const HISTORY_ROWS = 4000;
/** Events and captures kept for pages that connect later. */
const KEPT = 2000;
/** What is known of a probe is sent again this often while it is being heard, ms of the visit's time. */
const PROBE_EVERY_MS = 5000;

/** Further from the computer's clock than this, a visit has a time of its own, ms. */
const CLOCKS_DIFFER_MS = 2000;
const OPENING = sent`Another visit is being opened: send it again in a moment.`;
const NOBODY: Source = { adapter: null, simulated: false };

/** The budgets are sent this often. */
const BUDGET_EVERY_MS = 3000;

/** Rows of the chart are recorded so many at a time: ten minutes, and days of a slow logger. */
const CHART_ROWS = 600;

/**
 * Where a visit is recorded: accepted lines, in the order in which they were taken
 * (`server/visit-log/recorded.ts` says what is written beside them), and what the session tells of them.
 */
export interface Recorder {
  add(line: RecordedLine): void;
  /** Takes a line that is of use only with one that follows and is added; left out: it is added too. */
  gather?(line: RecordedLine): void;
  frame?(frame: Frame): void;
  /** Rows that come after those before. */
  chart?(part: HistoryPart): void;
  /** All that was told before is told anew. */
  anew?(): void;
}

export type Watcher = (frame: Frame) => void;

export class LiveVisit {
  #session: Session;
  #history = new HistoryColumns();
  readonly #now: () => number;
  readonly #watch: ClockWatch | null;
  #record: Recorder | null = null;
  /** Time of the newest row of the chart that is recorded, and how many came after it. */
  #chartedT = -Infinity;
  #uncharted = 0;
  /** Another visit, or another place of a replay, is being opened: who watches sees it when it is there. */
  #opening = false;
  /** Where it is recorded, and why it is not. */
  recordState: RecordState = { type: 'record', visit: null, trouble: null, kept: true };
  /** How the log is played that this visit comes from; null: it is lived now. */
  #replay: Replay | null = null;
  readonly #watchers = new Set<Watcher>();
  readonly #adapters = new Map<string, AdapterState>();
  readonly #marked = new Set<string>();
  /** By id: one that is amended takes the place of what it was. */
  readonly #events = new Map<string, EventMessage>();
  /** By `captureKey`: one of a span that is over replaces what was made of it. */
  readonly #captures = new Map<string, Capture>();
  /** What the session has told last, while a line was taken; null where that was no event. */
  #lastEvent: EventMessage | null = null;
  #check: Check | null = null;
  #walk: Walk | null = null;
  readonly #measuring = new Map<string, Measuring>();
  #airflows: AirflowResult[] = [];
  #zeros: ZeroResult[] = [];
  /** By the key of their captures. */
  readonly #verdicts = new Map<string, VerdictMessage>();
  /** The units of which something was told to be expected. */
  readonly #expecting = new Set<string>();
  #budgetT = -Infinity;
  readonly #probeStates = new Map<string, { sentT: number; state: string }>();
  /** The visit's time at a moment of the computer's clock: see `time`. */
  #anchor: { t: number; wall: number } | null = null;

  /**
   * @param now the computer's clock, ms since the epoch
   * @param watch tells when that was set; null: the visit has a time of its own, whatever the clock does
   */
  constructor(now: () => number, watch: ClockWatch | null = null) {
    this.#now = now;
    this.#watch = watch;
    this.#session = this.#newSession();
  }

  #newSession(): Session {
    return new Session({
      snapshot: (snapshot) => this.#snapshot(snapshot),
      capture: (capture) => {
        keep(this.#captures, captureKey(capture), capture);
        this.#tell(capture);
      },
      check: (check) => {
        this.#check = check;
        this.#tell(check);
      },
      walk: (walk) => {
        this.#walk = walk;
        this.#tell(walk);
      },
      measuring: (measuring) => {
        this.#measuring.set(measuring.unit, measuring);
        this.#tell(measuring);
      },
      airflow: (result) => {
        this.#airflows = withAirflow(this.#airflows, result);
        this.#tell(result);
      },
      zero: (zero) => {
        this.#zeros = [...this.#zeros, zero].slice(-MOST_RESULTS);
        this.#tell(zero);
      },
      verdict: (verdict) => {
        keep(this.#verdicts, captureKey(verdict), verdict);
        this.#tell(verdict);
      },
      event: (event) => {
        if (event.kind === 'clock') this.#clockSet(event);
        keep(this.#events, event.id, event);
        this.#lastEvent = event;
        if (event.kind === 'clock') this.#tell(this.state());
        this.#tell(event);
      },
      probe: (probe, forgotten) => (forgotten ? this.#forgotten(probe) : this.#probe(probe)),
      setup: () => this.#tell({ type: 'visit', ...this.#session.setup() }),
    });
  }

  /**
   * Another visit takes the place of this one, of which nothing stays but those who watch, and the
   * sources. Nothing is recorded, and nobody told, before `recordTo` and `showAll`.
   */
  begin(): void {
    this.#opening = true;
    this.#record = null;
    this.#chartedT = -Infinity;
    this.#uncharted = 0;
    this.#history = new HistoryColumns();
    this.#anchor = null;
    this.#budgetT = -Infinity;
    this.#check = null;
    this.#walk = null;
    this.#airflows = [];
    this.#zeros = [];
    this.#measuring.clear();
    this.#lastEvent = null;
    const held = [
      this.#marked,
      this.#expecting,
      this.#events,
      this.#captures,
      this.#verdicts,
      this.#probeStates,
    ];
    for (const each of held) each.clear();
    this.#session = this.#newSession();
  }

  /** Tells those who watch nothing before `showAll`: what comes is of a jump in a replay. */
  hold(): void {
    this.#opening = true;
  }

  /** Tells those who watch all that there is: another visit has begun, or a jump has ended. */
  showAll(): void {
    this.#opening = false;
    for (const watcher of this.#watchers) watcher(this.state());
  }

  /**
   * The record of an earlier run has been taken in. Its readings are of the past: time goes on from now,
   * unless the visit has a time of its own (a recorded series that was sent as it is).
   */
  resume(ownTime: boolean): void {
    if (this.#anchor === null || ownTime) return;
    const now = this.#now();
    // What cannot have been yet was by a clock that has been set back since.
    const aheadMs = this.#anchor.t - now;
    if (this.#watch !== null && aheadMs > CLOCKS_DIFFER_MS) this.#setClock(now, -aheadMs);
    this.#anchor = { t: Math.max(this.#anchor.t, now), wall: now };
    this.#session.advanceTo(this.#anchor.t);
  }

  /** How the record is: it is part of the state. */
  recording(visit: string, trouble: string | null, kept = true): void {
    const { recordState } = this;
    const { visit: before, trouble: said, kept: was } = recordState;
    if (before === visit && said === trouble && was === kept) return;
    this.recordState = { type: 'record', visit, trouble, kept };
    this.#tell(this.recordState);
  }

  /** How a log is played into it: part of the state. */
  replayed(replay: Replay): void {
    this.#replay = replay;
    // In the middle of a jump too: it is what is known of it.
    for (const watcher of this.#watchers) watcher(replay);
  }

  /** Whether it comes from a log that is played: nothing in it can be altered, nothing is recorded. */
  get isReplay(): boolean {
    return this.#replay !== null;
  }

  /** From now on accepted lines are written there. */
  recordTo(record: Recorder): void {
    this.#record = record;
  }

  /**
   * The visit's time now. Readings that are measured as they come keep it at the computer's clock.
   * A recording, or a simulation that runs faster, takes it along; between its readings it goes on
   * at the pace of the clock.
   */
  time(): number {
    this.#followClock();
    return this.#time();
  }

  #time(): number {
    const anchor = this.#anchor;
    return anchor === null ? this.#now() : anchor.t + this.#now() - anchor.wall;
  }

  /** How long it is until the next whole second of the visit's time, ms. */
  untilSecond(): number {
    return 1000 - (this.#time() % 1000);
  }

  /**
   * When something that a person does now has happened: after all that has been worked out already,
   * so that the record of the visit gives the same figures, and not long behind the readings.
   */
  eventTime(): number {
    this.#followClock();
    const newest = this.#session.newestT;
    if (newest === null) return this.#now();
    const known = Math.max(newest, (this.#session.latest?.t ?? 0) + 1);
    return Math.max(known, Math.floor(this.time()) - 5000);
  }

  /** Has any reading come? Before, nothing has a time. */
  get begun(): boolean {
    return this.#session.begun;
  }

  /** The id that the event of the last line was given; null where that line was no event. */
  get lastEventId(): string | null {
    return this.#lastEvent?.id ?? null;
  }

  /** Takes a line; see `Session.apply`. What is taken is recorded. */
  line(line: Line, source: Source): string | null {
    if (this.#opening) return OPENING;
    const tooLong = this.#record === null ? null : whyTooLong(line);
    if (tooLong !== null) return tooLong;
    this.#followClock();
    const after = this.#session.outOfTurn(line);
    const refusal = this.recorded(line, source, after);
    if (refusal !== null) return refusal;
    this.#write(this.#withId(line), source, after);
    return null;
  }

  /**
   * Takes a line of the record of an earlier run, as it was taken then.
   * @param after what was recorded with it; see `Session.outOfTurn`
   */
  recorded(line: Line, source: Source, after?: number): string | null {
    this.#lastEvent = null;
    const refusal = this.#session.apply(line, source, after);
    if (refusal !== null) return refusal;
    const t = 't' in line ? line.t : undefined;
    if (t !== undefined && t > this.#time()) this.#anchor = { t, wall: this.#now() };
    if (t !== undefined) this.#anchor ??= { t, wall: this.#now() };
    return null;
  }

  /** Where the computer's clock was set, a visit that goes by it goes over to the new time. */
  #followClock(): void {
    const shiftMs = this.#watch?.setBy() ?? 0;
    if (shiftMs === 0 || this.#anchor === null) return;
    this.#anchor.wall += shiftMs;
    const now = this.#now();
    const t = this.#time();
    const ownTime = Math.abs(t - (now - shiftMs)) > CLOCKS_DIFFER_MS;
    if (!ownTime) this.#setClock(Math.round(t + shiftMs), shiftMs);
  }

  #setClock(t: number, shiftMs: number): void {
    const line = { type: 'event', kind: 'clock', t, shiftMs: Math.round(shiftMs) } as const;
    const after = this.#session.outOfTurn(line);
    this.recorded(line, NOBODY, after);
    this.#write(this.#withId(line), NOBODY, after);
  }

  /** What has been told of before is told by the new clock from now on. */
  #clockSet({ t, shiftMs = 0 }: EventMessage): void {
    this.#anchor = { t, wall: this.#now() };
    this.#history.clockSet(shiftMs);
    for (const [id, event] of this.#events) this.#events.set(id, shiftedEvent(event, shiftMs));
    const captures = [...this.#captures.values()];
    this.#captures.clear();
    for (const capture of captures) {
      const shifted = shiftedCapture(capture, shiftMs);
      this.#captures.set(captureKey(shifted), shifted);
    }
    const verdicts = [...this.#verdicts.values()];
    this.#verdicts.clear();
    for (const verdict of verdicts) {
      const shifted = shiftedVerdict(verdict, shiftMs);
      this.#verdicts.set(captureKey(shifted), shifted);
    }
    this.#check = this.#check && shiftedSpan(this.#check, shiftMs);
    this.#walk = this.#walk && shiftedSpan(this.#walk, shiftMs);
    for (const [id, measuring] of this.#measuring) {
      this.#measuring.set(id, shiftedSpan(measuring, shiftMs));
    }
    this.#airflows = this.#airflows.map((result) => shiftedSpan(result, shiftMs));
    this.#zeros = this.#zeros.map((zero) => shiftedSpan(zero, shiftMs));
    this.#budgetT = -Infinity;
    this.#probeStates.clear();
    this.#tellRecordAnew();
  }

  #tellRecordAnew(): void {
    const record = this.#record;
    record?.anew?.();
    for (const event of this.#events.values()) record?.frame?.(event);
    for (const capture of this.#captures.values()) record?.frame?.(capture);
    for (const verdict of this.#verdicts.values()) record?.frame?.(verdict);
    if (this.#check !== null) record?.frame?.(this.#check);
    this.#chartedT = -Infinity;
    this.#chart();
  }

  /** The line of an event with the id that it was given: it keeps it when the record is read. */
  #withId(line: Line): Line {
    const told = this.#lastEvent;
    if (told === null || (line.type !== 'airflow' && line.type !== 'event')) return line;
    if (line.type === 'event' && isAboutEarlier(line)) return line;
    return { ...line, id: told.id };
  }

  #write(line: Line, { simulated }: Source, after: number | undefined): void {
    const record = this.#record;
    if (record === null) return;
    const mark = after === undefined ? null : { after };
    // The mark goes into the record with the probe: a server without the source must not lose it.
    if (line.type !== 'reading') {
      const made = simulated && line.type === 'probe' ? { simulated } : null;
      const whole = { ...line, ...made, ...mark };
      if (line.type === 'photo' && record.gather !== undefined) record.gather(whole);
      else record.add(whole);
      return;
    }
    const known = knownFields(line);
    record.add(mark === null ? known : { ...known, ...mark });
    if (simulated && !this.#marked.has(line.probe)) {
      this.#marked.add(line.probe);
      record.add({ type: 'probe', id: line.probe, simulated: true });
    }
  }

  link(probe: string, link: ProbeLink, source: Source): void {
    // What a person does to it stands in the record: so does that there is such a probe.
    if (!this.#session.probes.has(probe)) this.line({ type: 'probe', id: probe }, source);
    this.#session.link(probe, link, source);
  }

  status(adapter: string, state: AdapterState): void {
    this.#adapters.set(adapter, state);
    this.#tell({ type: 'adapter', name: adapter, ...state });
  }

  /** Lets the time of a visit that is played go on to `t`, ms: all that was recorded up to it has come. */
  showAt(t: number): void {
    this.#session.showAt(t);
  }

  /** Lets the visit's time go on; to be called each second. */
  tick(): void {
    if (this.#opening) return;
    this.#followClock();
    if (this.#anchor !== null) this.#session.showAt(this.time());
  }

  /** Ends open spans; nothing is taken afterwards. */
  finish(): void {
    this.#session.finish();
    this.#chart();
  }

  /** Knows the unit or the probe? */
  has(kind: 'unit' | 'probe', id: string): boolean {
    return kind === 'unit' ? this.#session.units.has(id) : this.#session.probes.has(id);
  }

  /** Are all pieces of that photo there? */
  hasPhoto(id: string): boolean {
    return this.#session.hasPhoto(id);
  }

  /** Why a capture takes no photo (of that id), naming the field; null: it does. */
  whyNoPhoto(capture: OfCapture, id?: string): string | null {
    return this.#opening ? OPENING : this.#session.whyNoPhoto(capture, id);
  }

  /** All probes of the visit. */
  probes(): Iterable<ProbeRecord> {
    return this.#session.probes.values();
  }

  /** What a probe is called: by a person, or its id; null where there is none of that id. */
  probeName(id: string): string | null {
    return this.#session.probes.get(id)?.name ?? null;
  }

  /** Time of the newest snapshot, null before the first. */
  get shownT(): number | null {
    return this.#session.latest?.t ?? null;
  }

  state(): State {
    const latest = this.#session.latest;
    const t = latest?.t ?? null;
    const at = Math.max(t ?? 0, this.#session.newestT ?? 0);
    return {
      type: 'state',
      record: this.recordState,
      replay: this.#replay,
      t,
      simulated: this.#session.simulated,
      units: latest?.units ?? {},
      sum: latest?.sum ?? { totalW: null, sensibleW: null, latentW: null, totalU95W: null },
      visit: this.#session.setup(),
      probes: Object.fromEntries(
        [...this.#session.probes].map(([id, probe]) => [id, probe.toState(at)]),
      ),
      adapters: Object.fromEntries(this.#adapters),
      events: [...this.#events.values()],
      captures: [...this.#captures.values()],
      budgets: Object.fromEntries(this.#session.budgets().map((b: Budget) => [b.unit, b])),
      check: this.#check,
      walk: this.#walk,
      measuring: Object.fromEntries(this.#measuring),
      airflows: this.#airflows,
      zeros: this.#zeros,
      verdicts: [...this.#verdicts.values()],
      expected: Object.fromEntries(this.#session.expected().map((e) => [e.unit, e])),
    };
  }

  /** What the live probes read in the last second that was worked out. */
  values(): ValuesMessage {
    const t = this.#session.latest?.t ?? 0;
    const probes: ValuesMessage['probes'] = {};
    for (const [id, probe] of this.#session.probes) {
      if (probe.isLive(t)) probes[id] = { lastT: probe.lastT, values: probe.values(t) };
    }
    return { type: 'values', t, probes };
  }

  history(since: number, until = Infinity, most = HISTORY_ROWS): History {
    return this.#history.between(since, until, most);
  }

  /** As JSON text, piece by piece: for what takes longer than others should wait. */
  historyPieces(since: number, until: number, most: number): Iterable<string> {
    return this.#history.pieces(since, until, most);
  }

  /** Calls back with every frame from now on; returns how to end that. */
  watch(watcher: Watcher): () => void {
    this.#watchers.add(watcher);
    return () => this.#watchers.delete(watcher);
  }

  #tell(frame: Frame): void {
    this.#record?.frame?.(frame);
    if (this.#opening) return;
    for (const watcher of this.#watchers) watcher(frame);
  }

  #snapshot(snapshot: Snapshot): void {
    this.#history.add(snapshot);
    if (this.#chartedT === -Infinity) this.#chartedT = snapshot.t - 1;
    if (++this.#uncharted >= CHART_ROWS) this.#chart();
    this.#tell(snapshot);
    if (snapshot.t - this.#budgetT >= BUDGET_EVERY_MS && this.#watchers.size > 0) {
      this.#budgetT = snapshot.t;
      for (const budget of this.#session.budgets()) this.#tell(budget);
      this.#tellExpected();
    }
    for (const probe of this.#session.probes.values()) {
      const sent = this.#probeStates.get(probe.id);
      const state = probe.stateAt(snapshot.t);
      const due = state === 'live' && snapshot.t - (sent?.sentT ?? 0) >= PROBE_EVERY_MS;
      if (due || sent?.state !== state) this.#probe(probe, snapshot.t);
    }
  }

  /** Of units of which nothing is expected nothing is told, but that there was something before. */
  #tellExpected(): void {
    for (const expected of this.#session.expected()) {
      const { unit, why, efficiency, push } = expected;
      const isEmpty = why === 'nothing' && efficiency === null && push === null;
      if (!isEmpty || this.#expecting.has(unit)) this.#tell(expected);
      if (isEmpty) this.#expecting.delete(unit);
      else this.#expecting.add(unit);
    }
  }

  #chart(): void {
    const record = this.#record;
    if (record?.chart === undefined) return;
    record.chart(this.#history.partAfter(this.#chartedT));
    this.#chartedT = this.#session.latest?.t ?? this.#chartedT;
    this.#uncharted = 0;
  }

  #probe(probe: ProbeRecord, t = Math.max(this.#session.newestT ?? 0, 0)): void {
    this.#probeStates.set(probe.id, { sentT: t, state: probe.stateAt(t) });
    if (this.#watchers.size > 0) this.#tell({ type: 'probe', id: probe.id, ...probe.toState(t) });
  }

  #forgotten(probe: ProbeRecord): void {
    this.#probeStates.delete(probe.id);
    this.#marked.delete(probe.id); // heard again, it is marked again
    const t = Math.max(this.#session.newestT ?? 0, 0);
    this.#tell({ type: 'probe', id: probe.id, ...probe.toState(t), forgotten: true });
  }
}

/** Puts it in its place, or last; the oldest goes when there are too many. */
function keep<T>(map: Map<string, T>, key: string, value: T): void {
  map.set(key, value);
  const [oldest] = map.keys();
  if (map.size > KEPT && oldest !== undefined) map.delete(oldest);
}
