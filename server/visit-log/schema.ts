/**
 * The lines of a visit log as schemas: what is let in from files, from HTTP and from adapters.
 *
 * Readings are by far the most: those that are fit are let through by `isFitReading`, without the
 * schema. Fields that are not known are ignored, so that a log may carry more than this version
 * understands.
 */

import * as z from 'zod';
import type { Line, Reading } from '../../adapters/contract.ts';
import {
  hasQuantity,
  isFitReading,
  isMilliseconds,
  isName,
  LATEST_T,
  LONGEST_ID,
  RANGES,
} from './fit-reading.ts';
import { QUANTITIES } from './known-fields.ts';
import { MOST_PIECES, PIECE_CHARS } from './photo-pieces.ts';

/** A time, ms since the epoch. */
export const timeSchema = z.number().min(0).max(LATEST_T).refine(isMilliseconds, {
  error: 'looks like seconds: give milliseconds since 1 January 1970',
});

/** What units and probes are called, wherever that is said. */
export const idSchema = z
  .string()
  .min(1)
  .max(LONGEST_ID)
  .refine(isName, { error: 'is not taken as a name' });
const t = timeSchema;
const id = idSchema;
const name = z.string().max(200);
const text = z.string().max(2000);
const said = z.string().max(400);

const within = ([low, high]: readonly [number, number]): z.ZodNumber =>
  z.number().min(low).max(high);
const temperatureC = within(RANGES.temperatureC);
const humidityPct = within(RANGES.humidityPct);
const pressurePa = within(RANGES.pressurePa);

export const readingSchema = z
  .object({
    type: z.literal('reading'),
    t,
    probe: id,
    temperatureC: temperatureC.optional(),
    humidityPct: humidityPct.optional(),
    dewPointC: within(RANGES.dewPointC).optional(),
    velocityMs: within(RANGES.velocityMs).optional(),
    pressurePa: pressurePa.optional(),
    powerW: within(RANGES.powerW).optional(),
    batteryPct: within(RANGES.batteryPct).optional(),
  })
  .refine(hasQuantity, { error: `has none of ${QUANTITIES.join(', ')}` });

/** Coverage factor of an expanded uncertainty. */
const coverage = z.number().min(0.5).max(4);

export const airflowSchema = z
  .object({
    source: z
      .string()
      .min(1)
      .max(40)
      .describe(
        'fan-table, measured (at this unit), sweep, grid, reference (a hood, or in the duct), or entered (known otherwise)',
      ),
    flowM3s: z.number().min(0).max(10),
    basis: z
      .enum(['actual', 'standard'])
      .describe(
        'actual: at the density of its plane. standard: dry air of 1.204 kg/m³, a flow of mass; of a ' +
          'fan-table the volume that the fan moves at any density, so both are the same',
      ),
    plane: z.enum(['supply', 'return']).describe('where an actual flow, or a fan’s volume, holds'),
    limitPct: z.number().min(0).max(100).optional().describe('±, %: surely within, or with limitK'),
    limitK: coverage.optional().describe('coverage factor of the ±; 1 for a guess'),
    instrument: z
      .string()
      .min(1)
      .max(LONGEST_ID)
      .optional()
      .describe('what it was measured with: airflows of one share its error in the sum of units'),
  })
  .refine(({ source, limitPct }) => source !== 'reference' || limitPct !== undefined, {
    path: ['limitPct'],
    error: 'is missing; give the ± of the hood, or of the traverse in the duct, %',
  });

const half = z.number().min(0);
export const limitsSchema = z.object({
  temperatureC: half.max(20).optional(),
  humidityPct: half.max(50).optional(),
  dewPointC: half.max(20).optional(),
  velocityMs: half.max(20).optional(),
  velocityPct: half.max(100).optional(),
  pressurePa: half.max(20_000).optional(),
  k: coverage.optional(),
  resolutionC: half.max(5).optional(),
  resolutionPct: half.max(20).optional(),
});

const uneven = z.number().min(0).max(100).nullable().optional();
const place = z.enum(['return', 'supply', 'outlet', 'room', 'outdoor']);

export const visitSchema = z.object({
  type: z.literal('visit'),
  t: t.optional(),
  version: z.literal(1, { error: 'is not 1, the only version this program reads' }),
  title: name.optional(),
  site: id.optional(),
  address: said.optional(),
  customer: said.optional(),
  technician: said.optional(),
  why: text.optional(),
  conditions: text.optional(),
  pressurePa: pressurePa.optional(),
  altitudeM: z.number().min(-500).max(5000).optional(),
  outdoorC: temperatureC.optional(),
  mode: z.enum(['cooling', 'heating']).optional(),
  steadyTest: z.enum(['field', 'strict']).optional(),
  captureAfterS: z.number().min(0).max(86_400).nullable().optional(),
  simulated: z.boolean().optional(),
});

const speedName = z.string().min(1).max(40);
const speedFlow = z.number().min(0.001).max(10).optional();
export const fanTableSchema = z.object({
  speeds: z
    .array(z.object({ name: speedName, dryM3s: speedFlow, wetM3s: speedFlow }))
    .min(1)
    .max(20),
  basis: z.enum(['actual', 'standard']),
  plane: z.enum(['supply', 'return']),
  limitPct: z.number().min(0).max(100).optional(),
});

export const unitSchema = z.object({
  type: z.literal('unit'),
  id,
  t: t.optional(),
  name: name.optional(),
  airflow: airflowSchema.optional(),
  fanSpeeds: z.array(speedName).max(20).optional(),
  fanTable: fanTableSchema.nullable().optional(),
  coil: z.enum(['dry', 'wet']).nullable().optional(),
  unevenPct: z.object({ return: uneven, supply: uneven }).optional(),
  system: id.nullable().optional(),
  form: name.optional(),
  model: name.optional(),
  serial: name.optional(),
  nominalW: z.number().min(0).max(1e6).nullable().optional(),
  powerW: z.number().min(0).max(100_000).nullable().optional(),
  powerLimitPct: half.max(50).nullable().optional(),
  filter: z.enum(['clean', 'loaded']).nullable().optional(),
});

const side = z.number().min(0.005).max(5);
export const outletSchema = z.object({
  type: z.literal('outlet'),
  id,
  unit: id,
  t: t.optional(),
  name: name.optional(),
  plane: z.enum(['supply', 'return']).optional(),
  sections: z
    .array(
      z
        .object({ widthM: side, lengthM: side, blockedM2: z.number().min(0).max(5).optional() })
        .refine((s) => (s.blockedM2 ?? 0) < s.widthM * s.lengthM, {
          error: 'has no open area: blockedM2 is as large as the section',
        }),
    )
    .min(1)
    .max(12)
    .optional(),
  freeArea: z.number().min(0.1).max(1.5).optional(),
  freeAreaLimit: z.number().min(0).max(1).optional(),
  form: name.optional(),
  louverDeg: z.number().min(-90).max(180).nullable().optional(),
});

export const expectationSchema = z.object({
  type: z.literal('expectation'),
  unit: id,
  t: t.optional(),
  mode: z.enum(['cooling', 'heating']),
  net: z.boolean().optional(),
  fanW: half.max(2000).optional(),
  fan: z.string().min(1).max(40).optional(),
  lineFactor: z.number().min(0.3).max(1.1).optional(),
  limitPct: half.max(50).optional(),
  limit: z.number().min(0.1).max(1.5).optional(),
  points: z
    .array(
      z.object({
        speed: z.enum(['minimum', 'rated', 'maximum']),
        outdoorC: temperatureC,
        indoorC: temperatureC,
        indoorWetBulbC: temperatureC.optional(),
        totalW: z.number().min(10).max(1e6),
        powerW: z.number().min(1).max(1e6).optional(),
      }),
    )
    .max(120),
});

export const systemSchema = z.object({
  type: z.literal('system'),
  id,
  t: t.optional(),
  name: name.optional(),
  model: name.optional(),
  serial: name.optional(),
  lineLengthM: z.number().min(0).max(500).nullable().optional(),
  lineHeightM: z.number().min(-200).max(200).nullable().optional(),
  heads: z.number().int().min(1).max(64).nullable().optional(),
  othersRun: z.boolean().nullable().optional(),
  combinedCoolingW: z.number().min(10).max(1e6).nullable().optional(),
  combinedHeatingW: z.number().min(10).max(1e6).nullable().optional(),
});

const found = z.object({ offset: z.number().min(-50).max(50), u: half.max(50) });
const earlierCheckSchema = z.object({
  t,
  probes: z.array(id).min(2).max(64),
  temperatureC: found.optional(),
  humidityPct: found.optional(),
  atC: temperatureC,
  atPct: humidityPct.optional(),
});

export const probeSchema = z.object({
  type: z.literal('probe'),
  id,
  t: t.optional(),
  name: name.optional(),
  unit: id.nullable().optional(),
  place: place.nullable().optional(),
  flowShare: z.number().min(0.01).max(100).optional(),
  limits: limitsSchema.optional(),
  anemometer: z
    .object({ kind: z.enum(['vane', 'thermal']), headM: z.number().min(0.001).max(0.5).optional() })
    .optional(),
  check: earlierCheckSchema.optional(),
  serial: name.optional(),
  calibratedT: t.nullable().optional(),
  simulated: z.boolean().optional(),
  forgotten: z.literal(true).optional(),
});

const eventId = z
  .string()
  .regex(/^e[1-9]\d{0,8}$/, { error: 'is not the id of an event, as "e1"' })
  .optional();
export const airflowLineSchema = z.object({
  type: z.literal('airflow'),
  t,
  unit: id,
  airflow: airflowSchema,
  id: eventId,
});

export const photoIdSchema = z
  .string()
  .regex(/^[0-9a-f]{32}$/, { error: 'is not the id of a photo: it has 32 hexadecimal digits' });
export const photoSchema = z.object({
  type: z.literal('photo'),
  id: photoIdSchema,
  part: z
    .number()
    .int()
    .min(0)
    .max(MOST_PIECES - 1),
  of: z.number().int().min(1).max(MOST_PIECES),
  data: z
    .string()
    .min(4)
    .max(PIECE_CHARS)
    .regex(/^(?:[A-Za-z0-9+/]{4})*(?:[A-Za-z0-9+/]{2}==|[A-Za-z0-9+/]{3}=)?$/, {
      error: 'is not base64',
    }),
});

const index = z.number().int().min(0).max(99);
const work = z.enum(['start', 'end', 'cancel']);
const event = { type: z.literal('event'), t, id: eventId };
/** Which capture is meant. */
const ofCapture = {
  unit: id,
  from: t,
  by: z.enum(['touch', 'itself']),
  to: t.optional(),
};
export const eventSchema = z.discriminatedUnion('kind', [
  z.object({
    ...event,
    kind: z.literal('setpoint'),
    unit: id,
    valueC: z.number().min(0).max(50),
    boost: z.literal(true).optional(),
  }),
  z.object({ ...event, kind: z.literal('fan'), unit: id, speed: z.string().min(1).max(40) }),
  z.object({ ...event, kind: z.literal('note'), unit: id.optional(), text }),
  z.object({
    ...event,
    kind: z.literal('check'),
    phase: z.enum(['start', 'end']),
    probes: z.array(id).min(1).max(64),
  }),
  z.object({
    ...event,
    kind: z.literal('walk'),
    phase: z.enum(['start', 'go', 'end']),
    unit: id,
    place: z.enum(['return', 'supply']),
    probe: id,
  }),
  z.object({ ...event, kind: z.literal('capture'), unit: id }),
  z.object({
    ...event,
    kind: z.literal('amend'),
    event: z.string().min(1).max(40),
    toT: t.optional(),
    text: name.optional(),
  }),
  z.object({
    ...event,
    kind: z.literal('strike'),
    ...ofCapture,
    struck: z.boolean().optional(),
    text: name.optional(),
  }),
  z.object({
    ...event,
    kind: z.literal('clock'),
    shiftMs: z.number().min(-LATEST_T).max(LATEST_T),
  }),
  z.object({
    ...event,
    kind: z.literal('remark'),
    ...ofCapture,
    text: text.optional(),
    photo: photoIdSchema.optional(),
    off: z.boolean().optional(),
  }),
  z.object({
    ...event,
    kind: z.literal('traverse'),
    phase: z.enum(['start', 'pause', 'resume', 'section', 'point', 'end', 'cancel']),
    unit: id,
    outlet: id.optional(),
    method: z.enum(['sweep', 'grid']).optional(),
    probe: id.optional(),
    rule: z.enum(['equal-area', 'log-tchebycheff']).optional(),
    section: index.optional(),
    row: index.optional(),
    column: index.optional(),
  }),
  z.object({
    ...event,
    kind: z.literal('condensate'),
    phase: z.enum(['start', 'pause', 'end', 'cancel']),
    unit: id,
    massKg: z.number().min(0.001).max(100).optional(),
    scaleLimitKg: half.max(1).optional(),
    holdUpLimitKg: half.max(2).optional(),
  }),
  z.object({
    ...event,
    kind: z.literal('heat'),
    phase: work,
    unit: id,
    powerW: z.number().min(10).max(20_000).optional(),
    powerLimitPct: half.max(50).optional(),
    escape: z.number().min(0).max(0.9).optional(),
    escapeLimit: half.max(0.5).optional(),
  }),
  z.object({
    ...event,
    kind: z.literal('zero'),
    phase: work,
    unit: id,
    fanW: half.max(2000).optional(),
  }),
  z.object({
    ...event,
    kind: z.literal('baseline'),
    unit: id,
    from: t.optional(),
    by: z.enum(['touch', 'itself']).optional(),
    to: t.optional(),
    airflowT: t.optional(),
    off: z.boolean().optional(),
  }),
]);

/** Any line. */
export const lineSchema: z.ZodType<Line> = z.discriminatedUnion('type', [
  readingSchema,
  visitSchema,
  systemSchema,
  unitSchema,
  outletSchema,
  expectationSchema,
  probeSchema,
  airflowLineSchema,
  eventSchema,
  photoSchema,
]);

/** What a person or a source may tell. */
const EVENT_KINDS = [
  ...['setpoint', 'fan', 'note', 'check', 'walk', 'capture', 'amend', 'strike', 'remark'],
  ...['traverse', 'condensate', 'heat', 'zero', 'baseline'],
];
const LINE_TYPES = [
  ...['reading', 'visit', 'system', 'unit', 'outlet', 'expectation', 'probe', 'airflow', 'event'],
  'photo',
];

/** A line that is fit to be taken, or the sentence that says why it is not. */
export type Checked = { line: Line } | { refusal: string };

/** Checks one parsed line of a visit log. */
export function checkLine(value: unknown): Checked {
  if (isFitReading(value)) return { line: value };
  const parsed = lineSchema.safeParse(value);
  return parsed.success ? { line: parsed.data } : { refusal: explain(value, parsed.error) };
}

/** One reading as `POST /api/readings` takes it: `type` may be left out. */
export function checkReading(value: unknown): { line: Reading } | { refusal: string } {
  const whole =
    isObject(value) && value['type'] === undefined ? { ...value, type: 'reading' } : value;
  if (isObject(whole) && whole['type'] !== 'reading') {
    return { refusal: `type: ${show(whole['type'])} is not taken here: only readings are` };
  }
  const checked = checkLine(whole);
  if ('refusal' in checked) return checked;
  return checked.line.type === 'reading'
    ? { line: checked.line }
    : { refusal: 'type: only readings are taken here' };
}

function isObject(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

/** A value as it is quoted in a refusal: short, and never more than one line. */
function show(value: unknown): string {
  let json: string;
  try {
    json = JSON.stringify(value) ?? String(value);
  } catch {
    return 'a value nested too deep to be read'; // deeper than the stack
  }
  return json.length > 60 ? `${json.slice(0, 57)}…` : json;
}

/** Words the first thing that is wrong: field, what is given, what is accepted. */
function explain(value: unknown, error: z.ZodError): string {
  if (!isObject(value)) return `is ${kindOf(value)}, not an object with a "type"`;
  const { type } = value;
  if (typeof type !== 'string' || !LINE_TYPES.includes(type)) {
    const given = type === undefined ? 'is missing' : `${show(type)} is not known`;
    return `type: ${given}: it is one of ${LINE_TYPES.join(', ')}`;
  }
  const issue = error.issues[0];
  if (issue === undefined) return 'is not understood';
  return sentence(value, issue);
}

/** What is needed of a schema library's complaint to word it. */
export interface Complaint {
  code?: string | undefined;
  path: readonly PropertyKey[];
  message: string;
  minimum?: unknown;
  maximum?: unknown;
  expected?: unknown;
  values?: unknown;
}

/** One complaint about `value` as a sentence that begins with the field's path. */
export function sentence(value: unknown, issue: Complaint): string {
  const path = issue.path.map(String);
  let given: unknown = value;
  for (const key of path)
    given = isObject(given) || Array.isArray(given) ? Reflect.get(given, key) : undefined;
  const field = path.length === 0 ? '' : `${path.join('.')}: `;
  if (path.length > 0 && given === undefined) return `${field}is missing`;
  // What JSON writes as 1e999 is read as infinite.
  if (given === Infinity || given === -Infinity) {
    return `${field}is larger than any number can be: it is not taken`;
  }
  switch (issue.code) {
    case 'custom':
      return path.length === 0 ? issue.message : `${field}${show(given)} ${issue.message}`;
    case 'too_small':
      return `${field}${show(given)} is too small: at least ${show(issue.minimum)} is accepted`;
    case 'too_big':
      return `${field}${show(given)} is too large: at most ${show(issue.maximum)} is accepted`;
    case 'invalid_type':
      return `${field}${show(given)} is ${kindOf(given)}, not ${article(String(issue.expected))}`;
    case 'invalid_value':
      return `${field}${show(given)} is not accepted: it is ${Array.isArray(issue.values) ? issue.values.map(show).join(' or ') : 'another'}`;
    case 'invalid_union':
      return `${field}${show(given)} is not known: it is one of ${EVENT_KINDS.join(', ')}`;
    default:
      return `${field}${issue.message}`;
  }
}

function kindOf(value: unknown): string {
  if (value === null) return 'null';
  if (Array.isArray(value)) return 'a list';
  return article(typeof value);
}
function article(kind: string): string {
  return /^[aeiou]/.test(kind) ? `an ${kind}` : `a ${kind}`;
}
