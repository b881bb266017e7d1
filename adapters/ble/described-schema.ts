/** The file that describes a probe with a layout of its own: what may stand in it. */
import * as z from 'zod';
import { either } from './described-refusal.ts';
import { BYTES_OF, numberRange, type NumberType } from './numbers.ts';
import type { Quantity } from './quantities.ts';
import { normalUuid } from './uuid.ts';

/** The quantities as they are called in the file. */
export const QUANTITY_OF = {
  temperature: 'temperatureC',
  humidity: 'humidityPct',
  dewPoint: 'dewPointC',
  velocity: 'velocityMs',
  pressure: 'pressurePa',
  power: 'powerW',
  battery: 'batteryPct',
} as const satisfies Record<string, Quantity>;

const same = (value: number): number => value;
const celsius = (value: number): number => ((value - 32) * 5) / 9;
/** The units that a probe may send in, of which quantities, and how they become ours. */
export const UNITS = {
  '°C': { of: ['temperatureC', 'dewPointC'], toSi: same },
  '°F': { of: ['temperatureC', 'dewPointC'], toSi: celsius },
  '%': { of: ['humidityPct', 'batteryPct'], toSi: same },
  'm/s': { of: ['velocityMs'], toSi: same },
  // 1 ft = 0.3048 m.
  'ft/min': { of: ['velocityMs'], toSi: (value: number): number => value * 0.00508 },
  Pa: { of: ['pressurePa'], toSi: same },
  hPa: { of: ['pressurePa'], toSi: (value: number): number => value * 100 },
  kPa: { of: ['pressurePa'], toSi: (value: number): number => value * 1000 },
  W: { of: ['powerW'], toSi: same },
} as const satisfies Record<string, { of: Quantity[]; toSi: (value: number) => number }>;

const WORDS = keysOf(QUANTITY_OF);
const UNIT_NAMES = keysOf(UNITS);
const TYPES = keysOf(BYTES_OF);

function keysOf<T extends object>(object: T): (keyof T & string)[] {
  return Object.keys(object).filter((key): key is keyof T & string => key in object);
}

/** An object that holds nothing else: a misspelt `scale` must not be passed over. */
function only<Shape extends z.ZodRawShape>(shape: Shape) {
  const known = Object.keys(shape).join(', ');
  return z.strictObject(shape, {
    error: (issue) =>
      issue.code === 'unrecognized_keys' ? `is not known: accepted are ${known}` : undefined,
  });
}

/** The longest value of a characteristic, bytes. */
const LONGEST_VALUE = 512;

const uuid = z
  .string()
  .refine((text) => normalUuid(text) !== null, {
    error: 'is no UUID: it has 4 or 32 hexadecimal digits, as "181a"',
    abort: true,
  })
  .transform((text) => normalUuid(text) ?? text);

const field = only({
  quantity: z.enum(WORDS),
  byte: z
    .int()
    .min(0)
    .max(LONGEST_VALUE - 1),
  type: z.enum(TYPES),
  order: z.enum(['little', 'big']).default('little'),
  scale: z
    .number()
    .refine((scale) => scale !== 0, { error: 'would make all readings the same' })
    .default(1),
  offset: z.number().default(0),
  unit: z.enum(UNIT_NAMES),
  notKnown: z.array(z.number()).max(16).default([]),
}).superRefine(({ quantity, unit, type, notKnown }, context) => {
  const measured = QUANTITY_OF[quantity];
  const units = UNIT_NAMES.filter((name) => UNITS[name].of.some((of) => of === measured));
  if (!units.includes(unit)) {
    const message = `is no unit of ${quantity}: it is ${either(units.map((name) => JSON.stringify(name)))}`;
    context.addIssue({ code: 'custom', path: ['unit'], message });
  }
  notKnown.forEach((code, i) => {
    const message = unfit(code, type);
    if (message !== null) context.addIssue({ code: 'custom', path: ['notKnown', i], message });
  });
});

/** Why a probe that sends `type` never sends `code`; null: it may. */
function unfit(code: number, type: NumberType): string | null {
  const [low, high] = numberRange(type);
  if (code >= low && code <= high && (type === 'float32' || Number.isInteger(code))) return null;
  return `is never sent as ${type}: codes are given as they are sent, whole numbers from ${low} to ${high}`;
}

const characteristic = only({
  service: uuid,
  uuid,
  pollS: z.number().min(0.1).max(3600).nullable().default(null),
  fields: z.array(field).min(1).max(16),
});

const advertises = only({
  serviceUuids: z.array(uuid).min(1).max(8).optional(),
  serviceDataUuid: uuid.optional(),
  company: z.int().min(0).max(0xffff).optional(),
}).refine((signs) => Object.values(signs).some((sign) => sign !== undefined), {
  error: 'is empty: give serviceUuids, serviceDataUuid or company, or several of them',
});

/** The whole file. */
export const descriptionSchema = only({
  version: z.literal(1),
  name: z.string().trim().min(1).max(60),
  advertises,
  characteristics: z.array(characteristic).min(1).max(16),
}).superRefine(({ characteristics }, context) => {
  const uuids = new Set<string>();
  const quantities = new Set<string>();
  characteristics.forEach(({ uuid, fields }, c) => {
    if (uuids.has(uuid)) {
      const message = 'is described twice: put its fields into one list';
      context.addIssue({ code: 'custom', path: ['characteristics', c, 'uuid'], message });
    }
    uuids.add(uuid);
    fields.forEach(({ quantity }, f) => {
      if (quantities.has(quantity)) {
        const path = ['characteristics', c, 'fields', f, 'quantity'];
        const message = 'is described twice: a reading holds one of each quantity';
        context.addIssue({ code: 'custom', path, message });
      }
      quantities.add(quantity);
    });
  });
});
export type Description = z.infer<typeof descriptionSchema>;
