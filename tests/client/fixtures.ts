/** Snapshots for the tests of the screens' words. The figures mean nothing. */
import type { Snapshot, UnitSnapshot } from '../../server/protocol.ts';

export const T0 = Date.UTC(2026, 4, 4, 12, 0, 0);

const AIR = {
  temperatureC: 20,
  humidityPct: 50,
  wetBulbC: 13.8,
  dewPointC: 9.3,
  humidityRatio: 0.0073,
  enthalpyJkg: 38_600,
};

/** A place from which nothing comes. */
export const NO_AIR: UnitSnapshot['return'] = {
  temperatureC: null,
  humidityPct: null,
  wetBulbC: null,
  dewPointC: null,
  humidityRatio: null,
  enthalpyJkg: null,
};

interface Change {
  mode?: UnitSnapshot['mode'];
  capacity?: Partial<UnitSnapshot['capacity']>;
  settling?: Partial<UnitSnapshot['settling']>;
  doubts?: UnitSnapshot['doubts'];
}

export function unitWith(change: Change = {}): UnitSnapshot {
  return {
    mode: change.mode === undefined ? 'cooling' : change.mode,
    return: AIR,
    supply: { ...AIR, temperatureC: 12 },
    airflow: { flowM3s: 0.15, standardM3s: 0.148, dryAirKgs: 0.178, source: 'entered' },
    capacity: {
      totalW: 2640,
      sensibleW: 1980,
      latentW: 660,
      sensibleHeatRatio: 0.75,
      condensateKgh: 0.96,
      totalU95W: 110,
      sensibleU95W: 80,
      latentU95W: 70,
      ...change.capacity,
    },
    settling: {
      state: 'settling',
      since: T0,
      plateauW: null,
      plateauU95W: null,
      steadyInS: null,
      ...change.settling,
    },
    doubts: change.doubts ?? [],
  };
}

export function snapshotAt(t: number, totalW: number | null, ids: string[] = ['u1']): Snapshot {
  const unit = unitWith({ capacity: { totalW } });
  return {
    type: 'snapshot',
    t,
    simulated: false,
    units: Object.fromEntries(ids.map((id) => [id, unit])),
    sum: { totalW, sensibleW: null, latentW: null, totalU95W: null },
  };
}
