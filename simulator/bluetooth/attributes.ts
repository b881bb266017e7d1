/**
 * The attributes of a GATT server (Core, volume 3, part G): services with their characteristics and
 * descriptors, laid out in a row with a handle each.
 */
import { joined, u16, uuidBytes } from './bytes.ts';

/** Properties of a characteristic, to be added. */
export const PROPERTY = { read: 0x02, write: 0x08, notify: 0x10, indicate: 0x20 } as const;

export const PRIMARY_SERVICE = '2800';
export const CHARACTERISTIC = '2803';
export const CLIENT_CONFIGURATION = '2902';

export interface Descriptor {
  readonly uuid: string;
  readonly value: Uint8Array;
}

export interface Characteristic {
  readonly uuid: string;
  readonly properties: number;
  /** Its value now; null: there is none, and a read fails. */
  value(): Uint8Array | null;
  /** Takes what is written to it. */
  write?: (value: Uint8Array) => void;
  /** Besides that for subscribing, which comes by itself. */
  readonly descriptors?: readonly Descriptor[];
  /** Only for those who have paired, which nobody can here. */
  readonly secured?: boolean;
}

export interface Service {
  readonly uuid: string;
  readonly characteristics: readonly Characteristic[];
}

/** One attribute. `of` is the characteristic that its value, or its subscription, belongs to. */
export interface Attribute {
  readonly handle: number;
  readonly type: Uint8Array;
  readonly kind: 'service' | 'declaration' | 'value' | 'subscription' | 'descriptor';
  readonly of: Characteristic | null;
  /** Of those that do not change. */
  readonly fixed: Uint8Array | null;
  /** Of a service: the last handle that belongs to it. */
  end: number;
}

export class Attributes {
  readonly all: readonly Attribute[];

  constructor(services: readonly Service[]) {
    const all: Attribute[] = [];
    const add = (attribute: Omit<Attribute, 'handle' | 'end'>): Attribute => {
      const handle = all.length + 1;
      const added = { ...attribute, handle, end: handle };
      all.push(added);
      return added;
    };
    for (const { uuid, characteristics } of services) {
      const service = add({
        type: uuidBytes(PRIMARY_SERVICE),
        kind: 'service',
        of: null,
        fixed: uuidBytes(uuid),
      });
      for (const characteristic of characteristics) addCharacteristic(add, all, characteristic);
      service.end = all.length;
    }
    this.all = all;
  }

  /** Of a handle; null where there is none. */
  at(handle: number): Attribute | null {
    return this.all[handle - 1] ?? null;
  }

  /** Those of a type (in the order of the air) within a range of handles. */
  ofType(type: Uint8Array, from: number, to: number): Attribute[] {
    return this.all.filter(
      (each) => each.handle >= from && each.handle <= to && sameBytes(each.type, type),
    );
  }

  /** The handle of a characteristic's value; null where it is not in this table. */
  valueHandle(characteristic: Characteristic): number | null {
    const found = this.all.find(({ kind, of }) => kind === 'value' && of === characteristic);
    return found?.handle ?? null;
  }
}

function addCharacteristic(
  add: (attribute: Omit<Attribute, 'handle' | 'end'>) => Attribute,
  all: readonly Attribute[],
  of: Characteristic,
): void {
  const uuid = uuidBytes(of.uuid);
  const valueHandle = all.length + 2;
  const declaration = joined(of.properties, u16(valueHandle), uuid);
  add({ type: uuidBytes(CHARACTERISTIC), kind: 'declaration', of, fixed: declaration });
  add({ type: uuid, kind: 'value', of, fixed: null });
  if ((of.properties & (PROPERTY.notify | PROPERTY.indicate)) !== 0) {
    add({ type: uuidBytes(CLIENT_CONFIGURATION), kind: 'subscription', of, fixed: null });
  }
  for (const { uuid: type, value } of of.descriptors ?? []) {
    add({ type: uuidBytes(type), kind: 'descriptor', of, fixed: value });
  }
}

export function sameBytes(a: Uint8Array, b: Uint8Array): boolean {
  return a.length === b.length && a.every((byte, i) => byte === b[i]);
}
