/** What goes into the budget of a capacity (budget.ts), and what comes out of it. */
import type { AirPoint, Flow, Mode } from './capacity.ts';
import type { Evenness } from './evenness.ts';
import type { Uncertain } from './gum.ts';

/** One probe of a place: what it reads, how W follows from it, and how far each may be off. */
export interface PlaceProbe {
  id: string;
  temperatureC: number;
  /** Null for a probe that tells no humidity. */
  humidityRatio: number | null;
  /** ∂W/∂t, ∂W/∂(humidity reading: % RH or K of dew point), ∂W/∂p. */
  wPerK: number;
  wPerHumidity: number;
  wPerPa: number;
  /** Its own errors: of the temperature, K, and of the humidity reading. */
  temperature: Uncertain;
  humidity: Uncertain;
  /** Which of the `shared` errors below moves its temperature too; −1: none. */
  shared: number;
  /** Whether that holds of its humidity as well: not of one whose humidity was not checked. */
  sharesHumidity: boolean;
  /**
   * Where a zero in place was taken off: by how much more this temperature was corrected for 1 K more in
   * what the zero found (signed: return and supply move against each other); left out: no zero.
   */
  zeroPerK?: number | undefined;
  /** How much of the place's flow it stands for, in proportion to the others there. */
  flowShare: number;
}

/** What the budget is made of, beside the capacity itself. */
export interface BudgetInputs {
  mode: Mode;
  ret: AirPoint;
  supply: AirPoint;
  flow: Flow;
  pPa: number;
  retProbes: readonly PlaceProbe[];
  supplyProbes: readonly PlaceProbe[];
  /** What is known of how the air differs from spot to spot; left out: only what the probes show. */
  retEvenness?: Evenness;
  supplyEvenness?: Evenness;
  /** Relative uncertainty of the flow. */
  flowRelative: Uncertain;
  /**
   * Where the flow follows the velocity of one spot: the probe there, and what one spot tells amiss of
   * the whole flow, signed (the flow is another than the one it was told as, this way or that).
   */
  spot?: { of: string; relative: Uncertain } | undefined;
  /** Uncertainty of the pressure, Pa. */
  pressurePa: Uncertain;
  /** Errors that probes share which were checked side by side, one for each such check: K, % RH. */
  shared: readonly SharedError[];
  /** The zero in place that was taken off. */
  zero?: SharedZero | undefined;
}

/** The errors of a zero in place, K. */
export interface SharedZero {
  /** What it found may be wrong by so much: the fan's watts, the airflow, the scatter. */
  found: Uncertain;
  /** Return and supply are still off by as much together. */
  common: Uncertain;
  /** Names it: in another budget the same name is the same error. */
  of: string;
}

/** An error of the probes of one check. */
export interface SharedError {
  temperature: Uncertain;
  humidity: Uncertain;
  /** Names the check: in another budget the same name is the same error. */
  of: string;
}

export type BudgetKind =
  | 'temperature'
  | 'humidity'
  | 'spread'
  | 'airflow'
  | 'pressure'
  | 'common-temperature'
  | 'common-humidity'
  | 'scatter'
  | 'zero';

/** One independent error: what one standard uncertainty of it does to each output, W (signed). */
export interface BudgetItem {
  kind: BudgetKind;
  /** The probe, for a spread the place, for what probes share the check or zero; of an airflow the probe it follows. */
  of: string | null;
  totalW: number;
  sensibleW: number;
  latentW: number;
  /** Excess kurtosis of its distribution. */
  shape: number;
}
