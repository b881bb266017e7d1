/** A sink that takes everything and remembers it. */
import type { Line } from '../../adapters/contract.ts';
import type { SourceSink } from '../../server/sources/supervisor.ts';

export interface RecordingSink extends SourceSink {
  readonly lines: { adapter: string; simulated: boolean; line: Line }[];
  readonly links: string[];
  /** Every state of an adapter so far, in order. */
  states(adapter: string): string[];
  /** Every text that came with them. */
  texts(adapter: string): (string | null)[];
  /** Its latest state and text. */
  latest(adapter: string): { state: string; text: string | null };
  count(adapter: string): number;
}

export function recordingSink(answer: (line: Line) => string | null = () => null): RecordingSink {
  const lines: RecordingSink['lines'] = [];
  const links: string[] = [];
  const statuses: { adapter: string; state: string; text: string | null }[] = [];
  const of = (adapter: string) => statuses.filter((status) => status.adapter === adapter);
  return {
    lines,
    links,
    line(adapter, simulated, line) {
      const refusal = answer(line);
      if (refusal === null) lines.push({ adapter, simulated, line });
      return refusal;
    },
    link: (adapter, probe, { state }) => void links.push(`${adapter} ${probe} ${state}`),
    status: (adapter, state, text) => void statuses.push({ adapter, state, text }),
    states: (adapter) => of(adapter).map(({ state }) => state),
    texts: (adapter) => of(adapter).map(({ text }) => text),
    latest: (adapter) => of(adapter).at(-1) ?? { state: 'none', text: null },
    count: (adapter) => lines.filter((line) => line.adapter === adapter).length,
  };
}
