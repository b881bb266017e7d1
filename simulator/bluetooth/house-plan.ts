/**
 * The probes of a simulated site as Bluetooth devices, some of each kind: those that speak seldom
 * broadcast, of the others every fourth broadcasts encrypted, and the rest are connected to.
 */
import { randomStream } from '../random.ts';
import type { SystemParameters } from '../system.ts';
import { MEASURES, type Plan } from './plan.ts';

/** A probe that speaks no more often than this broadcasts, s. */
const SELDOM_S = 2;
/** The first bytes of a static random address, and of nobody. */
const ADDRESS = 'f0:1a:b0:00:00';

/**
 * One device for each probe of the site, in the same order.
 * @param seed another one gives other keys and signals
 */
export function housePlan({ probes }: SystemParameters, seed: number): Plan[] {
  return probes.map(({ id, name, sensors, intervalS }, i): Plan => {
    const random = randomStream(seed, `${id} bluetooth`);
    const address = `${ADDRESS}:${(i + 1).toString(16).padStart(2, '0')}`;
    const rssiDbm = Math.round(random.between(-80, -50));
    const base = { address, name, rssiDbm };
    if (intervalS >= SELDOM_S) return { ...base, kind: 'beacon', probes: [id] };
    if (i % 4 === 3) {
      const key = Array.from({ length: 32 }, () => Math.floor(random.uniform() * 16).toString(16));
      return { ...base, kind: 'beacon', probes: [id], key: key.join('') };
    }
    const measures = MEASURES.filter((measure) => sensors[measure] !== undefined);
    return { ...base, kind: 'environmental', instances: [{ probe: id, measures, intervalS }] };
  });
}
