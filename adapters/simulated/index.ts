/**
 * The simulated source: a system, its rooms and its probes as physics (simulator/), paced by the
 * clock, at one to sixty times its speed, or by a pace of others. It follows setpoints and fan speeds as
 * they are told, becomes another system in mid-run, and tells what was true.
 */
import type { ProbeReading } from '../../simulator/probe.ts';
import { scenario } from '../../simulator/scenarios.ts';
import { STEP_MS, System, type SystemParameters } from '../../simulator/system.ts';
import { type TruthMean, TruthSeries } from '../../simulator/truth-series.ts';
import type { Adapter, AdapterHost, EventLine } from '../contract.ts';
import { AirflowPlay } from './airflow-play.ts';
import { announced, inHand, setUpLines } from './set-up.ts';
import { type AirflowSource, type ToldAirflow, toldAirflow } from './told-airflow.ts';

export { SCENARIO_NAMES } from '../../simulator/scenarios.ts';

export interface SimulatedOptions {
  /** One of the names in simulator/scenarios.ts; default `demo`. */
  scenario?: string | undefined;
  /** The system itself, instead of a scenario's name. */
  parameters?: SystemParameters | undefined;
  /** What it becomes so long after its beginning, s. */
  changes?:
    readonly { readonly afterS: number; readonly parameters: SystemParameters }[] | undefined;
  /** The same seed gives the same visit; default 1. */
  seed?: number | undefined;
  /** Of the probes' errors and of the hand, where they are not of the same seed as the air. */
  probeSeed?: number | undefined;
  /** Whether the set-up says where the probes hang; default true. */
  placed?: boolean | undefined;
  /** How the airflow becomes known; default: looked up in the fan table as the speed is set. */
  airflow?: AirflowSource | undefined;
  /** How many times faster than the clock, 1…60; default 1. */
  speed?: number | undefined;
  /** When the visit begins, ms since the epoch; default: now, at each start. */
  startT?: number | undefined;
  /** The clock, ms; default `Date.now`. */
  now?: (() => number) | undefined;
  /**
   * How far the simulation should have come, ms since the epoch, instead of clock and speed: it may stand
   * still, and run fast. What is past when the adapter starts is played without being heard.
   */
  pace?: (() => number) | undefined;
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
  /**
   * Becomes another system of the same site, without a jump: see `System.become`. It stays so when the
   * adapter is started anew.
   * @param atT when, ms since the epoch; default: now
   */
  become(parameters: SystemParameters, atT?: number): void;
  /** What was true of a unit from one time to another, ms since the epoch; null where nothing is known. */
  truth(unit: string, fromT: number, toT: number): TruthMean | null;
}

/** One run, from `start` to `stop`. */
interface Run {
  readonly host: AdapterHost;
  readonly system: System;
  readonly airflows: ReadonlyMap<string, ToldAirflow>;
  readonly truths: ReadonlyMap<string, TruthSeries>;
  readonly play: AirflowPlay;
  readonly timer: NodeJS.Timeout;
}

/**
 * Makes the simulated adapter.
 * @throws RangeError for a scenario that there is not, or a speed out of range
 */
export function createSimulatedAdapter(options: SimulatedOptions = {}): SimulatedAdapter {
  const { seed = 1, speed = 1, now = Date.now, everyMs = 250, outlet } = options;
  const { probeSeed = seed, placed = true, airflow = { source: 'looked-up' } } = options;
  const site = options.parameters ?? scenario(options.scenario ?? 'demo');
  // Readings that take another way come from probes that hang: that of the hand has no radio.
  const parameters = outlet === undefined ? site : { ...site, anemometer: undefined };
  if (!(speed >= 1 && speed <= 60)) {
    throw new RangeError(`the simulation's speed ${speed} is outside 1 to 60`);
  }
  const held = parameters.anemometer;
  const idOf = (probe: string): string => outlet?.idOf(probe) ?? probe;
  const probes = new Map(parameters.probes.map(({ id }) => [idOf(id), id]));
  let run: Run | null = null;
  /** What it has been told to become, and when. */
  const became: { t: number; parameters: SystemParameters }[] = [];

  function start(host: AdapterHost): void | Promise<void> {
    const wallStart = now();
    const startT = options.startT ?? wallStart;
    const system = new System(parameters, { air: seed, probes: probeSeed }, startT);
    for (const change of options.changes ?? []) {
      system.become(change.parameters, startT + 1000 * change.afterS);
    }
    for (const change of became) system.become(change.parameters, change.t);
    const { mode, units } = parameters;
    const airflows = new Map(
      units.map((unit) => [unit.id, toldAirflow(unit, mode, seed, airflow)] as const),
    );
    const truths = new Map(units.map(({ id }) => [id, new TruthSeries(startT)] as const));
    if (options.pace !== undefined) advance(system, truths, options.pace());
    for (const line of setUpLines(parameters, (id) => airflows.get(id), system.t, placed)) {
      host.emit(line.type === 'probe' ? { ...line, id: idOf(line.id) } : line);
    }
    const pace = options.pace ?? pacer(system, { wallStart, startT, speed, now });
    const play = new AirflowPlay(system, probeSeed, (line) => void host.emit(line));
    const timer = setInterval(() => {
      const readings = advance(system, truths, pace());
      if (outlet !== undefined) outlet.feed(readings);
      else for (const reading of readings) host.emit({ type: 'reading', ...reading });
      play.tick();
    }, everyMs);
    run = { host, system, airflows, truths, play, timer };
    if (outlet === undefined) host.status('running');
    else return outlet.start().then(() => host.status('running'));
  }

  function event(line: EventLine): void {
    if (run === null) return;
    const { system, host, airflows, play } = run;
    play.event(line);
    if (line.kind === 'setpoint' && airflows.has(line.unit)) {
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
      const unit = parameters.units.find(({ id }) => id === line.unit);
      // An unknown speed is free text about something else; one that it has already changes nothing.
      if (!unit?.head.fanSpeeds.some(({ name }) => name === line.speed)) return;
      if (system.fanOf(unit.id) === line.speed) return;
      system.fan(unit.id, line.speed);
      const told = airflows.get(unit.id)?.at(line.speed) ?? null;
      if (told !== null) host.emit({ type: 'airflow', t: system.t, unit: unit.id, airflow: told });
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

  function become(next: SystemParameters, atT: number = run?.system.t ?? -Infinity): void {
    run?.system.become(next, atT);
    became.push({ t: atT, parameters: next });
  }

  function truth(unit: string, fromT: number, toT: number): TruthMean | null {
    return run?.truths.get(unit)?.mean(fromT, toT) ?? null;
  }

  function stop(): void {
    if (run !== null) clearInterval(run.timer);
    run = null;
    outlet?.stop();
  }

  return {
    ...{ name: 'simulated', simulated: true, start, stop, event, forget, warm },
    ...{ become, truth },
  };
}

/** Moves on from second to second, so that the truth of each can be kept. */
function advance(
  system: System,
  truths: ReadonlyMap<string, TruthSeries>,
  toT: number,
): ProbeReading[] {
  const readings: ProbeReading[] = [];
  while (system.t + STEP_MS <= toT) {
    const t = Math.min(system.t + 1000 - ((system.t - system.startT) % 1000), toT);
    for (const reading of system.advance(t)) readings.push(reading);
    if ((system.t - system.startT) % 1000 !== 0) continue;
    for (const [unit, series] of truths) series.keep(system.t, system.truth(unit));
  }
  return readings;
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
