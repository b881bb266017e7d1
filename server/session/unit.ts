/** One indoor unit of a visit: second by second its air, airflow, capacity and settling. */
import type { Airflow, Mode } from '../../adapters/contract.ts';
import { type AirPoint, capacity, type Capacity } from '../measure/capacity.ts';
import { MoistAirError } from '../measure/moist-air.ts';
import { statement } from '../measure/gum.ts';
import {
  type BudgetInputs,
  type BudgetItem,
  capacityBudget,
  combine,
} from '../measure/uncertainty.ts';
import type {
  AirflowSnapshot,
  Budget,
  Capture,
  CapacitySnapshot,
  Doubt,
  SettlingSnapshot,
  UnitSetup,
  UnitSnapshot,
} from '../protocol.ts';
import { Recirculation } from '../signal/recirculation.ts';
import { Settling } from '../signal/settling.ts';
import { budgetOf } from './advice.ts';
import { CaptureMean } from './capture-mean.ts';
import { type Correction, sameCheck, worth } from './correction.ts';
import { doubts } from './doubts.ts';
import { airOf, NO_AIR, type PlaceAir } from './place.ts';
import type { Pressure } from './pressure.ts';
import type { ProbeRecord } from './probe.ts';

/**
 * Below this flow of dry air the fan counts as off, kg/s: some 90 m³/h, half of what a small head moves
 * at its lowest speed, and more than the draught through one that is off (common practice, no source).
 */
const STILL_KGS = 0.03;
/** Humidity ratio that stands in while heating without any humidity probe, kg/kg. */
const TYPICAL_W = 0.006;
/** An airflow that changes by less is the fan's own doing and does not restart settling. */
const AIRFLOW_RESTART = 0.1;
/** Supply this much on the wrong side of return tells that something is amiss, K. */
const WRONG_SIDE_K = 0.5;
/** Moisture difference while heating that the probes' limits hardly explain, kg/kg. */
const HEATING_DW = 0.001;

const NO_CAPACITY: CapacitySnapshot = {
  totalW: null,
  sensibleW: null,
  latentW: null,
  sensibleHeatRatio: null,
  condensateKgh: null,
  totalU95W: null,
  sensibleU95W: null,
  latentU95W: null,
  sensibleHeatRatioU95: null,
};

/** The probes that hang in a unit's two air streams. */
export interface PlacedProbes {
  return: ProbeRecord[];
  supply: ProbeRecord[];
  /** Some of its probes lie in a side-by-side check at the moment. */
  checking: boolean;
}

export class UnitRecord {
  readonly id: string;
  name: string;
  airflow: Airflow | null = null;
  fanSpeeds: string[] = [];
  setpointC: number | null = null;
  fan: string | null = null;
  /** The last snapshot, null before the first. */
  latest: UnitSnapshot | null = null;
  /** Of what the last interval was made; empty where there was none. */
  budget: BudgetItem[] = [];
  readonly #settling = new Settling();
  readonly #recirculation = new Recirculation();
  readonly #mean: CaptureMean;
  /** The flow when settling last began, m³/s. */
  #flowAtRestart: number | null = null;
  /** The fan speed that had been told when the airflow was. */
  #fanAtAirflow: string | null = null;
  #mode: Mode | null = null;

  constructor(id: string) {
    this.id = id;
    this.name = id;
    this.#mean = new CaptureMean(id);
  }

  /** Settling begins anew; a steady span that was open ends as a capture. */
  restart(t: number): Capture | null {
    this.#settling.restart(t);
    this.#flowAtRestart = this.airflow?.flowM3s ?? null;
    return this.#mean.end();
  }

  /** A new airflow from `t` on; restarts settling only when it is another one. */
  setAirflow(airflow: Airflow, t: number): Capture | null {
    const before = this.#flowAtRestart;
    this.#fanAtAirflow = this.fan;
    this.airflow = airflow;
    if (before !== null && Math.abs(airflow.flowM3s - before) <= AIRFLOW_RESTART * before) {
      return null;
    }
    return this.restart(t);
  }

  /** Ends an open steady span, as at the end of a log. */
  finish(): Capture | null {
    return this.#mean.end();
  }

  /** Of what the interval of the last second was made; null where there was none. */
  budgetAt(t: number, nameOf: (id: string) => string): Budget | null {
    const u95 = this.latest?.capacity.totalU95W ?? null;
    if (u95 === null || this.budget.length === 0) return null;
    const checked = this.latest?.doubts.every((d) => d.code !== 'check-missing') ?? false;
    return budgetOf(this.id, t, u95, this.budget, nameOf, checked);
  }

  setup(): UnitSetup {
    return {
      name: this.name,
      airflow: this.airflow,
      fanSpeeds: this.fanSpeeds,
      setpointC: this.setpointC,
      fan: this.fan,
    };
  }

  /**
   * Works out the second that ends at `t`; `probes` are those placed at this unit, sampled already.
   * @returns the capture of a steady span that has just ended, or null
   */
  second(
    t: number,
    probes: PlacedProbes,
    mode: Mode | null,
    pressure: Pressure,
    simulated: boolean,
  ): Capture | null {
    const found: Doubt[] = [];
    this.budget = [];
    if (probes.checking) found.push(doubts.checkRunning());
    if (pressure.source === 'assumed') found.push(doubts.pressureAssumed());
    let air: { ret: PlaceAir; sup: PlaceAir } | null = null;
    let result: { capacity: CapacitySnapshot; airflow: AirflowSnapshot } | null = null;
    try {
      air = {
        ret: airOf(probes.return, t, pressure.pa, found),
        sup: airOf(probes.supply, t, pressure.pa, found),
      };
      this.#mode = mode ?? this.#guessMode(air.ret, air.sup);
      result = this.#capacity(probes, air.ret, air.sup, t, pressure, found);
    } catch (error) {
      if (!(error instanceof MoistAirError)) throw error;
      found.push(doubts.impossible(error.message));
    }
    const figures = result?.capacity ?? NO_CAPACITY;
    const airflow = result?.airflow ?? {
      flowM3s: this.airflow?.flowM3s ?? null,
      standardM3s: null,
      dryAirKgs: null,
      source: this.airflow?.source ?? null,
    };
    const moving = airflow.dryAirKgs !== null && airflow.dryAirKgs >= STILL_KGS;
    if (airflow.dryAirKgs !== null && !moving) found.push(doubts.stillAir());
    const delivers = moving && delivered(figures);
    if (moving && figures.totalW !== null && !delivers) found.push(doubts.nothingDelivered());
    // With the fan off the air stands, and temperatures tell nothing of where it goes.
    if (moving)
      this.#recirculation.second(air?.ret.temperatureC ?? null, air?.sup.temperatureC ?? null);
    else this.#recirculation.restart();
    this.#settling.add(t, delivers ? figures.totalW : null, {
      ret: probes.return.some((p) => p.fresh),
      sup: probes.supply.some((p) => p.fresh),
    });
    this.latest = {
      mode: this.#mode,
      return: air?.ret.air ?? NO_AIR,
      supply: air?.sup.air ?? NO_AIR,
      airflow,
      capacity: figures,
      settling: this.#settlingSnapshot(),
      doubts: found,
    };
    return this.#mean.second(t, this.#settling, figures, simulated);
  }

  /** Cooling while the supply is the colder one; changes only when it is clearly the other way. */
  #guessMode(ret: PlaceAir, sup: PlaceAir): Mode | null {
    if (ret.temperatureC === null || sup.temperatureC === null) return this.#mode;
    const rise = sup.temperatureC - ret.temperatureC;
    if (this.#mode !== null && Math.abs(rise) < 2) return this.#mode;
    return rise > 0 ? 'heating' : 'cooling';
  }

  #capacity(
    probes: PlacedProbes,
    ret: PlaceAir,
    sup: PlaceAir,
    t: number,
    pressure: Pressure,
    found: Doubt[],
  ): { capacity: CapacitySnapshot; airflow: AirflowSnapshot } | null {
    // A stale probe is a doubt of its own: it hangs there.
    if (probes.return.length === 0) found.push(doubts.noProbe('return'));
    if (probes.supply.length === 0) found.push(doubts.noProbe('supply'));
    if (this.airflow === null) found.push(doubts.noAirflow());
    const mode = this.#mode;
    if (ret.temperatureC === null || sup.temperatureC === null || mode === null) return null;
    wrongSide(mode, sup.temperatureC - ret.temperatureC, found);
    const { share } = this.#recirculation;
    if (share !== null) found.push(doubts.recirculation(share));
    checkDoubts(ret, sup, t, found);
    if (this.airflow !== null) airflowDoubts(this.airflow, pressure, found);
    if (this.fan !== this.#fanAtAirflow && this.#fanAtAirflow !== null && this.airflow !== null) {
      found.push(doubts.airflowOtherSpeed(this.#fanAtAirflow));
    }
    const points = humid(mode, ret.temperatureC, ret, sup.temperatureC, sup, found);
    if (points === null || this.airflow === null) return null;
    const { from, to } = points;
    const c = capacity(mode, from, to, this.airflow, pressure.pa);
    return {
      capacity: this.#figures(mode, c, from, to, ret, sup, pressure, found),
      airflow: {
        flowM3s: c.flowM3s,
        standardM3s: c.standardM3s,
        dryAirKgs: c.dryAirKgs,
        source: this.airflow.source,
      },
    };
  }

  #figures(
    mode: Mode,
    c: Capacity,
    ret: AirPoint,
    supply: AirPoint,
    retAir: PlaceAir,
    supAir: PlaceAir,
    pressure: Pressure,
    found: Doubt[],
  ): CapacitySnapshot {
    const figures: CapacitySnapshot = {
      totalW: c.totalW,
      sensibleW: c.sensibleW,
      latentW: c.latentW,
      sensibleHeatRatio: c.sensibleHeatRatio,
      condensateKgh: c.condensateKgh,
      totalU95W: null,
      sensibleU95W: null,
      latentU95W: null,
      sensibleHeatRatioU95: null,
    };
    const flow = this.airflow;
    if (flow?.limitPct === undefined) found.push(doubts.limitsUnknown('the airflow'));
    if (!retAir.limitsKnown) found.push(doubts.limitsUnknown('a return probe'));
    if (!supAir.limitsKnown) found.push(doubts.limitsUnknown('a supply probe'));
    if (!flow || flow.limitPct === undefined) return figures;
    if (!retAir.limitsKnown || !supAir.limitsKnown) return figures;
    const budget = capacityBudget(c, {
      mode,
      ret,
      supply,
      flow,
      pPa: pressure.pa,
      retProbes: retAir.probes,
      supplyProbes: supAir.probes,
      flowRelative: statement(flow.limitPct / 100, flow.limitK),
      pressurePa: pressure.error,
      shared: sharedErrors([retAir, supAir]),
    });
    const u = combine(budget, c);
    this.budget = budget;
    figures.totalU95W = u.totalU95W;
    figures.sensibleU95W = u.sensibleU95W;
    figures.latentU95W = u.latentU95W;
    figures.sensibleHeatRatioU95 = u.sensibleHeatRatioU95;
    return figures;
  }

  #settlingSnapshot(): SettlingSnapshot {
    return {
      state: this.#settling.state,
      since: this.#settling.steady?.from ?? this.#settling.since,
      // A forecast is not made yet: nothing is said rather than something weak.
      plateauW: null,
      plateauU95W: null,
      steadyInS: null,
    };
  }
}

/** Below this a unit counts as off where no interval says what nothing is, W. */
const NOTHING_W = 50;

/** Whether the figure can be told from nothing. */
function delivered({ totalW, totalU95W }: CapacitySnapshot): boolean {
  return totalW !== null && totalW > (totalU95W ?? NOTHING_W);
}

/** Fan tables without a footnote: how far from sea level the basis begins to matter. */
const BASIS_MATTERS = 0.03;
/** A check that is worth less than this is old. */
const OLD = 0.9;
/** Sources of an airflow that looked at this very unit. */
const MEASURED = ['sweep', 'grid'];

function airflowDoubts(flow: Airflow, pressure: Pressure, found: Doubt[]): void {
  if (MEASURED.includes(flow.source)) return;
  found.push(doubts.airflowNotMeasured());
  const apart = 1 - pressure.pa / 101_325;
  if (flow.source === 'fan-table' && flow.basis === 'actual' && apart > BASIS_MATTERS) {
    found.push(doubts.airflowBasis(100 * (1 / (1 - apart) - 1)));
  }
}

/** Only probes of one check can be compared: all of both places must be of it. */
function checkDoubts(ret: PlaceAir, sup: PlaceAir, t: number, found: Doubt[]): void {
  const all = [...ret.records, ...sup.records];
  const correction = all[0]?.correction ?? null;
  if (correction === null || !all.every((p) => sameCheck(correction, p.correction))) {
    found.push(doubts.checkMissing());
    return;
  }
  const left = worth(correction, t);
  if (left < OLD) found.push(doubts.checkOld(t - correction.t, left));
}

/** Points each probe to the error that it shares with others of its check. */
function sharedErrors(places: readonly PlaceAir[]): BudgetInputs['shared'] {
  const checks: Correction[] = [];
  for (const { probes, records } of places) {
    records.forEach(({ correction }, i) => {
      const probe = probes[i];
      if (correction === null || probe === undefined) return;
      probe.sharesHumidity = correction.humidity !== null;
      probe.shared = checks.findIndex((check) => sameCheck(check, correction));
      if (probe.shared < 0) probe.shared = checks.push(correction) - 1;
    });
  }
  return checks.map(({ shared }) => shared);
}

function wrongSide(mode: Mode, riseK: number, found: Doubt[]): void {
  if (mode === 'cooling' && riseK > WRONG_SIDE_K) found.push(doubts.supplyWarmer());
  if (mode === 'heating' && riseK < -WRONG_SIDE_K) found.push(doubts.supplyColder());
}

/** Both points with their humidity, or null where cooling lacks one. */
function humid(
  mode: Mode,
  retC: number,
  ret: PlaceAir,
  supC: number,
  sup: PlaceAir,
  found: Doubt[],
): { from: AirPoint; to: AirPoint } | null {
  const w1 = ret.humidityRatio;
  const w2 = sup.humidityRatio;
  if (mode === 'cooling') {
    if (w1 === null) found.push(doubts.noHumidity('return'));
    if (w2 === null) found.push(doubts.noHumidity('supply'));
    if (w1 === null || w2 === null) return null;
    return {
      from: { temperatureC: retC, humidityRatio: w1 },
      to: { temperatureC: supC, humidityRatio: w2 },
    };
  }
  if (w1 === null && w2 === null) found.push(doubts.noHumidityHeating());
  if (w1 !== null && w2 !== null && Math.abs(w1 - w2) > HEATING_DW) {
    found.push(doubts.humidityDisagrees(1000 * Math.abs(w1 - w2)));
  }
  const W = w1 ?? w2 ?? TYPICAL_W;
  return {
    from: { temperatureC: retC, humidityRatio: W },
    to: { temperatureC: supC, humidityRatio: W },
  };
}
