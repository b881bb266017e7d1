/** A recorded visit worked out for its report: the same session as live, over the lines of the record. */
import { HistoryColumns } from '../history.ts';
import {
  type AirflowResult,
  type Budget,
  type Capture,
  captureKey,
  type Check,
  type EventMessage,
  type Snapshot,
  type UnitSnapshot,
  type VerdictMessage,
  type ZeroResult,
} from '../protocol.ts';
import type { AirMoment, ReportCapture, ReportUnit, ReportVisit } from '../report/visit.ts';
import { Session } from '../session.ts';
import { withAirflow } from '../session/airflow/measured-airflows.ts';
import { shiftedCapture, shiftedEvent, shiftedSpan } from '../session/clock-set.ts';
import type { FoundVisit } from '../store/visits.ts';
import type { RecordedLine } from '../visit-log/recorded.ts';

/** Lines of a record were brought by sources that are not there any more. */
const NOBODY = { adapter: null, simulated: false };
const TRAIL_MS = 10_000;
/** Rows of the chart: twice as many as a page is dots wide on a screen. */
const MOST_ROWS = 3000;

/** @param lines all of the visit, in the order in which they were taken */
export function readVisit(
  lines: Iterable<RecordedLine>,
  { id, kind }: Pick<FoundVisit, 'id' | 'kind'>,
): ReportVisit {
  const reader = new Reader();
  for (const line of lines) reader.session.apply(line, NOBODY, line.after);
  reader.session.finish();
  return { id, kind, ...reader.visit() };
}

class Reader {
  readonly session: Session;
  #history = new HistoryColumns();
  #fromT: number | null = null;
  #toT: number | null = null;
  #simulated = false;
  #captures = new Map<string, ReportCapture>();
  readonly #events = new Map<string, EventMessage>();
  #checks: Check[] = [];
  #airflows: AirflowResult[] = [];
  #zeros: ZeroResult[] = [];
  readonly #trails = new Map<string, AirMoment[]>();
  readonly #last = new Map<string, UnitSnapshot>();

  constructor() {
    this.session = new Session({
      snapshot: (snapshot) => this.#snapshot(snapshot),
      capture: (capture) => this.#capture(capture),
      verdict: (verdict, capture) => this.#verdict(verdict, capture),
      check: (check) => {
        if (check.phase === 'ended') this.#checks.push(check);
      },
      walk: () => {},
      airflow: (result) => (this.#airflows = [...withAirflow(this.#airflows, result)]),
      zero: (zero) => this.#zeros.push(zero),
      event: (event) => {
        if (event.kind === 'clock') this.#clockSet(event);
        this.#events.set(event.id, event);
      },
      probe: () => {},
      setup: () => {},
    });
  }

  #snapshot(snapshot: Snapshot): void {
    const { t, units } = snapshot;
    this.#history.add(snapshot);
    this.#fromT ??= t;
    this.#toT = t;
    this.#simulated ||= snapshot.simulated;
    for (const [id, unit] of Object.entries(units)) {
      this.#last.set(id, unit);
      const trail = trailOf(this.#trails, id);
      if (t - (trail.at(-1)?.t ?? -Infinity) < TRAIL_MS) continue;
      const moment = momentOf(t, unit);
      if (moment !== null) trail.push(moment);
    }
  }

  #capture(capture: Capture): void {
    const key = captureKey(capture);
    const known = this.#captures.get(key);
    // Told again for what a person said of it: what stood beside it was then.
    if (known !== undefined && known.capture.to === capture.to) {
      known.capture = capture;
      return;
    }
    this.#captures.set(key, {
      capture,
      verdict: null,
      unit: this.session.latest?.units[capture.unit] ?? this.#last.get(capture.unit) ?? null,
      budget: this.#budget(capture.unit),
      outdoorC: this.#outdoorC(),
      pressurePa: this.session.setup().pressurePa,
    });
  }

  #budget(id: string): Budget | null {
    const { latest, probes, units } = this.session;
    const nameOf = (probe: string): string => probes.get(probe)?.name ?? probe;
    return units.get(id)?.budgetAt(latest?.t ?? 0, nameOf) ?? null;
  }

  #verdict(verdict: VerdictMessage, capture: Capture): void {
    const made = this.#captures.get(captureKey(capture));
    if (made !== undefined) made.verdict = verdict;
  }

  #outdoorC(): number | null {
    const outdoors = [...this.session.probes.values()]
      .filter(({ place, now }) => place === 'outdoor' && !Number.isNaN(now.temperatureC))
      .map(({ now }) => now.temperatureC);
    return outdoors.length === 0 ? null : outdoors.reduce((a, b) => a + b) / outdoors.length;
  }

  /** What was told of before is told by the new clock. */
  #clockSet({ shiftMs = 0 }: EventMessage): void {
    this.#history.clockSet(shiftMs);
    if (this.#fromT !== null) this.#fromT += shiftMs;
    const captures = [...this.#captures.values()];
    this.#captures = new Map(
      captures.map((made) => {
        const capture = shiftedCapture(made.capture, shiftMs);
        const { from, to } = capture;
        const verdict = made.verdict && { ...made.verdict, from, to };
        return [captureKey(capture), { ...made, capture, verdict }];
      }),
    );
    for (const [id, event] of this.#events) this.#events.set(id, shiftedEvent(event, shiftMs));
    this.#checks = this.#checks.map((check) => shiftedSpan(check, shiftMs));
    this.#airflows = this.#airflows.map((result) => shiftedSpan(result, shiftMs));
    this.#zeros = this.#zeros.map((zero) => shiftedSpan(zero, shiftMs));
    for (const trail of this.#trails.values()) for (const moment of trail) moment.t += shiftMs;
  }

  visit(): Omit<ReportVisit, 'id' | 'kind'> {
    const { session } = this;
    const setup = session.setup();
    const probes = Object.fromEntries(
      [...session.probes].map(([id, probe]) => [id, probe.toState(session.newestT ?? 0)]),
    );
    const units = Object.keys(setup.units).map((id): [string, ReportUnit] => {
      const ofUnit = <T extends { unit: string }>(all: readonly T[]): T[] =>
        all.filter(({ unit }) => unit === id);
      return [
        id,
        {
          trail: this.#trails.get(id) ?? [],
          captures: [...this.#captures.values()].filter(({ capture }) => capture.unit === id),
          airflows: ofUnit(this.#airflows),
          zeros: ofUnit(this.#zeros),
          last: this.#last.get(id) ?? null,
        },
      ];
    });
    return {
      simulated: this.#simulated || Object.values(probes).some(({ simulated }) => simulated),
      ...{ fromT: this.#fromT, toT: this.#toT, setup, probes, checks: this.#checks },
      events: [...this.#events.values()].sort((a, b) => a.t - b.t),
      history: this.#history.between(-Infinity, Infinity, MOST_ROWS),
      units: Object.fromEntries(units),
    };
  }
}

function trailOf(trails: Map<string, AirMoment[]>, id: string): AirMoment[] {
  let trail = trails.get(id);
  if (trail === undefined) trails.set(id, (trail = []));
  return trail;
}

/** In heating the coil is dry: where no probe tells the supply's moisture, it is that of the return. */
function momentOf(t: number, { mode, return: ret, supply }: UnitSnapshot): AirMoment | null {
  const fromW = ret.humidityRatio;
  const toW = supply.humidityRatio ?? (mode === 'heating' ? fromW : null);
  if (ret.temperatureC === null || supply.temperatureC === null) return null;
  if (fromW === null || toW === null) return null;
  return {
    t,
    from: { temperatureC: ret.temperatureC, humidityRatio: fromW },
    to: { temperatureC: supply.temperatureC, humidityRatio: toW },
  };
}
