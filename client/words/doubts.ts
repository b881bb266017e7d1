/** Doubts as a list of things to do: those of one kind stand together. On the screen each is a warning. */
import type { Doubt } from '../../server/protocol.ts';
import { t } from '../../server/words/language.ts';

/** Doubts that a side-by-side check, or its end, takes away. */
const OF_THE_CHECK = new Set(['check-missing', 'check-old', 'check-running', 'humidity-disagrees']);

/** Whether the way on from a doubt leads to the side-by-side check. */
export const leadsToCheck = (code: string): boolean => OF_THE_CHECK.has(code);

/** Doubts that are mended where the airflow, the probes or the settings of the visit are entered. */
const WAYS: Record<string, { href: string; text: string }> = {
  'airflow-not-measured': { href: '#measure', text: t`To the ways to measure it` },
  'airflow-missing': { href: '#airflow', text: t`To the airflow` },
  'airflow-basis': { href: '#airflow', text: t`To the airflow` },
  'airflow-other-speed': { href: '#airflow', text: t`To the airflow` },
  'fan-auto': { href: '#airflow', text: t`To the airflow` },
  'velocity-lost': { href: '#probes', text: t`To the probes` },
  'return-missing': { href: '#probes', text: t`To the probes` },
  'supply-missing': { href: '#probes', text: t`To the probes` },
  'supply-single': { href: '#walk', text: t`To the walk along the outlet` },
  'return-single': { href: '#walk', text: t`To the walk along the intake` },
  'walk-running': { href: '#walk', text: t`To the walk` },
  'probes-differ': { href: '#probes', text: t`To the probes` },
  'outlet-no-velocity': { href: '#probes', text: t`To the probes` },
  'pressure-assumed': { href: '#settings', text: t`To the visit settings` },
};
/** The ± that is missing is that of the airflow, or of a probe: its sentence says which. */
const OF_THE_AIRFLOW = /\bairflow\b/;
const TO_THE_CHECK = { href: '#side-by-side', text: t`To the side-by-side check` };

/** Where a doubt is mended on this page; null where it is mended at the unit, or by waiting. */
export function wayOn(code: string, sentence: string): { href: string; text: string } | null {
  if (leadsToCheck(code)) return TO_THE_CHECK;
  if (code !== 'limits-unknown') return WAYS[code] ?? null;
  return WAYS[OF_THE_AIRFLOW.test(sentence) ? 'airflow-missing' : 'return-missing'] ?? null;
}

/** "1 warning", "3 warnings" */
export const warningCount = (count: number): string =>
  count === 1 ? t`1 warning` : t`${count} warnings`;

/** What stands above the list of them. */
export const warningsTitle = (count: number): string => t`${warningCount(count)}, and what to do`;

export interface DoubtGroup {
  code: string;
  /** What to do: what the eye should find. Like the others, each sentence once. */
  remedies: string[];
  /** What is doubtful. */
  texts: string[];
  /** What it does to the figure. */
  effects: string[];
}

/** Gathers doubts of a kind, in the order in which the kinds came. */
export function gathered(doubts: readonly Doubt[]): DoubtGroup[] {
  const groups = new Map<string, DoubtGroup>();
  for (const { code, text, effect, remedy } of doubts) {
    const group = groups.get(code) ?? { code, remedies: [], texts: [], effects: [] };
    groups.set(code, group);
    addOnce(group.remedies, remedy);
    addOnce(group.texts, text);
    addOnce(group.effects, effect);
  }
  return [...groups.values()];
}

function addOnce(sentences: string[], sentence: string): void {
  if (sentence !== '' && !sentences.includes(sentence)) sentences.push(sentence);
}
