/** Who may use this server from another machine, as it is sent: zod/mini, since the page takes it too. */
import * as z from 'zod/mini';

/** What a one-time code makes of the phone that shows it. */
export const ROLES = ['viewer', 'operator'] as const;
export type Role = (typeof ROLES)[number];

/** Who is asking; `role` is null for one that needs a code first. */
export const whoSchema = z.object({
  /** `owner`: at the computer itself. `trainee`: in a class, with a visit of their own. */
  role: z.nullable(z.enum(['owner', ...ROLES, 'trainee'])),
  /** Which of those who use it: the same in `changed` frames. */
  id: z.nullable(z.string()),
  name: z.nullable(z.string()),
  /** Whether other machines are let in at all. */
  lan: z.boolean(),
});

/** One that has been let in. */
export const phoneSchema = z.object({
  id: z.string(),
  name: z.string(),
  role: z.enum([...ROLES, 'trainee']),
  address: z.string(),
  /** When it was let in, and when it was heard of last, ms since the epoch. */
  sinceT: z.number(),
  lastT: z.number(),
  /** Whether a page of it is open now. */
  here: z.boolean(),
});

/** A code that can still be used. It is told once, to who made it, and stands in no list. */
export const codeSchema = z.object({
  code: z.string(),
  role: z.enum(ROLES),
  untilT: z.number(),
});

export const phonesSchema = z.object({
  /** Whether other machines are let in: with `--lan`. */
  lan: z.boolean(),
  /** Where they find this computer: addresses, the one that most can use first. */
  urls: z.array(z.string()),
  phones: z.array(phoneSchema),
  /** How many codes wait to be used. */
  codes: z.number(),
});

/** Somebody has changed something: for those who have the same thing open. */
export const changedSchema = z.object({
  type: z.literal('changed'),
  /** `id` of who did. */
  by: z.string(),
  name: z.string(),
  /** What: the path of the call, as `units/u1/airflow` or `visit`. */
  what: z.string(),
});

export type Who = z.infer<typeof whoSchema>;
export type Phone = z.infer<typeof phoneSchema>;
export type Code = z.infer<typeof codeSchema>;
export type Phones = z.infer<typeof phonesSchema>;
export type Changed = z.infer<typeof changedSchema>;
