/** Doubts as a list of things to do: those of one kind stand together. */
import type { Doubt } from '../../server/protocol.ts';

/** Doubts that a side-by-side check, or its end, takes away. */
const OF_THE_CHECK = new Set(['check-missing', 'check-old', 'check-running', 'humidity-disagrees']);

/** Whether the way on from a doubt leads to the side-by-side check. */
export const leadsToCheck = (code: string): boolean => OF_THE_CHECK.has(code);

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
