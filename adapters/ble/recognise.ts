/** Which of what is heard is a probe of ours, by standard services and by descriptions. */
import { BTHOME_UUID } from './bthome.ts';
import type { DescribedProbe } from './described.ts';
import { describedLayout, ENVIRONMENTAL, type Layout, standardLayout } from './layout.ts';
import type { Heard, Wanted } from './radio-messages.ts';

/** What the radio should tell of. */
export function wantedOf(descriptions: readonly DescribedProbe[]): Wanted {
  const signs = descriptions.map(({ advertises }) => advertises);
  return {
    services: [
      ...[ENVIRONMENTAL, BTHOME_UUID],
      ...signs.flatMap(({ serviceUuids }) => serviceUuids),
      ...signs.flatMap(({ serviceDataUuid }) => serviceDataUuid ?? []),
    ],
    companies: signs.flatMap(({ company }) => company ?? []),
  };
}

/** Whether what was heard is a broadcast that can be read without a link. */
export function isBroadcast({ serviceData }: Heard): boolean {
  return serviceData.some(({ uuid }) => uuid === BTHOME_UUID);
}

/**
 * How a probe that was heard is to be read over a link: a description goes before the standard.
 * @param pollMs how often a probe is read that sends nothing by itself
 * @returns null: it is none of ours
 */
export function layoutOf(
  { services, serviceData, manufacturerData }: Heard,
  descriptions: readonly DescribedProbe[],
  pollMs: number,
): Layout | null {
  const manufacturer = Buffer.from(manufacturerData ?? '', 'hex');
  const described = descriptions.find((probe) =>
    probe.isHeardIn({
      serviceUuids: services,
      serviceData: serviceData.map(({ uuid, bytes }) => ({
        uuid,
        data: Buffer.from(bytes, 'hex'),
      })),
      manufacturerData:
        manufacturer.length < 2
          ? []
          : [{ company: manufacturer.readUInt16LE(0), data: manufacturer.subarray(2) }],
    }),
  );
  if (described !== undefined) return describedLayout(described, pollMs);
  return services.includes(ENVIRONMENTAL) ? standardLayout(pollMs) : null;
}
