/** What the page over a company's archive says: its frame, the token, and what every place there says. */
import type { ArchiveRole } from '../../server/protocol/archive.ts';
import { t } from '../../server/words/language.ts';

export const ARCHIVE = {
  title: t`Company archive`,
  places: t`Places of the archive`,
  out: t`Forget the token here`,
  asking: t`Asking the archive. This takes a moment.`,
  noAnswer: t`The archive did not answer. Nothing is lost. Try again when the connection is back.`,
  thisScreen: t`This screen`,
  /** Why places stay away from a van's own token. */
  vans: t`This token is a van’s: it lets the van’s computer send its visits. Looking takes a reader’s token: ask at the office.`,
  forOwner: t`This place is the owner’s. The token that was entered here is a reader’s.`,
};

/** The places, in their order. */
export const PLACE_NAMES = {
  visits: t`Visits`,
  units: t`Units`,
  types: t`Types`,
  probes: t`Probes`,
  office: t`Office`,
};

export const TOKEN = {
  what: t`This is what the vans of a company have measured, kept in one place. It opens to whoever has a token.`,
  how: t`Ask at the office for a token: a reader’s shows everything and changes nothing.`,
  token: t`Token`,
  called: t`The token`,
  enter: t`Open the archive`,
  entering: t`Opening …`,
  none: t`The token is missing. Enter it, all of its letters and digits.`,
  ended: t`The token was withdrawn, or is forgotten here. Enter one to go on.`,
};

/** Who looks: "Desk, reader". */
export function whoWords(name: string, role: ArchiveRole): string {
  if (role === 'owner') return t`${name}, owner`;
  return role === 'van' ? t`${name}, van` : t`${name}, reader`;
}

export const VISIT_IN_ARCHIVE = {
  /** @param van its name */
  by: (van: string): string => t`Measured by ${van}.`,
  erased: (day: string): string =>
    t`What was personal of this site was erased on ${day}. The measurements are as they were.`,
  units: t`Its units over the years`,
};
