/** Phones that are let in: how they join, who they are, what the owner sees of them. Pure. */
import type { Code, Phone, Role, Who } from '../../server/protocol/access.ts';
import { clockMinutes, duration } from './times.ts';
import { t } from '../../server/words/language.ts';

/** The screen of a phone that has not been let in. */
export const JOIN = {
  title: t`Join the visit`,
  what: t`Plateau measures the heating or cooling of a ductless unit. This screen shows a visit once the computer that runs Plateau has let it in.`,
  how: t`Ask there for a code: Record, then Phones.`,
  code: t`Code, eight digits`,
  codeCalled: t`The code`,
  codeHint: '0000 0000',
  name: t`Your name, as the others see it`,
  nameCalled: t`The name`,
  join: t`Join`,
  joining: t`Joining …`,
  atComputer: t`This is the computer that runs Plateau: it needs no code.`,
  goOn: t`Go on without a code`,
};
export const CODE_DIGITS = 8;
export const LONGEST_NAME = 40;

export const NO_CODE_GIVEN = t`The code has eight digits. Enter all of them.`;
export const NO_NAME_GIVEN = t`The name is missing. Enter one, so that the others see who changes something.`;
/** Said where the server did not say why. */
export const SESSION_ENDED = t`This phone is not signed in any more: the visit has ended, or Plateau was started again. Ask at the computer for a new code.`;

/** A code in two groups, as it is read out and typed: "1234 5678". */
export function codeText(typed: string): string {
  const digits = typed.replace(/\D/g, '').slice(0, CODE_DIGITS);
  const half = CODE_DIGITS / 2;
  return digits.length > half ? `${digits.slice(0, half)} ${digits.slice(half)}` : digits;
}

const ROLE_NAMES: Record<NonNullable<Who['role']>, string> = {
  owner: t`Owner`,
  viewer: t`Viewer`,
  operator: t`Operator`,
  trainee: t`Trainee`,
};
/** What a phone may do, in one word: "Viewer". */
export const roleName = (role: NonNullable<Who['role']>): string => ROLE_NAMES[role];

/** Why a viewer can touch nothing. */
export const ONLY_LOOKS = t`You are a viewer: you see everything, and change nothing.`;

/** Who uses this screen, where it is not the computer itself; in the bar and in the record. */
export const ME = {
  title: t`You`,
  words: (role: Role | 'trainee', name: string): string =>
    ({
      viewer: t`You are here as a viewer, ${name}: you see everything, and change nothing.`,
      operator: t`You are here as an operator, ${name}: the others see what you change.`,
      trainee: t`You are here as a trainee, ${name}: this visit is yours.`,
    })[role],
  ends: t`It ends with the visit.`,
  signOff: t`Sign off`,
};
export const SIGNED_OFF = t`You have signed off. Ask at the computer for a new code to come back.`;

/** What is not for phones. */
export const ONLY_HERE = t`Earlier visits can only be seen at the computer that runs Plateau.`;

/** Where phones are let in. */
export const PHONES = {
  title: t`Phones`,
  open: t`Phones`,
  back: t`Back to the record`,
  intro: t`Others follow this visit on a phone or tablet in the same network. Scan or type the address, then enter a code. They are out when the visit ends.`,
  notOpen: t`Plateau is open to this computer only. To let phones in, stop it (Ctrl+C), and start it with --lan:`,
  command: 'npm start -- --lan',
  notOpenThen: t`The visit goes on where it was. Do it only in a network whose users you trust, never in a public one.`,
  address: t`Address`,
  addresses: t`Addresses: where one does not open, try the next`,
  qr: (url: string): string => t`QR code with the address ${url}`,
  noAddress: t`This computer is in no network. Connect it to the one that the phones are in.`,
  plain: t`Without a certificate, others in this network can read along. Use a network that you trust. The README says how to make a certificate.`,
  codes: t`Let one in`,
  viewer: t`Code for a viewer`,
  operator: t`Code for an operator`,
  what: t`A viewer sees everything and changes nothing. An operator does all that you do in this visit; only you begin another one, or let phones in.`,
  gone: t`That code is used or too old. Make another one.`,
  list: t`Let in`,
  none: t`No phone yet.`,
  withdraw: t`Withdraw`,
  withdrawLabel: (name: string): string => t`Withdraw ${name}`,
  withdrawTitle: (name: string): string => t`Withdraw ${name}?`,
  withdrawWhat: t`What that phone shows ends at once. To come back it needs a new code.`,
  /** In the settings of the visit. */
  inSettings: t`Phones in the same network can follow this visit.`,
};

/** What a code is for, above its digits. */
export const codeFor = ({ role }: Pick<Code, 'role'>): string =>
  ({ viewer: t`For one viewer`, operator: t`For one operator` })[role];

/** How long a code is good. @param now ms since the epoch */
export const codeGoodWords = ({ untilT }: Pick<Code, 'untilT'>, now: number): string =>
  t`Good once, until ${clockMinutes(untilT)} (${duration(Math.max(0, untilT - now) / 1000)} more).`;

/** "Operator since 14:02, here now" */
export function phoneWords(phone: Pick<Phone, 'role' | 'sinceT' | 'lastT' | 'here'>): string {
  const [role, since] = [roleName(phone.role), clockMinutes(phone.sinceT)];
  return phone.here
    ? t`${role} since ${since}, here now`
    : t`${role} since ${since}, last heard at ${clockMinutes(phone.lastT)}`;
}

/** Why the list could not be had. */
export const NO_PHONES = t`The list of phones could not be read. It is tried again.`;
