/** The list of captures: what is done with one, its note, its photos, striking it out. */

/** What the field of a note or a reason is called in a sentence. */
export const NOTE_CALLED = 'The note or name';

/** Of a difference that is no larger than its own interval. */
export const MAY_BE_NONE = 'Within its ±: it may be no change at all.';

export const CAPTURES = {
  title: 'Captures',
  simulated: '(simulated)',
  sensible: (figure: string): string => `sensible ${figure}`,
  latent: (figure: string): string => `latent ${figure}`,
  /** What a button of one capture does, for a screen reader. */
  of: (act: string, total: string): string => `${act}: ${total}`,
  note: 'Note',
  strikeOut: 'Strike out',
  restore: 'Restore',
  before: 'before',
  after: 'after',
};

export const CAPTURE_NOTE = {
  title: (total: string): string => `Note on ${total}`,
  how: (made: string): string =>
    `${made}. The note stays with it in the record; it changes no figure.`,
  field: 'Note (empty takes it away)',
  hint: 'filter washed, louver down',
};

export const STRIKE = {
  title: (total: string): string => `Strike out ${total}`,
  how: (made: string): string =>
    `${made}. It stays in the record and in the list, struck through, and counts for nothing. You can ` +
    'undo this.',
  why: 'Why (optional)',
  hint: 'the door was open',
};

export const PHOTOS = {
  take: 'Photo',
  sending: 'Sending',
  isSending: 'Sending the photo',
  full: (photos: number): string => `${photos} photos`,
  list: (total: string): string => `Photos of ${total}`,
  open: (number: number, of: number): string => `Open photo ${number} of ${of}`,
  photo: (number: number): string => `Photo ${number}`,
  title: (number: number, of: number, total: string): string =>
    `Photo ${number} of ${of}, ${total}`,
  broken:
    'This photo cannot be read: pieces of it are missing in the record, or the line is down. Figures ' +
    'and notes are not affected.',
  unreadable: 'This browser cannot read that file as a picture. Take a photo, or choose a JPEG.',
  stays: 'Taken off the capture, it stays in the record.',
  takeOff: 'Take it off',
};
