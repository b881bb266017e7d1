/** What a simulated visit says before its first reading: the visit, its units, what they should deliver, its probes. */
import type { AnemometerParameters } from '../../simulator/anemometer.ts';
import type { ProbeParameters } from '../../simulator/probe.ts';
import { publishedTable } from '../../simulator/published.ts';
import type { SystemParameters } from '../../simulator/system.ts';
import type { Limits, Line, ProbeLine } from '../contract.ts';
import type { ToldAirflow } from './told-airflow.ts';

/** ± of the maker's capacities, %. */
const TABLE_LIMIT_PCT = 5;

/**
 * The set-up lines of a simulated visit, and the events that tell its first setpoints.
 * @param airflowOf what is told of a unit's airflow
 * @param t the time of those events, ms since the epoch
 * @param placed whether it says where the probes hang
 */
export function setUpLines(
  parameters: SystemParameters,
  airflowOf: (unit: string) => Pick<ToldAirflow, 'first' | 'table'> | undefined,
  t: number,
  placed = true,
): Line[] {
  const { title, pressurePa, mode, units, probes, anemometer } = parameters;
  return [
    { type: 'visit', version: 1, title, pressurePa, mode, simulated: true },
    ...units.map((unit): Line => {
      const fanSpeeds = unit.head.fanSpeeds.map((speed) => speed.name);
      const table = airflowOf(unit.id)?.table;
      return { type: 'unit', id: unit.id, name: unit.name, fanSpeeds, fanTable: table };
    }),
    ...units.map(({ id, head }): Line => {
      const points = publishedTable(parameters, id);
      const fan = head.fanSpeeds.at(-1)?.name;
      const limitPct = TABLE_LIMIT_PCT;
      return { type: 'expectation', unit: id, mode, net: true, fan, limitPct, points };
    }),
    ...probes.map((probe): Line => {
      if (!placed) return announced(probe);
      const { unit, place, saidPlace = place } = probe;
      return { ...announced(probe), unit, place: saidPlace };
    }),
    ...(anemometer === undefined ? [] : [inHand(anemometer)]),
    ...units.flatMap(({ id, opening }, i): Line[] => {
      if (opening === undefined) return [];
      const sections = opening.sections.map((size) => ({ ...size }));
      const { freeArea, shape } = opening;
      const name = 'Outlet';
      const { louverDeg } = shape;
      return [{ type: 'outlet', id: `o${i + 1}`, unit: id, name, sections, freeArea, louverDeg }];
    }),
    ...units.flatMap((unit): Line[] => [
      { type: 'event', t, kind: 'setpoint', unit: unit.id, valueC: unit.setpointC },
      { type: 'event', t, kind: 'fan', unit: unit.id, speed: unit.fan },
      // After the speed that it holds for: an earlier run may have left another.
      { type: 'unit', id: unit.id, airflow: airflowOf(unit.id)?.first ?? undefined },
    ]),
  ];
}

/** What a probe says of itself: its name and its data sheet, not where it hangs. */
export function announced(probe: ProbeParameters): ProbeLine {
  return { type: 'probe', id: probe.id, name: probe.name, limits: limitsOf(probe) };
}

/** The same of the anemometer, which hangs nowhere. */
export function inHand({ probe, headM }: AnemometerParameters): ProbeLine {
  return { ...announced(probe), anemometer: { kind: 'vane', headM } };
}

/** The ± of the data sheet, of what the probe measures. */
function limitsOf({ sensors }: ProbeParameters): Limits {
  return {
    temperatureC: sensors.temperatureC?.limit,
    humidityPct: sensors.humidityPct?.limit,
    velocityMs: sensors.velocityMs?.limit,
    velocityPct: sensors.velocityMs?.limitPct,
    pressurePa: sensors.pressurePa?.limit,
  };
}
