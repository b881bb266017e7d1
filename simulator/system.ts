/**
 * The whole of a simulated visit: outdoor air, one outdoor unit, its heads with their rooms, and the
 * probes that look at them.
 *
 * It is moved by `advance` in fixed inner steps, so that the readings are the same however it is
 * called, and it reads no clock. For tests and benchmarks it also tells the truth that the probes
 * only approach.
 */
import { vapourPressurePa } from '../server/measure/moist-air.ts';
import type { Air } from './air.ts';
import { type AnemometerParameters, HeldAnemometer } from './anemometer.ts';
import { type Heater, IndoorUnit, type IndoorUnitParameters } from './indoor-unit.ts';
import type { OpeningParameters } from './outlet-field.ts';
import { outdoorAir, type OutdoorAirParameters } from './outdoor-air.ts';
import { type CompressorState, OutdoorUnit, type OutdoorUnitParameters } from './outdoor-unit.ts';
import { type Moment, Places } from './places.ts';
import { Probe, type ProbeParameters, type ProbeReading } from './probe.ts';
import { randomStream } from './random.ts';
import { Room, type RoomParameters } from './room.ts';
import { Thermostat, type ThermostatParameters } from './thermostat.ts';
import { refuseAnother } from './same-site.ts';
import { type UnitTruth, unitTruth } from './truth.ts';

/** The length of the inner steps, ms. */
export const STEP_MS = 500;
const STEP_S = STEP_MS / 1000;

export interface UnitParameters {
  readonly id: string;
  readonly name: string;
  readonly room: RoomParameters;
  readonly head: IndoorUnitParameters;
  readonly thermostat: ThermostatParameters;
  readonly setpointC: number;
  /** The fan speed at the start. */
  readonly fan: string;
  /** How much warmer the air is at the right end of the outlet than at the left one, K; 0: even. */
  readonly outletK?: number;
  /** Its outlet as an anemometer finds it; none: nobody can traverse it. */
  readonly opening?: OpeningParameters;
}

/** Everything that a simulated visit depends on, but for the seed. */
export interface SystemParameters {
  readonly title: string;
  readonly mode: 'cooling' | 'heating';
  readonly pressurePa: number;
  readonly outdoorAir: OutdoorAirParameters;
  readonly outdoorUnit: OutdoorUnitParameters;
  readonly units: readonly UnitParameters[];
  readonly probes: readonly ProbeParameters[];
  /** The one that is held in a hand. */
  readonly anemometer?: AnemometerParameters | undefined;
  /** How long the machine has been on when the visit begins, s. */
  readonly warmUpS: number;
}

/**
 * What is left to chance: in the air (the machine's hunting), and in what the probes make of it. Those who
 * share the first and not the second hold probes of their own in the very same air.
 */
export interface Seeds {
  readonly air: number;
  readonly probes: number;
}

/** What a system is to become, and when, ms since the epoch. */
interface Change {
  readonly t: number;
  readonly parameters: SystemParameters;
}

interface Head {
  parameters: UnitParameters;
  readonly room: Room;
  readonly unit: IndoorUnit;
  readonly thermostat: Thermostat;
}

export class System {
  readonly outdoorUnit: OutdoorUnit;
  readonly #heads: readonly Head[];
  readonly #probes: readonly Probe[];
  readonly #places: Places;
  readonly #hands: ReadonlyMap<string, HeldAnemometer>;
  /** Whose opening is traversed. */
  #traversed: string | null = null;
  readonly #outdoorAt: (elapsedS: number) => Air;
  readonly #sign: number;
  #parameters: SystemParameters;
  /** In order of their times. */
  #changes: Change[] = [];
  #originT: number;
  #elapsedMs = 0;
  #outdoor: Air;

  /**
   * @param seed one for all, or one each
   * @param startT when the visit begins, ms since the epoch
   * @throws RangeError where the parameters name a fan speed or a unit that is not there
   */
  constructor(parameters: SystemParameters, seed: number | Seeds, startT: number) {
    const { pressurePa, mode, units } = parameters;
    const seeds = typeof seed === 'number' ? { air: seed, probes: seed } : seed;
    this.#parameters = parameters;
    this.#sign = mode === 'cooling' ? 1 : -1;
    this.#originT = startT;
    this.#outdoorAt = outdoorAir(parameters.outdoorAir, pressurePa);
    this.#outdoor = this.#outdoorAt(0);
    this.#heads = units.map((unit) => this.#makeHead(unit));
    this.outdoorUnit = new OutdoorUnit(
      parameters.outdoorUnit,
      units.length,
      mode === 'heating',
      pressurePa,
      randomStream(seeds.air, 'hunting'),
    );
    this.#probes = parameters.probes.map((probe) => {
      if (probe.unit !== null) this.#head(probe.unit);
      return new Probe(probe, seeds.probes, STEP_MS);
    });
    this.#places = new Places(this.#probes);
    this.#hands = this.#makeHands(seeds.probes);
    for (let s = 0; s < parameters.warmUpS; s += STEP_S) this.#step(null);
  }

  /** What it is now; what has been told to it since (a setpoint, a fan speed) does not stand here. */
  get parameters(): SystemParameters {
    return this.#parameters;
  }

  /** The time that has been reached, ms since the epoch. */
  get t(): number {
    return this.#originT + this.#elapsedMs;
  }

  /** When it began, ms since the epoch; later by what was skipped. */
  get startT(): number {
    return this.#originT;
  }

  /**
   * Moves on by whole inner steps, as far as they fit before `toT`.
   * @returns the readings on the way, in order of their time
   */
  advance(toT: number): ProbeReading[] {
    const readings: ProbeReading[] = [];
    while (this.t + STEP_MS <= toT) this.#step(readings);
    return readings;
  }

  /** Lets time pass in which nothing happens: the readings go on later, and leave a gap. */
  skip(ms: number): void {
    this.#originT += ms;
  }

  /**
   * Becomes another system of the same site, and goes on from where it is: rooms, coils, compressor and
   * probes do not jump. A setpoint or a fan speed counts where it differs from what the parameters said
   * before; else what was told stays.
   * @param atT when, ms since the epoch; one that is past is now
   * @throws RangeError for another site, mode, weather, room, or other units or probes
   */
  become(parameters: SystemParameters, atT: number = this.t): void {
    refuseAnother(this.#parameters, parameters);
    if (atT <= this.t) return this.#become(parameters);
    this.#changes.push({ t: atT, parameters });
    this.#changes.sort((a, b) => a.t - b.t);
  }

  /** @throws RangeError for an unknown unit */
  setpoint(unit: string, valueC: number): void {
    this.#head(unit).thermostat.setpointC = valueC;
  }

  /** @throws RangeError for an unknown unit or fan speed */
  fan(unit: string, speed: string): void {
    this.#head(unit).unit.setFan(speed);
  }

  /** Lays these probes side by side in the first one's room, as for a check; none: all hang again. */
  layTogether(ids: readonly string[]): void {
    this.#places.layTogether(ids);
  }

  /** Takes a probe to the left end of a unit's outlet or intake; null: it hangs again. */
  walkAlong(walk: { id: string; unit: string; place: 'return' | 'supply' } | null): void {
    this.#places.walkAlong(walk);
  }

  /** It goes from there to the right end and back, again and again. */
  walkOn(): void {
    this.#places.walkOn(this.#elapsedMs);
  }

  /** Takes a probe in a warm hand, wherever it hangs; null: it hangs again. */
  warm(id: string | null): void {
    this.#places.warm(id);
  }

  /**
   * The anemometer in a hand before the opening of a unit: told what to do by its `hand`, it speaks until
   * it is taken away (null). @returns null for a unit that has no opening, or where there is no anemometer
   */
  traverse(unit: string | null): HeldAnemometer | null {
    this.#traversed = unit;
    return this.#hands.get(unit ?? '') ?? null;
  }

  /** Switches a unit's cooling or heating off and lets its fan run, or ends that. */
  fanAlone(unit: string, alone: boolean): void {
    this.#head(unit).unit.fanAlone = alone;
  }

  /** Puts a heater before the intake of a unit; the probes of the return hang before it. */
  heater(unit: string, heater: Heater): void {
    this.#head(unit).unit.setHeater(heater);
  }

  /** The fan speed of a unit. @throws RangeError for an unknown unit */
  fanOf(unit: string): string {
    return this.#head(unit).unit.fan;
  }

  get compressor(): CompressorState {
    return this.outdoorUnit.state;
  }
  get outdoor(): Air {
    return this.#outdoor;
  }

  /** @throws RangeError for an unknown unit */
  truth(unitId: string): UnitTruth {
    return unitTruth(this.#head(unitId), this.#sign);
  }

  /** The room and the indoor unit themselves, for balances. @throws RangeError if unknown */
  parts(unitId: string): { readonly room: Room; readonly unit: IndoorUnit } {
    return this.#head(unitId);
  }

  /** The fixed error of a probe's sensor, drawn within its limits. */
  probeError(id: string, quantity: Parameters<Probe['errorOf']>[0]): number {
    return this.#probes.find((probe) => probe.parameters.id === id)?.errorOf(quantity) ?? 0;
  }

  #makeHead(parameters: UnitParameters): Head {
    const { pressurePa } = this.#parameters;
    const room = new Room(parameters.room, pressurePa);
    const heating = this.#sign < 0;
    const start = { fan: parameters.fan, heating, roomAir: room.air };
    return {
      parameters,
      room,
      unit: new IndoorUnit(parameters.head, start, pressurePa),
      thermostat: new Thermostat(
        parameters.thermostat,
        parameters.setpointC,
        room.air.temperatureC,
        this.#sign,
      ),
    };
  }

  #head(id: string): Head {
    const head = this.#heads.find((each) => each.parameters.id === id);
    if (head === undefined) {
      const ids = this.#heads.map((each) => each.parameters.id).join(', ');
      throw new RangeError(`unit "${id}" is not one of ${ids}`);
    }
    return head;
  }

  #become(parameters: SystemParameters): void {
    for (const to of parameters.units) {
      const head = this.#head(to.id);
      const from = head.parameters;
      head.parameters = to;
      head.room.become(to.room);
      head.thermostat.become(to.thermostat);
      if (to.setpointC !== from.setpointC) head.thermostat.setpointC = to.setpointC;
      head.unit.become(to.head);
      if (to.fan !== from.fan) head.unit.setFan(to.fan);
    }
    this.outdoorUnit.become(parameters.outdoorUnit);
    const hangs = new Map(parameters.probes.map((probe) => [probe.id, probe]));
    for (const probe of this.#probes)
      probe.become(hangs.get(probe.parameters.id) ?? probe.parameters);
    this.#parameters = parameters;
  }

  /** One inner step. `readings` is null while warming up: the visit has not begun. */
  #step(readings: ProbeReading[] | null): void {
    const elapsedS = this.#elapsedMs / 1000;
    while ((this.#changes[0]?.t ?? Infinity) <= this.t) {
      const change = this.#changes.shift();
      if (change !== undefined) this.#become(change.parameters);
    }
    this.#outdoor = this.#outdoorAt(elapsedS);
    for (const { thermostat, unit } of this.#heads) {
      thermostat.step(STEP_S, unit.return.temperatureC);
      unit.autoFan(thermostat.errorK);
    }
    this.outdoorUnit.step(
      STEP_S,
      this.#outdoor,
      this.#heads.map(({ thermostat, unit, parameters }) => ({
        calling: thermostat.calling && !unit.fanAlone,
        demand: unit.fanAlone ? 0 : thermostat.demand,
        maxW: parameters.head.maxW,
        surfaceC: unit.coil.surfaceC,
      })),
    );
    this.#heads.forEach(({ room, unit }, i) => {
      const refrigerantW = this.outdoorUnit.refrigerantW[i] ?? 0;
      const gained = unit.step(STEP_S, room.air, refrigerantW);
      room.step(STEP_S, elapsedS, { outdoor: this.#outdoor, ...gained });
    });
    this.#measure(readings);
    if (readings !== null) this.#elapsedMs += STEP_MS;
  }

  #measure(readings: ProbeReading[] | null): void {
    const fromMs = this.#elapsedMs;
    const first = readings?.length ?? 0;
    const moment: Moment = {
      elapsedMs: fromMs,
      outdoor: this.#outdoor,
      pressurePa: this.#parameters.pressurePa,
      powerW: this.outdoorUnit.powerW,
      head: (id) => this.#head(id),
    };
    for (const probe of this.#probes) {
      const around = this.#places.around(probe, moment);
      if (readings === null) {
        probe.follow(STEP_S, around);
        continue;
      }
      probe.step(fromMs, fromMs + STEP_MS, around, (elapsedMs, reading) => {
        reading.t = this.#originT + elapsedMs;
        readings.push(reading);
      });
    }
    if (readings !== null) this.#measureTraverse(readings);
    if (readings === null || readings.length - first < 2) return;
    readings.push(...readings.splice(first).sort((a, b) => a.t - b.t));
  }

  #makeHands(seed: number): Map<string, HeldAnemometer> {
    const { units, anemometer } = this.#parameters;
    const hands = new Map<string, HeldAnemometer>();
    for (const { id, opening } of units) {
      if (opening === undefined || anemometer === undefined) continue;
      hands.set(id, new HeldAnemometer(opening, anemometer, seed));
    }
    return hands;
  }

  #measureTraverse(readings: ProbeReading[]): void {
    const held = this.#hands.get(this.#traversed ?? '');
    if (held === undefined || this.#traversed === null) return;
    const { unit, room } = this.#head(this.#traversed);
    const stream = { flowM3s: unit.flowM3s, temperatureC: unit.register.temperatureC };
    const { pressurePa } = this.#parameters;
    const still = {
      temperatureC: room.air.temperatureC,
      vapourPressurePa: vapourPressurePa(room.air.humidityRatio, pressurePa),
      ...{ velocityMs: 0, pressurePa, powerW: 0 },
    };
    held.step(this.#elapsedMs, this.#elapsedMs + STEP_MS, stream, still, (elapsedMs, reading) => {
      reading.t = this.#originT + elapsedMs;
      readings.push(reading);
    });
  }
}
