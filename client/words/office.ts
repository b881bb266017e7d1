/** What the owner of an archive does: tokens, deleting, erasing, and what was done. */
import type { ArchiveRole, Audit } from '../../server/protocol/archive.ts';
import { t } from '../../server/words/language.ts';

export const OFFICE = {
  title: t`Office`,
  tokens: t`Tokens`,
  tokensWhat: t`Each person and each van has a token of its own. One that is lost is withdrawn, and opens nothing from that moment.`,
  make: t`Make a token`,
  makeAct: t`Make it`,
  role: t`For whom`,
  name: t`Name`,
  nameCalled: t`The name`,
  noName: t`The name is missing. Enter whose token it is.`,
  van: t`Which van`,
  newVan: t`A new van`,
  another: (van: string): string => t`Another computer of ${van}`,
  made: (name: string): string => t`The token for ${name}`,
  once: t`It is shown this once, and stands nowhere else. Copy it now, and hand it over.`,
  token: t`The new token`,
  copy: t`Copy it`,
  copied: t`It is copied.`,
  notCopied: t`This browser does not let the page copy. The token is marked: copy it from there.`,
  done: t`I have it`,
  withdraw: t`Withdraw`,
  withdrawOf: (name: string): string => t`Withdraw ${name}`,
  withdrawTitle: (name: string): string => t`Withdraw the token of ${name}?`,
  withdrawWhat: t`From now on it opens nothing. What was sent with it stays.`,
  withdrawAct: t`Withdraw it`,
  noTokens: t`No tokens yet.`,
  audit: t`What was done`,
  auditWhat: t`The database itself writes this down, and nobody can change it.`,
  noAudit: t`Nothing was done yet.`,
  list: t`Tokens that were made`,
};

/** For whom a token can be. */
export const ROLES: [ArchiveRole, string][] = [
  ['reader', t`Somebody who looks`],
  ['van', t`A van that sends`],
  ['owner', t`An owner`],
];

const ROLE_WORDS: Record<ArchiveRole, string> = {
  reader: t`reader`,
  van: t`van`,
  owner: t`owner`,
};

const roleWord = (role: string | undefined): string =>
  Object.entries(ROLE_WORDS).find(([code]) => code === role)?.[1] ?? role ?? '';

/** "reader, made May 4, 2026" */
export function tokenWords(role: ArchiveRole, made: string, withdrawn: string | null): string {
  const what = ROLE_WORDS[role];
  return withdrawn === null
    ? t`${what}, made ${made}`
    : t`${what}, made ${made}, withdrawn ${withdrawn}`;
}

/** What the database writes of an act, as sentences. */
const ACTS: [RegExp, string, (...parts: string[]) => string][] = [
  [
    /^token (\S+): (\w+), "(.*)"$/s,
    'made',
    (id, role, name) => t`made token ${id} for ${name}, ${roleWord(role)}`,
  ],
  [
    /^token (\S+): (\w+), "(.*)"$/s,
    'withdrew',
    (id, role, name) => t`withdrew token ${id} of ${name}, ${roleWord(role)}`,
  ],
  [/^visit (\d+) of van (\S+)$/, 'deleted', (visit) => t`deleted visit ${visit}`],
  [
    /^what is personal of site (\d+)$/,
    'erased',
    (site) => t`erased what is personal of site ${site}`,
  ],
];
/** "Office: withdrew token 1f… of Desk, reader"; an act that this page does not know, as it stands there. */
export function entryWords({ who, did, what }: Audit['entries'][number]): string {
  for (const [pattern, of, says] of ACTS) {
    const found = did === of ? pattern.exec(what) : null;
    if (found !== null) return `${who}: ${says(...found.slice(1))}`;
  }
  return `${who}: ${did} ${what}`;
}

export const DELETE_VISIT = {
  open: t`Delete this visit`,
  title: t`Delete this visit?`,
  goes: t`What goes: its readings, captures, airflows, checks and photos, in all versions that were ever sent.`,
  stays: t`What stays: the van’s own record, and backups until they run out. If the visit is changed in the van, it is sent again.`,
  act: t`Delete it`,
};

export const ERASE = {
  open: t`Erase what is personal`,
  title: t`Erase what is personal of this site?`,
  goes: t`What goes, from all visits to this site: title, address, customer, technician, reasons, notes, names of rooms, serial numbers and photos.`,
  stays: t`What stays: readings, captures, verdicts and airflows, to the digit. The vans’ own records and backups are not reached: erase there as well.`,
  again: t`Nobody can undo this. The site is not known again: a later visit there begins a new one.`,
  act: t`Erase it`,
};
