/**
 * The simulated probes as Bluetooth devices: their readings go into the air, and the Bluetooth adapter
 * has to find them there. What they hang at is still told by the simulated source.
 */
import { AirHost } from '../../simulator/bluetooth/beneath/air-host.ts';
import { housePlan } from '../../simulator/bluetooth/house-plan.ts';
import type { ProbeReading } from '../../simulator/probe.ts';
import { scenario } from '../../simulator/scenarios.ts';
import { STEP_MS } from '../../simulator/system.ts';
import type { Outlet } from './index.ts';

/** As in a house: so many advertisements are not heard, %. */
const LOSS_PCT = 10;
/**
 * The physics hand over whole steps at once. Each reading is sent so long after its time that it is
 * known by then, so that they leave as they were measured: one after another.
 */
const BEHIND_MS = STEP_MS + 300;
const RELEASE_MS = 20;

export interface SimulatedAir extends Outlet {
  /**
   * What the process of the radio is to load before all else.
   * @param hook where simulator/bluetooth/beneath/hook.ts is, built
   */
  radioImport(hook: URL): string;
  /** The keys of the probes that encrypt what they broadcast: 32 hexadecimal digits. */
  readonly keys: readonly { readonly probe: string; readonly key: string }[];
}

/**
 * The air of a scenario.
 * @throws RangeError for a scenario that there is not
 */
export function simulatedAir(name = 'demo', seed = 1): SimulatedAir {
  const parameters = scenario(name);
  const plans = housePlan(parameters, seed);
  const host = new AirHost({ plans, seed, controller: { lossPct: LOSS_PCT } });
  let waiting: ProbeReading[] = [];
  let timer: NodeJS.Timeout | undefined;
  /** A probe is switched on when it has measured for the first time. */
  const off = new Map(parameters.probes.map(({ id }, i) => [id, plans[i]?.address ?? '']));
  for (const to of off.values()) host.order({ to, do: 'away' });
  function release(): void {
    const until = Date.now() - BEHIND_MS;
    const due = waiting.filter(({ t }) => t <= until);
    waiting = waiting.filter(({ t }) => t > until);
    host.feed(due);
    for (const { probe } of due) {
      const to = off.get(probe);
      if (to !== undefined && off.delete(probe)) host.order({ to, do: 'back' });
    }
  }
  const idOf = (address: string): string => `ble:${address.replaceAll(':', '')}`;
  const ids = new Map(
    parameters.probes.map(({ id }, i) => [id, idOf(plans[i]?.address ?? '')] as const),
  );
  return {
    idOf: (probe) => ids.get(probe) ?? probe,
    async start() {
      timer = setInterval(release, RELEASE_MS);
      await host.start();
    },
    stop() {
      clearInterval(timer);
      waiting = [];
      host.stop();
    },
    feed: (readings) => void waiting.push(...readings),
    radioImport: (hook) => host.import(hook),
    keys: plans.flatMap((plan) =>
      plan.kind === 'beacon' && plan.key !== undefined
        ? [{ probe: idOf(plan.address), key: plan.key }]
        : [],
    ),
  };
}
