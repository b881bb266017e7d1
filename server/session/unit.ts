/** One indoor unit of a visit: second by second its air, airflow, capacity and settling. */
import type { Airflow, Mode } from '../../adapters/contract.ts';
import { capacity } from '../measure/capacity.ts';
import { areEnoughCycles, moreCyclesWords } from '../measure/whole-cycles.ts';
import { MoistAirError } from '../measure/moist-air.ts';
import type { BudgetItem } from '../measure/uncertainty.ts';
import type {
  AirflowSnapshot,
  Budget,
  Capture,
  CapacitySnapshot,
  Doubt,
  EventMessage,
  SettlingSnapshot,
  Struck,
  UnitSetup,
  UnitSnapshot,
} from '../protocol.ts';
import { Recirculation } from '../signal/recirculation.ts';
import { budgetOf } from './advice.ts';
import { CaptureMean, type Capturing } from './capture-mean.ts';
import type { CaptureOf } from './capture-pair.ts';
import { doubts } from './doubts.ts';
import { delivered, figuresOf, humid, NO_CAPACITY, noBudget } from './figures.ts';
import { ModeGuess } from './mode-guess.ts';
import { OutletVelocity } from './outlet-velocity.ts';
import { airOf, NO_AIR, type PlaceAir } from './place.ts';
import type { Pressure } from './pressure.ts';
import type { ProbeRecord } from './probe.ts';
import { errorsOf, flowName } from './second.ts';
import { Situations } from './situations/situations.ts';
import { type DefrostNews, UnitSettling } from './unit-settling.ts';
import { airflowDoubts, checkDoubts, wrongSide } from './unit-doubts.ts';

/**
 * Below this flow of dry air the fan counts as off, kg/s: some 90 m³/h, half of what a small head moves
 * at its lowest speed, and more than the draught through one that is off (common practice, no source).
 */
const STILL_KGS = 0.03;
/** An airflow that is told again within so long follows the fan, ms. */
const FOLLOWS_MS = 120_000;
/** A figure can be told from nothing from this part of its interval on; until it is below that. */
const DELIVERS = 1.2;
const RESTS = 0.8;
/** An airflow that changes by less is the fan's own doing and does not restart settling. */
const AIRFLOW_RESTART = 0.1;

/** The probes that hang in a unit's two air streams. */
export interface PlacedProbes {
  return: ProbeRecord[];
  supply: ProbeRecord[];
  /** Those in the outlet, for its velocity. */
  outlet: ProbeRecord[];
  /** Some of its probes lie in a side-by-side check at the moment. */
  checking: boolean;
}

/** The visit's settings, read as they are at the moment. */
export interface UnitSettings extends Capturing {
  steadyTest: 'field' | 'strict';
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
  /** What the last second has found of defrosts. */
  defrost: readonly DefrostNews[] = [];
  /** Lists the budget, when it is asked for. */
  #listBudget: () => BudgetItem[] = noBudget;
  readonly #settling = new UnitSettling();
  readonly #recirculation = new Recirculation();
  readonly #velocity = new OutletVelocity();
  readonly #situations = new Situations();
  readonly #mean: CaptureMean;
  /** The flow when settling last began, m³/s. */
  #flowAtRestart: number | null = null;
  /** The name of the airflow. */
  #flow = '';
  /** The fan speed that had been told when the airflow was. */
  #fanAtAirflow: string | null = null;
  #mode: Mode | null = null;
  readonly #guess = new ModeGuess();
  #delivers = false;
  /** When the airflow was told last, ms. */
  #airflowT = -Infinity;
  readonly #settings: UnitSettings;
  /** The event with which settling began, where nothing else has changed since. */
  #changedBy: string | null = null;

  constructor(id: string, settings: UnitSettings) {
    this.id = id;
    this.name = id;
    this.#settings = settings;
    this.#mean = new CaptureMean(id, settings);
  }

  /** Of what the last interval was made; empty where there was none. Worked out when asked for. */
  get budget(): BudgetItem[] {
    return this.#listBudget();
  }

  /**
   * Settling begins anew; a steady span that was open ends as a capture.
   * @param jumps the figure is another from then on, as with another airflow
   */
  restart(t: number, jumps = false): Capture | null {
    this.#changedBy = null;
    this.#settling.restart(t, jumps);
    this.#flowAtRestart = this.airflow?.flowM3s ?? null;
    this.#velocity.begun();
    return this.#mean.end();
  }

  /** A setpoint or fan event has restarted it: the next capture is compared with the last one. */
  changed(event: EventMessage): void {
    this.#changedBy = event.id;
    this.#mean.changed(event);
    if (event.kind !== 'fan') return;
    this.#velocity.fanTold(event.t);
    this.#situations.airflowTold();
  }

  /** That event was at another time: settling began then, unless something else has changed since. */
  redate(event: EventMessage): Capture | null {
    // What has settled since began with it, wherever in the past it lies.
    const { span } = this.#settling;
    const restarts = this.#changedBy === event.id && (span === null || event.t > span.from);
    const ended = this.#mean.redate(event.id, event.t, restarts);
    if (restarts) this.#settling.redate(event.t, event.kind === 'fan');
    return ended;
  }

  /** A setpoint of this unit, or of another one on the same compressor, is another from `t` on. */
  compressorMoves(t: number): void {
    this.#situations.compressorMoves(t);
  }

  /** Restarts it, and captures before and after are not of one kind: they are not compared. */
  beginAnew(t: number): Capture | null {
    const ended = this.restart(t, true);
    this.#mean.forget();
    this.#situations.beginAnew();
    return ended;
  }

  /** The correction of one of its probes is another: captures before and after are not compared. */
  corrected(): void {
    this.#mean.forget();
  }

  /** One of its probes has been placed, moved or taken away. */
  probeMoved(t: number): Capture | null {
    this.#recirculation.restart();
    this.#velocity.moved();
    return this.beginAnew(t);
  }

  /**
   * The mean so far, as a person wants it written down.
   * @returns the capture, or why there is none, naming the field
   */
  touch(): Capture | string {
    if (this.#settling.state === 'cycling') {
      const { cycles, meanW = 0, wholeU95W = null, u95W = null } = this.#mean.running ?? {};
      if (!areEnoughCycles(cycles ?? 0, meanW, wholeU95W ?? u95W)) {
        return `unit: "${this.id}" cycles, ${moreCyclesWords(cycles ?? 0)}`;
      }
    }
    return (
      this.#mean.touch() ??
      `unit: "${this.id}" is not steady: there is no mean yet that could be written down; ` +
        'wait until it is called steady, or cycling'
    );
  }

  /**
   * Strikes a capture out, or takes that back.
   * @returns it and those whose comparison is another now, or why that was refused, naming the field
   */
  strike(which: CaptureOf, struck: Struck | null): readonly Capture[] | string {
    return this.#mean.strike(which, struck);
  }

  /** A new airflow from `t` on; restarts settling only when it is another one. */
  setAirflow(airflow: Airflow, t: number): Capture | null {
    const before = this.#flowAtRestart;
    const last = this.airflow;
    this.#fanAtAirflow = this.fan;
    this.airflow = airflow;
    this.#velocity.airflowTold(t, this.latest?.supply.temperatureC ?? null);
    this.#situations.airflowTold();
    // Told again within minutes it is the same source that follows the fan, with the same error.
    const follows = t - this.#airflowT < FOLLOWS_MS && last?.source === airflow.source;
    this.#airflowT = t;
    if (!follows) this.#flow = flowName(airflow);
    if (JSON.stringify(airflow) === JSON.stringify(last)) return null;
    this.#changedBy = null;
    if (last === null || airflow.basis !== last.basis || airflow.plane !== last.plane) {
      return this.restart(t, true);
    }
    // Neither at once nor little by little.
    const near = (flow: number | null): boolean =>
      flow !== null && Math.abs(airflow.flowM3s - flow) <= AIRFLOW_RESTART * flow;
    if (!near(last.flowM3s) || !near(before) || last.flowM3s <= 0) {
      this.#flow = flowName(airflow);
      return this.restart(t, true);
    }
    this.#settling.rescale(airflow.flowM3s / last.flowM3s);
    return null;
  }

  /** Ends an open steady span, as at the end of a log. */
  finish(): Capture | null {
    return this.#mean.end();
  }

  /** Of what the interval of the last second was made; null where there was none. */
  budgetAt(t: number, nameOf: (id: string) => string): Budget | null {
    const u95 = this.latest?.capacity.totalU95W ?? null;
    const budget = this.budget;
    if (u95 === null || budget.length === 0) return null;
    const doubted = (code: string): boolean =>
      this.latest?.doubts.some((d) => d.code === code) ?? true;
    return budgetOf(this.id, t, u95, budget, nameOf, {
      checked: !doubted('check-missing'),
      measured: !doubted('airflow-not-measured'),
    });
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
   * Works out the second that ends at `t`; `probes` are those placed at this unit, sampled already,
   * `outdoorC` what probes outdoors tell, null where none does.
   * @returns captures of a span that has just ended, or has held long enough
   */
  second(
    t: number,
    probes: PlacedProbes,
    mode: Mode | null,
    pressure: Pressure,
    outdoorC: number | null,
    simulated: boolean,
  ): readonly Capture[] {
    const found: Doubt[] = [];
    this.#listBudget = noBudget;
    if (probes.checking) found.push(doubts.checkRunning());
    if (pressure.source === 'assumed') found.push(doubts.pressureAssumed());
    const before = this.#mode;
    let air: { ret: PlaceAir; sup: PlaceAir } | null = null;
    let ended: Capture | null = null;
    let result: { capacity: CapacitySnapshot; airflow: AirflowSnapshot } | null = null;
    try {
      air = {
        ret: airOf(probes.return, t, pressure.pa, found),
        sup: airOf(probes.supply, t, pressure.pa, found),
      };
      const supplyC = air.sup.temperatureC;
      if (this.#velocity.second(t, probes.outlet, supplyC, this.#otherSpeed)) {
        ended = this.restart(t - 1, true);
      }
      this.#mode = mode ?? this.#guessMode(t, air.ret, air.sup, outdoorC);
      result = this.#capacity(probes, air.ret, air.sup, t, pressure, found);
    } catch (error) {
      if (!(error instanceof MoistAirError)) throw error;
      found.push(doubts.impossible(error.message));
    }
    const figures = result?.capacity ?? NO_CAPACITY;
    if (before !== null && before !== this.#mode) ended = this.beginAnew(t) ?? ended;
    const airflow = result?.airflow ?? {
      flowM3s: this.airflow?.flowM3s ?? null,
      standardM3s: null,
      dryAirKgs: null,
      source: this.airflow?.source ?? null,
      follows: null,
    };
    const moving = airflow.dryAirKgs !== null && airflow.dryAirKgs >= STILL_KGS;
    if (airflow.dryAirKgs !== null && !moving) found.push(doubts.stillAir());
    const delivers = moving && delivered(figures, this.#delivers ? RESTS : DELIVERS);
    this.#delivers = delivers;
    if (moving && figures.totalW !== null && !delivers) found.push(doubts.nothingDelivered());
    // With the fan off the air stands, and temperatures tell nothing of where it goes.
    if (moving)
      this.#recirculation.second(air?.ret.temperatureC ?? null, air?.sup.temperatureC ?? null);
    else this.#recirculation.restart();
    const heard = {
      ret: probes.return.some((p) => p.fresh),
      sup: probes.supply.some((p) => p.fresh),
    };
    this.defrost = this.#settling.second(
      t,
      {
        mode: this.#mode,
        totalW: figures.totalW,
        delivers,
        heard,
        returnC: air?.ret.temperatureC ?? null,
        supplyC: air?.sup.temperatureC ?? null,
        wetBulbs: () => ({
          returnC: air?.ret.air.wetBulbC ?? null,
          supplyC: air?.sup.air.wetBulbC ?? null,
        }),
        outdoorC,
      },
      this.#settings.steadyTest === 'strict',
    );
    this.#settling.doubts(t, figures.totalW, found);
    this.#situations.second(
      {
        t,
        mode: this.#mode,
        heard: heard.sup,
        air,
        velocityMs: this.#velocity.nowMs,
        figures,
        dryAirKgs: airflow.dryAirKgs,
        pressurePa: pressure.pa,
        delivers,
        comesAndGoes: this.#settling.state === 'cycling' || this.#settling.defrosting,
        follows: airflow.follows !== null,
      },
      found,
    );
    const captures = this.#mean.second(
      {
        t,
        figures,
        mode: this.#mode,
        simulated,
        errors: errorsOf(t, this.#listBudget, this.#flow),
      },
      this.#settling,
    );
    this.latest = {
      mode: this.#mode,
      return: air?.ret.air ?? NO_AIR,
      supply: air?.sup.air ?? NO_AIR,
      airflow,
      capacity: figures,
      settling: this.#settlingSnapshot(),
      doubts: found,
    };
    return ended === null ? captures : [ended, ...captures];
  }

  /** Whether another fan speed has been told since the airflow was. */
  get #otherSpeed(): boolean {
    return this.fan !== this.#fanAtAirflow && this.#fanAtAirflow !== null;
  }

  #guessMode(t: number, ret: PlaceAir, sup: PlaceAir, outdoorC: number | null): Mode | null {
    if (ret.temperatureC === null || sup.temperatureC === null) return this.#mode;
    return this.#guess.second(t, sup.temperatureC - ret.temperatureC, outdoorC);
  }

  #capacity(
    probes: PlacedProbes,
    ret: PlaceAir,
    sup: PlaceAir,
    t: number,
    pressure: Pressure,
    found: Doubt[],
  ): { capacity: CapacitySnapshot; airflow: AirflowSnapshot } | null {
    // A stale probe is a doubt of its own: it hangs there. One in a check is not missed.
    for (const place of ['return', 'supply'] as const) {
      if (probes[place].length === 0 && !probes.checking) found.push(doubts.noProbe(place));
    }
    if (this.airflow === null) found.push(doubts.noAirflow());
    const mode = this.#mode;
    if (ret.temperatureC === null || sup.temperatureC === null || mode === null) return null;
    wrongSide(mode, sup.temperatureC - ret.temperatureC, found);
    const { share } = this.#recirculation;
    if (share !== null) found.push(doubts.recirculation(share));
    checkDoubts(ret, sup, t, found);
    if (this.airflow !== null) airflowDoubts(this.airflow, pressure, found);
    if (this.#velocity.doubt !== null) found.push(this.#velocity.doubt);
    const follows = this.airflow && this.#velocity.follow(this.airflow, sup.temperatureC);
    if (this.#otherSpeed && this.airflow !== null && follows === null) {
      found.push(doubts.airflowOtherSpeed(this.#fanAtAirflow ?? ''));
    }
    const points = humid(mode, ret.temperatureC, ret, sup.temperatureC, sup, found);
    if (points === null || this.airflow === null) return null;
    const flow = follows?.airflow ?? this.airflow;
    const c = capacity(mode, points.from, points.to, flow, pressure.pa);
    const flows = { flow, follows, pressure };
    const { figures, budget } = figuresOf(mode, c, points, ret, sup, flows, found);
    this.#listBudget = budget;
    return {
      capacity: figures,
      airflow: {
        flowM3s: c.flowM3s,
        standardM3s: c.standardM3s,
        dryAirKgs: c.dryAirKgs,
        source: this.airflow.source,
        follows: follows?.probe ?? null,
      },
    };
  }

  #settlingSnapshot(): SettlingSnapshot {
    const settling = this.#settling.snapshot();
    // Of cycles the mean over whole ones is known to the captures.
    if (settling.state !== 'cycling' || settling.cycle === null) return settling;
    const { running } = this.#mean;
    if (running === null) return { ...settling, cycle: { ...settling.cycle, averaged: 0 } };
    const averaged = running.cycles ?? 0;
    const cycle = { ...settling.cycle, averaged, meanU95W: running.wholeU95W };
    return { ...settling, cycle, plateauW: running.meanW, plateauU95W: running.u95W };
  }
}
