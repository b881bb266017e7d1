/** What the archive of a company sends: zod/mini, since the page takes it too. Times in ms, SI. */
import * as z from 'zod/mini';

const num = z.number();
const nullable = z.nullable(z.number());
const mode = z.enum(['cooling', 'heating']);

export const ARCHIVE_ROLES = ['reader', 'van', 'owner'] as const;
const role = z.enum(ARCHIVE_ROLES);

/** Who is asking; `role` is null for one that needs a token first. */
export const archiveWhoSchema = z.object({
  role: z.nullable(role),
  name: z.nullable(z.string()),
  version: z.string(),
});

/** How much of a version of a visit the archive holds. */
export const heldSchema = z.object({ held: num, taken: z.boolean() });

/** A unit as it is found. */
export const archiveUnitSchema = z.object({
  unit: num,
  name: z.string(),
  model: z.string(),
  form: z.string(),
  serial: z.string(),
  site: num,
  title: z.string(),
  address: z.string(),
  /** When what is personal of its site was erased; null: it was not. */
  erasedT: nullable,
  /** How many visits have been to it, and when the last one began. */
  visits: num,
  lastT: nullable,
});
export const archiveUnitsSchema = z.object({ units: z.array(archiveUnitSchema) });

/** Where a visit lies in the archive: by which van, at which site, and its units there. */
export const archivedVisitSchema = z.object({
  visit: num,
  van: z.string(),
  site: num,
  /** When what is personal of the site was erased; null: it was not. */
  erasedT: nullable,
  units: z.array(z.object({ unit: num, name: z.string(), model: z.string() })),
});

/** A capture of a unit, by whichever van. `visit` is its key in the archive. */
const pastCaptureSchema = z.object({
  visit: z.string(),
  van: z.string(),
  t: num,
  by: z.enum(['touch', 'itself']),
  totalW: num,
  totalU95W: nullable,
  sensibleW: num,
  latentW: nullable,
  fan: z.nullable(z.string()),
  flowM3s: nullable,
  /** Of the verdict on it, where there is one. */
  ratio: nullable,
  ratioU95: nullable,
  verdict: z.nullable(z.string()),
  mode: z.nullable(mode),
});
const pastAirflowSchema = z.object({
  visit: z.string(),
  van: z.string(),
  t: num,
  method: z.string(),
  fan: z.string(),
  wetness: num,
  flowM3s: num,
  u95M3s: num,
});
const pastBaselineSchema = z.object({
  visit: z.string(),
  t: num,
  totalW: nullable,
  flowM3s: nullable,
  u95: nullable,
});
/** A unit over the years, oldest first; none that is struck out. */
export const unitHistorySchema = z.object({
  unit: archiveUnitSchema,
  captures: z.array(pastCaptureSchema),
  airflows: z.array(pastAirflowSchema),
  baselines: z.array(pastBaselineSchema),
});

/** Types of units of which the archive holds anything. */
export const typesSchema = z.object({
  types: z.array(z.object({ model: z.string(), units: num, judged: num })),
});

/** One unit among those of its type, by its newest figure. */
const amongSchema = z.object({
  unit: num,
  name: z.string(),
  title: z.string(),
  t: num,
  value: num,
  u95: num,
  /** How far it lies from the mean, in standard uncertainties with the spread between units. */
  z: num,
  /** `within` 95 %, at the `edge` (95 to 99.8 %), `low` or `high`: outside. */
  lies: z.enum(['within', 'edge', 'low', 'high']),
});
const funnelSchema = z.object({
  /** Null where fewer than two units have a figure. */
  mean: nullable,
  u95Mean: nullable,
  /** Standard deviation between units beside their uncertainties, relative to the mean. */
  spread: nullable,
  units: z.array(amongSchema),
});
/** All units of a type beside each other. */
export const typeComparisonSchema = z.object({
  model: z.string(),
  /** Measured over expected capacity, by mode. */
  capacity: z.array(z.object({ mode, funnel: funnelSchema })),
  /** Airflow, m³/s, by the fan speed that was told. */
  airflow: z.array(z.object({ fan: z.string(), funnel: funnelSchema })),
});

const offsetSchema = z.object({
  visit: z.string(),
  t: num,
  /** How many others it lay with. */
  others: num,
  offset: nullable,
  u: nullable,
});
const driftSchema = z.nullable(
  z.object({
    perYear: num,
    u95PerYear: num,
    isClear: z.boolean(),
    now: num,
    u95Now: num,
  }),
);
/** A probe in the probe book. */
export const bookProbeSchema = z.object({
  probe: z.string(),
  name: z.string(),
  serial: z.string(),
  checks: num,
  /** The last of them. */
  checkedT: nullable,
  agreed: z.nullable(z.boolean()),
  calibratedT: nullable,
  /** When the next calibration is due; null: nobody has said when it was calibrated. */
  dueT: nullable,
});
export const probeBookSchema = z.object({ probes: z.array(bookProbeSchema) });
/** A probe's offsets from the others over all its checks, oldest first. */
export const probeHistorySchema = z.object({
  probe: bookProbeSchema,
  temperature: z.object({ offsets: z.array(offsetSchema), drift: driftSchema }),
  humidity: z.object({ offsets: z.array(offsetSchema), drift: driftSchema }),
});

export const tokenSchema = z.object({
  id: z.string(),
  role,
  van: z.nullable(z.string()),
  name: z.string(),
  madeT: num,
  withdrawnT: nullable,
});
export const tokensSchema = z.object({ tokens: z.array(tokenSchema) });
/** A new token: shown once, to who made it. */
export const newTokenSchema = z.object({ id: z.string(), token: z.string() });
export const auditSchema = z.object({
  entries: z.array(z.object({ t: num, who: z.string(), did: z.string(), what: z.string() })),
});

/** What a van's own server says of what it sends. */
export const sendingSchema = z.object({
  /** Where the archive is; null: none was named. */
  archive: z.nullable(z.string()),
  /** Finished visits that the archive has not confirmed. */
  waiting: num,
  /** The one that is on its way, and how much of it has arrived. */
  visit: z.nullable(z.string()),
  sentBytes: num,
  bytes: num,
  /** When the archive has confirmed something last, ms; null: not since the start. */
  confirmedT: nullable,
  /** Why nothing can be sent, as a sentence, or null. */
  trouble: z.nullable(z.string()),
});

export type ArchiveRole = z.infer<typeof role>;
export type ArchiveWho = z.infer<typeof archiveWhoSchema>;
export type HeldOf = z.infer<typeof heldSchema>;
export type ArchivedVisit = z.infer<typeof archivedVisitSchema>;
export type ArchiveUnit = z.infer<typeof archiveUnitSchema>;
export type UnitHistory = z.infer<typeof unitHistorySchema>;
export type Types = z.infer<typeof typesSchema>;
export type TypeComparison = z.infer<typeof typeComparisonSchema>;
export type Funnel = z.infer<typeof funnelSchema>;
export type AmongUnits = z.infer<typeof amongSchema>;
export type BookProbe = z.infer<typeof bookProbeSchema>;
export type ProbeHistory = z.infer<typeof probeHistorySchema>;
export type Token = z.infer<typeof tokenSchema>;
export type Audit = z.infer<typeof auditSchema>;
export type Sending = z.infer<typeof sendingSchema>;
