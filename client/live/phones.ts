/** The calls by which the owner lets phones in, sees them and sends them away. */
import {
  type Code,
  codeSchema,
  type Phones,
  phonesSchema,
  type Role,
} from '../../server/protocol/access.ts';
import { NO_PHONES } from '../words/phones.ts';
import { deleteOf } from './api.ts';
import { ask, sending } from './ask.ts';
import type { Asked } from './visits.ts';

/** Who has been let in, and where other machines find this one. */
export const listPhones = (): Promise<Asked<Phones>> =>
  ask('/api/phones', {}, phonesSchema, { noAnswer: NO_PHONES });

/** Makes a code, which is told this once. */
export const newCode = (role: Role): Promise<Asked<Code>> =>
  ask('/api/phones/codes', sending('POST', { role }), codeSchema);

/** Sends a phone away. Answers null, or why not. */
export const withdrawPhone = (id: string): Promise<string | null> => deleteOf('phones', id);
