/**
 * A velocity probe that stays in the outlet scales the airflow that was told: from then on the flow is
 * the told one × v/v₀, with v₀ the mean velocity around the time when it was told.
 */
import type { Airflow } from '../../adapters/contract.ts';
import { NORMAL, statement, type Uncertain } from '../measure/gum.ts';
import { ZERO_CELSIUS_K } from '../measure/saturation.ts';
import type { Doubt } from '../protocol.ts';
import { doubt } from './doubt.ts';
import type { ProbeRecord } from './probe.ts';
import { SpotMean } from './spot-mean.ts';
import { sent } from '../words/sent.ts';

/**
 * One spot stands for the whole outlet when the speed changes: its velocity goes with the flow to a
 * power of 1 ± this (an assumption: common practice, no source).
 */
const PROPORTION = 0.1;
/** v₀ is the mean of so long; what was heard while the fan came to its speed is not in it, ms. */
const REFERENCE_MS = 60_000;
const AT_LEAST_MS = 30_000;
export const FAN_COMES_MS = 10_000;
/** Below this an anemometer tells no ratio, m/s (common practice, no source). */
const SLOWEST_MS = 0.3;
/** A flow that differs by more, at once or little by little, is another one: settling begins anew. */
export const ANOTHER_FLOW = 0.1;
/** And by so many standard uncertainties of the mean velocity, which is not sure after a jump. */
const SCATTER = 2;

/** How the flow in use follows from the told one. */
export interface Follows {
  /** The probe. */
  probe: string;
  /** The flow in use. */
  airflow: Airflow;
  /** The error of v/v₀ by the spot, signed: two flows on one side of the told one share it. */
  spot: Uncertain;
  /** The error of v₀ by turbulence, as a part. */
  reference: Uncertain;
}

interface Reference {
  velocityMs: number;
  supplyC: number;
  /** Standard uncertainty, as a part. */
  u: number;
}

export class OutletVelocity {
  #probe: ProbeRecord | null = null;
  readonly #mean = new SpotMean();
  #reference: Reference | null = null;
  /** The flow over the told one, as last known. */
  #last = 1;
  /** The same as it is used: 1 while it is not known. */
  #ratio = 1;
  #ratioAtBegin = 1;
  /** Readings up to here tell nothing, ms. */
  #notBefore = -Infinity;
  #lost: Doubt | null = null;

  /** Settling begins anew with the present flow. */
  begun(): void {
    this.#ratioAtBegin = this.#ratio;
  }

  /** The clock was set: the flow goes on from what it was. */
  clockSet(): void {
    this.begun();
    this.#mean.clear();
    this.#notBefore = -Infinity;
  }

  /** An airflow is told at `t`: it is that of the last minute, or else of the next. */
  airflowTold(t: number, supplyC: number | null): void {
    this.#last = this.#ratio = 1;
    this.#lost = null;
    this.#reference = null;
    this.#mean.forgetBefore(Math.max(t - REFERENCE_MS, this.#notBefore));
    if (this.#mean.spanMs >= AT_LEAST_MS) this.#take(supplyC);
    else this.#mean.forgetBefore(t);
  }

  /** Readings up to `t` tell nothing: the fan comes to its speed, or the probe to its place. */
  notBefore(t: number): void {
    this.#notBefore = t;
  }

  /** A probe of the unit was hung elsewhere: the flow goes on from what it was. */
  moved(): void {
    this.#reference = null;
    this.#probe = null;
    this.#lost = null;
    this.#mean.clear();
  }

  /**
   * Takes the second that ends at `t`.
   * @param otherSpeed another fan speed was told since the airflow was: nothing can begin with that
   * @returns whether the flow is another one than when settling began
   */
  second(
    t: number,
    probes: readonly ProbeRecord[],
    supplyC: number | null,
    otherSpeed: boolean,
  ): boolean {
    this.#probe ??= probes.find(({ velocityMs }) => velocityMs !== null) ?? null;
    const v = this.#probe?.now.velocityMs ?? NaN;
    const live = !Number.isNaN(v);
    if (live && this.#probe?.freshVelocity === true) this.#mean.add(t, v);
    if (live && this.#reference === null && !otherSpeed) this.#begin(supplyC);
    if (live && this.#reference !== null) {
      this.#lost = null;
      // Until the first reading after a change the flow is what it was.
      if (this.#mean.value >= 0) this.#last = this.#mean.value / this.#reference.velocityMs;
      this.#ratio = this.#last;
    } else {
      const differs = Math.abs(this.#last - 1) > ANOTHER_FLOW / 2;
      if (this.#reference !== null || differs) this.#lost ??= velocityLost(this.#last);
      this.#ratio = 1;
    }
    const scatter = this.#ratio === 1 ? 0 : SCATTER * this.#mean.u;
    return Math.abs(this.#ratio / this.#ratioAtBegin - 1) > ANOTHER_FLOW + scatter;
  }

  /** The flow in use; null where it is the told one. */
  follow(told: Airflow, supplyC: number | null): Follows | null {
    const reference = this.#reference;
    if (this.#probe === null || reference === null || this.#lost !== null) return null;
    // The velocity is that of a volume at the supply; other flows go with its density.
    const volume = told.basis === 'actual' && told.plane === 'supply';
    const density =
      volume || supplyC === null
        ? 1
        : (reference.supplyC + ZERO_CELSIUS_K) / (supplyC + ZERO_CELSIUS_K);
    return {
      probe: this.#probe.id,
      airflow: { ...told, flowM3s: told.flowM3s * this.#ratio * density },
      spot: this.#spot(this.#probe, reference),
      reference: { u: reference.u, shape: NORMAL },
    };
  }

  /** The velocity of the present second; NaN where it is not known. */
  get nowMs(): number {
    return this.#probe?.now.velocityMs ?? NaN;
  }

  /** What is doubtful about it; null: nothing. */
  get doubt(): Doubt | null {
    return this.#lost;
  }

  #begin(supplyC: number | null): void {
    this.#mean.forgetBefore(this.#notBefore);
    if (this.#mean.spanMs >= REFERENCE_MS) this.#take(supplyC);
  }

  #take(supplyC: number | null): void {
    const { value, u } = this.#mean;
    if (!(value >= SLOWEST_MS) || supplyC === null) return;
    this.#reference = { velocityMs: value / this.#last, supplyC, u };
  }

  /** The exponent's error, and that of the anemometer's zero; both have the sign of ln(v/v₀). */
  #spot({ limits }: ProbeRecord, { velocityMs }: Reference): Uncertain {
    const ratio = Math.max(this.#ratio, SLOWEST_MS / velocityMs);
    const exponent = statement(PROPORTION * Math.log(ratio)).u;
    const zero = statement((limits.velocityMs ?? 0) / velocityMs, limits.k).u * (1 - 1 / ratio);
    const u = Math.sign(exponent) * Math.hypot(exponent, zero);
    return { u, shape: statement(1).shape };
  }
}

function velocityLost(ratio: number): Doubt {
  const pct = Math.round(100 * Math.abs(ratio - 1));
  const by = ratio < 1 ? sent`less` : sent`more`;
  return doubt(
    'velocity-lost',
    sent`The airflow followed the velocity probe in the outlet, which sends nothing now.`,
    pct === 0
      ? sent`Plateau uses the airflow that was entered. It still matched when the probe was last heard.`
      : sent`Plateau uses the airflow that was entered. It was ${pct} % ${by} when the probe was last heard.`,
    sent`Check the velocity probe: its battery, its distance, and that it hangs in the outlet. Or enter the airflow again.`,
  );
}
