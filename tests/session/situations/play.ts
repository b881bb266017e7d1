/**
 * A simulated visit for the situations: what the unit says each second, beside what is so. The physics is
 * the simulator's, whose balances of energy and water are tested (tests/simulator/balance.test.ts).
 */
import type { Line } from '../../../adapters/contract.ts';
import type { UnitSnapshot } from '../../../server/protocol.ts';
import { flowFactor } from '../../../simulator/indoor-unit.ts';
import { System, type SystemParameters } from '../../../simulator/system.ts';
import type { UnitTruth } from '../../../simulator/truth.ts';
import { T0, TestVisit } from '../visit.ts';

export interface Act {
  atS: number;
  unit?: string;
  setpointC?: number;
  fan?: string;
  /** Whether the log is told. Default: true. */
  told?: boolean;
}

export interface Second {
  s: number;
  unit: UnitSnapshot;
  truth: UnitTruth;
  /** The codes of its doubts. */
  codes: readonly string[];
  compressor: string;
}

interface Options {
  acts?: readonly Act[];
  seed?: number;
  /** False: nobody has told whether it cools or heats. */
  tellMode?: boolean;
  /** The units and probes that the visit knows of. */
  units?: readonly string[];
  /** Of each second of `u1`. */
  each: (second: Second) => void;
}

/** Plays `untilS` seconds of a system with probes as they are, and the airflow measured at the outlet. */
export function play(parameters: SystemParameters, untilS: number, options: Options): TestVisit {
  const { acts = [], seed = 1, tellMode = true, each } = options;
  const ids = options.units ?? parameters.units.map(({ id }) => id);
  const units = parameters.units.filter(({ id }) => ids.includes(id));
  const probes = parameters.probes.filter(({ unit }) => unit === null || ids.includes(unit));
  const heard = new Set(probes.map(({ id }) => id));
  const system = new System(parameters, seed, T0);
  const airflow = (id: string, fan: string): Line[] => {
    const head = units.find((unit) => unit.id === id)?.head;
    const clean = head?.fanSpeeds.find(({ name }) => name === fan)?.flowM3s;
    if (head === undefined || clean === undefined) return [];
    const flowM3s = clean * flowFactor(head, 0.5);
    const basis = { basis: 'actual', plane: 'supply', limitPct: 5 } as const;
    return [
      { type: 'airflow', t: system.t, unit: id, airflow: { source: 'grid', flowM3s, ...basis } },
    ];
  };
  const { mode, pressurePa } = parameters;
  const visit = new TestVisit([
    { type: 'visit', version: 1, pressurePa, ...(tellMode ? { mode } : {}) },
    ...units.map(({ id, name }): Line => ({ type: 'unit', id, name })),
    ...units.flatMap(({ id, fan }) => airflow(id, fan)),
    ...probes.map(({ id, name, unit, place, sensors }): Line => {
      const { temperatureC, humidityPct } = sensors;
      const limits = { temperatureC: temperatureC?.limit, humidityPct: humidityPct?.limit };
      return { type: 'probe', id, name, unit, place, limits };
    }),
  ]);
  for (let s = 1; s <= untilS; s++) {
    for (const { atS, unit = 'u1', setpointC, fan, told = true } of acts) {
      if (atS !== s) continue;
      if (setpointC !== undefined) system.setpoint(unit, setpointC);
      if (fan !== undefined) system.fan(unit, fan);
      if (!told || !ids.includes(unit)) continue;
      const event = { type: 'event', t: system.t, unit } as const;
      if (setpointC !== undefined) visit.take({ ...event, kind: 'setpoint', valueC: setpointC });
      if (fan === undefined) continue;
      visit.take({ ...event, kind: 'fan', speed: fan });
      for (const line of airflow(unit, fan)) visit.take(line);
    }
    for (const reading of system.advance(T0 + 1000 * s)) {
      if (heard.has(reading.probe)) visit.take({ type: 'reading', ...reading });
    }
    visit.session.advanceTo(T0 + 1000 * s);
    const unit = visit.unit();
    const codes = unit.doubts.map(({ code }) => code);
    each({ s, unit, truth: system.truth('u1'), codes, compressor: system.compressor });
    visit.snapshots.length = 0;
  }
  return visit;
}

/** The spans of seconds in which each code stood, by code. */
export function spansOf(seconds: readonly Second[]): Record<string, [number, number][]> {
  const spans: Record<string, [number, number][]> = {};
  for (const { s, codes } of seconds) {
    for (const code of new Set(codes)) {
      const of = (spans[code] ??= []);
      const last = of.at(-1);
      if (last?.[1] === s - 1) last[1] = s;
      else of.push([s, s]);
    }
  }
  return spans;
}
