/**
 * The outdoor unit: one variable-speed compressor that its heads share.
 *
 * Each head asks for a part of its own full capacity. Together they get at most what the compressor
 * has at this outdoor temperature, and at least what it cannot go below; a head that has too much of
 * that stops calling, and when none calls the compressor stops and rests (cycling). Output moves at
 * a limited rate, begins some time after a start, and swings a little around its aim (hunting).
 * When heating, frost on the outdoor coil is melted now and then by turning the machine round.
 */
import type { Air } from './air.ts';
import { Frost, type FrostParameters } from './frost.ts';
import { Hunting, type HuntingParameters } from './hunting.ts';
import type { Random } from './random.ts';

export interface OutdoorUnitParameters {
  /** Most and least output of the compressor at rating conditions, W. */
  readonly maxW: number;
  readonly minW: number;
  /** How fast a head's output may rise and fall, parts of its full capacity a second. */
  readonly risePerS: number;
  readonly fallPerS: number;
  /** From the start of the compressor to its first output, and its least rest, s. */
  readonly deadTimeS: number;
  readonly minOffS: number;
  readonly hunting: HuntingParameters;
  readonly frost: FrostParameters;
  /** Frost at the start, kg. */
  readonly frostKg: number;
  /** Heat that is taken from each head's coil while defrosting, as a part of its full capacity. */
  readonly defrostPull: number;
  /** Output over input at rating conditions and full speed, and the power at rest, W. */
  readonly efficiency: number;
  readonly standbyW: number;
  /** Refrigerant too little (negative) or too much, as a part of the right charge. */
  readonly chargeError: number;
  /** What other heads that are not of the visit ask for all the time, W. */
  readonly othersW: number;
}

/** What a head says to the outdoor unit. */
export interface HeadCall {
  readonly calling: boolean;
  /** Part of its full capacity, 0…1. */
  readonly demand: number;
  readonly maxW: number;
  /** Its coil, °C. */
  readonly surfaceC: number;
}

export type CompressorState = 'off' | 'starting' | 'running' | 'defrost';

const clamp = (x: number, low: number, high: number): number => Math.min(Math.max(x, low), high);

/** Output at an outdoor temperature over that at rating conditions (35 °C, heating 7 °C). */
export function outdoorFactor(outdoorC: number, heating: boolean): number {
  return heating
    ? clamp(1 + 0.02 * (outdoorC - 7), 0.4, 1.25)
    : clamp(1 - 0.01 * (outdoorC - 35), 0.6, 1.25);
}

/**
 * Output at a coil temperature over that at 10 °C (heating 45 °C): thin suction gas carries less.
 * Near freezing, and near the highest condensing pressure, the machine holds back.
 */
export function surfaceFactor(surfaceC: number, heating: boolean): number {
  return heating
    ? clamp(1 - 0.008 * (surfaceC - 45), 0.5, 1.2) * clamp((62 - surfaceC) / 8, 0, 1)
    : clamp(1 + 0.025 * (surfaceC - 10), 0.3, 1.4) * clamp((surfaceC + 1) / 3, 0, 1);
}

/** Indoor and outdoor air for which the effects of charge are taken, °C: rating conditions. */
const CHARGE_AIR = { cooling: [26.67, 35], heating: [21.11, 8.33] } as const;

/**
 * What a wrong charge leaves of capacity and of power, as factors: NIST TN 1848 (2014) as open building
 * models have coded it, cooling and heating, too little charge only. Machines with an expansion valve of
 * their own show less of it (Choi and Kim 2002).
 */
export function chargeFactors(
  error: number,
  heating: boolean,
): { readonly output: number; readonly power: number } {
  const F = Math.min(error, 0);
  const [indoorC, outdoorC] = CHARGE_AIR[heating ? 'heating' : 'cooling'];
  const factor = (a1: number, a2: number, a3: number, a4: number): number =>
    1 + (a1 + a2 * indoorC + a3 * outdoorC + a4 * F) * F;
  return heating
    ? { output: factor(-0.0339, 0, 0.0203, -2.62), power: factor(0.0616, 0, 0.00446, -0.26) }
    : {
        output: factor(-0.946, 0.0493, -0.00118, -1.15),
        power: factor(-0.313, 0.0115, 0.00266, -0.116),
      };
}

export class OutdoorUnit {
  #parameters: OutdoorUnitParameters;
  readonly #heating: boolean;
  #charge: { readonly output: number; readonly power: number };
  readonly #hunting: Hunting;
  readonly #frost: Frost;
  /** Output level of each head before the factors of coil, frost and hunting, W. */
  readonly #levelW: number[];
  readonly #refrigerantW: number[];
  #state: CompressorState = 'off';
  #inStateS: number;
  #heatedS = 0;
  #powerW: number;
  #othersGetW = 0;
  #share = 0;

  constructor(
    parameters: OutdoorUnitParameters,
    heads: number,
    heating: boolean,
    pressurePa: number,
    random: Random,
  ) {
    this.#parameters = parameters;
    this.#heating = heating;
    this.#charge = chargeFactors(parameters.chargeError, heating);
    this.#hunting = new Hunting(parameters.hunting, random);
    this.#frost = new Frost(parameters.frost, pressurePa, parameters.frostKg);
    this.#levelW = new Array<number>(heads).fill(0);
    this.#refrigerantW = new Array<number>(heads).fill(0);
    this.#inStateS = parameters.minOffS; // rested
    this.#powerW = parameters.standbyW;
  }

  /**
   * Is built, charged or shared otherwise from now on; the levels of the heads, the frost on its coil and
   * where the compressor is stay.
   */
  become(parameters: OutdoorUnitParameters): void {
    this.#parameters = parameters;
    this.#charge = chargeFactors(parameters.chargeError, this.#heating);
    this.#hunting.become(parameters.hunting);
    this.#frost.become(parameters.frost);
  }

  /** What its heads and others get of the most that it has at this outdoor temperature, as a part. */
  get share(): number {
    return this.#share;
  }
  get state(): CompressorState {
    return this.#state;
  }
  get frostKg(): number {
    return this.#frost.kg;
  }
  get powerW(): number {
    return this.#powerW;
  }
  /** Heat that the refrigerant takes from each head's coil (negative: gives), W. */
  get refrigerantW(): readonly number[] {
    return this.#refrigerantW;
  }

  /** Moves it on by `dtS` seconds. */
  step(dtS: number, outdoor: Air, heads: readonly HeadCall[]): void {
    this.#inStateS += dtS;
    this.#changeState(heads);
    const p = this.#parameters;
    const available = p.maxW * outdoorFactor(outdoor.temperatureC, this.#heating);
    if (this.#state === 'running') this.#move(dtS, heads, available, outdoor);
    else {
      this.#levelW.fill(0);
      this.#othersGetW = 0;
    }
    this.#share = (this.#levelW.reduce((sum, w) => sum + w, 0) + this.#othersGetW) / available;

    const swing = this.#state === 'running' ? this.#hunting.step(dtS) : 1;
    const frost = this.#heating ? this.#frost.factor : 1;
    const sign = this.#heating ? -1 : 1;
    let outputW = 0;
    heads.forEach((head, i) => {
      const levelW = this.#levelW[i] ?? 0;
      const factor = surfaceFactor(head.surfaceC, this.#heating) * this.#charge.output;
      const q = levelW * factor * swing * frost;
      outputW += q;
      this.#refrigerantW[i] =
        this.#state === 'defrost'
          ? p.defrostPull * head.maxW * surfaceFactor(head.surfaceC, false)
          : sign * q;
    });

    if (this.#state === 'running' && this.#heating) {
      this.#heatedS += dtS;
      this.#frost.grow(dtS, outdoor, outputW / available);
    }
    if (this.#state === 'defrost' && this.#frost.melt(dtS)) this.#enter('starting');
    const { output, power } = this.#charge;
    // What a short charge does not carry, the compressor works for nearly as much.
    const loadW = ((outputW + this.#othersGetW) / output) * power;
    this.#powerW = this.#power(loadW, available, outdoor.temperatureC);
  }

  #changeState(heads: readonly HeadCall[]): void {
    const p = this.#parameters;
    const called = heads.some((head) => head.calling);
    if (this.#state === 'off') {
      if (called && this.#inStateS >= p.minOffS) this.#enter('starting');
    } else if (this.#state === 'starting') {
      if (this.#inStateS >= p.deadTimeS) this.#enter('running');
    } else if (this.#state === 'running') {
      if (!called) this.#enter('off');
      else if (this.#heating && this.#frost.full && this.#heatedS >= p.frost.betweenS) {
        this.#heatedS = 0;
        this.#enter('defrost');
      }
    }
  }

  #enter(state: CompressorState): void {
    this.#state = state;
    this.#inStateS = 0;
  }

  /** Shares the compressor out, and moves each head's output towards its share. */
  #move(dtS: number, heads: readonly HeadCall[], availableW: number, outdoor: Air): void {
    const p = this.#parameters;
    const leastW = p.minW * outdoorFactor(outdoor.temperatureC, this.#heating);
    const own = heads.reduce((sum, head) => sum + Math.max(this.#asked(head), 0), 0);
    const askedW = own + p.othersW;
    const scale = askedW > availableW ? availableW / askedW : Math.max(leastW / askedW, 1);
    this.#othersGetW = p.othersW * scale;
    heads.forEach((head, i) => {
      const asked = this.#asked(head);
      const aimW = asked > 0 ? Math.min(asked * scale, head.maxW * 1.1) : 0;
      const levelW = this.#levelW[i] ?? 0;
      const riseW = dtS * p.risePerS * head.maxW;
      const fallW = dtS * p.fallPerS * head.maxW;
      this.#levelW[i] = clamp(aimW, levelW - fallW, levelW + riseW);
    });
  }

  /** What a head asks for, W; a head that calls asks for something, so that the least has a taker. */
  #asked(head: HeadCall): number {
    return head.calling ? Math.max(head.demand, 0.02) * head.maxW : 0;
  }

  #power(outputW: number, availableW: number, outdoorC: number): number {
    const p = this.#parameters;
    if (this.#state === 'off') return p.standbyW;
    if (this.#state === 'starting') return p.standbyW + 150; // compressor against no load
    if (this.#state === 'defrost') return p.standbyW + 0.5 * (p.maxW / p.efficiency);
    const lift = this.#heating ? 7 - outdoorC : outdoorC - 35;
    const partLoad = 1 + 0.3 * (1 - clamp(outputW / availableW, 0, 1));
    const efficiency = p.efficiency * clamp(1 - 0.02 * lift, 0.5, 1.6) * partLoad;
    return p.standbyW + 40 + outputW / efficiency; // 40 W: the outdoor fan
  }
}
