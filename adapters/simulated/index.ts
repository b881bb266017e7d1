/**
 * The simulated source: a system, its rooms and its probes as physics (simulator/), paced by the
 * clock, at one to sixty times its speed. It follows setpoints and fan speeds as they are told.
 */
import type { ProbeReading } from '../../simulator/probe.ts';
import { scenario } from '../../simulator/scenarios.ts';
import { System } from '../../simulator/system.ts';
import type { Adapter, AdapterHost, Airflow, EventLine } from '../contract.ts';
import { AirflowPlay } from './airflow-play.ts';
import { fanTable } from './fan-table.ts';
import { announced, inHand, setUpLines } from './set-up.ts';

export { SCENARIO_NAMES } from '../../simulator/scenarios.ts';

export interface SimulatedOptions {
  /** One of the names in simulator/scenarios.ts; default `demo`. */
  scenario?: string | undefined;
  /** The same seed gives the same visit; default 1. */
  seed?: number | undefined;
  /** How many times faster than the clock, 1…60; default 1. */
  speed?: number | undefined;
  /** When the visit begins, ms since the epoch; default: now, at each start. */
  startT?: number | undefined;
  /** The clock, ms; default `Date.now`. */
  now?: (() => number) | undefined;
  /** How often readings are handed over, ms; default 250. */
  everyMs?: number | undefined;
  /** Where the readings go; default: to the host. */
  outlet?: Outlet | undefined;
}

/** Another way for the readings, by which they reach the server through an adapter of its own. */
export interface Outlet {
  /** What a probe of the simulation is called when it has arrived. */
  idOf(probe: string): string;
  start(): Promise<void>;
  stop(): void;
  feed(readings: readonly ProbeReading[]): void;
}

/** A pause of the clock longer than this is not made up for: the computer slept, or was set. */
const CATCH_UP_MS = 5000;
/** Setpoints that a unit takes, °C. */
const SETPOINT_C = { least: 10, most: 35 };

export interface SimulatedAdapter extends Adapter {
  /** Takes a probe in a warm hand, or none (null). @returns whether there is such a one */
  warm(probe: string | null): boolean;
}

/** One run, from `start` to `stop`. */
interface Run {
  readonly host: AdapterHost;
  readonly system: System;
  readonly fanTables: ReadonlyMap<string, (speed: string) => Airflow | null>;
  readonly play: AirflowPlay;
  readonly timer: NodeJS.Timeout;
}

/**
 * Makes the simulated adapter.
 * @throws RangeError for a scenario that there is not, or a speed out of range
 */
export function createSimulatedAdapter(options: SimulatedOptions = {}): SimulatedAdapter {
  const { seed = 1, speed = 1, now = Date.now, everyMs = 250, outlet } = options;
  const site = scenario(options.scenario ?? 'demo');
  // Readings that take another way come from probes that hang: that of the hand has no radio.
  const parameters = outlet === undefined ? site : { ...site, anemometer: undefined };
  if (!(speed >= 1 && speed <= 60)) {
    throw new RangeError(`the simulation's speed ${speed} is outside 1 to 60`);
  }
  const held = parameters.anemometer;
  const idOf = (probe: string): string => outlet?.idOf(probe) ?? probe;
  const probes = new Map(parameters.probes.map(({ id }) => [idOf(id), id]));
  let run: Run | null = null;

  function start(host: AdapterHost): void | Promise<void> {
    const wallStart = now();
    const startT = options.startT ?? wallStart;
    const system = new System(parameters, seed, startT);
    const fanTables = new Map(
      parameters.units.map((unit) => [unit.id, fanTable(unit, parameters.mode, seed)]),
    );
    const airflowOf = (id: string): Airflow | null => {
      const fan = parameters.units.find((unit) => unit.id === id)?.fan ?? '';
      return fanTables.get(id)?.(fan) ?? null;
    };
    for (const line of setUpLines(parameters, airflowOf, startT)) {
      host.emit(line.type === 'probe' ? { ...line, id: idOf(line.id) } : line);
    }
    const pace = pacer(system, { wallStart, startT, speed, now });
    const play = new AirflowPlay(system, seed, (line) => void host.emit(line));
    const timer = setInterval(() => {
      const readings = system.advance(pace());
      if (outlet !== undefined) outlet.feed(readings);
      else for (const reading of readings) host.emit({ type: 'reading', ...reading });
      play.tick();
    }, everyMs);
    run = { host, system, fanTables, play, timer };
    if (outlet === undefined) host.status('running');
    else return outlet.start().then(() => host.status('running'));
  }

  function event(line: EventLine): void {
    if (run === null) return;
    const { system, host, fanTables, play } = run;
    play.event(line);
    if (line.kind === 'setpoint' && fanTables.has(line.unit)) {
      const { least, most } = SETPOINT_C;
      if (line.valueC >= least && line.valueC <= most) system.setpoint(line.unit, line.valueC);
    }
    if (line.kind === 'check') {
      const together = line.phase === 'start' ? line.probes : [];
      system.layTogether(together.map((id) => probes.get(id) ?? id));
    }
    if (line.kind === 'walk') {
      const { phase, unit, place } = line;
      if (phase === 'go') system.walkOn();
      else if (phase === 'end') system.walkAlong(null);
      else system.walkAlong({ id: probes.get(line.probe) ?? line.probe, unit, place });
    }
    if (line.kind === 'fan') {
      const airflow = fanTables.get(line.unit)?.(line.speed) ?? null;
      // An unknown speed is free text about something else; one that it has already changes nothing.
      if (airflow === null || system.fanOf(line.unit) === line.speed) return;
      system.fan(line.unit, line.speed);
      host.emit({ type: 'airflow', t: system.t, unit: line.unit, airflow });
    }
  }

  function forget(id: string): void {
    if (held !== undefined && id === held.probe.id) run?.host.emit(inHand(held));
    const probe = parameters.probes.find((each) => each.id === probes.get(id));
    if (probe !== undefined) run?.host.emit({ ...announced(probe), id });
  }

  function warm(id: string | null): boolean {
    const probe = id === null ? null : probes.get(id);
    if (run === null || probe === undefined) return false;
    run.system.warm(probe);
    return true;
  }

  function stop(): void {
    if (run !== null) clearInterval(run.timer);
    run = null;
    outlet?.stop();
  }

  return { name: 'simulated', simulated: true, start, stop, event, forget, warm };
}

/**
 * How far the simulation should have come: the start of the visit plus the time that has passed,
 * times the speed, so that slow or late timers do not add up. After a long pause of the clock the
 * visit goes on from the present moment, with a gap and without a flood.
 */
function pacer(
  system: System,
  start: { wallStart: number; startT: number; speed: number; now: () => number },
): () => number {
  const { speed, now } = start;
  let { wallStart, startT } = start;
  let lastWall = wallStart;
  return () => {
    const wall = now();
    const passed = wall - lastWall;
    lastWall = wall;
    if (passed < 0) {
      // The clock was set back: go on from where the visit is; its time never runs back.
      wallStart = wall;
      startT = system.t;
    } else if (passed > CATCH_UP_MS) {
      system.skip(Math.max(startT + (wall - wallStart) * speed - system.t, 0));
    }
    return startT + (wall - wallStart) * speed;
  };
}
