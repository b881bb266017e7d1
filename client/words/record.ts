/** What the record says: of this visit, of earlier ones, and of two beside each other. */

/** The live visit, as the record shows it. */
export const THIS_VISIT = {
  title: 'Record',

  quickLook:
    'This is a quick look. Nothing of it is written down, and nothing is left when Plateau ends or ' +
    'another visit begins.',
  keep: 'Keep it: record from its beginning',
  noFacts: 'No customer, address or reason entered yet.',
  settings: 'Visit settings',
  earlier: 'Earlier visits',
  capturesOf: (unit: string): string => `Captures, ${unit}`,
  noCaptures: 'None yet. Capture the figure when it is steady, and it shows up here with its ±.',
  handOver: 'Hand it over',
  replay: 'A replay is not recorded: the visit log that plays is its record, and stays as it is.',
  log:
    'The computer that runs Plateau saves every reading, entry and capture as it comes. The visit log ' +
    'is one file that you can send, keep and replay.',
  download: 'Download the visit log',
  thisScreen: 'This screen',
};

export const BEGIN = {
  new: 'Begin a new visit',
  here: 'Begin a new visit here',
  begin: 'Begin it',
  goOn: 'Continue this visit',
  goOnAct: 'Continue it',
  /** Around the title of the live visit. */
  ends: 'The live visit,',
  untitled: 'untitled',
  endsThen: ', ends. It stays in the record with its captures. A running check or walk stops.',
  bare:
    'The new one begins without units, airflow or pressure. Probes keep their names, accuracies and ' +
    'checks. Place each probe again.',
  sameSite: 'The new one begins with the units, airflows and outdoor units of',
  sameSiteThen: (when: string): string =>
    `(${when}). Check that they still apply, and place each probe again.`,
  goOnInto: 'From now on readings go into',
  goOnThen: (when: string): string =>
    `(${when}), with the units, airflows and places that it had. Check that the probes still hang ` +
    'there: a figure from a wrong place looks like any other.',
};

export const VISITS = {
  title: 'Visits',
  chooseBeside: 'Choose the visit to put beside it',
  cancel: 'Cancel',
  search: 'Search',
  searchHint: 'title, address, customer, unit …',
  from: 'From',
  to: 'To',
  notLive: 'Earlier visits: not live',
  thisVisit: 'This visit',
  reading: 'Reading the record. A long visit takes a moment.',
  again: 'Try again',
};

export const PAST_VISIT = {
  all: 'All visits',
  recorded: 'Recorded',
  isNow: 'It is still recording. This is how it was when you opened it.',
  again: 'Look again',
  beside: 'Put another beside it',
  download: 'Download its log',
  othersWith: (unit: string): string => `Other visits with “${unit}”`,
  othersHere: 'Other visits at this site',
  noUnit: 'No unit was set up in this visit, so it has no figures.',
  noChart: 'No chart: there was never a figure.',
  noCaptures: 'No captures of this unit.',
  airflow: 'Airflow measured',
  checks: 'Side-by-side checks',
  span: (from: string, to: string): string => `${from} to ${to}`,
  capacityChart: (unit: string): string => `Capacity of ${unit} over time, recorded`,
  airChart: (unit: string): string => `Air of ${unit} over time, recorded`,
};

/** What was said for the record, by its name. */
export const FACTS = {
  address: 'Address',
  customer: 'Customer',
  technician: 'Technician',
  why: 'Why',
  conditions: 'Conditions',
  unit: (name: string): string => `Unit ${name}`,
  serial: (number: string): string => `serial ${number}`,
  nominal: 'Nominal capacity',
  airflow: 'Airflow',
  outdoorUnit: 'Outdoor unit',
};

export const BESIDE = {
  title: 'Two visits side by side',
  back: 'Back to the first',
  swap: 'Swap the two',
  which: ['First', 'Second'],
  another: ['Another capture of the first', 'Another capture of the second'],
  noSameUnit:
    'No unit has the same name in both, so there is nothing to compare. Give the units the same name ' +
    'in the visit settings.',
  charts: 'From the beginning of each',
  captures: (unit: string): string => `Captures of ${unit}`,
  noCapture: 'No capture of this unit, so nothing to compare.',
  difference: 'Second minus first',
  sensible: (figure: string): string => `sensible\u00a0${figure}`,
  latent: (figure: string): string => `latent\u00a0${figure}`,
};

/** Why a recorded visit cannot be shown, and what to do. */
export const NO_RECORD = {
  noAnswer: 'The server did not answer. Nothing is lost. Try again when the connection is back.',
  gone: 'There is no such visit in this record any more.',
  unread: (status: number): string =>
    `The server could not read its record (status ${status}). Try again. If that does not help, end ` +
    'Plateau and have it check its folder: plateau doctor.',
};
