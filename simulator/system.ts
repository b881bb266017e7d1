/**
 * The whole of a simulated visit: outdoor air, one outdoor unit, its heads with their rooms, and the
 * probes that look at them.
 *
 * It is moved by `advance` in fixed inner steps, so that the readings are the same however it is
 * called, and it reads no clock. For tests and benchmarks it also tells the truth that the probes
 * only approach.
 */
import { vapourPressurePa } from '../server/measure/moist-air.ts';
import { type Air, mix } from './air.ts';
import { type AnemometerParameters, HeldAnemometer } from './anemometer.ts';
import { type Heater, IndoorUnit, type IndoorUnitParameters } from './indoor-unit.ts';
import type { OpeningParameters } from './outlet-field.ts';
import { outdoorAir, type OutdoorAirParameters } from './outdoor-air.ts';
import { type CompressorState, OutdoorUnit, type OutdoorUnitParameters } from './outdoor-unit.ts';
import { Probe, type ProbeParameters, type ProbeReading, type Surroundings } from './probe.ts';
import { randomStream } from './random.ts';
import { Room, type RoomParameters } from './room.ts';
import { Thermostat, type ThermostatParameters } from './thermostat.ts';
import { type UnitTruth, unitTruth } from './truth.ts';

/** The length of the inner steps, ms. */
export const STEP_MS = 500;
const STEP_S = STEP_MS / 1000;
/** What a probe in a closed hand approaches, °C: skin (common practice, no source). */
const HAND_C = 33;

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

/** A probe that is walked along a place; since when, ms since the start: null while it is held still. */
interface Walking {
  readonly id: string;
  readonly unit: string;
  readonly place: 'return' | 'supply';
  fromMs: number | null;
}
/** From one end to the other. */
const WALK_MS = 30_000;

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

interface Head {
  readonly parameters: UnitParameters;
  readonly room: Room;
  readonly unit: IndoorUnit;
  readonly thermostat: Thermostat;
}

export class System {
  readonly parameters: SystemParameters;
  readonly outdoorUnit: OutdoorUnit;
  readonly #heads: readonly Head[];
  readonly #probes: readonly Probe[];
  readonly #hands: ReadonlyMap<string, HeldAnemometer>;
  /** Whose opening is traversed. */
  #traversed: string | null = null;
  readonly #outdoorAt: (elapsedS: number) => Air;
  readonly #sign: number;
  #originT: number;
  #together: ReadonlySet<string> = new Set();
  #walk: Walking | null = null;
  #inHand: string | null = null;
  #elapsedMs = 0;
  #outdoor: Air;

  /**
   * @param startT when the visit begins, ms since the epoch
   * @throws RangeError where the parameters name a fan speed or a unit that is not there
   */
  constructor(parameters: SystemParameters, seed: number, startT: number) {
    const { pressurePa, mode, units } = parameters;
    this.parameters = parameters;
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
      randomStream(seed, 'hunting'),
    );
    this.#probes = parameters.probes.map((probe) => {
      if (probe.unit !== null) this.#head(probe.unit);
      return new Probe(probe, seed, STEP_MS);
    });
    this.#hands = this.#makeHands(seed);
    for (let s = 0; s < parameters.warmUpS; s += STEP_S) this.#step(null);
  }

  /** The time that has been reached, ms since the epoch. */
  get t(): number {
    return this.#originT + this.#elapsedMs;
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
    this.#together = new Set(ids);
  }

  /** Takes a probe to the left end of a unit's outlet or intake; null: it hangs again. */
  walkAlong(walk: { id: string; unit: string; place: 'return' | 'supply' } | null): void {
    this.#walk = walk === null ? null : { ...walk, fromMs: null };
  }

  /** It goes from there to the right end and back, again and again. */
  walkOn(): void {
    if (this.#walk !== null) this.#walk.fromMs = this.#elapsedMs;
  }

  /** Takes a probe in a warm hand, wherever it hangs; null: it hangs again. */
  warm(id: string | null): void {
    this.#inHand = id;
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
    const { pressurePa } = this.parameters;
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

  /** One inner step. `readings` is null while warming up: the visit has not begun. */
  #step(readings: ProbeReading[] | null): void {
    const elapsedS = this.#elapsedMs / 1000;
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
    for (const probe of this.#probes) {
      const around = this.#around(probe.parameters);
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
    const { units, anemometer } = this.parameters;
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
    const { pressurePa } = this.parameters;
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

  /** The air that probes lie in during a check: that of the room where the first of them hangs. */
  #commonAir(): Air {
    const units = this.#probes
      .filter(({ parameters }) => this.#together.has(parameters.id))
      .map(({ parameters }) => parameters.unit);
    const unit = units.find((each) => each !== null);
    return unit === undefined || unit === null ? this.#outdoor : this.#head(unit).room.air;
  }

  /** The air where a probe is that is walked along a place: its profile is a straight line. */
  #aroundWalked({ unit: unitId, place, fromMs }: Walking): Surroundings {
    const { pressurePa } = this.parameters;
    const { unit, parameters } = this.#head(unitId);
    const air = place === 'return' ? unit.return : unit.supply;
    const passed = fromMs === null ? 0 : ((this.#elapsedMs - fromMs) / WALK_MS) % 2;
    const position = passed < 1 ? passed : 2 - passed;
    const slopeK = place === 'return' ? 0 : (parameters.outletK ?? 0);
    return {
      temperatureC: air.temperatureC + slopeK * (position - 0.5),
      vapourPressurePa: vapourPressurePa(air.humidityRatio, pressurePa),
      velocityMs: unit.flowM3s / parameters.head.outletM2,
      pressurePa,
      powerW: this.outdoorUnit.powerW,
    };
  }

  #around({ id, unit: unitId, place, unevenK }: ProbeParameters): Surroundings {
    const { pressurePa } = this.parameters;
    const together = this.#together.has(id);
    if (this.#walk?.id === id && !together) return this.#aroundWalked(this.#walk);
    let air = this.#outdoor;
    let velocityMs = 0;
    if (together) {
      air = this.#commonAir();
    } else if (unitId !== null && place !== 'outdoor') {
      const { unit, room, parameters } = this.#head(unitId);
      const away =
        place === 'supply' || place === 'outlet' ? unit.awayAt(this.#elapsedMs / 1000) : 0;
      if (place === 'room') air = room.air;
      else air = place === 'return' ? unit.return : mix(unit.register, room.air, away);
      velocityMs = ((1 - away) * unit.flowM3s) / parameters.head.outletM2;
    }
    const airC = air.temperatureC + (together ? 0 : unevenK);
    return {
      temperatureC: id === this.#inHand ? HAND_C : airC,
      vapourPressurePa: vapourPressurePa(air.humidityRatio, pressurePa),
      velocityMs,
      pressurePa,
      powerW: this.outdoorUnit.powerW,
    };
  }
}
