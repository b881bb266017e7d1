/** A host that takes everything and remembers it. */
import type {
  AdapterHost,
  AdapterStatus,
  Line,
  ProbeLink,
  Reading,
} from '../../adapters/contract.ts';

export interface RecordingHost extends AdapterHost {
  readonly lines: Line[];
  readonly statuses: { state: AdapterStatus; text: string | undefined }[];
  readonly links: { probe: string; link: ProbeLink }[];
  readings(): Reading[];
  /** All that was said so far, to see whether more is said later. */
  said(): number;
  abort(): void;
}

/** @param refusal what `emit` answers. */
export function recordingHost(refusal: string | null = null): RecordingHost {
  const stopping = new AbortController();
  const lines: Line[] = [];
  const statuses: RecordingHost['statuses'] = [];
  const links: RecordingHost['links'] = [];
  return {
    lines,
    statuses,
    links,
    readings: () => lines.filter((line) => line.type === 'reading'),
    said: () => lines.length + statuses.length + links.length,
    abort: () => stopping.abort(),
    emit(line) {
      lines.push(line);
      return refusal;
    },
    link: (probe, link) => void links.push({ probe, link }),
    status: (state, text) => void statuses.push({ state, text }),
    signal: stopping.signal,
  };
}
