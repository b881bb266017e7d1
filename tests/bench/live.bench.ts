/**
 * CPU time a reading through the whole live pipeline: JSON lines in through the schema, capacity,
 * interval and settling of each unit each second, snapshots out as JSON where a page is connected.
 * And whether a reading costs more the longer settling has gone on.
 */
import type { Benchmark, Contestant } from './harness.ts';
import { measure, table } from './harness.ts';
import { cpuMicrosOf, LiveStage, type Load } from './live-stage.ts';

/** Readings a round are at least so many, so that one round is long enough to measure. */
const READINGS = 40_000;

function readings(name: string, load: Omit<Load, 'watched'>, watched: boolean): Contestant {
  const stage = new LiveStage({ ...load, watched });
  const seconds = Math.ceil(READINGS / (load.units * load.probes * load.hz));
  return {
    name: `${name}${watched ? ', a page connected' : ''}`,
    run(): number {
      const bodies = stage.bodies(seconds);
      let taken = 0;
      const micros = cpuMicrosOf(() => (taken = stage.feed(bodies)));
      if (watched && stage.sent === 0) throw new Error('The page was sent nothing.');
      return micros / taken;
    },
  };
}

const LOADS: [string, Omit<Load, 'watched'>][] = [
  ['1 unit, 2 probes × 1 Hz', { units: 1, probes: 2, hz: 1 }],
  ['10 units, 40 probes × 4 Hz', { units: 10, probes: 4, hz: 4 }],
  // As many probes as a visit may have.
  ['64 units, 256 probes × 10 Hz', { units: 64, probes: 4, hz: 10 }],
];

const pipeline: Benchmark = {
  title: 'live pipeline, aim < 7',
  unit: 'µs of CPU a reading',
  contestants: LOADS.flatMap(([name, load]) => [
    readings(name, load, false),
    readings(name, load, true),
  ]),
};

/** A minute's work once settling has gone on for so long. */
function after(minutes: number): Contestant {
  const stage = new LiveStage({ units: 64, probes: 2, hz: 1, watched: false });
  return {
    name: `${minutes} min after a setpoint`,
    run(): number {
      stage.change();
      for (let m = 0; m < minutes; m++) stage.feed(stage.bodies(60));
      const bodies = stage.bodies(60);
      let taken = 0;
      const micros = cpuMicrosOf(() => (taken = stage.feed(bodies)));
      return micros / taken;
    },
  };
}

const longer: Benchmark = {
  title: 'the longer it settles, 64 units, 128 probes × 1 Hz',
  unit: 'µs of CPU a reading',
  contestants: [after(1), after(10), after(60)],
  ratios: [
    { of: '10 min after a setpoint', to: '1 min after a setpoint', aim: '1' },
    { of: '60 min after a setpoint', to: '1 min after a setpoint', aim: '1' },
  ],
};

/** Both, one after the other. */
export async function print(rounds?: number): Promise<void> {
  for (const benchmark of [pipeline, longer]) {
    console.log(`${table(benchmark, await measure(benchmark, rounds))}\n`);
  }
}
