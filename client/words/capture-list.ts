/** The list of captures: what is done with one, its note, its photos, striking it out. */
import { t } from '../../server/words/language.ts';

/** What the field of a note or a reason is called in a sentence. */
export const NOTE_CALLED = t`The note or name`;

/** Of a difference that is no larger than its own interval. */
export const MAY_BE_NONE = t`Within its ±: it may be no change at all.`;

export const CAPTURES = {
  title: t`Captures`,
  simulated: t`(simulated)`,
  sensible: (figure: string): string => t`sensible ${figure}`,
  latent: (figure: string): string => t`latent ${figure}`,
  /** What a button of one capture does, for a screen reader. */
  of: (act: string, total: string): string => `${act}: ${total}`,
  note: t`Note`,
  strikeOut: t`Strike out`,
  restore: t`Restore`,
  before: t`before`,
  after: t`after`,
};

export const CAPTURE_NOTE = {
  title: (total: string): string => t`Note on ${total}`,
  how: (made: string): string =>
    t`${made}. The note stays with it in the record; it changes no figure.`,
  field: t`Note (empty takes it away)`,
  hint: t`filter washed, louver down`,
};

export const STRIKE = {
  title: (total: string): string => t`Strike out ${total}`,
  how: (made: string): string =>
    t`${made}. It stays in the record and in the list, struck through, and counts for nothing. You can undo this.`,
  why: t`Why (optional)`,
  hint: t`the door was open`,
};

export const PHOTOS = {
  take: t`Photo`,
  sending: t`Sending`,
  isSending: t`Sending the photo`,
  full: (photos: number): string => t`${photos} photos`,
  list: (total: string): string => t`Photos of ${total}`,
  open: (number: number, of: number): string => t`Open photo ${number} of ${of}`,
  photo: (number: number): string => t`Photo ${number}`,
  title: (number: number, of: number, total: string): string =>
    t`Photo ${number} of ${of}, ${total}`,
  broken: t`This photo cannot be read: pieces of it are missing in the record, or the line is down. Figures and notes are not affected.`,
  unreadable: t`This browser cannot read that file as a picture. Take a photo, or choose a JPEG.`,
  stays: t`Taken off the capture, it stays in the record.`,
  takeOff: t`Take it off`,
};
