/** Which of what is heard is a probe of ours, by standard services and by descriptions. */
import { BTHOME_UUID } from './bthome.ts';
import type { DescribedProbe } from './described.ts';
import { companyOf } from './manufacturer.ts';
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
  const signs = {
    serviceUuids: services,
    serviceDataUuids: serviceData.map(({ uuid }) => uuid),
    company: companyOf(manufacturerData),
  };
  const described = descriptions.find((probe) => probe.isHeardIn(signs));
  if (described !== undefined) return describedLayout(described, pollMs);
  return services.includes(ENVIRONMENTAL) ? standardLayout(pollMs) : null;
}
