/** What tests (and a person who plays with it) may order to happen in the air and to the controller. */
import type { Spoil } from './link.ts';

/** Something that happens to one device, named by its address. */
export type DeviceOrder = { readonly to: string } & (
  | {
      /** Nothing is heard of it, its link included; for so long, or until `back`. */
      readonly do: 'away';
      readonly forMs?: number | undefined;
    }
  | { readonly do: 'back' }
  /** It tells nothing by itself any more, but still answers. */
  | { readonly do: 'mute' | 'unmute' }
  /** Its link stays up, but it answers nothing and tells nothing. */
  | { readonly do: 'deaf' | 'hearing' }
  /** It advertises, but no connection to it is made: it is too far for that, or somebody else's. */
  | { readonly do: 'aloof' | 'approachable' }
  /** It no longer advertises, but keeps its link. */
  | { readonly do: 'hide' | 'show' }
  /** It ends its link; the reason is an HCI status, default 0x13. */
  | { readonly do: 'drop'; readonly reason?: number | undefined }
  /** The next so many connections to it fail to be established. */
  | { readonly do: 'fail'; readonly times: number }
  /** It tells these bytes of a characteristic, to whoever has subscribed. */
  | {
      readonly do: 'tell';
      readonly uuid: string;
      readonly hex: string;
      /** Which one, of several of the same UUID; default 0. */
      readonly instance?: number | undefined;
    }
  /** It sends any frame on any channel of its link. */
  | { readonly do: 'frame'; readonly channel: number; readonly hex: string }
  /** The next so many packets of its link are spoilt on their way. */
  | { readonly do: 'spoil'; readonly how: Spoil; readonly packets: number }
  /** It advertises these bytes; null: its own again. */
  | { readonly do: 'advertise'; readonly hex: string | null }
);

/** Something that happens to the controller. */
export type ControllerOrder =
  | {
      readonly do: 'power';
      readonly on: boolean;
      /** Whether links are ended in order first, as a Bluetooth daemon does; default false. */
      readonly politely?: boolean | undefined;
    }
  | { readonly do: 'unplug' | 'plug' }
  /** Another program ends its scan, and with it everyone's. */
  | { readonly do: 'stop-scan' }
  /** The host receives any bytes. */
  | { readonly do: 'packet'; readonly hex: string };

export type Order = DeviceOrder | ControllerOrder;

export function isForDevice(order: Order): order is DeviceOrder {
  return 'to' in order;
}
