/**
 * An indoor unit: fan, filter and coil. Room air, with a little of its own supply air in it, comes
 * in at the return, passes the coil, takes up the fan's heat and leaves at the supply. One that dries
 * the air with reheat gives a part of the heat back behind the coil; one with a duct blows through it.
 *
 * The fan moves a volume; dirt on its wheel, a loaded filter and a wet coil make it less. The volume
 * is that of the supply, since the wheel sits behind the coil.
 */
import { moistHeat } from '../server/measure/air-model.ts';
import { volumeM3kg } from '../server/measure/moist-air.ts';
import { type Air, enthalpyOf, mix, warm } from './air.ts';
import { Coil, type CoilParameters } from './coil.ts';

export interface FanSpeed {
  readonly name: string;
  /** Flow at the supply with a dry coil and all clean, m³/s. */
  readonly flowM3s: number;
  /** Electrical power, all of which ends as heat in the air, W. */
  readonly powerW: number;
}

/** A duct through a space of another temperature. */
export interface Duct {
  /** Heat through its walls for each kelvin of difference, W/K. */
  readonly conductanceWK: number;
  readonly spaceC: number;
}

export interface IndoorUnitParameters {
  /** Slowest first. */
  readonly fanSpeeds: readonly FanSpeed[];
  readonly coil: CoilParameters;
  /** Full capacity of this unit at rating conditions, W. */
  readonly maxW: number;
  /** Dirt on the blower wheel, 0 (clean) … 1. */
  readonly fouling: number;
  /** Dust in the filter, 0 (clean) … 1. */
  readonly filterLoading: number;
  /** Dirt between the fins of the coil, 0 (clean) … 1: less air, and less of it touches metal. */
  readonly coilFouling: number;
  /** Loss of flow when all of the coil is wet, as a part. */
  readonly wetLoss: number;
  /** Part of the supply air that finds its way back to the return. */
  readonly recirculation: number;
  /** Part of what the refrigerant takes that it gives back behind the coil (drying with reheat). */
  readonly reheat: number;
  /** What lies between the head's own outlet and the register in the room; null: nothing. */
  readonly duct: Duct | null;
  /** Free outlet area, m²: flow over it is the outlet's velocity. */
  readonly outletM2: number;
  /** The fan on auto: which speed how far from the setpoint. Until a speed is told; none: it stays. */
  readonly autoFan?: readonly AutoFanStep[];
  /** A louvre that swings; none: it stands. */
  readonly louvre?: LouvreParameters;
}

/** From so far on the wrong side of the setpoint on, K, the fan runs at this speed. Slowest first. */
export interface AutoFanStep {
  readonly fromK: number;
  readonly speed: string;
}

/** A swinging louvre turns the stream away from what hangs in it, and back. */
export interface LouvreParameters {
  /** There and back, s. */
  readonly periodS: number;
  /** How much room air what hangs there is in when the stream is farthest away, as a part. */
  readonly away: number;
}

/** A heater before the intake, behind whatever hangs there. */
export interface Heater {
  readonly powerW: number;
  /** The part of its heat that goes into the room beside the intake. */
  readonly escape: number;
}

/**
 * Flow that is lost with a wheel as dirty, a filter as full, a coil as clogged as they get: the same part at
 * every speed. By the fan laws both flow and what a passage lets through go with the speed.
 */
const FOULING_LOSS = 0.35;
const FILTER_LOSS = 0.25;
const COIL_LOSS = 0.15;
/** Transfer units that a coil as clogged as they get has lost. */
const COIL_TRANSFER_LOSS = 0.4;
/** Time constant of the fan's speed, s. */
const FAN_LAG_S = 3;
/** What still moves when the fan waits, as a part of its flow: draught, so never quite none. */
const WAITING_FLOW = 0.03;
/** On auto it goes back to the slower speed only when this much nearer to the setpoint, K. */
const AUTO_BACK_K = 0.3;
/** When heating, the fan waits for a coil this much warmer than the return, and below that again, K. */
const WARM_ENOUGH_K = 6;
const TOO_COLD_K = 1;

/** By how much dirt and water reduce the flow, as a factor. */
export function flowFactor(
  parameters: Pick<IndoorUnitParameters, 'fouling' | 'filterLoading' | 'coilFouling' | 'wetLoss'>,
  wetShare: number,
): number {
  const { fouling, filterLoading, coilFouling, wetLoss } = parameters;
  const clogged = (1 - FILTER_LOSS * filterLoading) * (1 - COIL_LOSS * coilFouling);
  return (1 - FOULING_LOSS * fouling) * clogged * (1 - wetLoss * wetShare);
}

/** The coil with the dirt that is on it. */
export function dirtyCoil({ coil, coilFouling }: IndoorUnitParameters): CoilParameters {
  const left = 1 - COIL_TRANSFER_LOSS * coilFouling;
  return { ...coil, contactFactor: 1 - (1 - coil.contactFactor) ** left };
}

/** Air at the end of a duct: it nears the space around, the more slowly the more of it flows. */
function throughDuct(air: Air, dryAirKgS: number, { conductanceWK, spaceC }: Duct): Air {
  const heat = moistHeat(air.humidityRatio);
  const nears = 1 - Math.exp(-conductanceWK / (dryAirKgS * heat));
  return warm(air, heat * (spaceC - air.temperatureC) * nears);
}

export class IndoorUnit {
  readonly coil: Coil;
  #parameters: IndoorUnitParameters;
  readonly #pressurePa: number;
  readonly #heating: boolean;
  #waiting: boolean;
  #auto: boolean;
  #speed: FanSpeed;
  #fan: number; // its flow through what dirt leaves open, with a dry coil, m³/s
  #return: Air;
  #supply: Air;
  #register: Air;
  #dryAirKgS = 0;
  #heater: Heater = { powerW: 0, escape: 0 };
  /** The fan runs alone: it does not wait for a warm coil. */
  fanAlone = false;

  /** @throws RangeError for a fan speed that it does not have */
  constructor(
    parameters: IndoorUnitParameters,
    start: { fan: string; heating: boolean; roomAir: Air },
    pressurePa: number,
  ) {
    const { fan, heating, roomAir } = start;
    this.#parameters = parameters;
    this.#heating = heating;
    this.#waiting = heating;
    this.#pressurePa = pressurePa;
    this.coil = new Coil(dirtyCoil(parameters), roomAir.temperatureC, pressurePa);
    this.#auto = parameters.autoFan !== undefined;
    this.#speed = this.#speedOf(fan);
    this.#fan = this.#wantedM3s();
    this.#return = roomAir;
    this.#supply = roomAir;
    this.#register = roomAir;
  }

  get return(): Air {
    return this.#return;
  }
  get supply(): Air {
    return this.#supply;
  }
  /** The air as it comes into the room: at the end of the duct, where there is one. */
  get register(): Air {
    return this.#register;
  }
  get dryAirKgS(): number {
    return this.#dryAirKgS;
  }
  /** Actual flow at the supply, m³/s. */
  get flowM3s(): number {
    return this.#dryAirKgS * this.#supplyVolume();
  }
  get fan(): string {
    return this.#speed.name;
  }
  /** Whether it waits for a warm coil (heating only). */
  get fanWaiting(): boolean {
    return this.#waiting;
  }

  /** @throws RangeError for a fan speed that it does not have */
  setFan(name: string): void {
    this.#speed = this.#speedOf(name);
    this.#auto = false;
  }

  /**
   * Is built, or dirty, otherwise from now on: coil and air stay as they are, and the fan comes to its new
   * flow as it does to that of another speed.
   * @throws RangeError where it no longer has the speed at which it runs
   */
  become(parameters: IndoorUnitParameters): void {
    const hadAuto = this.#parameters.autoFan !== undefined;
    this.#parameters = parameters;
    this.#speed = this.#speedOf(this.#speed.name);
    this.coil.become(dirtyCoil(parameters));
    if (hadAuto !== (parameters.autoFan !== undefined)) this.#auto = !hadAuto;
  }

  /** Puts a heater before the intake, or takes it away (0 W). */
  setHeater(heater: Heater): void {
    this.#heater = heater;
  }

  /** On auto the fan takes the speed for a room so far on the wrong side of the setpoint, K. */
  autoFan(errorK: number): void {
    const steps = this.#parameters.autoFan;
    if (!this.#auto || steps === undefined) return;
    const now = steps.findIndex(({ speed }) => speed === this.#speed.name);
    const least = steps.findLastIndex(({ fromK }) => errorK >= fromK);
    const most = steps.findLastIndex(({ fromK }) => errorK >= fromK - AUTO_BACK_K);
    const step = steps[Math.min(Math.max(now, least), most)];
    if (step !== undefined) this.#speed = this.#speedOf(step.speed);
  }

  /** How much of the air around what hangs in the supply is the room's, `elapsedS` into the visit. */
  awayAt(elapsedS: number): number {
    const { louvre } = this.#parameters;
    if (louvre === undefined) return 0;
    return (louvre.away / 2) * (1 - Math.cos((2 * Math.PI * elapsedS) / louvre.periodS));
  }

  /**
   * Moves the unit on by `dtS` seconds.
   * @param refrigerantW heat that the refrigerant takes from the coil (negative: gives)
   * @returns heat and water that the room's air gained, W and kg/s
   */
  step(dtS: number, roomAir: Air, refrigerantW: number): { unitW: number; unitKgS: number } {
    const p = this.#parameters;
    this.#waitForWarmth();
    this.#fan += (this.#wantedM3s() - this.#fan) * (1 - Math.exp(-dtS / FAN_LAG_S));
    const flowM3s = this.#fan * (1 - p.wetLoss * this.coil.wetShare);

    const entering = mix(roomAir, this.#supply, p.recirculation);
    const dryAirKgS = flowM3s / this.#supplyVolume();
    const { powerW, escape } = this.#heater;
    const heated = powerW === 0 ? entering : warm(entering, (powerW * (1 - escape)) / dryAirKgS);
    const leaving = this.coil.step(dtS, heated, dryAirKgS, refrigerantW);
    // Air that dirt holds back takes no power either.
    const fanW = this.#waiting ? 0 : this.#speed.powerW * flowFactor(p, 0);
    this.#return = entering;
    const reheatW = p.reheat * Math.max(refrigerantW, 0);
    this.#supply = warm(leaving, (fanW + reheatW) / dryAirKgS);
    this.#register = p.duct === null ? this.#supply : throughDuct(this.#supply, dryAirKgS, p.duct);
    this.#dryAirKgS = dryAirKgS;
    return {
      unitW: dryAirKgS * (enthalpyOf(this.#register) - enthalpyOf(entering)) + powerW * escape,
      unitKgS: dryAirKgS * (this.#supply.humidityRatio - entering.humidityRatio),
    };
  }

  /** No cold draught when heating: after a start, while defrosting, when the compressor rests. */
  #waitForWarmth(): void {
    if (!this.#heating) return;
    if (this.fanAlone) {
      this.#waiting = false;
      return;
    }
    const aboveK = this.coil.surfaceC - this.#return.temperatureC;
    if (aboveK < TOO_COLD_K) this.#waiting = true;
    else if (aboveK > WARM_ENOUGH_K) this.#waiting = false;
  }

  /** What the fan comes to with a dry coil, m³/s. */
  #wantedM3s(): number {
    const share = this.#waiting ? WAITING_FLOW : 1;
    return this.#speed.flowM3s * share * flowFactor(this.#parameters, 0);
  }

  #supplyVolume(): number {
    const { temperatureC, humidityRatio } = this.#supply;
    return volumeM3kg(temperatureC, humidityRatio, this.#pressurePa);
  }

  #speedOf(name: string): FanSpeed {
    const speeds = this.#parameters.fanSpeeds;
    const speed = speeds.find((each) => each.name === name);
    if (speed === undefined) {
      const names = speeds.map((each) => each.name).join(', ');
      throw new RangeError(`fan speed "${name}" is not one of ${names}`);
    }
    return speed;
  }
}
