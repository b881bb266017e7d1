/** Bluetooth probes. For now it only says that this version does not read them. */
import type { Adapter } from '../contract.ts';

const NOT_YET =
  'Bluetooth probes are not read by this version yet: send readings to POST /api/readings, ' +
  'or load an adapter with --adapter.';

export function createBleAdapter(): Adapter {
  return {
    name: 'ble',
    start: (host) => host.status('unavailable', NOT_YET),
    stop: () => undefined,
  };
}
