/** What is read of a linked probe: by the standard services, or by its description. */
import type { DescribedProbe } from './described.ts';
import {
  CHARACTERISTICS,
  decodeCharacteristic,
  describeInstance,
  presentationAgrees,
} from './environmental.ts';
import type { Values } from './quantities.ts';
import type { Found } from './radio-messages.ts';

/** One characteristic that is read. */
export interface Stream {
  readonly key: string;
  /** 1 for the first of its quantity; the second of two temperatures belongs to a second probe. */
  readonly instance: number;
  /** What tells the instance from the others: "outside". */
  readonly label: string | null;
  /** Sends new values by itself. */
  readonly notifies: boolean;
  readonly reads: boolean;
  /** How often it is read, where it sends nothing by itself, ms. */
  readonly everyMs: number;
  decode(bytes: Uint8Array): Values | null;
}

/** Gives the values of a characteristic's descriptors, by UUID; those that it has. */
export type Describe = (key: string) => Promise<Readonly<Record<string, Uint8Array>>>;

export interface Layout {
  /** For a probe that gives itself no name. */
  readonly name: string | null;
  readonly services: readonly string[];
  /** The characteristic that tells what kind of probe it is; null: there is none. */
  nameKey(found: readonly Found[]): string | null;
  /** Chooses what is read of what was found. */
  streams(found: readonly Found[], describe: Describe): Promise<Stream[]>;
}

export const ENVIRONMENTAL = '181a';
const BATTERY = '180f';
const INFORMATION = '180a';
const MODEL = '2a24';
/** A battery is asked so often, ms. */
const BATTERY_MS = 60_000;

/** A probe of the Environmental Sensing Service. @param pollMs how often it is read */
export function standardLayout(pollMs: number): Layout {
  return {
    name: null,
    services: [ENVIRONMENTAL, BATTERY, INFORMATION],
    nameKey: (found) => found.find(({ uuid, reads }) => uuid === MODEL && reads)?.key ?? null,
    async streams(found, describe) {
      const counts = new Map<string, number>();
      const streams: Stream[] = [];
      for (const one of found) {
        const quantity = CHARACTERISTICS.get(one.uuid)?.quantity ?? null;
        if (quantity === null) continue;
        const battery = quantity === 'batteryPct';
        const count = (counts.get(quantity) ?? 0) + 1;
        counts.set(quantity, count);
        if (battery && count > 1) continue;
        const descriptors = battery ? {} : await describe(one.key);
        const presentation = descriptors['2904'];
        const agrees = presentation === undefined || presentationAgrees(one.uuid, presentation);
        const range = descriptors['2906'] ?? null;
        streams.push({
          ...abilities(one),
          instance: count,
          label: describeInstance(descriptors['2901'] ?? null, descriptors['290c'] ?? null),
          everyMs: battery ? BATTERY_MS : pollMs,
          decode: (bytes) => (agrees ? decodeCharacteristic(one.uuid, bytes, range) : null),
        });
      }
      return streams;
    },
  };
}

/** A probe with a layout of its own. @param pollMs as above, where the description does not say */
export function describedLayout(probe: DescribedProbe, pollMs: number): Layout {
  return {
    name: probe.name,
    services: [...new Set(probe.characteristics.map(({ service }) => service))],
    nameKey: () => null,
    async streams(found) {
      return probe.characteristics.flatMap(({ service, uuid, pollS }) => {
        const one = found.find((each) => each.service === service && each.uuid === uuid);
        if (one === undefined) return [];
        const { key, notifies, reads } = abilities(one);
        return {
          key,
          reads,
          notifies: notifies && pollS === null,
          instance: 1,
          label: null,
          everyMs: pollS === null ? pollMs : pollS * 1000,
          decode: (bytes: Uint8Array) => probe.readFrom(uuid, bytes),
        };
      });
    },
  };
}

function abilities({ key, notifies, reads }: Found): Pick<Stream, 'key' | 'notifies' | 'reads'> {
  return { key, notifies, reads };
}
