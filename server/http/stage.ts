/** What a request is about: one visit, with what serves it. The house has one; in a class each trainee has one. */
import type { FastifyRequest } from 'fastify';
import type { EventLine } from '../../adapters/contract.ts';
import type { LiveVisit } from '../visit.ts';
import type { SetKey } from './keys.ts';
import type { PhotoDesk } from './photos.ts';
import type { PushReadings } from './readings.ts';
import type { ReplayDesk } from './replay.ts';
import type { ReportDesk } from './reports.ts';
import type { Warm } from './simulation.ts';
import type { VisitDesk } from './visits.ts';

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
