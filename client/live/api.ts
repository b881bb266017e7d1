/** Calls that change something on the server. Each answers null, or why it was refused. */
import * as z from 'zod/mini';
import type {
  Capture,
  FanTableState,
  OutletState,
  ProbeState,
  PublishedState,
  UnitSetup,
  VisitSetup,
} from '../../server/protocol.ts';
import { NO_ANSWER, noReasonWords, refusalWords } from '../words/refusals.ts';

/** How the server says why it refuses. */
export const refusalSchema = z.object({ error: z.string() });

async function send(
  method: 'DELETE' | 'POST' | 'PUT',
  path: string,
  body?: unknown,
): Promise<string | null> {
  const [type, sent] =
    body instanceof Blob ? [body.type, body] : ['application/json', JSON.stringify(body)];
  const given = body === undefined ? {} : { headers: { 'content-type': type }, body: sent };
  let response: Response;
  try {
    response = await fetch(path, { method, ...given });
  } catch {
    return NO_ANSWER;
  }
  if (response.ok) return null;
  const answer: unknown = await response.json().catch(() => null);
  const refusal = refusalSchema.safeParse(answer);
  return refusal.success ? refusalWords(refusal.data.error) : noReasonWords(response.status);
}

const at = (kind: string, id: string): string => `/api/${kind}/${encodeURIComponent(id)}`;

/** Takes one of a kind away. */
export const deleteOf = (kind: string, id: string): Promise<string | null> =>
  send('DELETE', at(kind, id));

/** Which capture is meant; `to` of one by touch. */
export interface OfCapture {
  unit: string;
  from: number;
  by: Capture['by'];
  to?: number;
}

/** What a person did, noted or wants written down; the server sets the time. */
export type EntryEvent =
  | { kind: 'setpoint'; unit: string; valueC: number; boost?: true }
  | { kind: 'fan'; unit: string; speed: string }
  | { kind: 'note'; unit: string; text: string }
  | { kind: 'check'; phase: 'start' | 'end'; probes: string[] }
  | {
      kind: 'walk';
      phase: 'start' | 'go' | 'end';
      unit: string;
      place: 'return' | 'supply';
      probe: string;
    }
  | {
      kind: 'traverse';
      phase: 'start' | 'pause' | 'resume' | 'section' | 'point' | 'end' | 'cancel';
      unit: string;
      outlet?: string;
      method?: 'sweep' | 'grid';
      probe?: string;
      rule?: 'equal-area' | 'log-tchebycheff';
      section?: number;
      row?: number;
      column?: number;
    }
  | {
      kind: 'condensate' | 'heat' | 'zero';
      phase: 'start' | 'pause' | 'end' | 'cancel';
      unit: string;
      massKg?: number;
      holdUpLimitKg?: number;
      powerW?: number;
      fanW?: number;
    }
  | { kind: 'capture'; unit: string }
  | (OfCapture & { kind: 'baseline'; off: boolean })
  | { kind: 'baseline'; unit: string; airflowT: number; off: boolean }
  | (OfCapture & { kind: 'strike'; struck: boolean; text?: string })
  | (OfCapture & { kind: 'remark'; text: string })
  | (OfCapture & { kind: 'remark'; photo: string; off: true })
  | { kind: 'amend'; event: string; toT?: number; text?: string };

/** Records an event; a simulation follows it. */
export const postEvent = (event: EntryEvent): Promise<string | null> =>
  send('POST', '/api/events', event);

/** Puts a photo to a capture; the server encodes it anew. */
export function postPhoto(
  { unit, from, by, to }: OfCapture,
  picture: Blob,
): Promise<string | null> {
  const query = new URLSearchParams({ unit, by, from: String(from) });
  if (to !== undefined) query.set('to', String(to));
  return send('POST', `/api/captures/photo?${query.toString()}`, picture);
}

/** Where a photo of the record is to be had. */
export const photoAt = (id: string): string => `/api/photos/${id}`;

/** An airflow as it is entered. */
export type Airflow = NonNullable<UnitSetup['airflow']>;

/** Replaces the airflow of a unit. */
export const putAirflow = (unit: string, airflow: Airflow): Promise<string | null> =>
  send('PUT', `${at('units', unit)}/airflow`, airflow);

/** What can be said of a unit; what is emptied is an empty text, or null. */
export interface UnitChange {
  name?: string;
  form?: string;
  model?: string;
  serial?: string;
  nominalW?: number | null;
  system?: string | null;
  unevenPct?: { return?: number | null; supply?: number | null };
  fanTable?: FanTableState | null;
  fanSpeeds?: string[];
  coil?: 'dry' | 'wet' | null;
  powerW?: number | null;
  powerLimitPct?: number | null;
  filter?: 'clean' | 'loaded' | null;
}
/** Names a unit, or says how even its air is; makes it if there is none of that id. */
export const putUnit = (unit: string, change: UnitChange): Promise<string | null> =>
  send('PUT', at('units', unit), change);

/** Says how an outlet of a unit is built; makes it if there is none of that id. */
export const putOutlet = (outlet: string, is: Partial<OutletState>): Promise<string | null> =>
  send('PUT', at('outlets', outlet), is);

/** Says what a unit should deliver in one mode; without a point that is taken back. */
export const putPublished = (unit: string, published: PublishedState): Promise<string | null> =>
  send('PUT', `${at('units', unit)}/expectation`, published);

/** What can be said of an outdoor unit. */
export interface SystemChange {
  name?: string;
  model?: string;
  serial?: string;
  lineLengthM?: number | null;
  lineHeightM?: number | null;
  heads?: number | null;
  othersRun?: boolean | null;
  combinedCoolingW?: number | null;
  combinedHeatingW?: number | null;
}
/** Says something of an outdoor unit; makes it if there is none of that id. */
export const putSystem = (system: string, change: SystemChange): Promise<string | null> =>
  send('PUT', at('systems', system), change);

/** What can be said of a probe. */
export interface ProbeChange {
  name?: string;
  serial?: string;
  calibratedT?: number | null;
  unit?: string | null;
  place?: ProbeState['place'];
  limits?: ProbeState['limits'];
  anemometer?: NonNullable<ProbeState['anemometer']>;
}
/** Places or names a probe, or sets its limits. */
export const putProbe = (probe: string, change: ProbeChange): Promise<string | null> =>
  send('PUT', at('probes', probe), change);

/** Forgets a probe; heard again, it is a new one. */
export const deleteProbe = (probe: string): Promise<string | null> => deleteOf('probes', probe);

/** Gives the key of what a probe broadcasts, 32 hexadecimal digits; null takes it away. */
export const putKey = (probe: string, key: string | null): Promise<string | null> =>
  send('PUT', at('bluetooth/keys', probe), { key });

/** Takes a simulated probe in the hand; null: none. */
export const warmSimulated = (probe: string | null): Promise<string | null> =>
  send('PUT', '/api/simulation/warm', { probe });

/** What can be said of the visit. */
export interface VisitChange extends Omit<VisitSetup['details'], 'site'> {
  title?: string;
  mode?: NonNullable<VisitSetup['mode']>;
  pressurePa?: number;
  altitudeM?: number;
  outdoorC?: number;
  steadyTest?: VisitSetup['steadyTest'];
  captureAfterS?: VisitSetup['captureAfterS'];
}
/** Sets what holds for the whole visit. */
export const putVisit = (change: VisitChange): Promise<string | null> =>
  send('PUT', '/api/visit', change);

/** Changes how a visit log is played: its speed, paused or not, and where in it, ms. */
export const putReplay = (change: {
  speed?: number;
  paused?: boolean;
  toT?: number;
}): Promise<string | null> => send('PUT', '/api/replay', change);

/** Ends the live visit and begins another: at the site of an earlier one, or (null) at a new one. */
export const beginVisit = (like: string | null): Promise<string | null> =>
  send('POST', '/api/visits', { like });

/** Ends the live visit and begins a quick look, of which nothing is left unless it is kept. */
export const quickLook = (): Promise<string | null> =>
  send('POST', '/api/visits', { like: null, kept: false });

/** Writes the quick look down, from its beginning. */
export const keepVisit = (visit: string): Promise<string | null> =>
  send('POST', `${at('visits', visit)}/keep`);

/** Ends the live visit and goes on with an earlier one. */
export const goOnWith = (visit: string): Promise<string | null> =>
  send('POST', `${at('visits', visit)}/go-on`);
