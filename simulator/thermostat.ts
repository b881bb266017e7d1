/**
 * The control in an indoor unit: compares the return air with the setpoint, calls for the
 * compressor, and asks for a part of full capacity.
 */

export interface ThermostatParameters {
  /** Demand at the setpoint itself, 0…1, and what each kelvin away from it adds, 1/K. */
  readonly base: number;
  readonly gainPerK: number;
  /** Time in which the integral part repeats the proportional one, s; 0: no integral part. */
  readonly integralS: number;
  /** Calls again when this far on the wrong side of the setpoint, stops when past it, K. */
  readonly onK: number;
  readonly offK: number;
  /** Time constant of its own return air sensor, s. */
  readonly sensorS: number;
}

export class Thermostat {
  setpointC: number;
  #parameters: ThermostatParameters;
  readonly #sign: number;
  #sensedC: number;
  #integral = 0;
  #calling: boolean;

  /** @param sign 1 when cooling, −1 when heating */
  constructor(parameters: ThermostatParameters, setpointC: number, returnC: number, sign: number) {
    this.#parameters = parameters;
    this.setpointC = setpointC;
    this.#sensedC = returnC;
    this.#sign = sign;
    this.#calling = this.errorK > 0;
  }

  /** Is built otherwise from now on; what it senses and asks for goes on from where it is. */
  become(parameters: ThermostatParameters): void {
    this.#parameters = parameters;
  }

  /** Whether it wants the compressor. */
  get calling(): boolean {
    return this.#calling;
  }

  /** The part of full capacity that it asks for, 0…1. */
  get demand(): number {
    if (!this.#calling) return 0;
    const { base, gainPerK } = this.#parameters;
    return Math.min(Math.max(base + gainPerK * this.errorK + this.#integral, 0), 1);
  }

  /** Moves it on by `dtS` seconds. */
  step(dtS: number, returnC: number): void {
    const p = this.#parameters;
    this.#sensedC += (returnC - this.#sensedC) * (1 - Math.exp(-dtS / p.sensorS));
    const error = this.errorK;
    if (error < -p.offK) this.#calling = false;
    else if (error > p.onK) this.#calling = true;

    if (!this.#calling || p.integralS === 0) {
      this.#integral = 0;
      return;
    }
    const demand = this.demand;
    const windingUp = (demand >= 1 && error > 0) || (demand <= 0 && error < 0);
    if (!windingUp) this.#integral += (dtS * p.gainPerK * error) / p.integralS;
  }

  /** How far the room is on the wrong side of the setpoint, K. */
  get errorK(): number {
    return this.#sign * (this.#sensedC - this.setpointC);
  }
}
