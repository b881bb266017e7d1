/** What a source of readings is called: those of this program by their way, others by their own name. */
const NAMES: Record<string, string> = {
  ble: 'Bluetooth',
  push: 'HTTP',
  replay: 'the visit log',
  simulated: 'the simulation',
};

export const sourceName = (adapter: string): string => NAMES[adapter] ?? adapter;
