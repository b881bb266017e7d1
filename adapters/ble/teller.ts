/** Tells the host how the adapter is, whenever that has changed. */
import type { AdapterHost } from '../contract.ts';
import { type RadioState, type Status, statusOf } from './sentences.ts';

/** What has happened once is spoken of for so long, ms. */
const REMARK_MS = 30_000;
/** One trouble is followed by another, or by a higher count, no sooner, ms. */
const TROUBLES_MS = 10_000;

export class Teller {
  readonly #host: AdapterHost;
  readonly #platform: string;
  #remark: { text: string; t: number } | null = null;
  #told: (Status & { t: number }) | null = null;
  #nowKnown: () => void = () => undefined;
  /** Fulfilled when the first word has been said, or `silence` called. */
  readonly known = new Promise<void>((resolve) => (this.#nowKnown = resolve));

  constructor(host: AdapterHost, platform: string) {
    this.#host = host;
    this.#platform = platform;
  }

  /** Something has happened that a person should know. @param t when, ms */
  remark(text: string, t: number): void {
    this.#remark = { text, t };
  }

  /** Nothing will be said any more. */
  silence(): void {
    this.#nowKnown();
  }

  /**
   * Tells how it is, if that is news.
   * @param troubles what stands against reading single probes, as sentences
   * @param t now, ms
   */
  tell(radio: RadioState, troubles: readonly string[], t: number): void {
    const remark = this.#remark;
    const remarks = remark !== null && isWithin(remark.t, REMARK_MS, t) ? [remark.text] : [];
    const status = statusOf(radio, this.#platform, [...remarks, ...troubles]);
    if (status === null || !this.#isNews(status, t)) return;
    this.#told = { ...status, t };
    this.#host.status(status.state, status.text ?? undefined);
    this.#nowKnown();
  }

  #isNews({ state, text }: Status, t: number): boolean {
    const last = this.#told;
    if (last === null || state !== last.state) return true;
    if (text === last.text) return false;
    const counts = state === 'running' && text !== null && last.text !== null;
    return !counts || !isWithin(last.t, TROUBLES_MS, t);
  }
}

/** Whether less than `ms` have passed since; not where the clock was set back. */
function isWithin(sinceT: number, ms: number, t: number): boolean {
  return t >= sinceT && t - sinceT < ms;
}
