/** What every form says. */

export const SAVE = 'Save';
export const CANCEL = 'Cancel';
export const CLOSE = 'Close';
