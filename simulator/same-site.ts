/** Whether a system can become another one and go on: it stays in its place, in its weather. */
import type { OutdoorAirParameters } from './outdoor-air.ts';

/** What of a system cannot change without a jump of its air, or of who measures it. */
interface Site {
  readonly mode: string;
  readonly pressurePa: number;
  readonly outdoorAir: OutdoorAirParameters;
  readonly units: readonly { readonly id: string; readonly room: { readonly volumeM3: number } }[];
  readonly probes: readonly { readonly id: string }[];
}

/** @throws RangeError that says what differs, where the second is not the first with other faults or loads */
export function refuseAnother(now: Site, next: Site): void {
  for (const [what, of] of FIXED) {
    const [is, told] = [of(now), of(next)];
    if (is !== told) throw new RangeError(`${what} is ${is} and cannot become ${told} in mid-run`);
  }
}

const FIXED: readonly (readonly [what: string, of: (p: Site) => string])[] = [
  ['the mode', (p) => p.mode],
  ['the pressure', (p) => `${p.pressurePa} Pa`],
  [
    'the weather',
    ({ outdoorAir: o }) => `${o.temperatureC} °C, ${o.humidityPct} %, ${o.driftKPerH} K/h`,
  ],
  ['what the units are', (p) => p.units.map(({ id }) => id).join(', ')],
  ['what the probes are', (p) => p.probes.map(({ id }) => id).join(', ')],
  ['the volume of the rooms', (p) => `${p.units.map(({ room }) => room.volumeM3).join(', ')} m³`],
];
