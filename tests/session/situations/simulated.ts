/** A simulated visit through a session, with a technician's acts: what each second says, and the truth. */
import { fanTable } from '../../../adapters/simulated/fan-table.ts';
import { setUpLines } from '../../../adapters/simulated/set-up.ts';
import type { Airflow } from '../../../adapters/contract.ts';
import type { UnitSnapshot } from '../../../server/protocol.ts';
import { System, type SystemParameters } from '../../../simulator/system.ts';
import { T0, TestVisit } from '../visit.ts';

const SOURCE = { adapter: 'simulated', simulated: true };

export interface Act {
  atS: number;
  unit?: string;
  setpointC?: number;
  fan?: string;
  /** The machine does it, and nobody tells. */
  untold?: boolean;
}

/** @param look is given each second's snapshot of each unit */
export function play(
  parameters: SystemParameters,
  seed: number,
  endS: number,
  acts: readonly Act[],
  look: (s: number, unit: UnitSnapshot, id: string, system: System) => void,
): TestVisit {
  const system = new System(parameters, seed, T0);
  const airflowOf = (id: string, speed: string): Airflow | null => {
    const unit = parameters.units.find((each) => each.id === id);
    return unit === undefined ? null : fanTable(unit, parameters.mode, seed)(speed);
  };
  const fanOf = (id: string): string => parameters.units.find((unit) => unit.id === id)?.fan ?? '';
  const visit = new TestVisit(
    setUpLines(parameters, (id) => ({ first: airflowOf(id, fanOf(id)) }), T0),
  );
  for (let s = 1; s <= endS; s++) {
    const t = T0 + 1000 * s;
    for (const act of acts) if (act.atS === s) perform(act, t);
    for (const reading of system.advance(t)) visit.take({ type: 'reading', ...reading }, SOURCE);
    visit.session.advanceTo(t);
    for (const [id, unit] of Object.entries(visit.snapshots.at(-1)?.units ?? {})) {
      look(s, unit, id, system);
    }
    // Of hours of seconds only the last one is of use.
    visit.snapshots.splice(0, visit.snapshots.length - 1);
  }
  return visit;

  function perform({ unit = 'u1', setpointC, fan, untold = false }: Act, t: number): void {
    if (setpointC !== undefined) {
      system.setpoint(unit, setpointC);
      if (!untold) visit.take({ type: 'event', t, kind: 'setpoint', unit, valueC: setpointC });
    }
    if (fan === undefined) return;
    system.fan(unit, fan);
    const airflow = airflowOf(unit, fan);
    if (untold || airflow === null) return;
    visit.take({ type: 'event', t, kind: 'fan', unit, speed: fan });
    visit.take({ type: 'airflow', t, unit, airflow });
  }
}

/** The same with probes that follow so many times more slowly. */
export function slower(parameters: SystemParameters, times: number): SystemParameters {
  return {
    ...parameters,
    probes: parameters.probes.map((probe) => {
      const { temperatureC: t, humidityPct: h } = probe.sensors;
      return {
        ...probe,
        sensors: {
          ...probe.sensors,
          ...(t === undefined ? {} : { temperatureC: { ...t, lagS: t.lagS * times } }),
          ...(h === undefined ? {} : { humidityPct: { ...h, lagS: h.lagS * times } }),
        },
      };
    }),
  };
}

/** When a doubt was first there, s, and in which words; null: never. */
export function firstOf(
  code: string,
  parameters: SystemParameters,
  seed: number,
  endS: number,
  acts: readonly Act[],
): { s: number; text: string; effect: string } | null {
  let first: { s: number; text: string; effect: string } | null = null;
  play(parameters, seed, endS, acts, (s, { doubts }, id) => {
    const found = id === 'u1' ? doubts.find((doubt) => doubt.code === code) : undefined;
    if (found !== undefined) first ??= { s, text: found.text, effect: found.effect };
  });
  return first;
}
