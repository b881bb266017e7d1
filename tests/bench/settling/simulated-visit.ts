/** A visit to the simulator: a technician's acts, the truth second by second, and what is said. */
import type { Airflow, EventLine, Line } from '../../../adapters/contract.ts';
import { flowFactor } from '../../../simulator/indoor-unit.ts';
import { type Random, randomStream } from '../../../simulator/random.ts';
import { System, type SystemParameters } from '../../../simulator/system.ts';
import type { Act, Script } from './simulated-script.ts';
import { simulatedSegments } from './simulated-segments.ts';
import type { Visit } from './visit.ts';

const START_T = 1_777_885_200_000;
/** The unit that is looked at. */
const UNIT = 'u1';
/** ± that is stated of the airflow, and the error that is drawn; the coil's getting wet needs the rest. */
const FLOW_LIMIT_PCT = 6;
const FLOW_ERROR_PCT = 4.5;

/** @param seed of the probes' errors and noise, and of the airflow's error */
export function playScript(kind: string, script: Script, seed: number): Visit {
  const { parameters, acts, endS } = script;
  const random = randomStream(seed, `simulator ${kind}`);
  const system = new System(parameters, 1000 * seed + hash(kind), START_T - 1000);
  const airflows = new Map(parameters.units.map((unit) => [unit.id, airflowOf(unit, random)]));
  const lines: Line[] = [
    {
      ...{ type: 'visit', version: 1, mode: parameters.mode },
      pressurePa: parameters.pressurePa + random.between(-100, 100),
    },
    ...parameters.units.map(({ id, fan }): Line => ({
      type: 'unit',
      unevenPct: { return: 0, supply: 0 },
      id,
      ...optional(airflows.get(id)?.(fan)),
    })),
    ...parameters.probes.map(({ id, unit, place, sensors }): Line => {
      const { temperatureC, humidityPct } = sensors;
      const limits = { temperatureC: temperatureC?.limit, humidityPct: humidityPct?.limit };
      return { type: 'probe', id, unit, place, limits };
    }),
  ];
  const n = Math.floor(endS);
  const told = new Map<number, Line[]>();
  const truth = { trueW: new Float64Array(n), trueLatentW: new Float64Array(n) };
  const compressor: string[] = [];
  for (let i = 0; i < n; i++) {
    for (const act of acts) {
      if (act.atS !== i) continue;
      if (act.setpointC !== undefined) system.setpoint(act.unit, act.setpointC);
      if (act.fan !== undefined) system.fan(act.unit, act.fan);
      if (act.toldAfterS !== null) {
        const second = i + Math.floor(act.toldAfterS);
        const t = START_T - 1000 + Math.round(1000 * (i + act.toldAfterS));
        told.set(second, [...(told.get(second) ?? []), ...tellingOf(act, t, airflows)]);
      }
    }
    const endT = START_T + 1000 * i;
    const readings = system.advance(endT - 500);
    // The truth of a second is that of its middle.
    const { totalW, latentW } = system.truth(UNIT);
    truth.trueW[i] = totalW;
    truth.trueLatentW[i] = parameters.mode === 'cooling' ? latentW : 0;
    compressor.push(system.compressor);
    readings.push(...system.advance(endT));
    const second: Line[] = readings.map((reading) => ({ type: 'reading', ...reading }));
    second.push(...(told.get(i) ?? []));
    lines.push(...second.sort((a, b) => timeOf(a) - timeOf(b)));
  }
  return {
    ...{ source: 'simulator', kind, seed, aside: false, unit: UNIT, startT: START_T, lines },
    ...truth,
    levelW: null,
    knowledge: null,
    ...simulatedSegments(script, truth.trueW, compressor),
  };
}

function timeOf(line: Line): number {
  return 't' in line ? (line.t ?? 0) : 0;
}

function hash(text: string): number {
  let sum = 0;
  for (const letter of text) sum = (31 * sum + (letter.codePointAt(0) ?? 0)) % 997;
  return sum;
}

function optional(airflow: Airflow | undefined): { airflow?: Airflow } {
  return airflow === undefined ? {} : { airflow };
}

/** As measured at the outlet: what the fan moves at a speed, with an error. */
function airflowOf(
  { head }: SystemParameters['units'][number],
  random: Random,
): (speed: string) => Airflow | undefined {
  const error = 1 + (random.between(-1, 1) * FLOW_ERROR_PCT) / 100;
  return (speed) => {
    const clean = head.fanSpeeds.find(({ name }) => name === speed)?.flowM3s;
    if (clean === undefined) return undefined;
    return {
      ...{ source: 'grid', basis: 'actual', plane: 'supply', limitPct: FLOW_LIMIT_PCT },
      // Half wet: the rest is within the limit.
      flowM3s: clean * flowFactor(head, 0.5) * error,
    };
  };
}

function tellingOf(
  { unit, setpointC, fan }: Act,
  t: number,
  airflows: ReadonlyMap<string, (speed: string) => Airflow | undefined>,
): Line[] {
  const event = { type: 'event', t, unit } as const;
  const lines: Line[] = [];
  if (setpointC !== undefined) {
    const line: EventLine = { ...event, kind: 'setpoint', valueC: setpointC };
    lines.push(line);
  }
  if (fan !== undefined) {
    const airflow = airflows.get(unit)?.(fan);
    lines.push({ ...event, kind: 'fan', speed: fan });
    if (airflow !== undefined) lines.push({ type: 'airflow', t, unit, airflow });
  }
  return lines;
}
