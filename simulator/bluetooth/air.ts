/** The air: all devices in it, what is said to them, and who listens. */
import type { ProbeReading } from '../probe.ts';
import { randomStream } from '../random.ts';
import type { Agenda } from './agenda.ts';
import { beacon } from './beacon.ts';
import { describedProbe } from './described-probe.ts';
import type { Device } from './device.ts';
import { environmentalProbe } from './environmental-probe.ts';
import type { DeviceOrder } from './orders.ts';
import { Peripheral } from './peripheral.ts';
import type { Plan } from './plan.ts';

export class Air {
  readonly #peripherals: ReadonlyMap<string, Peripheral>;
  /** Is called with each advertising event; set by who listens. */
  heard: (peripheral: Peripheral) => void = () => undefined;

  /** @throws RangeError where a plan cannot be: an address that is none, advertising that is too long */
  constructor(plans: readonly Plan[], agenda: Agenda, seed: number) {
    this.#peripherals = new Map(
      plans.map((plan) => {
        const random = randomStream(seed, `${plan.address} radio`);
        const hear = (peripheral: Peripheral): void => this.heard(peripheral);
        return [plan.address, new Peripheral(plan, deviceOf(plan), agenda, random, hear)];
      }),
    );
  }

  /** Hands a reading of the physical simulation to the devices that carry its probe. */
  take(reading: ProbeReading): void {
    for (const peripheral of this.#peripherals.values()) peripheral.take(reading);
  }

  /** @throws RangeError where there is no such device, or it cannot follow */
  follow(order: DeviceOrder): void {
    const peripheral = this.#peripherals.get(order.to);
    if (peripheral === undefined) throw new RangeError(`there is no device "${order.to}"`);
    peripheral.follow(order);
  }
}

function deviceOf(plan: Plan): Device {
  switch (plan.kind) {
    case 'environmental':
      return environmentalProbe(plan);
    case 'beacon':
      return beacon(plan);
    case 'described':
      return describedProbe(plan);
  }
}
