/** One indoor unit of a visit: second by second its air, airflow, capacity and settling. */
import type { Airflow, Mode, Place } from '../../adapters/contract.ts';
import { REAL_AIR } from '../measure/air-model.ts';
import { airRegion } from '../measure/air-region.ts';
import { capacity, FAN_TABLE, flowAtUnit } from '../measure/capacity.ts';
import { statement } from '../measure/gum.ts';
import { ErrorList } from '../measure/error-list.ts';
import { gradients } from '../measure/gradients.ts';
import { areEnoughCycles, moreCyclesWords } from '../measure/whole-cycles.ts';
import { MoistAirError } from '../measure/moist-air.ts';
import type { UnitErrors } from '../measure/sum.ts';
import type { BudgetItem } from '../measure/uncertainty.ts';
import type {
  AirflowSnapshot,
  Budget,
  Capture,
  CapacitySnapshot,
  CaptureSetting,
  Doubt,
  EventMessage,
  SettlingSnapshot,
  UnitSetup,
  UnitSnapshot,
} from '../protocol.ts';
import { Recirculation } from '../signal/recirculation.ts';
import { type Settled, SettledMean } from '../signal/settled-mean.ts';
import type { UnitDetails } from '../visit-log/details.ts';
import { budgetOf } from './advice.ts';
import { CaptureMean, type Capturing } from './capture-mean.ts';
import type { CapturePair } from './capture-pair.ts';
import { doubts } from './doubts.ts';
import { UnitEvenness } from './evenness.ts';
import type { Action } from '../measure/expectation/judge.ts';
import { Expectation } from './expectation/expectation.ts';
import { type Budgeted, delivered, figuresOf, humid, NO_CAPACITY } from './figures.ts';
import { Level } from './level.ts';
import { ModeGuess } from './mode-guess.ts';
import { WetProbes } from './moisture.ts';
import { FAN_COMES_MS, OutletVelocity } from './outlet-velocity.ts';
import { type UnitAir, unitAir } from './airflow/unit-air.ts';
import { UnitTable } from './airflow/unit-table.ts';
import { airOf, NOTHING, type PlaceAir, type PlacedProbes } from './place.ts';
import { type Pressure, pressureAssumed, pressureAssumedAt } from './pressure.ts';
import { errorsOf, flowErrorName } from './second.ts';
import { takesWater } from './situations/air-change.ts';
import type { HeadsTogether } from './situations/other-heads.ts';
import { Situations } from './situations/situations.ts';
import { flowRatio, ToldAirflow, type WorkedAir } from './told-airflow.ts';
import { type DefrostNews, UnitSettling } from './unit-settling.ts';
import { airflowDoubts, basisDoubt, checkDoubts, isMeasured } from './unit-doubts.ts';
import { type PlaceEffect, WALK_RUNNING } from './walk.ts';
import { sent } from '../words/sent.ts';

/**
 * Below this flow of dry air the fan counts as off, kg/s: some 90 m³/h, half of what a small head moves
 * at its lowest speed, and more than the draught through one that is off (common practice, no source).
 */
const STILL_KGS = 0.03;
/** A figure can be told from nothing from this part of its interval on; until it is below that. */
const DELIVERS = 1.2;
const RESTS = 0.8;

/** What supply less return was before a heater came on is the mean of so long, s. */
const RISE_S = 240;
/** A flow of which nobody says how far it may be off, as a standard uncertainty: an assumption. */
const UNSAID_FLOW = 0.15;
/** An anemometer comes to rest in the outlet within this after a traverse, ms. */
const HANDLED_MS = 15_000;
/** A coil that takes out less moisture than this part of its total counts as dry (common practice). */
const DRY_SHARE = 0.03;

/** The visit's settings, read as they are at the moment. */
export interface UnitSettings extends Capturing {
  steadyTest: 'field' | 'strict';
  /** What its heads take from each other. */
  heads: HeadsTogether;
}

/** What the air of a second gives. */
interface Worked {
  capacity: CapacitySnapshot;
  airflow: AirflowSnapshot;
  /** The probe whose velocity the airflow follows. */
  follows: string | null;
}

export class UnitRecord {
  readonly id: string;
  name: string;
  details: UnitDetails = {};
  fanSpeeds: string[] = [];
  setpointC: number | null = null;
  fan: string | null = null;
  /** Power of its outdoor unit with all heads, as a person read it, W, and ± of that, %. */
  powerW: number | null = null;
  powerLimitPct: number | null = null;
  /** How a person found its filter; null: nobody has looked. */
  filter: 'clean' | 'loaded' | null = null;
  /** The last snapshot, null before the first. */
  latest: UnitSnapshot | null = null;
  /** What the last second has found of defrosts. */
  defrost: readonly DefrostNews[] = [];
  readonly evenness = new UnitEvenness();
  readonly table = new UnitTable();
  readonly expectation = new Expectation();
  /** The air of the last second, and the pressure in it. */
  #places: { ret: PlaceAir; sup: PlaceAir; pPa: number } | null = null;
  /** Supply less return over the last minutes, K. */
  #rises = new SettledMean(RISE_S);
  #isSimulated = false;
  /** How it was set in the last second: what is captured of before holds with that. */
  readonly #set: {
    setpointC: number | null;
    fan: string | null;
    limitPct: number | undefined;
    pa: number;
    probes: PlacedProbes | null;
  } = { setpointC: null, fan: null, limitPct: undefined, pa: NaN, probes: null };
  /** Of what the last interval was made; null where there was none. */
  #budgeted: Budgeted | null = null;
  readonly #errors = new ErrorList();
  /** Return less supply when both were last known, K. */
  splitK = NaN;
  /** The last second has brought another flow by the fan table: the coil gets wet, or dries. */
  tableMoved = false;
  #settling = new UnitSettling();
  readonly #recirculation = new Recirculation();
  readonly #velocity = new OutletVelocity();
  #wet = new WetProbes();
  #situations: Situations;
  #mean: CaptureMean;
  readonly #level = new Level();
  readonly #airflow = new ToldAirflow();
  /** With what the last figure was worked out. */
  #air: WorkedAir | null = null;
  /** The last second, ms. */
  #lastT = -Infinity;
  #mode: Mode | null = null;
  readonly #guess = new ModeGuess();
  #delivers = false;
  readonly #settings: UnitSettings;
  /** The event with which settling began, where nothing else has changed since. */
  #changedBy: string | null = null;

  constructor(id: string, settings: UnitSettings) {
    this.id = id;
    this.name = id;
    this.#settings = settings;
    this.#mean = new CaptureMean(id, settings, (from, to) => this.#settingIn(from, to));
    this.#situations = new Situations(id, settings.heads);
  }

  /** What a person has done already to be surer of the figure. */
  done(): Action[] {
    const missing = this.latest?.doubts.some(({ code }) => code === 'check-missing') ?? true;
    const walked = this.evenness.return.isWalked && this.evenness.supply.isWalked;
    const list: Action[] = [];
    if (!missing) list.push('check');
    if (walked) list.push('walk');
    return list;
  }

  /** Whether it delivered anything in the last second. */
  get delivers(): boolean {
    return this.#delivers;
  }

  /** Of what the last interval was made; empty where there was none. */
  get budget(): BudgetItem[] {
    return this.#errors.items();
  }

  /** The errors of the last total, for the sum of units; null where it has no interval. */
  get errors(): UnitErrors | null {
    if (this.#budgeted === null || this.airflow === null) return null;
    return { errors: this.#budgeted.total, flow: flowErrorName(this.id, this.airflow) };
  }

  /**
   * Settling begins anew; a steady span that was open ends as a capture.
   * @param jumps the figure is another from then on, as with another airflow
   */
  restart(t: number, jumps = false): Capture | null {
    this.#changedBy = null;
    this.#settling.restart(t, jumps);
    this.#airflow.begun();
    this.#situations.told();
    this.#velocity.begun();
    return this.#mean.end();
  }

  /**
   * The figure is worked out with something else from now on: it begins anew with the next second, and
   * captures before and after are not of one kind: they are not compared.
   */
  beginAnew(t: number): Capture | null {
    const ended = this.#worksOutAnew(t);
    this.#mean.forget();
    this.#situations.beginAnew();
    return ended;
  }

  #worksOutAnew(t: number): Capture | null {
    // All seconds up to the last one are of the old kind, however late it is told.
    const ended = this.restart(Math.max(t, this.#lastT), true);
    this.knownBetter();
    return ended;
  }

  /**
   * The clock was set: what goes by times begins anew, what is known of the unit stays.
   * @returns the capture of a span that was open, by the old clock
   */
  clockSet(shiftMs: number): Capture | null {
    const ended = this.#mean.end();
    this.#changedBy = null;
    this.#mean = this.#mean.clockSet(shiftMs);
    this.#settling = new UnitSettling();
    this.#situations = new Situations(this.id, this.#settings.heads);
    this.#wet = new WetProbes();
    this.#level.clear();
    this.#recirculation.restart();
    this.#airflow.begun();
    this.#velocity.clockSet();
    this.table.clockSet(shiftMs);
    this.expectation.clockSet(shiftMs);
    this.#rises = new SettledMean(RISE_S);
    this.#guess.clockSet(shiftMs);
    this.evenness.return.clockSet(shiftMs);
    this.evenness.supply.clockSet(shiftMs);
    this.#lastT = -Infinity;
    this.latest = null;
    return ended;
  }

  /** Something is known better from now on, of a machine that is the same: no mean goes across. */
  knownBetter(): Capture | null {
    this.#level.clear();
    return this.#mean.cut();
  }

  /** A setpoint or fan event has restarted it: the next capture is compared with the last one. */
  changed(event: EventMessage): void {
    this.#changedBy = event.id;
    this.#mean.changed(event);
    if (event.kind !== 'fan') return;
    this.#velocity.notBefore(event.t + FAN_COMES_MS);
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

  /** The correction of one of its probes is another: what was walked with the old one is of the past. */
  corrected(): void {
    this.evenness.return.forgetWalk();
    this.evenness.supply.forgetWalk();
  }

  /** One of its probes has been placed, moved or taken away: at these places another set hangs now. */
  probeMoved(t: number, ...places: readonly (Place | null)[]): Capture | null {
    for (const place of places) {
      if (place === 'return' || place === 'supply') this.evenness[place].forgetWalk();
    }
    this.#recirculation.restart();
    this.#situations.probesMoved();
    this.#velocity.moved();
    return this.beginAnew(t);
  }

  /**
   * The mean so far, as a person wants it written down.
   * @returns the capture; null where it is made within seconds, of the first ones with another airflow;
   *   or why there is none, naming the field
   */
  touch(): Capture | string | null {
    if (this.#settling.state === 'cycling') {
      const { cycles, meanW = 0, wholeU95W = null, u95W = null } = this.#mean.running ?? {};
      if (!areEnoughCycles(cycles ?? 0, meanW, wholeU95W ?? u95W)) {
        return sent`unit: "${this.id}" cycles, ${moreCyclesWords(cycles ?? 0)}`;
      }
    }
    const touched = this.#mean.touch();
    if (touched === 'next') return null;
    return (
      touched ??
      sent`unit: "${this.id}" is not steady: there is no mean yet that could be written down; wait until it is called steady, or cycling`
    );
  }

  /** The captures that were made, to be struck out or remarked on. */
  get captures(): CapturePair {
    return this.#mean.made;
  }

  get airflow(): Airflow | null {
    return this.#airflow.now;
  }

  /**
   * A new airflow from `t` on. What was worked out with the one before stays as it was told; settling is
   * seen as if the new one had always been known, unless the airflow itself may be another.
   * @param byItself see `ToldAirflow.tell`
   */
  setAirflow(airflow: Airflow, t: number, byItself = false): Capture | null {
    if (!byItself) this.#velocity.airflowTold(t, this.latest?.supply.temperatureC ?? null);
    if (!byItself) this.#situations.airflowTold();
    const before = this.airflow;
    const change = this.#airflow.tell(airflow, t, this.fan, byItself);
    if (change === 'none') return null;
    this.#changedBy = null;
    const ratio = before === null ? null : flowRatio(before, airflow, this.#air);
    if (change === 'another' || ratio === null) return this.#worksOutAnew(t);
    this.#settling.rescale(ratio);
    return change === 'follows' ? null : this.knownBetter();
  }

  /**
   * The fan table, the coil or the speed is another from `t` on: its flow counts, unless another source
   * than the table is in use.
   */
  followTable(t: number): Capture | null {
    const flow = this.table.at(this.fan);
    if (flow === null) return null;
    return this.airflow === null || this.airflow.source === FAN_TABLE
      ? this.setAirflow(flow, t)
      : null;
  }

  /** How wet the coil is, 0 to 1. */
  get wetness(): number {
    return this.table.wetness;
  }

  get isSimulated(): boolean {
    return this.#isSimulated;
  }

  /** The air of the last second, as the methods of measuring airflow need it. */
  airNow(): UnitAir {
    const { ret, sup, pPa } = this.#places ?? { ret: NOTHING, sup: NOTHING, pPa: NaN };
    return unitAir(ret, sup, this.evenness, pPa, this.wetness);
  }

  /** Standard uncertainties of what each place reads, by its probes' own errors: K and % RH. */
  airErrors(): Record<'return' | 'supply', { temperatureU: number; humidityU: number }> {
    const { ret, sup } = this.#places ?? { ret: NOTHING, sup: NOTHING };
    return { return: ownErrors(ret), supply: ownErrors(sup) };
  }

  /** Density of the moist air at a place, kg/m³; null where it is not known. */
  densityAt(place: 'return' | 'supply'): number | null {
    const { supplyVolumeM3kg, returnVolumeM3kg, humidityRatio } = this.airNow();
    const volume = place === 'supply' ? supplyVolumeM3kg : returnVolumeM3kg;
    return volume === null ? null : (1 + (humidityRatio ?? 0)) / volume;
  }

  /** What supply less return was over the last minutes; null where that is not known long enough. */
  riseBefore(): Settled | null {
    return this.#rises.result();
  }

  /**
   * The flow of dry air in use, kg/s, its standard uncertainty as a part of it, and whether it was measured
   * at this unit at the speed that is told.
   */
  flowNow(): { dryAirKgs: number | null; u: number; measured: boolean } {
    const { limitPct, limitK } = this.airflow ?? {};
    const u = limitPct === undefined ? UNSAID_FLOW : statement(limitPct / 100, limitK).u;
    const measured = isMeasured(this.airflow) && this.#otherSpeed === null;
    return { dryAirKgs: this.latest?.airflow.dryAirKgs ?? null, u, measured };
  }

  /** The anemometer in its outlet is taken away for a traverse, or hangs there again. */
  anemometerMoved(t: number): void {
    this.#velocity.moved();
    this.#velocity.notBefore(t + HANDLED_MS);
  }

  /** What 1 K and 1 kg/kg at a place do to the last total, W; null where it has no interval. */
  placeEffect(place: 'return' | 'supply'): PlaceEffect | null {
    const b = this.#budgeted;
    if (b === null) return null;
    const { ret, sup } = gradients(b.capacity, b.inputs, REAL_AIR);
    const side = place === 'return' ? ret : sup;
    return { perK: side.totalT, perW: side.totalW, totalW: b.capacity.totalW };
  }

  /** Ends an open steady span, as at the end of a log. */
  finish(): Capture | null {
    return this.#mean.end();
  }

  /** Of what the interval of the last second was made; null where there was none. */
  budgetAt(t: number, nameOf: (id: string) => string): Budget | null {
    const u95 = this.latest?.capacity.totalU95W ?? null;
    const budget = this.budget;
    const inputs = this.#budgeted?.inputs;
    if (u95 === null || budget.length === 0 || inputs === undefined) return null;
    const doubted = (code: string): boolean =>
      this.latest?.doubts.some((d) => d.code === code) ?? true;
    return {
      ...budgetOf(this.id, t, u95, budget, nameOf, {
        checked: !doubted('check-missing'),
        measured: !doubted('airflow-not-measured'),
        walked: {
          return: this.evenness.return.isWalked,
          supply: this.evenness.supply.isWalked,
        },
      }),
      regions: { return: airRegion('return', inputs), supply: airRegion('supply', inputs) },
    };
  }

  setup(): UnitSetup {
    return {
      name: this.name,
      details: this.details,
      airflow: this.airflow,
      fanSpeeds: this.fanSpeeds,
      setpointC: this.setpointC,
      fan: this.fan,
      evenness: {
        return: this.evenness.return.toState(),
        supply: this.evenness.supply.toState(),
      },
      fanTable: this.table.table,
      coil: this.table.toState(),
      published: this.expectation.toState(),
      powerW: this.powerW,
      powerLimitPct: this.powerLimitPct,
      filter: this.filter,
    };
  }

  /** How it was set in the last second, and the air around it in a span. */
  #settingIn(from: number, to: number): CaptureSetting {
    const { airflow } = this.latest ?? {};
    const { setpointC, fan, limitPct, pa, probes } = this.#set;
    return {
      ...{ setpointC, fan, flowLimitPct: limitPct ?? null, pressurePa: pa },
      returnProbes: probes?.return.map(({ id }) => id) ?? [],
      supplyProbes: probes?.supply.map(({ id }) => id) ?? [],
      wetness: this.table.wetness,
      flowM3s: airflow?.flowM3s ?? null,
      dryAirKgs: airflow?.dryAirKgs ?? null,
      source: airflow?.source ?? null,
      ...this.expectation.log.mean(from, to),
    };
  }

  /**
   * Works out the second that ends at `t`; `probes` are those placed at this unit, sampled already,
   * `outdoorC` what probes outdoors tell, null where none does. In a silence it stands for `standsS`
   * seconds: those since the last one that was worked out.
   * @returns captures of a span that has just ended, or has held long enough
   */
  second(
    t: number,
    standsS: number,
    probes: PlacedProbes,
    mode: Mode | null,
    pressure: Pressure,
    outdoorC: number | null,
    simulated: boolean,
  ): readonly Capture[] {
    const found: Doubt[] = [];
    this.#budgeted = null;
    this.#errors.clear();
    if (probes.check !== null) found.push(doubts.checkRunning(probes.check.heardEnough));
    if (probes.walking) found.push(WALK_RUNNING);
    const before = this.#mode;
    let air: { ret: PlaceAir; sup: PlaceAir } = { ret: NOTHING, sup: NOTHING };
    let ended: Capture | null = null;
    let result: Worked | null = null;
    try {
      air = {
        ret: airOf(probes.return, t, pressure.pa, found, this.evenness.return, this.splitK),
        sup: airOf(probes.supply, t, pressure.pa, found, this.evenness.supply, this.splitK),
      };
      this.#places = { ...air, pPa: pressure.pa };
      const splitK = this.#splitNow(air);
      if (!Number.isNaN(splitK)) this.splitK = splitK;
      const otherSpeed = this.#otherSpeed !== null;
      if (this.#velocity.second(t, probes.outlet, air.sup.temperatureC, otherSpeed)) {
        ended = this.#worksOutAnew(t - 1);
      }
      this.#mode = mode ?? this.#guessMode(t, air.ret, air.sup, outdoorC);
      result = this.#capacity(probes, air.ret, air.sup, t, pressure, found);
    } catch (error) {
      if (!(error instanceof MoistAirError)) throw error;
      found.push(doubts.impossible(error.message));
    }
    if (pressure.source === 'assumed' && result === null) found.push(pressureAssumed());
    const figures = result?.capacity ?? NO_CAPACITY;
    if (before !== null && before !== this.#mode) ended = this.beginAnew(t) ?? ended;
    const airflow = result?.airflow ?? {
      flowM3s: this.airflow?.flowM3s ?? null,
      standardM3s: null,
      dryAirKgs: null,
      source: this.airflow?.source ?? null,
    };
    const follows = result?.follows ?? null;
    const moving = airflow.dryAirKgs !== null && airflow.dryAirKgs >= STILL_KGS;
    if (airflow.dryAirKgs !== null && !moving) found.push(doubts.stillAir());
    this.#level.second(figures);
    const delivers = moving && delivered(figures, this.#delivers ? RESTS : DELIVERS);
    this.#delivers = delivers;
    this.#rises.second(-this.#splitNow(air));
    this.#isSimulated = simulated;
    this.table.second(t, removesWater(figures, delivers, this.#mode));
    const byTable = this.table.moved(this.fan, this.airflow);
    if (byTable !== null) this.setAirflow(byTable, t, true);
    this.tableMoved = byTable !== null;
    this.#wet.second(t, probes, air, delivers && this.#mode === 'cooling', found);
    // Readings so far apart tell nothing of what happens within minutes.
    if (standsS > 1) this.#situations.stands();
    // With the fan off, as in a defrost, the air stands, and temperatures tell nothing of where it goes.
    if (standsS === 1 && moving && !this.#settling.defrosts)
      this.#recirculation.second(air.ret.temperatureC, air.sup.temperatureC);
    else this.#recirculation.restart();
    const heard = {
      ret: probes.return.some((p) => p.fresh),
      sup: probes.supply.some((p) => p.fresh),
    };
    this.#situations.second(
      {
        t,
        pressurePa: pressure.pa,
        mode: this.#mode,
        isTold: mode !== null,
        setpointC: this.setpointC,
        placed: probes,
        ret: air.ret,
        sup: air.sup,
        figures,
        dryAirKgs: airflow.dryAirKgs,
        moving,
        delivers,
        alongShare: this.#recirculation.share,
        defrosts: this.#settling.defrosts,
        heard: heard.sup,
        velocityMs: this.#velocity.nowMs,
        comesAndGoes: this.#settling.defrosts || this.#settling.state === 'cycling',
        follows: follows !== null,
      },
      this.name,
      found,
    );
    this.defrost = this.#settling.second(
      t,
      standsS,
      {
        mode: this.#mode,
        totalW: figures.totalW,
        delivers,
        heard,
        returnC: air.ret.temperatureC,
        supplyC: air.sup.temperatureC,
        wetBulbs: () => ({
          returnC: air.ret.air.wetBulbC,
          supplyC: air.sup.air.wetBulbC,
        }),
        outdoorC,
      },
      this.#settings.steadyTest === 'strict',
    );
    this.#settling.doubts(t, standsS, figures.totalW, found);
    const captures = this.#mean.stretch(
      {
        t,
        figures,
        mode: this.#mode,
        simulated,
        errors: errorsOf(t, standsS, this.#errors, this.#airflow.name, this.#level.seconds === 1),
      },
      standsS,
      this.#settling,
    );
    this.#lastT = t;
    const set = this.#set;
    set.setpointC = this.setpointC;
    set.fan = this.fan;
    set.limitPct = this.airflow?.limitPct;
    set.pa = pressure.pa;
    set.probes = probes;
    this.latest = {
      mode: this.#mode,
      return: air.ret.air,
      supply: air.sup.air,
      airflow,
      airflowFollows: follows,
      capacity: figures,
      settling: this.#settlingSnapshot(),
      doubts: found,
    };
    return ended === null ? captures : [ended, ...captures];
  }

  /** Return less supply in one second, K; NaN where it is not known. */
  #splitNow({ ret, sup }: { ret: PlaceAir; sup: PlaceAir }): number {
    return (ret.temperatureC ?? NaN) - (sup.temperatureC ?? NaN);
  }

  /** The fan speed that the airflow is of, where another one has been told since. */
  get #otherSpeed(): string | null {
    return this.fan === this.#airflow.fan ? null : this.#airflow.fan;
  }

  #guessMode(t: number, ret: PlaceAir, sup: PlaceAir, outdoorC: number | null): Mode | null {
    if (ret.temperatureC === null || sup.temperatureC === null) return this.#mode;
    const riseK = sup.temperatureC - ret.temperatureC;
    return this.#guess.second(t, riseK, outdoorC, takesWater(ret, sup));
  }

  #capacity(
    probes: PlacedProbes,
    ret: PlaceAir,
    sup: PlaceAir,
    t: number,
    pressure: Pressure,
    found: Doubt[],
  ): Worked | null {
    // A stale probe is a doubt of its own: it hangs there. One in a check is not missed.
    for (const place of ['return', 'supply'] as const) {
      const missing = probes[place].length === 0 && probes.check === null && !probes.walking;
      if (missing) found.push(doubts.noProbe(place));
    }
    if (this.airflow === null) found.push(doubts.noAirflow());
    const mode = this.#mode;
    if (ret.temperatureC === null || sup.temperatureC === null || mode === null) return null;
    checkDoubts(mode, ret, sup, t, found);
    if (this.airflow !== null) airflowDoubts(this.airflow, found);
    if (this.#velocity.doubt !== null) found.push(this.#velocity.doubt);
    const told = this.airflow === null ? null : flowAtUnit(this.airflow);
    const follows = told && this.#velocity.follow(told, sup.temperatureC);
    const otherSpeed = this.#otherSpeed;
    if (otherSpeed !== null && told !== null && follows === null) {
      found.push(doubts.airflowOtherSpeed(otherSpeed));
    }
    const points = humid(mode, ret.temperatureC, ret, sup.temperatureC, sup, found);
    if (points === null || told === null) return null;
    this.#air = { mode, points, pPa: pressure.pa };
    const flow = follows?.airflow ?? told;
    const c = capacity(mode, points.from, points.to, flow, pressure.pa);
    basisDoubt(flow, c.volumeM3kg, found);
    if (pressure.source === 'assumed') {
      const cost = pressureAssumedAt(mode, c, points, ret, sup, flow);
      if (cost !== null) found.push(cost);
    }
    const { figures, budgeted } = figuresOf(
      mode,
      c,
      points,
      ret,
      sup,
      this.evenness,
      { flow, follows, pressure },
      this.#errors,
      found,
    );
    this.#budgeted = budgeted;
    return {
      capacity: figures,
      airflow: {
        flowM3s: c.flowM3s,
        standardM3s: c.standardM3s,
        dryAirKgs: c.dryAirKgs,
        source: flow.source,
      },
      follows: follows?.probe ?? null,
    };
  }

  #settlingSnapshot(): SettlingSnapshot {
    const settling = this.#settling.snapshot(this.#level);
    // Of cycles the mean over whole ones is known to the captures.
    if (settling.state !== 'cycling' || settling.cycle === null) return settling;
    const { running } = this.#mean;
    if (running === null) return { ...settling, cycle: { ...settling.cycle, averaged: 0 } };
    const averaged = running.cycles ?? 0;
    const cycle = { ...settling.cycle, averaged, meanU95W: running.wholeU95W };
    return { ...settling, cycle, plateauW: running.meanW, plateauU95W: running.u95W };
  }
}

/** Of the mean of a place's probes. */
function ownErrors({ probes }: PlaceAir): { temperatureU: number; humidityU: number } {
  const n = Math.max(1, probes.length);
  const of = (u: number): number => Math.sqrt(u) / n;
  return {
    temperatureU: of(probes.reduce((sum, p) => sum + p.temperature.u ** 2, 0)),
    humidityU: of(probes.reduce((sum, p) => sum + p.humidity.u ** 2, 0)),
  };
}

/** Whether the coil takes moisture out of the air; null: that cannot be told. */
function removesWater(
  { totalW, latentW, latentU95W }: CapacitySnapshot,
  delivers: boolean,
  mode: Mode | null,
): boolean | null {
  if (mode !== 'cooling' || !delivers) return false;
  if (latentW === null) return null;
  if (latentW > (latentU95W ?? DRY_SHARE * (totalW ?? 0))) return true;
  return latentW < DRY_SHARE * (totalW ?? 0) ? false : null;
}
