/** The list of all probes: what is done with one, its key, forgetting it. */
import { t } from '../../server/words/language.ts';

export const PROBE_LIST = {
  title: t`Probes`,
  none: t`No probe yet.`,
  noneHow: t`Turn a probe on and bring it closer: it appears here on its own. If it does not, look at its source below.`,
  find: t`Find one: warm it in your hand`,
  simulated: t`simulated`,
  battery: (percent: string): string => t`battery ${percent}`,
  from: (source: string): string => t`from ${source}`,
  /** What a button of one probe does, for a screen reader. */
  of: (act: string, probe: string): string => `${act}: ${probe}`,
  hangsThere: t`It hangs there`,
  hangHere: t`Hang here`,
  place: t`Place it`,
  move: t`Move`,
  edit: t`Name, limits`,
  forget: t`Forget`,
};

export const KEY = {
  of: (probe: string): string => t`Key of ${probe}`,
  label: (digits: number): string => t`Key, ${digits} digits of 0–9 and a–f`,
  called: t`The key`,
  save: t`Save key`,
  remove: t`Remove key`,
  saved: t`Key saved. The next reading shows whether it fits.`,
  removed: t`Key removed.`,
};

export const FORGET = {
  title: (probe: string): string => t`Forget ${probe}?`,
  act: t`Forget it`,
  /** @param where it hangs; null: nowhere */
  lost: (where: string | null): string =>
    t`You lose its name, its data-sheet accuracy, its side-by-side corrections${where === null ? '' : t`, and its place (${where})`}.`,
  settling: t`Settling starts over without it, and there may be no figure.`,
  kept: t`You keep its readings in the record, and all captures.`,
  isOn: t`It is on: its next reading brings it back, unplaced. To get rid of it, turn it off first.`,
  isOff: t`When it turns up again, it comes back unplaced.`,
};
