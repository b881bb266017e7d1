/**
 * The adapter contract: everything that a source of readings needs to know about Plateau.
 *
 * A source speaks in *lines*, the same objects that a visit log holds, one a line: it may set up
 * a visit and its units (a recording or a simulation can), it announces probes, and it hands over
 * readings. Beside that it says how it is itself (`status`) and how the link to a probe is (`link`).
 *
 * An adapter is a plain object made by a factory. It holds all of its state itself: no module-level
 * variables, so that two of a kind can run side by side and a restarted one begins afresh.
 * Constructing does nothing; `start` acts; `stop` undoes all that `start` did, also when `start`
 * failed half way. Whatever it throws, rejects or leaves behind in a timer is charged to it and
 * shown; it is then stopped and started again with growing pauses.
 *
 * Units are in the names: °C, % relative humidity, m/s, Pa, W. Times are milliseconds since the
 * epoch (1 January 1970 UTC).
 */

/**
 * Where a probe hangs: air going into the unit, air coming out, the outlet's velocity, the middle of the
 * unit's room, outdoors.
 */
export type Place = 'return' | 'supply' | 'outlet' | 'room' | 'outdoor';

/** Whether the unit is taking heat out of the room or putting heat into it. */
export type Mode = 'cooling' | 'heating';

/** The quantities of a reading that are measured in the air or at the unit. */
export interface Quantities {
  /** Dry-bulb temperature, °C. */
  temperatureC?: number | undefined;
  /** Relative humidity, %. Values a little over 100 occur and are taken as saturated. */
  humidityPct?: number | undefined;
  /** Dew point, °C; instead of `humidityPct`. */
  dewPointC?: number | undefined;
  /** Air velocity, m/s. */
  velocityMs?: number | undefined;
  /** Barometric pressure, Pa. */
  pressurePa?: number | undefined;
  /** Electrical power, W. */
  powerW?: number | undefined;
  /** The probe's own battery, %. */
  batteryPct?: number | undefined;
}

/** One reading of one probe: at least one quantity. Quantities that are not known are left out. */
export interface Reading extends Quantities {
  type: 'reading';
  /** When it was measured, ms since the epoch. */
  t: number;
  /** The probe's id: any text that stays the same for the same probe. */
  probe: string;
}

/**
 * The ± of a probe's data sheet: half-widths of a rectangular distribution, or with `k` expanded
 * uncertainties (normal, of that coverage factor).
 */
export interface Limits {
  temperatureC?: number | undefined;
  humidityPct?: number | undefined;
  dewPointC?: number | undefined;
  velocityMs?: number | undefined;
  /** ± of the velocity, % of the reading, beside `velocityMs`. */
  velocityPct?: number | undefined;
  pressurePa?: number | undefined;
  /** Coverage factor of the figures above, where the maker states them so: 2 for most certificates. */
  k?: number | undefined;
  /** Step of the display, where it is too coarse to be part of the limits: °C and % RH. */
  resolutionC?: number | undefined;
  resolutionPct?: number | undefined;
}

/** What an earlier side-by-side check found of a probe; a check in the log itself needs no such line. */
export interface EarlierCheck {
  /** When it ended, ms since the epoch. */
  t: number;
  /** All probes that lay together. */
  probes: string[];
  /** Offset from the mean of all, and its standard uncertainty. */
  temperatureC?: { offset: number; u: number } | undefined;
  humidityPct?: { offset: number; u: number } | undefined;
  /** The air it was made in. */
  atC: number;
  atPct?: number | undefined;
}

/** Announces a probe, or changes what is known of it; what is left out stays as it was. */
export interface ProbeLine {
  type: 'probe';
  id: string;
  /** When a person did it, ms since the epoch; left out: it holds from where the line stands. */
  t?: number | undefined;
  name?: string | undefined;
  /** The unit it is placed at; `null` takes it away. */
  unit?: string | null | undefined;
  place?: Place | null | undefined;
  /** How much of its place's flow it stands for, in proportion to the others there; 1 where not told. */
  flowShare?: number | undefined;
  limits?: Limits | undefined;
  /** Of a probe that measures velocity: what it is. */
  anemometer?: { kind: 'vane' | 'thermal'; headM?: number | undefined } | undefined;
  check?: EarlierCheck | undefined;
  /** Its maker's number, and when it was last calibrated, ms since the epoch. */
  serial?: string | undefined;
  calibratedT?: number | null | undefined;
  /** True where its readings are made up. */
  simulated?: boolean | undefined;
  /**
   * A person has forgotten it: its name, place, limits and check are gone, and what else the line says
   * does not count. Heard again, it is a new one.
   */
  forgotten?: true | undefined;
}

/** The airflow of a unit, and where the figure comes from. */
export interface Airflow {
  /**
   * How it was got: `fan-table`, `measured` (at this unit), `sweep`, `grid`, `condensate`, `heat`,
   * `reference` (by a flow hood or a duct traverse, independent of what else measures here; needs a ±), or
   * `entered`: known otherwise; `velocity` or `station` by an instrument that stays in the air and tells it all along.
   * What any other source tells is never averaged with what was told before it.
   */
  source: string;
  flowM3s: number;
  /**
   * `actual`: at the density of its plane. `standard`: as dry air of 1.204 kg/m³ (20 °C), which is a flow
   * of mass; but of a `fan-table` the fan moves that volume at any density, so both are the same.
   */
  basis: 'actual' | 'standard';
  /** The plane at which an actual flow, or a fan table's volume, holds. */
  plane: 'supply' | 'return';
  /** ± of the flow, % (half-width of a rectangular distribution, or with `limitK` expanded). */
  limitPct?: number | undefined;
  /** Coverage factor of the ±; 1 for a guess, which is right in two cases out of three. */
  limitK?: number | undefined;
  /**
   * What it was measured with, as free text: airflows of one instrument share its error, which counts
   * in the sum of units. Left out: all that were measured or entered share one; fan tables do not.
   */
  instrument?: string | undefined;
}

/** The visit as a whole. */
export interface VisitLine {
  type: 'visit';
  version: 1;
  /** When a person told it, ms since the epoch; left out: it holds from where the line stands. */
  t?: number | undefined;
  title?: string | undefined;
  /** The id of the site, where it is one that was visited before. */
  site?: string | undefined;
  /** For the record, in a person's words: what stands here changes no figure. */
  address?: string | undefined;
  customer?: string | undefined;
  technician?: string | undefined;
  /** Why the visit is made, and under which conditions: weather, doors, who is in. */
  why?: string | undefined;
  conditions?: string | undefined;
  /** The site's barometric pressure (not reduced to sea level), Pa. */
  pressurePa?: number | undefined;
  /** Height above sea level, m; gives the pressure where none is known. */
  altitudeM?: number | undefined;
  /** The outdoor air, °C, where no probe hangs in it. */
  outdoorC?: number | undefined;
  mode?: Mode | undefined;
  /** The test for steady: `field`, or `strict` after the shape of ANSI/ASHRAE 37 (30 min). */
  steadyTest?: 'field' | 'strict' | undefined;
  /** A capture is made by itself when steady has held so long, s; null: by touch only. */
  captureAfterS?: number | null | undefined;
  /** True where the readings are made up. */
  simulated?: boolean | undefined;
}

/** An indoor unit. What is left out stays as it was. */
export interface UnitLine {
  type: 'unit';
  id: string;
  /** As in a visit line. */
  t?: number | undefined;
  name?: string | undefined;
  airflow?: Airflow | undefined;
  /** The names of its fan speeds, slowest first. */
  fanSpeeds?: string[] | undefined;
  /** The submittal's fan table: its flow at the speed that is told counts, until another is told. */
  fanTable?: FanTable | null | undefined;
  /** Whether the coil is dry or wet, as a person says; null: as it is seen. */
  coil?: 'dry' | 'wet' | null | undefined;
  unevenPct?: UnevenPct | undefined;
  /** The outdoor unit that it is piped to, by its id. */
  system?: string | null | undefined;
  /** For the record (null takes it away): how it is built (wall, cassette, …), its model, its number, what it is sold as. */
  form?: string | undefined;
  model?: string | undefined;
  serial?: string | undefined;
  nominalW?: number | null | undefined;
  /** What its outdoor unit takes with all heads, W, as a person reads it off a meter, and ± of that, %. */
  powerW?: number | null | undefined;
  powerLimitPct?: number | null | undefined;
  /** How a person found its filter. */
  filter?: 'clean' | 'loaded' | null | undefined;
}

/** How much air the fan moves at each speed, by the maker's own names; see `Airflow` of a `fan-table`. */
export interface FanTable {
  /** Slowest first; through a dry and a wet coil. A figure that the table lacks is left out. */
  speeds: { name: string; dryM3s?: number | undefined; wetM3s?: number | undefined }[];
  basis: 'actual' | 'standard';
  plane: 'supply' | 'return';
  /** ± of its figures, %. */
  limitPct?: number | undefined;
}

/**
 * The opening at which a unit's airflow is measured: its outlet, or its intake grille. What is left out
 * stays as it was; at first `plane` is supply and `freeArea` 1.
 */
export interface OutletLine {
  type: 'outlet';
  id: string;
  unit: string;
  /** As in a visit line. */
  t?: number | undefined;
  name?: string | undefined;
  plane?: 'supply' | 'return' | undefined;
  /** Rectangles, m; `blockedM2` is what supports take of one. */
  sections?: { widthM: number; lengthM: number; blockedM2?: number | undefined }[] | undefined;
  /** Free area over gross area, and ± of it. */
  freeArea?: number | undefined;
  freeAreaLimit?: number | undefined;
  /** How it is built, in a person's words (wall unit 60 cm, …): outlets of one kind share a factor. */
  form?: string | undefined;
  /** At which angle the louver was fixed, degrees below level; null where nobody has said. */
  louverDeg?: number | null | undefined;
}

/** What a unit should deliver, as its maker publishes it, in one mode; without a point it is taken back. */
export interface ExpectationLine {
  type: 'expectation';
  unit: string;
  /** As in a visit line. */
  t?: number | undefined;
  mode: Mode;
  /** Whether the fan's heat is in the figures (net), and its watts where it is not. */
  net?: boolean | undefined;
  fanW?: number | undefined;
  /** The fan speed that the figures are for, by the maker's own name. */
  fan?: string | undefined;
  /** The maker's factor for the length and height of the lines. */
  lineFactor?: number | undefined;
  /** ± of the figures, %. */
  limitPct?: number | undefined;
  /** The part of the expected capacity that has to be reached; 0.9 where nobody says another. */
  limit?: number | undefined;
  points: {
    /** Output of a variable-speed unit: the maximum counts, and without one the rated. */
    speed: 'minimum' | 'rated' | 'maximum';
    outdoorC: number;
    indoorC: number;
    indoorWetBulbC?: number | undefined;
    totalW: number;
    /** What the outdoor unit and its heads take then, W. */
    powerW?: number | undefined;
  }[];
}

/** An outdoor unit and its lines, for the record. What is left out stays as it was; null takes it away. */
export interface SystemLine {
  type: 'system';
  id: string;
  /** As in a visit line. */
  t?: number | undefined;
  name?: string | undefined;
  model?: string | undefined;
  serial?: string | undefined;
  /** One way. */
  lineLengthM?: number | null | undefined;
  /** How much higher the outdoor unit stands than the head, negative where it stands lower. */
  lineHeightM?: number | null | undefined;
  /** How many heads it has; and whether those that have no probes here run. */
  heads?: number | null | undefined;
  othersRun?: boolean | null | undefined;
  /** What it gives to all heads together at most, W, at rating conditions. */
  combinedCoolingW?: number | null | undefined;
  combinedHeatingW?: number | null | undefined;
}

/**
 * How much the air differs from spot to spot at a place, as a person says: one standard deviation, % of
 * the difference between return and supply. Null: what is assumed where nobody says anything.
 */
export interface UnevenPct {
  return?: number | null | undefined;
  supply?: number | null | undefined;
}

/** Replaces a unit's airflow from `t` on. */
export interface AirflowLine {
  type: 'airflow';
  t: number;
  unit: string;
  airflow: Airflow;
  /** As in an event. */
  id?: string | undefined;
}

interface EventBase {
  type: 'event';
  t: number;
  /**
   * Given by the server (`e1` is the first), and written into the record of the visit, where lines are
   * sorted by time: what names the event later still finds it. A source leaves it out.
   */
  id?: string | undefined;
}
/** The unit was told another room temperature. */
export interface SetpointEvent extends EventBase {
  kind: 'setpoint';
  unit: string;
  valueC: number;
  /** True where the unit's boost was pressed as well: it is asked for all it has. */
  boost?: true | undefined;
}
/** The unit was told another fan speed (free text, best one of `fanSpeeds`). */
export interface FanEvent extends EventBase {
  kind: 'fan';
  unit: string;
  speed: string;
}
/** Something worth keeping. */
export interface NoteEvent extends EventBase {
  kind: 'note';
  unit?: string | undefined;
  text: string;
}
/** A side-by-side check begins or ends: these probes lie in the same air. */
export interface CheckEvent extends EventBase {
  kind: 'check';
  phase: 'start' | 'end';
  probes: string[];
}
/**
 * The outlet (or the intake) of a unit is walked along: from `start` on this probe is away from its own
 * place, held still at one end until it has settled; from `go` to `end` it is moved along, while those
 * that are placed there stay. Without a `go` it moves from `start` on.
 */
export interface WalkEvent extends EventBase {
  kind: 'walk';
  phase: 'start' | 'go' | 'end';
  unit: string;
  place: 'return' | 'supply';
  probe: string;
}
/**
 * An opening is traversed with an anemometer. `sweep`: it is moved over a section until `section` goes on
 * to the next one. `grid`: each `point` says where it is held from then on. Readings of a `pause` count
 * nothing; `end` works out the airflow, `cancel` forgets it.
 */
export interface TraverseEvent extends EventBase {
  kind: 'traverse';
  phase: 'start' | 'pause' | 'resume' | 'section' | 'point' | 'end' | 'cancel';
  unit: string;
  /** At the start. */
  outlet?: string | undefined;
  method?: 'sweep' | 'grid' | undefined;
  probe?: string | undefined;
  rule?: 'equal-area' | 'log-tchebycheff' | undefined;
  /** Which section is next, from 0; left out: the one after this (of a point: the present one). */
  section?: number | undefined;
  row?: number | undefined;
  column?: number | undefined;
}
/**
 * What the drain gives is caught from `start` to `end`, and weighed. Where the bucket is taken away before
 * it is weighed, `pause` says when.
 */
export interface CondensateEvent extends EventBase {
  kind: 'condensate';
  phase: 'start' | 'pause' | 'end' | 'cancel';
  unit: string;
  /** At the end, kg; and ± of the scale, and of what pan and coil may hold more or less than at the start. */
  massKg?: number | undefined;
  scaleLimitKg?: number | undefined;
  holdUpLimitKg?: number | undefined;
}
/** A metered heater feeds the intake from `start` to `end` while the fan runs alone. */
export interface HeatEvent extends EventBase {
  kind: 'heat';
  phase: 'start' | 'end' | 'cancel';
  unit: string;
  /** At the start, or at the end as the mean that the meter shows. */
  powerW?: number | undefined;
  powerLimitPct?: number | undefined;
  /** Part of the heat that does not go through the unit, and ± of that. */
  escape?: number | undefined;
  escapeLimit?: number | undefined;
}
/** The fan runs alone on a dry coil from `start` to `end`: what the probes then differ by is their own. */
export interface ZeroEvent extends EventBase {
  kind: 'zero';
  phase: 'start' | 'end' | 'cancel';
  unit: string;
  /** At the start: the fan's input. */
  fanW?: number | undefined;
}
/** A person wants the figure written down: the mean of the steady span, or of whole cycles, so far. */
export interface CaptureEvent extends EventBase {
  kind: 'capture';
  unit: string;
}
/** A person has named an earlier event, or dated it anew. */
export interface AmendEvent extends EventBase {
  kind: 'amend';
  /** The id that the event was given: `e1` is the first of the visit. */
  event: string;
  /** When it really was, ms since the epoch. */
  toT?: number | undefined;
  text?: string | undefined;
}
/**
 * A person has struck a capture out, or takes that back: the door was open, the speed was another.
 * `unit`, `from`, `by` and, of one by touch, `to` are those of the capture.
 */
export interface StrikeEvent extends EventBase {
  kind: 'strike';
  unit: string;
  from: number;
  by: 'touch' | 'itself';
  /** Of several touches in one span the one that ends here; left out: the newest. */
  to?: number | undefined;
  /** False takes it back. */
  struck?: boolean | undefined;
  /** Why, in a person's words. */
  text?: string | undefined;
}
/**
 * What a person says of a capture, beside its figures: a note, a photo. The capture is named as in a
 * `strike`.
 */
export interface RemarkEvent extends EventBase {
  kind: 'remark';
  unit: string;
  from: number;
  by: 'touch' | 'itself';
  to?: number | undefined;
  /** The note; an empty one takes it away. Left out: it stays as it was. */
  text?: string | undefined;
  /** The id of a photo of which all lines have come. */
  photo?: string | undefined;
  /** True takes that photo off the capture; it stays in the record. */
  off?: boolean | undefined;
}
/**
 * The computer's clock was set while the visit ran: `t` is the time by the new clock, `shiftMs` how much
 * later that is than by the old one. All times before are by the old clock. The server finds that itself:
 * no source and no person can say so.
 */
export interface ClockEvent extends EventBase {
  kind: 'clock';
  shiftMs: number;
}
/**
 * A person has marked a capture, or an airflow that was measured: later visits are compared with it. A
 * capture is named as in a `strike`; an airflow by the time at which it ended, and its method.
 */
export interface BaselineEvent extends EventBase {
  kind: 'baseline';
  unit: string;
  from?: number | undefined;
  by?: 'touch' | 'itself' | undefined;
  to?: number | undefined;
  airflowT?: number | undefined;
  /** True takes the mark off. */
  off?: boolean | undefined;
}
export type EventLine =
  | ClockEvent
  | SetpointEvent
  | FanEvent
  | NoteEvent
  | CheckEvent
  | WalkEvent
  | CaptureEvent
  | AmendEvent
  | StrikeEvent
  | RemarkEvent
  | TraverseEvent
  | CondensateEvent
  | HeatEvent
  | ZeroEvent
  | BaselineEvent;

/**
 * A piece of a photo. Its pieces follow one another from 0 on; then a `remark` says which capture it is
 * of.
 */
export interface PhotoLine {
  type: 'photo';
  /** The first 32 hexadecimal digits of the SHA-256 of the whole photo, a JPEG. */
  id: string;
  part: number;
  of: number;
  /** Base64, a multiple of four characters. */
  data: string;
}

/** Anything that a source can say, and that a visit log can hold. */
export type Line =
  | VisitLine
  | SystemLine
  | UnitLine
  | OutletLine
  | ExpectationLine
  | ProbeLine
  | Reading
  | AirflowLine
  | EventLine
  | PhotoLine;

/** How the link to a probe is. A probe that never needs a link is never mentioned. */
export interface ProbeLink {
  /** `lost` also where the link is up but the source knows that nothing will come. */
  state: 'connecting' | 'connected' | 'lost';
  signalDbm?: number | undefined;
  /**
   * What a person has to give before its readings can be read. `key`: what it broadcasts is encrypted,
   * and there is no key for it, or one that does not fit; or it is not, and there is a key. Left out:
   * nothing.
   */
  needs?: 'key' | undefined;
}

/** What an adapter may say of itself; the supervisor adds `starting`. */
export type AdapterStatus = 'running' | 'unavailable' | 'retrying';

/** What a started adapter is given. Every call is safe at any time; after a stop they do nothing. */
export interface AdapterHost {
  /**
   * Hands over one line.
   * @returns why the line was refused, as a sentence, or null when it was taken. A refusal is
   *   counted and shown; a source needs to look at it only if it can tell its own sender.
   */
  emit(line: Line): string | null;
  /** Says how the link to a probe is. */
  link(probe: string, link: ProbeLink): void;
  /** Says how the source is; `unavailable` and `retrying` want a text: what is wrong, what to do. */
  status(state: AdapterStatus, text?: string): void;
  /** Aborted when the adapter is to stop: for whatever takes a signal. */
  readonly signal: AbortSignal;
}

/** A source of readings. */
export interface Adapter {
  /** Short and unique among the adapters of a server: `push`, `replay`. Shown to people. */
  readonly name: string;
  /** True where the readings are made up: they are marked wherever they go. Default: false. */
  readonly simulated?: boolean;
  /**
   * Begins. May take its time; until `host.status` is called for the first time, or the returned
   * promise is fulfilled, the adapter counts as starting.
   */
  start(host: AdapterHost): void | Promise<void>;
  /** Ends, and undoes all that `start` did. Called once for each `start`, also for a failed one. */
  stop(): void | Promise<void>;
  /** Told of what a person did (a setpoint, a fan speed). Only a simulation can follow. */
  event?(event: EventLine): void;
  /**
   * Told that a person has forgotten a probe, of this source or of another. What was announced of it
   * is gone: a source that announces its probes does so again when it hears it.
   */
  forget?(probe: string): void;
}

/** Makes an adapter. An outside plug-in exports one as `createAdapter`; options are its own. */
export type AdapterFactory<Options = unknown> = (options: Options) => Adapter;
