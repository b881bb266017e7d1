/**
 * What the server sends: snapshots, captures, the state, history. The contract with scripts and with
 * the client, as schemas; the client checks what it receives against the same. SI, units in the names.
 */
import * as z from 'zod/mini';
import { changedSchema } from './protocol/access.ts';

const num = z.number();
const nullable = z.nullable(num);

export const placeSchema = z.enum(['return', 'supply', 'outlet', 'room', 'outdoor']);
export const modeSchema = z.enum(['cooling', 'heating']);

/** The air at a place: means of its live probes. What is not known is null. */
export const airSchema = z.object({
  temperatureC: nullable,
  humidityPct: nullable,
  wetBulbC: nullable,
  dewPointC: nullable,
  humidityRatio: nullable,
  enthalpyJkg: nullable,
});

/** The airflow in use: at its plane, as standard air (1.204 kg/m³), and as a flow of dry air. */
export const airflowSchema = z.object({
  flowM3s: nullable,
  standardM3s: nullable,
  dryAirKgs: nullable,
  source: z.nullable(z.string()),
});

/**
 * Delivered capacity. Positive is what the mode asks for; `U95` is the half-width of 95 %. In heating the
 * coil is dry: latent part, sensible heat ratio and condensate are null.
 */
export const capacitySchema = z.object({
  totalW: nullable,
  sensibleW: nullable,
  latentW: nullable,
  sensibleHeatRatio: nullable,
  condensateKgh: nullable,
  totalU95W: nullable,
  sensibleU95W: nullable,
  latentU95W: nullable,
  sensibleHeatRatioU95: nullable,
});

/** A repeated rise and fall that its unit makes by itself. */
export const cycleSchema = z.object({
  /** From one rise to the next, s. */
  periodS: num,
  /** Half of the way between lowest and highest, W. */
  amplitudeW: num,
  /** Whole cycles that have been seen, and how many of them the mean is over so far. */
  count: num,
  averaged: z.optional(num),
  /** Half of the 95 % interval of the mean over them, with all that is doubtful about it, W. */
  meanU95W: nullable,
});

export const settlingSchema = z.object({
  state: z.enum(['waiting', 'settling', 'steady', 'cycling']),
  /** Since when it is in this state, ms since the epoch. */
  since: nullable,
  /**
   * Settling: where it is heading. Steady: the mean of the last minutes. Cycling: the mean over whole
   * cycles. With half of its 95 % interval: of the measured value, without the errors of probes and
   * airflow, which are in `totalU95W`.
   */
  plateauW: nullable,
  plateauU95W: nullable,
  /** When it will be called steady, s from now. */
  steadyInS: nullable,
  /**
   * The figure as it is shown: means of total, sensible and latent over the last ten seconds (fewer after
   * something was told), W, and how far they lie behind the readings, s.
   */
  levelW: nullable,
  levelSensibleW: nullable,
  levelLatentW: nullable,
  levelDelayS: nullable,
  /** By how much the means of both halves of the last `lookedS` seconds differ, W. */
  movedW: nullable,
  lookedS: nullable,
  /** How much it may yet move in the next ten minutes, W (95 % of what is likely). */
  aheadW: nullable,
  /**
   * Steady: how far it hovers about its mean to either side, as the amplitude of a wave that scatters as
   * much, W.
   */
  hoverW: nullable,
  /** The way there, as it is drawn ahead of now: time constant of the approach, s. */
  approachS: nullable,
  cycle: z.nullable(cycleSchema),
  /** A defrost: when it began, and when it ended (null: it goes on); null five minutes after its end. */
  defrost: z.nullable(z.object({ from: num, to: nullable })),
});

/** Why a figure may be wrong, or is missing. */
export const doubtSchema = z.object({
  code: z.string(),
  probe: z.optional(z.string()),
  /** What is doubtful, as a sentence. */
  text: z.string(),
  /** What it does to the figure. */
  effect: z.string(),
  /** What to do about it. */
  remedy: z.string(),
});

const budgetKindSchema = z.enum([
  'temperature',
  'humidity',
  'spread',
  'airflow',
  'pressure',
  'common-temperature',
  'common-humidity',
  'scatter',
  'zero',
]);

/** One independent source of doubt about a unit's total, largest first. */
export const budgetItemSchema = z.object({
  kind: budgetKindSchema,
  /** The probe's id; for a spread the place; for an airflow the probe that it follows, or null. */
  of: z.nullable(z.string()),
  /** Its part of the total's variance: the parts add up to 1. */
  share: num,
  /** What one standard uncertainty of it does to the total, W (signed). */
  totalW: num,
});

/** The air of a place with how sure both of its coordinates are, and how their errors go together. */
export const airRegionSchema = z.object({
  temperatureC: num,
  humidityRatio: num,
  /** Standard uncertainties, and their correlation, −1 to 1. */
  uTemperatureK: num,
  uHumidityRatio: num,
  correlation: num,
});

/** Of what the interval of a unit's total is made; sent every few seconds. */
export const budgetSchema = z.object({
  type: z.literal('budget'),
  unit: z.string(),
  t: num,
  totalU95W: num,
  items: z.array(budgetItemSchema),
  /** Where the air of both places lies on a psychrometric chart; null: no probe tells its humidity. */
  regions: z.object({ return: z.nullable(airRegionSchema), supply: z.nullable(airRegionSchema) }),
  /** Which item to work on first and how, as a sentence; null where nothing would help much. */
  advice: z.nullable(z.string()),
});

/** One probe of a side-by-side check. Offsets are from the mean of all, in the same air. */
export const checkProbeSchema = z.object({
  temperatureOffsetC: nullable,
  humidityOffsetPct: nullable,
  /** The offset in terms of water: of the vapour pressure, Pa. */
  vapourOffsetPa: nullable,
  /** Standard uncertainties of the first two. */
  uTemperatureC: nullable,
  uHumidityPct: nullable,
  /** Whether it agrees with the others within the limits of all of them; null: not known yet. */
  agrees: z.nullable(z.boolean()),
});

/** A side-by-side check, while it runs and when it has ended. */
export const checkSchema = z.object({
  type: z.literal('check'),
  phase: z.enum(['running', 'ended']),
  from: num,
  t: num,
  /**
   * `listening`: too early to say. `moving`: the air, or a probe, is not still yet.
   * `agree`: they agree within their limits. `off`: at least one does not.
   */
  verdict: z.enum(['listening', 'moving', 'agree', 'off']),
  /** 0 to 1: how much of what is needed has been heard; 1: it may be ended. */
  progress: num,
  /** The verdict as a sentence. */
  text: z.string(),
  probes: z.record(z.string(), checkProbeSchema),
});

/** A walk along a unit's outlet or intake, while it runs and when it has ended. */
export const walkSchema = z.object({
  type: z.literal('walk'),
  phase: z.enum(['running', 'ended']),
  unit: z.string(),
  place: z.enum(['return', 'supply']),
  /** The probe that is moved. */
  probe: z.string(),
  from: num,
  t: num,
  /**
   * `settling`: the probe has not come to the air at the end where it is held. `settled`: it may go.
   * `waiting`: it goes, and tells nothing yet. `found`: it does; ended now, that is applied.
   */
  verdict: z.enum(['settling', 'settled', 'waiting', 'found']),
  /** 0 to 1: how much of what is needed has been heard; 1: it may be ended. */
  progress: num,
  /** The verdict as a sentence. */
  text: z.string(),
  /** Standard deviation from spot to spot, K. */
  spotK: nullable,
  /** By how much the first probe that stays reads more than the mean of the place, K. */
  biasK: nullable,
  /** By how much the total is too high for that, %. */
  totalPct: nullable,
});

export const airflowMethodSchema = z.enum(['sweep', 'grid', 'condensate', 'heat', 'reference']);
const ruleSchema = z.enum(['equal-area', 'log-tchebycheff']);

/** One section of an opening, while it is traversed. */
export const sectionProgressSchema = z.object({
  meanMs: nullable,
  seconds: num,
  /** 0 to 1: how much of what it takes has been heard. */
  progress: num,
});
/** One point of a grid; a mean that is settled will hardly change. */
export const pointProgressSchema = z.object({
  section: num,
  row: num,
  column: num,
  meanMs: nullable,
  settled: z.boolean(),
});

/** An airflow that is being measured, or a zero in place: while it runs, and when it has ended. */
export const measuringSchema = z.object({
  type: z.literal('measuring'),
  unit: z.string(),
  method: z.enum(['sweep', 'grid', 'condensate', 'heat', 'zero']),
  phase: z.enum(['running', 'paused', 'ended', 'cancelled']),
  from: num,
  t: num,
  /** What to do now, or what has come of it, as a sentence that can be said aloud. */
  text: z.string(),
  /** Whether that is a warning. */
  warns: z.boolean(),
  /** 0 to 1: how much of what is needed has been heard; 1: it may be ended. */
  progress: num,
  outlet: z.nullable(z.string()),
  probe: z.nullable(z.string()),
  /** What the anemometer reads; NaN is never sent. */
  velocityMs: nullable,
  /** Of a traverse: which section is under way, and how all of them are. */
  section: nullable,
  sections: z.array(sectionProgressSchema),
  rule: z.nullable(ruleSchema),
  points: z.array(pointProgressSchema),
  /** Of the others: the difference that is watched (moisture, kg/kg; temperature, K), and its u95. */
  difference: nullable,
  differenceU95: nullable,
});

/** An airflow that was measured, with how sure it is and what that is made of. */
export const airflowResultSchema = z.object({
  type: z.literal('airflow'),
  t: num,
  from: num,
  unit: z.string(),
  method: airflowMethodSchema,
  flowM3s: num,
  u95M3s: num,
  basis: z.literal('actual'),
  plane: z.enum(['supply', 'return']),
  outlet: z.nullable(z.string()),
  /** Whether it became the unit's airflow. */
  used: z.boolean(),
  probe: z.nullable(z.string()),
  /** The fan speed that was told, and how wet the coil was, 0 to 1. */
  fan: z.nullable(z.string()),
  wetness: num,
  simulated: z.boolean(),
  /** Mean velocity in the opening, m/s, and its variation from point to point. */
  velocityMs: nullable,
  variation: nullable,
  /** Each repeat's own flow, m³/s; each point's velocity. */
  each: z.array(num),
  points: z.array(pointProgressSchema),
  /** The latent capacity by the water alone, W. */
  latentW: nullable,
  latentU95W: nullable,
  /** Each error as a standard uncertainty, % of the flow; `shared` names one that others have too. */
  errors: z.array(
    z.object({
      cause: z.string(),
      uPct: num,
      shape: num,
      shared: z.nullable(z.string()),
    }),
  ),
  /** What is doubtful about it, as sentences. */
  warnings: z.array(z.string()),
  /** A person has marked it: later visits are compared with it. */
  baseline: z.optional(z.literal(true)),
});

/** What the fan alone on a dry coil has told of the probes and their places. */
export const zeroResultSchema = z.object({
  type: z.literal('zero'),
  t: num,
  from: num,
  unit: z.string(),
  fanW: num,
  /** What supply less return is off by, K, with half of its 95 % interval. */
  offsetK: num,
  u95K: num,
  /** Whether it is taken off from now on. */
  used: z.boolean(),
  text: z.string(),
});

/** Where full demand was shown: at which setpoint, °C, and when. */
export const fullDemandSchema = z.object({ t: num, valueC: num });

/** What came when the setpoint was pushed on at `t`, as a capture that ends at `to` told. */
export const pushTestSchema = z.object({
  t: num,
  to: num,
  valueC: num,
  /** The unit's boost was pressed. */
  boost: z.boolean(),
  differenceW: num,
  differenceU95W: num,
  /** `all`: no more came. `more` came. `unsure`: the difference is not known well enough. */
  answer: z.enum(['all', 'more', 'unsure']),
});

/** What a maker publishes of a unit in one mode; see the contract's line. */
export const publishedSchema = z.object({
  mode: modeSchema,
  net: z.optional(z.boolean()),
  fanW: z.optional(num),
  limitPct: z.optional(num),
  limit: z.optional(num),
  fan: z.optional(z.string()),
  lineFactor: z.optional(num),
  points: z.array(
    z.object({
      speed: z.enum(['minimum', 'rated', 'maximum']),
      outdoorC: num,
      indoorC: num,
      indoorWetBulbC: z.optional(num),
      totalW: num,
      powerW: z.optional(num),
    }),
  ),
});

const conditionsSchema = z.object({ outdoorC: num, indoorC: num, indoorWetBulbC: nullable });
const verdictWordSchema = z.enum(['meets', 'falls-short', 'cannot-tell', 'not-asked']);
const prospectSchema = z.object({
  action: z.enum(['check', 'walk', 'traverse', 'outdoor-probe', 'table', 'wait']),
  /** Half of the interval of the ratio that it would leave, and the verdict then. */
  ratioU95: num,
  verdict: verdictWordSchema,
});

/** What is expected, and what a figure is against it. */
const expectedFields = {
  mode: modeSchema,
  expectedW: num,
  expectedU95W: num,
  /** The part of the expected capacity that has to be reached. */
  limit: num,
  /** `table`: between published points. `curve`: a rated figure and an open curve, an estimate. */
  basis: z.enum(['table', 'curve']),
  /** Other heads run on the same outdoor unit, and it is not known what they leave: it may be less. */
  atMost: z.boolean(),
  /** It is what the others leave. */
  limited: z.boolean(),
  /** What thin air takes off, as a factor. */
  altitudeFactor: num,
  conditions: conditionsSchema,
  outdoorFrom: z.enum(['probe', 'entered']),
  /** It was published for another fan speed than the one that is told. */
  otherSpeed: z.boolean(),
};

const signSchema = z.object({
  item: z.string(),
  /** With half of its 95 % interval; null of what was seen. */
  value: nullable,
  u95: nullable,
  text: z.string(),
});
/** A likely cause: never a diagnosis. */
export const causeSchema = z.object({
  code: z.string(),
  /** Against all others and a healthy unit, 0 to 1: for the order. */
  weight: num,
  name: z.string(),
  /** The next thing to look at, and what to mind there. */
  look: z.string(),
  caution: z.string(),
  source: z.string(),
  /** The evidence for it and against it, the strongest first. */
  for: z.array(signSchema),
  against: z.array(signSchema),
});

/** Whether a captured figure is what the unit should deliver; `from`, `to` and `by` are the capture's. */
export const verdictSchema = z.object({
  type: z.literal('verdict'),
  unit: z.string(),
  from: num,
  to: num,
  by: z.enum(['touch', 'itself']),
  ...expectedFields,
  /** Measured over expected, with half of its 95 % interval. */
  ratio: num,
  ratioU95: num,
  /** That the true capacity is at least that part of the true expected one. */
  probability: num,
  /** `not-asked`: nobody has shown that the unit was asked for all it has. */
  verdict: verdictWordSchema,
  fullDemand: z.nullable(fullDemandSchema),
  /** What would make it surer, the best first. */
  prospects: z.array(prospectSchema),
  /** What to look at, the likeliest first; none where a healthy unit explains the figures as well. */
  causes: z.array(causeSchema),
  simulated: z.boolean(),
});

/** What a unit should deliver now, and what it does; sent every few seconds. */
export const expectedSchema = z.object({
  type: z.literal('expected'),
  unit: z.string(),
  t: num,
  /** Null where nothing can be expected; `why` says why. */
  now: z.nullable(
    z.object({ ...expectedFields, ratio: nullable, ratioU95: nullable, probability: nullable }),
  ),
  why: z.nullable(
    z.enum([
      ...(['nothing', 'no-mode', 'no-outdoor', 'no-indoor'] as const),
      ...(['no-wet-bulb', 'outside'] as const),
    ]),
  ),
  fullDemand: z.nullable(fullDemandSchema),
  /** The last push test; null: there was none. */
  push: z.nullable(pushTestSchema),
  /** Heat of all heads on its outdoor unit over the power that they take; null: no power is known. */
  efficiency: z.nullable(
    z.object({ value: num, u95: nullable, powerW: num, from: z.enum(['probe', 'entered']) }),
  ),
});

/** How much the air of a place differs from spot to spot, and who says so. */
export const placeEvennessSchema = z.object({
  /** One standard deviation, % of the difference between return and supply. */
  spotsPct: num,
  from: z.enum(['assumed', 'entered', 'walked']),
  walkedT: nullable,
});

/** What a check has told of a probe, as it is applied to its readings. */
export const probeCheckSchema = z.object({
  t: num,
  temperatureOffsetC: nullable,
  humidityOffsetPct: nullable,
  /** The air in which it was checked. */
  atC: num,
  atPct: nullable,
  /** How much of what the check gained is still left with its age, 0 to 1. */
  worth: num,
});

export const unitSnapshotSchema = z.object({
  mode: z.nullable(modeSchema),
  return: airSchema,
  supply: airSchema,
  airflow: airflowSchema,
  /** The probe in the outlet whose velocity scales the airflow; null: it is as it was told. */
  airflowFollows: z.nullable(z.string()),
  capacity: capacitySchema,
  settling: settlingSchema,
  doubts: z.array(doubtSchema),
});

/** All units together; null where a unit of the visit has no figure, or the modes differ. */
export const sumSchema = z.object({
  totalW: nullable,
  sensibleW: nullable,
  latentW: nullable,
  totalU95W: nullable,
});

export const snapshotSchema = z.object({
  type: z.literal('snapshot'),
  t: num,
  simulated: z.boolean(),
  units: z.record(z.string(), unitSnapshotSchema),
  sum: sumSchema,
});

/** A capture before a change, and by how much the one after it differs. */
export const comparisonSchema = z.object({
  /** The setpoint or fan event that lies between the two. */
  event: z.object({
    t: num,
    kind: z.enum(['setpoint', 'fan']),
    valueC: z.optional(num),
    boost: z.optional(z.literal(true)),
    speed: z.optional(z.string()),
  }),
  from: num,
  to: num,
  totalW: num,
  totalU95W: nullable,
  /** After less before. Errors that both share (the same probes, the same airflow) cancel in part. */
  differenceW: num,
  differenceU95W: nullable,
  sensibleDifferenceW: num,
  sensibleDifferenceU95W: nullable,
  /** Null in heating, as the latent part itself. */
  latentDifferenceW: nullable,
  latentDifferenceU95W: nullable,
});

/** A capture was a mistake: when a person said so, and in whose words why. */
export const struckSchema = z.object({ t: num, text: z.optional(z.string()) });

/** A photo of a capture; its bytes are at `/api/photos/ID`. */
export const capturePhotoSchema = z.object({ id: z.string(), bytes: num });

/** How a unit was set while it was captured, and the air in and around it. */
export const captureSettingSchema = z.object({
  setpointC: nullable,
  fan: z.nullable(z.string()),
  /** How wet the coil was, 0 to 1. */
  wetness: num,
  flowM3s: nullable,
  dryAirKgs: nullable,
  /** Where the airflow comes from. */
  source: z.nullable(z.string()),
  /** ± of the airflow, %, as it was told. */
  flowLimitPct: nullable,
  pressurePa: num,
  returnProbes: z.array(z.string()),
  supplyProbes: z.array(z.string()),
  /** Means over the span. */
  outdoorC: nullable,
  indoorC: nullable,
  indoorWetBulbC: nullable,
  indoorPct: nullable,
  supplyC: nullable,
  supplyPct: nullable,
  /** Of a probe in the room itself. */
  roomC: nullable,
  /** Power of the outdoor unit and its heads, W, and what all these heads deliver. */
  powerW: nullable,
  groupW: nullable,
});

export const captureErrorSchema = z.object({
  kind: budgetKindSchema,
  of: z.nullable(z.string()),
  totalW: num,
});

export const captureSchema = z.object({
  type: z.literal('capture'),
  unit: z.string(),
  from: num,
  to: num,
  totalW: num,
  totalU95W: nullable,
  sensibleW: num,
  sensibleU95W: nullable,
  /** Null in heating, where the coil is dry. */
  latentW: nullable,
  latentU95W: nullable,
  state: z.enum(['steady', 'cycling']),
  simulated: z.boolean(),
  /** Made by a person's touch, or by itself. */
  by: z.enum(['touch', 'itself']),
  /** Where a person has struck it out: when, and why. It is no result, and nothing is compared with it. */
  struck: z.optional(struckSchema),
  /** True while its span still goes on: one with the same unit, `from` and `by` will replace it. */
  open: z.optional(z.boolean()),
  /** Whole cycles that are averaged over; only where `state` is `cycling`. */
  cycles: z.optional(num),
  /** How the unit was set, and the air in and around it: the setting and the flow of its last second. */
  at: z.optional(captureSettingSchema),
  /** What one standard uncertainty of each error does to the total, W (signed), but for the scatter. */
  errors: z.optional(z.array(captureErrorSchema)),
  /** Half of the interval of the total by its scatter alone. */
  scatterU95W: z.optional(nullable),
  /** A person has marked it: later visits are compared with it. */
  baseline: z.optional(z.literal(true)),
  /** The last capture before the setpoint or fan change that this one follows. */
  before: z.optional(comparisonSchema),
  /** What a person noted of it. */
  note: z.optional(z.string()),
  photos: z.optional(z.array(capturePhotoSchema)),
});

export const limitsSchema = z.object({
  temperatureC: z.optional(num),
  humidityPct: z.optional(num),
  dewPointC: z.optional(num),
  velocityMs: z.optional(num),
  velocityPct: z.optional(num),
  pressurePa: z.optional(num),
  k: z.optional(num),
  resolutionC: z.optional(num),
  resolutionPct: z.optional(num),
});

export const valuesSchema = z.object({
  temperatureC: z.optional(num),
  humidityPct: z.optional(num),
  dewPointC: z.optional(num),
  velocityMs: z.optional(num),
  pressurePa: z.optional(num),
  powerW: z.optional(num),
});

/** What a person said for the record: see the contract's lines. */
export const visitDetailsSchema = z.object({
  site: z.optional(z.string()),
  address: z.optional(z.string()),
  customer: z.optional(z.string()),
  technician: z.optional(z.string()),
  why: z.optional(z.string()),
  conditions: z.optional(z.string()),
});
export const systemDetailsSchema = z.object({
  name: z.optional(z.string()),
  model: z.optional(z.string()),
  serial: z.optional(z.string()),
  lineLengthM: z.optional(num),
  lineHeightM: z.optional(num),
  /** How many heads it has, and whether those without probes run. */
  heads: z.optional(num),
  othersRun: z.optional(z.boolean()),
  /** What it gives to all heads together at most, at rating. */
  combinedCoolingW: z.optional(num),
  combinedHeatingW: z.optional(num),
});
export const unitDetailsSchema = z.object({
  system: z.optional(z.string()),
  form: z.optional(z.string()),
  model: z.optional(z.string()),
  serial: z.optional(z.string()),
  nominalW: z.optional(num),
});
export const probeDetailsSchema = z.object({
  serial: z.optional(z.string()),
  calibratedT: z.optional(num),
});

export const probeStateSchema = z.object({
  name: z.string(),
  adapter: z.nullable(z.string()),
  unit: z.nullable(z.string()),
  place: z.nullable(placeSchema),
  /** How much of its place's flow it stands for, in proportion to the others there. */
  flowShare: num,
  limits: limitsSchema,
  simulated: z.boolean(),
  state: z.enum(['connecting', 'live', 'stale', 'lost']),
  lastT: nullable,
  intervalMs: nullable,
  signalDbm: nullable,
  batteryPct: nullable,
  /** Live values only, as they were sent: what is late is not here. */
  values: valuesSchema,
  /** Its maker's number and last calibration, as a person said. */
  details: probeDetailsSchema,
  /** Of one that measures velocity: what it is, as a person said. */
  anemometer: z.optional(z.object({ kind: z.enum(['vane', 'thermal']), headM: z.optional(num) })),
  /** The last side-by-side check that is applied to it. */
  check: z.nullable(probeCheckSchema),
  /** The zero in place that is taken off it; null once it has been moved or checked since. */
  zero: z.nullable(z.object({ t: num, temperatureOffsetC: num })),
  /** What a person has to give before its readings can be read: the key of what it broadcasts. */
  needs: z.optional(z.enum(['key'])),
});

export const adapterStateSchema = z.object({
  state: z.enum(['starting', 'running', 'unavailable', 'retrying']),
  text: z.nullable(z.string()),
});

export const airflowLineSchema = z.object({
  source: z.string(),
  flowM3s: num,
  basis: z.enum(['actual', 'standard']),
  plane: z.enum(['supply', 'return']),
  limitPct: z.optional(num),
  limitK: z.optional(num),
  instrument: z.optional(z.string()),
});

/** See the contract's lines. */
export const fanTableSchema = z.object({
  speeds: z.array(z.object({ name: z.string(), dryM3s: z.optional(num), wetM3s: z.optional(num) })),
  basis: z.enum(['actual', 'standard']),
  plane: z.enum(['supply', 'return']),
  limitPct: z.optional(num),
});
export const outletStateSchema = z.object({
  unit: z.string(),
  name: z.string(),
  plane: z.enum(['supply', 'return']),
  sections: z.array(z.object({ widthM: num, lengthM: num, blockedM2: z.optional(num) })),
  freeArea: num,
  freeAreaLimit: z.optional(num),
  form: z.string(),
  louverDeg: nullable,
});

/** Since when moisture is (not) taken out, ms, and how wet the coil was then: 0 dry, 1 wet. */
export const coilSchema = z.object({
  wetness: num,
  removes: z.nullable(z.boolean()),
  sinceT: nullable,
  /** What a person said of it, which counts. */
  said: z.nullable(z.enum(['dry', 'wet'])),
});

/** What is known of a unit beside its snapshot. */
export const unitSetupSchema = z.object({
  name: z.string(),
  details: unitDetailsSchema,
  airflow: z.nullable(airflowLineSchema),
  fanSpeeds: z.array(z.string()),
  /** The last setpoint and fan speed that were told, null where none was. */
  setpointC: nullable,
  fan: z.nullable(z.string()),
  evenness: z.object({ return: placeEvennessSchema, supply: placeEvennessSchema }),
  fanTable: z.nullable(fanTableSchema),
  coil: coilSchema,
  /** What its maker publishes of it, in either mode. */
  published: z.array(publishedSchema),
  /** What a person read off a meter: power of its outdoor unit with all heads, W, and ± of that, %. */
  powerW: nullable,
  powerLimitPct: nullable,
  /** How a person found its filter; null: nobody has looked. */
  filter: z.nullable(z.enum(['clean', 'loaded'])),
});

export const visitSetupSchema = z.object({
  title: z.string(),
  details: visitDetailsSchema,
  /** Outdoor units, by their ids. */
  systems: z.record(z.string(), systemDetailsSchema),
  mode: z.nullable(modeSchema),
  /** The pressure in use, Pa, and where it comes from. */
  pressurePa: num,
  pressureSource: z.enum(['entered', 'probe', 'altitude', 'assumed']),
  altitudeM: nullable,
  /** The outdoor air as a person told it, °C. */
  outdoorC: nullable,
  /** The test for steady: `field`, or `strict` after the shape of ANSI/ASHRAE 37 (30 min). */
  steadyTest: z.enum(['field', 'strict']),
  /** A capture is made by itself when steady has held so long, s; null: by touch only. */
  captureAfterS: nullable,
  units: z.record(z.string(), unitSetupSchema),
  /** Openings at which airflow is measured, by their ids. */
  outlets: z.record(z.string(), outletStateSchema),
});

export const eventSchema = z.object({
  type: z.literal('event'),
  /** Stays with the event when it is named or dated anew: a later one of the same id replaces it. */
  id: z.string(),
  t: num,
  kind: z.enum([
    ...(['setpoint', 'fan', 'note', 'check', 'walk', 'airflow', 'defrost', 'clock'] as const),
    ...(['traverse', 'condensate', 'heat', 'zero'] as const),
  ]),
  unit: z.optional(z.string()),
  /** What a person noted, or has named the event. */
  text: z.optional(z.string()),
  valueC: z.optional(num),
  boost: z.optional(z.literal(true)),
  speed: z.optional(z.string()),
  phase: z.optional(
    z.enum(['start', 'go', 'pause', 'resume', 'section', 'point', 'end', 'cancel']),
  ),
  method: z.optional(z.enum(['sweep', 'grid'])),
  probes: z.optional(z.array(z.string())),
  place: z.optional(z.enum(['return', 'supply'])),
  probe: z.optional(z.string()),
  /**
   * Of `clock`: by so much the computer's clock was set ahead. Everything of before is told again, by the
   * new clock.
   */
  shiftMs: z.optional(num),
});

/** Where the live visit is recorded: its id there, and why nothing can be written, as a sentence. */
export const recordSchema = z.object({
  type: z.literal('record'),
  visit: z.nullable(z.string()),
  trouble: z.nullable(z.string()),
  /** False: a quick look, of which nothing is left where nobody wants to keep it. */
  kept: z.boolean(),
});

/** How a visit log is played. Times are by the clock of its beginning, ms. */
export const replaySchema = z.object({
  type: z.literal('replay'),
  /** So many times faster than it was recorded. */
  speed: num,
  paused: z.boolean(),
  /** Of its first and its last line; null until it has been read through once. */
  from: nullable,
  to: nullable,
  /** Where in it one is; null before its first line. */
  at: nullable,
  /** Where a jump that is on its way ends; null: there is none. */
  toT: nullable,
  /** How many jumps have arrived: after each, all that was told of the past is told anew. */
  jumps: num,
  ended: z.boolean(),
});

export const stateSchema = z.object({
  type: z.literal('state'),
  record: recordSchema,
  /** Null where nothing is played: what is told is of now. */
  replay: z.nullable(replaySchema),
  t: nullable,
  simulated: z.boolean(),
  units: z.record(z.string(), unitSnapshotSchema),
  sum: sumSchema,
  visit: visitSetupSchema,
  probes: z.record(z.string(), probeStateSchema),
  adapters: z.record(z.string(), adapterStateSchema),
  events: z.array(eventSchema),
  captures: z.array(captureSchema),
  budgets: z.record(z.string(), budgetSchema),
  /** The check that runs, or the last one of this visit. */
  check: z.nullable(checkSchema),
  /** The walk that runs, or the last one of this visit. */
  walk: z.nullable(walkSchema),
  /** What is being measured of each unit's airflow, or was last. */
  measuring: z.record(z.string(), measuringSchema),
  /** The airflows that were measured, and the zeros in place, in order. */
  airflows: z.array(airflowResultSchema),
  zeros: z.array(zeroResultSchema),
  /** The verdicts on captures, in order; one with the same key as a capture is of that. */
  verdicts: z.array(verdictSchema),
  /** What each unit should deliver now. */
  expected: z.record(z.string(), expectedSchema),
});

/** One probe, when it or what is known of it has changed. */
export const probeMessageSchema = z.extend(probeStateSchema, {
  type: z.literal('probe'),
  id: z.string(),
  /** True where a person has forgotten it: there is no such probe any more. */
  forgotten: z.optional(z.literal(true)),
});

/** The values of all probes that are live, each second of the visit's time: to those who ask for it. */
export const valuesMessageSchema = z.object({
  type: z.literal('values'),
  t: num,
  probes: z.record(z.string(), z.object({ lastT: num, values: valuesSchema })),
});

/**
 * The server is there, and its newest snapshot is of `t` (null: there was none yet). Sent each second in
 * which nothing newer went out, so that a page can tell a visit at rest from a server that has stopped.
 */
export const beatSchema = z.object({ type: z.literal('beat'), t: nullable });

/** What a page may send on the stream. */
export const askSchema = z.object({
  type: z.literal('values'),
  /** Whether the page wants `values` frames from now on. */
  on: z.boolean(),
});

/** Columns of the past, one entry a row; equal lengths. Null: no figure at that time. */
export const historyColumnsSchema = z.object({
  totalW: z.array(nullable),
  sensibleW: z.array(nullable),
  latentW: z.array(nullable),
  totalU95W: z.array(nullable),
  returnC: z.array(nullable),
  supplyC: z.array(nullable),
});
export const historySchema = z.object({
  type: z.literal('history'),
  t: z.array(num),
  units: z.record(z.string(), historyColumnsSchema),
});

/** Set-up that has changed: units, names, airflow, pressure. */
export const visitMessageSchema = z.extend(visitSetupSchema, { type: z.literal('visit') });
export const adapterMessageSchema = z.extend(adapterStateSchema, {
  type: z.literal('adapter'),
  name: z.string(),
});

/** `replay`: a log that was played. `import`: a log that was taken in. */
export const VISIT_KINDS = ['visit', 'replay', 'import'] as const;
/** A recorded visit in the list. */
export const visitItemSchema = z.object({
  id: z.string(),
  kind: z.enum(VISIT_KINDS),
  title: z.string(),
  site: z.string(),
  address: z.string(),
  customer: z.string(),
  technician: z.string(),
  why: z.string(),
  simulated: z.boolean(),
  begunT: nullable,
  lastT: nullable,
  /** Who brought it, where it lies in a company's archive. */
  van: z.optional(z.string()),
  /** Names of its units. */
  units: z.array(z.string()),
  /** Captures that are not struck out. */
  captures: num,
});

/** A recorded visit with what was told of it. */
export const oldVisitSchema = z.extend(visitItemSchema, {
  captures: z.array(captureSchema),
  events: z.array(eventSchema),
  checks: z.array(checkSchema),
  airflows: z.array(airflowResultSchema),
  verdicts: z.array(verdictSchema),
  conditions: z.string(),
  unitDetails: z.record(
    z.string(),
    z.object({
      name: z.string(),
      form: z.string(),
      model: z.string(),
      serial: z.string(),
      system: z.string(),
      nominalW: nullable,
      /** The airflow that was told last; null: none. */
      airflow: z.nullable(airflowLineSchema),
    }),
  ),
  /** Its outdoor units, by their ids. */
  systems: z.record(z.string(), systemDetailsSchema),
  /** What the probes of its checks are called. */
  probeNames: z.record(z.string(), z.string()),
  history: historySchema,
});

/** Airflows that were measured at the live visit's site in earlier visits, newest first. */
export const earlierAirflowsSchema = z.object({
  airflows: z.array(
    z.object({ visit: z.string(), title: z.string(), result: airflowResultSchema }),
  ),
});

/** Openings of earlier visits, at whatever site: the newest of each kind, and where it is from. */
export const knownOutletsSchema = z.object({
  outlets: z.array(
    z.object({
      ...{ visit: z.string(), title: z.string(), t: num, unitName: z.string() },
      outlet: outletStateSchema,
    }),
  ),
});

/** Captures that were made at the live visit's site in earlier visits, newest first; none that is struck. */
export const earlierCapturesSchema = z.object({
  captures: z.array(z.object({ visit: z.string(), title: z.string(), capture: captureSchema })),
});

/** What `GET /api/visits` answers: the visit that is live, and those that were looked for. */
export const visitListSchema = z.object({
  live: z.nullable(z.string()),
  visits: z.array(visitItemSchema),
});

/** Every frame of the stream. */
export const frameSchema = z.discriminatedUnion('type', [
  stateSchema,
  snapshotSchema,
  captureSchema,
  eventSchema,
  probeMessageSchema,
  valuesMessageSchema,
  historySchema,
  visitMessageSchema,
  adapterMessageSchema,
  budgetSchema,
  checkSchema,
  walkSchema,
  measuringSchema,
  airflowResultSchema,
  zeroResultSchema,
  verdictSchema,
  expectedSchema,
  recordSchema,
  replaySchema,
  beatSchema,
  changedSchema,
]);

export type Air = z.infer<typeof airSchema>;
export type AirflowSnapshot = z.infer<typeof airflowSchema>;
export type CapacitySnapshot = z.infer<typeof capacitySchema>;
export type SettlingSnapshot = z.infer<typeof settlingSchema>;
export type Doubt = z.infer<typeof doubtSchema>;
export type UnitSnapshot = z.infer<typeof unitSnapshotSchema>;
export type Budget = z.infer<typeof budgetSchema>;
export type BudgetLine = z.infer<typeof budgetItemSchema>;
export type Check = z.infer<typeof checkSchema>;
export type CheckProbe = z.infer<typeof checkProbeSchema>;
export type Walk = z.infer<typeof walkSchema>;
export type Measuring = z.infer<typeof measuringSchema>;
export type PointProgress = z.infer<typeof pointProgressSchema>;
export type AirflowResult = z.infer<typeof airflowResultSchema>;
export type AirflowMethod = z.infer<typeof airflowMethodSchema>;
export type PublishedState = z.infer<typeof publishedSchema>;
export type FullDemand = z.infer<typeof fullDemandSchema>;
export type Cause = z.infer<typeof causeSchema>;
export type PushTest = z.infer<typeof pushTestSchema>;
export type CaptureSetting = z.infer<typeof captureSettingSchema>;
export type Expected = z.infer<typeof expectedSchema>;
export type VerdictMessage = z.infer<typeof verdictSchema>;
export type ZeroResult = z.infer<typeof zeroResultSchema>;
export type OutletState = z.infer<typeof outletStateSchema>;
export type FanTableState = z.infer<typeof fanTableSchema>;
export type CoilState = z.infer<typeof coilSchema>;
export type PlaceEvenness = z.infer<typeof placeEvennessSchema>;
export type ProbeCheck = z.infer<typeof probeCheckSchema>;
export type Snapshot = z.infer<typeof snapshotSchema>;
export type Cycle = z.infer<typeof cycleSchema>;
export type Comparison = z.infer<typeof comparisonSchema>;
export type Capture = z.infer<typeof captureSchema>;
export type CapturePhoto = z.infer<typeof capturePhotoSchema>;
export type Struck = z.infer<typeof struckSchema>;
export type ProbeState = z.infer<typeof probeStateSchema>;
export type ProbeMessage = z.infer<typeof probeMessageSchema>;
export type ValuesMessage = z.infer<typeof valuesMessageSchema>;
export type Beat = z.infer<typeof beatSchema>;
export type Ask = z.infer<typeof askSchema>;
export type AdapterState = z.infer<typeof adapterStateSchema>;
export type UnitSetup = z.infer<typeof unitSetupSchema>;
export type VisitSetup = z.infer<typeof visitSetupSchema>;
export type EventMessage = z.infer<typeof eventSchema>;
export type State = z.infer<typeof stateSchema>;
export type History = z.infer<typeof historySchema>;
export type VisitItem = z.infer<typeof visitItemSchema>;
export type OldVisit = z.infer<typeof oldVisitSchema>;
export type EarlierCaptures = z.infer<typeof earlierCapturesSchema>;
export type KnownOutlets = z.infer<typeof knownOutletsSchema>;
export type EarlierAirflows = z.infer<typeof earlierAirflowsSchema>;
export type VisitList = z.infer<typeof visitListSchema>;
export type RecordState = z.infer<typeof recordSchema>;
export type Replay = z.infer<typeof replaySchema>;
export type Frame = z.infer<typeof frameSchema>;

/**
 * Which capture it is, the same live and when the record is read: a later one with the same key takes
 * its place. Each touch is one of its own, what is made by itself grows with its span.
 */
export function captureKey({
  unit,
  from,
  to,
  by,
}: Pick<Capture, 'unit' | 'from' | 'to' | 'by'>): string {
  return JSON.stringify(by === 'touch' ? [unit, from, by, to] : [unit, from, by]);
}
