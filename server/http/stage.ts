/**
 * What a request is about: one visit, with what serves it. The house has one; in a class each trainee has
 * one. And what each group of calls needs of it.
 */
import type { FastifyRequest } from 'fastify';
import type { EventLine, Reading } from '../../adapters/contract.ts';
import type { Reencoded } from '../photo/limits.ts';
import type {
  EarlierAirflows,
  EarlierCaptures,
  KnownOutlets,
  OldVisit,
  Replay,
  VisitItem,
} from '../protocol.ts';
import type { VisitSearch } from '../store/visit-list.ts';
import type { LiveVisit } from '../visit.ts';
import type { ReportDesk } from './reports.ts';

/**
 * Keeps the key of a probe's broadcasts.
 * @param address the probe's id, or its address in any spelling
 * @param key 32 hexadecimal digits; null takes the key away
 * @returns a sentence that says what is wrong, or null
 */
export type SetKey = (address: string, key: string | null) => string | null;

export interface PhotoDesk {
  /** A picture encoded anew; or why there is none, as a sentence. */
  reencode: (bytes: Uint8Array) => Promise<Reencoded>;
  /** The photo of that id; null: there is none. */
  photo: (id: string) => Uint8Array | 'damaged' | null;
  /** Why nothing can be recorded, or null. */
  trouble: () => string | null;
}

/**
 * Takes readings of checked shape, in the order of their times; for each null, or why it was refused.
 * @param turn called before each with its time: what to wait for first, or null
 */
export type PushReadings = (
  readings: readonly Reading[],
  turn: (t: number) => Promise<void> | null,
) => Promise<(string | null)[]>;

/** How a log is to be played: `toT` in ms. */
export interface ReplayChange {
  speed?: number | undefined;
  paused?: boolean | undefined;
  toT?: number | undefined;
}

/** What stands between these calls and the log that is played. */
export interface ReplayDesk {
  state(): Replay;
  /** @returns why it was refused, as a sentence that names the field, or null; of a jump once it has arrived */
  change(change: ReplayChange): Promise<string | null>;
}

/** Warms a simulated probe, or none (null). @returns whether there is such a one */
export type Warm = (probe: string | null) => boolean;

/** What stands between these calls and the record. */
export interface VisitDesk {
  /** The visit that is live. */
  readonly live: string;
  list: (search: VisitSearch) => VisitItem[];
  /** Whether there is a visit of that id. */
  has: (id: string) => boolean;
  /** With its chart in at most `most` rows; null where there is none of that id. */
  show(id: string, most: number): Promise<OldVisit | null>;
  /** Airflows that were measured at the live visit's site before, newest first. */
  earlierAirflows: () => EarlierAirflows['airflows'];
  /** Openings of the other visits of the record, the newest of each kind. */
  knownOutlets: () => KnownOutlets['outlets'];
  earlierCaptures: () => EarlierCaptures['captures'];
  /** The visit's log, in pieces; null where there is none of that id. */
  log(id: string): Iterable<string> | null;
  /**
   * Ends the live visit and begins another.
   * @param like the id of a visit whose site, units and systems it begins with; null: with nothing
   * @param kept whether it is written down; if not, nothing is left of it where `keep` never comes
   * @returns why not, as a sentence, or null
   */
  begin(like: string | null, kept: boolean): Promise<string | null>;
  /** Writes down a quick look that is live. @returns why not, or null */
  keep(id: string): string | null;
  /** Ends the live visit and goes on with an earlier one. @returns why not, or null */
  goOn(id: string): Promise<string | null>;
}

export interface Stage {
  visit: LiveVisit;
  push: PushReadings;
  /** Why no reading can be kept any more, as a sentence; null: they can. */
  full?: () => string | null;
  /** Called with every event that a person told. */
  told: (event: EventLine) => void;
  /** Called when a person has forgotten a probe. */
  forgot: (probe: string) => void;
  /** The visits of the record; left out: there is none. */
  desk?: VisitDesk;
  /** What makes photos, and has them; left out: none are taken. */
  photos?: PhotoDesk;
  /** What makes reports of the visits of the record; left out: none are made. */
  reports?: ReportDesk;
  setKey: SetKey;
  /** Undefined where nothing is simulated. */
  warm?: Warm | undefined;
  /** Undefined where nothing is replayed. */
  replay?: ReplayDesk | undefined;
}

/** The stage of who is asking. */
export type StageOf = (request: FastifyRequest) => Stage;
