/**
 * Bluetooth probes: those of the Environmental Sensing Service, those that broadcast in BTHome, and
 * those that a file describes. The radio is in a process of its own (radio-host.ts).
 */
import type { Adapter } from '../contract.ts';
import { Bluetooth } from './bluetooth.ts';
import { type Clock, systemClock } from './clock.ts';
import { readDescriptions } from './descriptions.ts';
import { Keys } from './keys.ts';
import { type Radio, RadioHost, type RadioListener } from './radio-host.ts';
import type { Settings } from './radio-messages.ts';

export interface BleOptions {
  /** The built adapters/ble/radio.ts: the program of the radio process. */
  readonly radioFile: string;
  /**
   * Modules (paths or URLs) that the radio process loads before all else. One that puts another socket
   * in the place of the library's replaces the radio, and nothing above it.
   */
  readonly radioImports?: readonly string[];
  /** Which adapter of the computer, counted from 0; default: the system's first. */
  readonly adapterIndex?: number | null;
  /** How often a probe that sends nothing by itself is read, ms; default 1000. */
  readonly pollMs?: number;
  /** Files that describe probes with a layout of their own. */
  readonly descriptionFiles?: readonly string[];
  /** Where the keys of encrypted broadcasts are kept; default: nowhere. */
  readonly keysFile?: string | null;
  /** The name that a probe has already, by a person or from before; null: none but its id. */
  readonly nameOf?: (probe: string) => string | null;
  readonly clock?: Clock;
  readonly platform?: string;
  /** Another radio, in tests. */
  readonly makeRadio?: (listener: RadioListener, settings: () => Settings) => Radio;
}

export interface BleAdapter extends Adapter {
  /**
   * Keeps the key of a probe that encrypts what it broadcasts.
   * @param probe its id, or its address in any spelling
   * @param key 32 hexadecimal digits; null takes the key away
   * @returns a sentence that says what is wrong, or null
   */
  setKey(probe: string, key: string | null): string | null;
}

/**
 * Makes the Bluetooth adapter.
 * @throws Error with a sentence where a description of a probe is wrong
 */
export function createBleAdapter(options: BleOptions): BleAdapter {
  const { adapterIndex = null, pollMs = 1000, clock = systemClock } = options;
  const descriptions = readDescriptions(options.descriptionFiles ?? []);
  const keys = new Keys(options.keysFile ?? null);
  let bluetooth: Bluetooth | null = null;

  const makeRadio =
    options.makeRadio ??
    ((listener: RadioListener, settings: () => Settings): Radio => {
      const { radioFile: file, radioImports: imports = [] } = options;
      return new RadioHost({ file, imports, settings, clock, listener });
    });

  return {
    name: 'ble',
    start(host) {
      bluetooth = new Bluetooth({
        host,
        clock,
        platform: options.platform ?? process.platform,
        adapterIndex,
        pollMs,
        descriptions,
        keyOf: (id) => keys.of(id),
        nameOf: options.nameOf ?? (() => null),
        keysTrouble: keys.load(),
        makeRadio,
      });
      return bluetooth.start();
    },
    async stop() {
      const ended = bluetooth;
      bluetooth = null;
      await ended?.stop();
    },
    forget(probe) {
      bluetooth?.forget(probe);
    },
    setKey(probe, key) {
      const refusal = keys.set(probe, key);
      if (refusal === null) bluetooth?.keysChanged();
      return refusal;
    },
  };
}
