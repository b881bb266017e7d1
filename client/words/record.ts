/** What the record says: of this visit, of earlier ones, and of two beside each other. */
import { t } from '../../server/words/language.ts';

/** The live visit, as the record shows it. */
export const THIS_VISIT = {
  title: t`Record`,

  quickLook: t`This is a quick look. Nothing of it is written down, and nothing is left when Plateau ends or another visit begins.`,
  keep: t`Keep it: record from its beginning`,
  noFacts: t`No customer, address or reason entered yet.`,
  settings: t`Visit settings`,
  earlier: t`Earlier visits`,
  capturesOf: (unit: string): string => t`Captures, ${unit}`,
  noCaptures: t`None yet. Capture the figure when it is steady, and it shows up here with its ±.`,
  handOver: t`Hand it over`,
  replay: t`A replay is not recorded: the visit log that plays is its record, and stays as it is.`,
  log: t`The computer that runs Plateau saves every reading, entry and capture as it comes. The visit log is one file that you can send, keep and replay.`,
  download: t`Download the visit log`,
  thisScreen: t`This screen`,
};

export const BEGIN = {
  new: t`Begin a new visit`,
  here: t`Begin a new visit here`,
  begin: t`Begin it`,
  goOn: t`Continue this visit`,
  goOnAct: t`Continue it`,
  /** Around the title of the live visit. */
  ends: t`The live visit,`,
  untitled: t`untitled`,
  endsThen: t`, ends. It stays in the record with its captures. A running check or walk stops.`,
  bare: t`The new one begins without units, airflow or pressure. Probes keep their names, accuracies and checks. Place each probe again.`,
  sameSite: t`The new one begins with the units, airflows and outdoor units of`,
  sameSiteThen: (when: string): string =>
    t`(${when}). Check that they still apply, and place each probe again.`,
  goOnInto: t`From now on readings go into`,
  goOnThen: (when: string): string =>
    t`(${when}), with the units, airflows and places that it had. Check that the probes still hang there: a figure from a wrong place looks like any other.`,
};

export const VISITS = {
  title: t`Visits`,
  chooseBeside: t`Choose the visit to put beside it`,
  cancel: t`Cancel`,
  search: t`Search`,
  searchHint: t`title, address, customer, unit …`,
  from: t`From`,
  to: t`To`,
  notLive: t`Earlier visits: not live`,
  thisVisit: t`This visit`,
  reading: t`Reading the record. A long visit takes a moment.`,
  again: t`Try again`,
};

export const PAST_VISIT = {
  all: t`All visits`,
  recorded: t`Recorded`,
  isNow: t`It is still recording. This is how it was when you opened it.`,
  again: t`Look again`,
  beside: t`Put another beside it`,
  download: t`Download its log`,
  othersWith: (unit: string): string => t`Other visits with “${unit}”`,
  othersHere: t`Other visits at this site`,
  noUnit: t`No unit was set up in this visit, so it has no figures.`,
  noChart: t`No chart: there was never a figure.`,
  noCaptures: t`No captures of this unit.`,
  airflow: t`Airflow measured`,
  checks: t`Side-by-side checks`,
  span: (from: string, to: string): string => t`${from} to ${to}`,
  capacityChart: (unit: string): string => t`Capacity of ${unit} over time, recorded`,
  airChart: (unit: string): string => t`Air of ${unit} over time, recorded`,
};

/** What was said for the record, by its name. */
export const FACTS = {
  address: t`Address`,
  customer: t`Customer`,
  technician: t`Technician`,
  why: t`Why`,
  conditions: t`Conditions`,
  unit: (name: string): string => t`Unit ${name}`,
  serial: (number: string): string => t`serial ${number}`,
  nominal: t`Nominal capacity`,
  airflow: t`Airflow`,
  outdoorUnit: t`Outdoor unit`,
};

export const BESIDE = {
  title: t`Two visits side by side`,
  back: t`Back to the first`,
  swap: t`Swap the two`,
  which: [t`First`, t`Second`],
  another: [t`Another capture of the first`, t`Another capture of the second`],
  noSameUnit: t`No unit has the same name in both, so there is nothing to compare. Give the units the same name in the visit settings.`,
  charts: t`From the beginning of each`,
  captures: (unit: string): string => t`Captures of ${unit}`,
  noCapture: t`No capture of this unit, so nothing to compare.`,
  difference: t`Second minus first`,
  sensible: (figure: string): string => t`sensible\u00a0${figure}`,
  latent: (figure: string): string => t`latent\u00a0${figure}`,
};

/** Why a recorded visit cannot be shown, and what to do. */
export const NO_RECORD = {
  noAnswer: t`The server did not answer. Nothing is lost. Try again when the connection is back.`,
  gone: t`There is no such visit in this record any more.`,
  unread: (status: number): string =>
    t`The server could not read its record (status ${status}). Try again. If that does not help, end Plateau and have it check its folder: plateau doctor.`,
};
