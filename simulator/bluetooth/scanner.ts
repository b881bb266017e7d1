/** The part of a controller that scans: reports what devices say to all, as the host wants it. */
import type { Random } from '../random.ts';
import { advertisingReport, REPORT, SUBEVENT } from './hci.ts';
import type { Peripheral } from './peripheral.ts';

/** What has got as far as the host, as against what it makes of it. */
export interface Heard {
  readonly what: 'advertisement' | 'frame';
  readonly address: string;
  readonly bytes: Uint8Array;
}

export interface ScannerOptions {
  readonly toHost: (packet: Uint8Array) => void;
  readonly heard: (heard: Heard) => void;
  /** Whether the host wants to hear of such a subevent. */
  readonly wanted: (subevent: number) => boolean;
  readonly random: Random;
  /** The share of advertisements that are not heard, %. */
  readonly lossPct: number;
}

interface Scan {
  readonly extended: boolean;
  /** What was reported already, where duplicates are not wanted. */
  readonly reported: Set<string> | null;
}

export class Scanner {
  readonly #options: ScannerOptions;
  #active = true;
  #scan: Scan | null = null;

  constructor(options: ScannerOptions) {
    this.#options = options;
  }

  get on(): boolean {
    return this.#scan !== null;
  }

  /**
   * @param active whether it asks devices for more
   * @returns false while it scans: then they cannot be set
   */
  set(active: boolean): boolean {
    if (this.#scan !== null) return false;
    this.#active = active;
    return true;
  }

  /**
   * @param extended whether it reports in the form of Bluetooth 5
   * @param withoutDuplicates whether a device is reported once only
   */
  start(extended: boolean, withoutDuplicates: boolean): void {
    this.#scan = { extended, reported: withoutDuplicates ? new Set() : null };
  }

  stop(): void {
    this.#scan = null;
  }

  /** A device advertises. */
  hear(peripheral: Peripheral): void {
    const scan = this.#scan;
    const { random, lossPct } = this.#options;
    if (scan === null || random.uniform() * 100 < lossPct) return;
    const { data, response } = peripheral.advertisement();
    const plain = response === null ? REPORT.broadcast : REPORT.scannable;
    this.#report(peripheral, peripheral.connectable ? REPORT.connectable : plain, data, scan);
    if (this.#active && response !== null) {
      this.#report(peripheral, REPORT.response, response, scan);
    }
  }

  #report(from: Peripheral, type: number, data: Uint8Array, { extended, reported }: Scan): void {
    if (reported !== null) {
      const key = [from.address, type].join(' ');
      if (reported.has(key)) return;
      reported.add(key);
    }
    const { toHost, heard, wanted } = this.#options;
    const { advertisingReport: plain, extendedAdvertisingReport } = SUBEVENT;
    if (!wanted(extended ? extendedAdvertisingReport : plain)) return;
    toHost(advertisingReport(extended, type, from, data, from.rssiDbm()));
    heard({ what: 'advertisement', address: from.address, bytes: data });
  }
}
