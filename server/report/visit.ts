/** What a report is made of: one visit, as the session worked it out from the visit's lines. */
import type { ChartPoint } from '../measure/air-region.ts';
import type {
  AirflowResult,
  Budget,
  Capture,
  Check,
  EventMessage,
  History,
  ProbeState,
  UnitSnapshot,
  VerdictMessage,
  VisitSetup,
  ZeroResult,
} from '../protocol.ts';

export interface ReportVisit {
  id: string;
  /** `replay`: a log that was played. `import`: a log that was taken in. */
  kind: 'visit' | 'replay' | 'import';
  /** Whether any reading of it was made up. */
  simulated: boolean;
  /** Times of its first and last second, ms; null where nothing was read. */
  fromT: number | null;
  toT: number | null;
  setup: VisitSetup;
  probes: Record<string, ProbeState>;
  /** Those that have ended. */
  checks: Check[];
  events: EventMessage[];
  /** The chart, thinned. */
  history: History;
  units: Record<string, ReportUnit>;
}

export interface ReportUnit {
  /** Every ten seconds. */
  trail: AirMoment[];
  /** In the order in which they were made. */
  captures: ReportCapture[];
  airflows: AirflowResult[];
  zeros: ZeroResult[];
  /** The last second; null where it was never heard. */
  last: UnitSnapshot | null;
}

/** The air of a moment on both sides of the coil, where both are known. */
export interface AirMoment {
  t: number;
  from: ChartPoint;
  to: ChartPoint;
}

/** A capture with what stood beside it in the second in which it was made. */
export interface ReportCapture {
  capture: Capture;
  verdict: VerdictMessage | null;
  unit: UnitSnapshot | null;
  budget: Budget | null;
  /** Mean of the probes outdoors; null: there is none. */
  outdoorC: number | null;
  pressurePa: number;
}

/**
 * The capture that the report is about: the last one by hand, else the last one made by itself. None that
 * was struck out.
 */
export function resultOf({ captures }: ReportUnit): ReportCapture | null {
  const valid = captures.filter(({ capture }) => capture.struck === undefined);
  return valid.findLast(({ capture }) => capture.by === 'touch') ?? valid.at(-1) ?? null;
}

/** The mean air over a capture's span; null where it was not known on both sides. */
export function meanAir({ trail }: ReportUnit, { from, to }: Capture): AirMoment | null {
  const within = trail.filter(({ t }) => t >= from && t <= to);
  if (within.length === 0) return null;
  const mean = (of: (moment: AirMoment) => number): number =>
    within.reduce((sum, moment) => sum + of(moment), 0) / within.length;
  return {
    t: to,
    from: {
      temperatureC: mean((m) => m.from.temperatureC),
      humidityRatio: mean((m) => m.from.humidityRatio),
    },
    to: {
      temperatureC: mean((m) => m.to.temperatureC),
      humidityRatio: mean((m) => m.to.humidityRatio),
    },
  };
}
