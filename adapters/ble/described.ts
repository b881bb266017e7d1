/**
 * A described probe: one with a published layout of its own, told to Plateau by a small JSON file, so
 * that it works without code. See README.md for the fields.
 */
import { explain } from './described-refusal.ts';
import { type Description, descriptionSchema, QUANTITY_OF, UNITS } from './described-schema.ts';
import { readNumber } from './numbers.ts';
import { isEmpty, put, type Values } from './quantities.ts';
import { normalUuid } from './uuid.ts';

/** What is heard of a probe before it is connected, as far as it is known by it. */
export interface Signs {
  readonly serviceUuids: readonly string[];
  readonly serviceDataUuids: readonly string[];
  /** The number that begins its manufacturer data. */
  readonly company: number | null;
}

/** UUIDs are in the spelling of `normalUuid`. */
export interface DescribedProbe {
  readonly name: string;
  /** By what it is known: all that is given must be heard. */
  readonly advertises: {
    readonly serviceUuids: readonly string[];
    readonly serviceDataUuid: string | null;
    readonly company: number | null;
  };
  readonly characteristics: readonly DescribedCharacteristic[];
  /** Whether an advertisement is of such a probe. */
  isHeardIn(heard: Signs): boolean;
  /**
   * The figures in the value of a characteristic.
   * @returns null: none of its characteristics, or nothing in it that can be
   */
  readFrom(uuid: string, bytes: Uint8Array): Values | null;
}

export interface DescribedCharacteristic {
  readonly service: string;
  readonly uuid: string;
  /** How often it is to be read, s; null: it notifies. */
  readonly pollS: number | null;
}

/**
 * Takes a description.
 * @param json the file, parsed
 * @returns the probe, or a sentence that names the field, what was given and what is accepted
 */
export function parseDescription(json: unknown): DescribedProbe | { refusal: string } {
  const parsed = descriptionSchema.safeParse(json);
  if (!parsed.success) return { refusal: explain(json, parsed.error) };
  const { name, advertises, characteristics } = parsed.data;
  const signs = {
    serviceUuids: advertises.serviceUuids ?? [],
    serviceDataUuid: advertises.serviceDataUuid ?? null,
    company: advertises.company ?? null,
  };
  return {
    name,
    advertises: signs,
    characteristics: characteristics.map(({ service, uuid, pollS }) => ({ service, uuid, pollS })),
    isHeardIn: ({ serviceUuids, serviceDataUuids, company }) =>
      signs.serviceUuids.every((uuid) => serviceUuids.includes(uuid)) &&
      (signs.serviceDataUuid === null || serviceDataUuids.includes(signs.serviceDataUuid)) &&
      (signs.company === null || signs.company === company),
    readFrom(uuid, bytes) {
      const wanted = normalUuid(uuid);
      const fields = characteristics.find((one) => one.uuid === wanted)?.fields ?? [];
      const values: Values = {};
      for (const field of fields) readField(values, field, bytes);
      return isEmpty(values) ? null : values;
    },
  };
}

type Field = Description['characteristics'][number]['fields'][number];

/** One figure; where the value ends before it, the figures before it are still good. */
function readField(values: Values, field: Field, bytes: Uint8Array): void {
  const sent = readNumber(bytes, field.byte, field.type, field.order);
  if (sent === null || field.notKnown.includes(sent)) return;
  const value = UNITS[field.unit].toSi(sent * field.scale + field.offset);
  // Without the dust of binary fractions, which would be recorded in every line.
  put(values, QUANTITY_OF[field.quantity], Number(value.toPrecision(12)));
}
