/** Plays a plan: the truth second by second, and what two probes and a technician make of it. */
import type { Airflow, EventLine, Line, Reading } from '../../../adapters/contract.ts';
import { enthalpyJkg, humidityRatio, volumeM3kg } from '../../../server/measure/moist-air.ts';
import { type Random, randomStream } from '../../../simulator/random.ts';
import { Course } from './course.ts';
import { plateauAir, type Point, supplyAir } from './curve-air.ts';
import type { Plan } from './curve-plan.ts';
import { CurveProbe, limitsOf } from './curve-probe.ts';
import { knownPlateau, segmentsOf } from './curve-segments.ts';
import { hover } from './hover.ts';
import type { Knowledge } from './knowledge.ts';
import type { Visit } from './visit.ts';

const START_T = 1_777_885_200_000;
const UNIT = 'u1';
const FLOW_LIMIT_PCT = 5;
/** Time constant of the fan's speed, s. */
const FAN_S = 3;
/** With the fan off the air at the supply goes to the room's, s. */
const STILL_S = 90;

/** A fluctuation of standard deviation 1 with a correlation time, one value a second. */
function fluctuation(random: Random, timeS: number): () => number {
  const keep = Math.exp(-1 / timeS);
  let value = random.normal();
  return () => (value = keep * value + Math.sqrt(1 - keep * keep) * random.normal());
}

/** Plateaus of sensible and latent heat, and what they need. */
function plateausOf(
  plan: Plan,
  flowM3s: number,
  ret: Point,
): { totalW: number; latentW: number }[] {
  const of = (share: number, flow: number): { totalW: number; latentW: number } => {
    const totalW = share * plan.nominalW;
    if (plan.mode === 'heating' || totalW <= 0) return { totalW, latentW: 0 };
    const { supply } = plan;
    const { latentW } = plateauAir(totalW, ret, flow, supply.rhPct, plan.pressurePa);
    return { totalW, latentW };
  };
  return [
    of(plan.from, flowM3s),
    ...plan.changes.map(({ plateau, flow }) => of(plateau, flow * flowM3s)),
  ];
}

/** The airflow that gives the nominal capacity with the nominal supply air. */
function nominalFlow(plan: Plan, ret: Point): number {
  const { mode, supply, pressurePa } = plan;
  const most = mode === 'heating' ? ret.W : Infinity;
  const W = Math.min(humidityRatio(supply.tC, supply.rhPct, pressurePa), ret.W, most);
  const dh = Math.abs(enthalpyJkg(ret.tC, ret.W) - enthalpyJkg(supply.tC, W));
  return (plan.nominalW / dh) * volumeM3kg(supply.tC, W, pressurePa);
}

/** @param seed the same seed draws the same errors, noise and rhythm */
export function play(kind: string, plan: Plan, seed: number, aside: boolean): Visit {
  const { pressurePa, mode, changes } = plan;
  const sign = mode === 'cooling' ? 1 : -1;
  const random = randomStream(seed, `curves ${kind}`);
  const n = Math.floor(plan.endS);
  const ret0 = { tC: plan.ret.tC, W: humidityRatio(plan.ret.tC, plan.ret.rhPct, pressurePa) };
  const flowM3s = nominalFlow(plan, ret0);
  const plateaus = plateausOf(plan, flowM3s, ret0);
  const total = courseOf(plan, plateaus, (p) => p.totalW);
  const sensible = courseOf(plan, plateaus, (p) => p.totalW - p.latentW, leadOf(plateaus, plan));

  const capacityNoise = fluctuation(random, plan.noise.timeS);
  const returnNoise = fluctuation(random, 60);
  const hovering = hover(plan.hover.spectrum, randomStream(seed, `hover ${kind}`));
  const probes = {
    ret: new CurveProbe('r', plan, seed, kind),
    sup: new CurveProbe('s', plan, seed, kind),
  };
  const told = tellings(plan, flowM3s, random);
  const lines: Line[] = setUp(plan, told.first, random);
  const visit = {
    trueW: new Float64Array(n),
    trueLatentW: new Float64Array(n),
    levelW: new Float64Array(n),
    plateauW: new Float64Array(n),
  };
  const away = new Float64Array(n);
  let supply: Point = ret0;
  let flow = flowM3s;
  for (let i = 0; i < n; i++) {
    const s = i + 0.5;
    const change = changes.findLast(({ atS }) => atS <= s);
    const standing = changes.findLast((c) => c.atS <= s && c.stretch !== 'defrost');
    const drift = driftAt(plan, s) * frostAt(plan, s);
    const hunt = 1 + plan.hunting.share * Math.sin((2 * Math.PI * s) / plan.hunting.periodS);
    const restless = 1 + plan.noise.share * capacityNoise() + plan.hover.share * hovering();
    const factor = drift * hunt * restless;
    const wantedFlow = (change?.flow ?? 1) * flowM3s;
    flow += (wantedFlow - flow) * -Math.expm1(-1 / FAN_S);
    const ret = {
      tC: ret0.tC + (plan.returnDriftK * s) / 600 + plan.returnNoiseK * returnNoise(),
      W: ret0.W,
    };
    const plateau = (standing?.plateau ?? plan.from) * plan.nominalW;
    const course = total.at(s);
    visit.plateauW[i] = drift * plan.nominalW * knownPlateau(plan, s);
    away[i] = plateau === 0 ? 0 : course / plateau - 1;
    if (change?.flow === 0) {
      supply = { tC: supply.tC + (ret.tC - supply.tC) * -Math.expm1(-1 / STILL_S), W: ret.W };
    } else {
      const latentW = mode === 'cooling' ? (course - sensible.at(s)) * factor : 0;
      const signed = sign * course * factor;
      const made = supplyAir(signed, latentW, ret, flow, supply, pressurePa);
      supply = made.supply;
      visit.trueW[i] = course * factor;
      visit.levelW[i] = course * drift * hunt;
      visit.trueLatentW[i] = mode === 'cooling' ? made.latentW : 0;
    }
    const second: Reading[] = [];
    probes.ret.second(i, ret, pressurePa, START_T, second);
    probes.sup.second(i, supply, pressurePa, START_T, second);
    lines.push(...inOrder(second, told.take(i)));
  }
  return {
    ...{ source: 'curves', kind, seed, aside, unit: UNIT, startT: START_T, lines },
    ...visit,
    segments: segmentsOf(plan, total, away, n),
    knowledge: knowledgeOf(plan, flowM3s, ret0),
  };
}

/** What there is to know of a plan, in watts. */
function knowledgeOf(plan: Plan, flowM3s: number, ret: Point): Knowledge {
  const { hover, changes, probe, nominalW, pressurePa } = plan;
  const W = humidityRatio(plan.supply.tC, plan.supply.rhPct, pressurePa);
  const dryAirKgs = flowM3s / volumeM3kg(plan.supply.tC, Math.min(W, ret.W), pressurePa);
  /** Rounding counts as noise that is evenly spread. */
  const noise = (sd: number, resolution: number): number => Math.hypot(sd, resolution / 12 ** 0.5);
  const noiseJkg = [plan.ret, plan.supply].flatMap(({ tC, rhPct }) => {
    const enthalpy = (t: number, rh: number): number =>
      enthalpyJkg(t, humidityRatio(t, rh, pressurePa));
    const { noiseC, noisePct, resolutionC, resolutionPct } = probe;
    return [
      (enthalpy(tC + 0.5, rhPct) - enthalpy(tC - 0.5, rhPct)) * noise(noiseC, resolutionC),
      (enthalpy(tC, rhPct + 0.5) - enthalpy(tC, rhPct - 0.5)) * noise(noisePct, resolutionPct),
    ];
  });
  return {
    ...{ hover, nominalW, intervalS: probe.intervalS },
    ways: changes.map(({ atS, deadS, shape }) => ({ beginS: atS + deadS, shape })),
    drift: (s) => driftAt(plan, s),
    lagS: (probe.lagC + probe.lagPct) / 2,
    noiseW: dryAirKgs * Math.hypot(...noiseJkg),
    memoryS: Math.max(probe.memoryS, 0.1),
  };
}

interface Plateau {
  totalW: number;
  latentW: number;
}

/** How much faster the sensible part goes: never so much that the latent part turns negative. */
function leadOf(plateaus: readonly Plateau[], { sensibleLead }: Plan): (k: number) => number {
  return (k) => {
    const { totalW, latentW } = plateaus[k] ?? { totalW: 1, latentW: 0 };
    const share = totalW <= 0 ? 1 : (totalW - latentW) / totalW;
    return 1 + sensibleLead * (1 / Math.max(share, 0.5) - 1);
  };
}

function courseOf(
  plan: Plan,
  plateaus: readonly Plateau[],
  part: (p: Plateau) => number,
  speed: (k: number) => number = () => 1,
): Course {
  const of = (k: number): number => part(plateaus[k] ?? { totalW: NaN, latentW: NaN });
  return new Course(
    of(0),
    plan.changes.map(({ atS, deadS, shape }, k) => ({
      ...{ atS, deadS, shape },
      plateau: of(k + 1),
      speed: speed(k + 1),
    })),
  );
}

function driftAt({ driftPct }: Plan, s: number): number {
  return Math.min(Math.max(1 + (driftPct / 100) * (s / 600), 0.4), 1.8);
}

/** What frost has left: it grows from one defrost to the next, quicker towards its end. */
function frostAt({ frostLoss, changes, endS }: Plan, s: number): number {
  if (frostLoss === 0) return 1;
  const begun = changes.findLast((c) => c.atS <= s && c.stretch !== 'defrost')?.atS ?? 0;
  const ends = changes.find((c) => c.atS > begun && c.stretch === 'defrost')?.atS ?? endS;
  return 1 - frostLoss * Math.min((s - begun) / (ends - begun), 1) ** 2;
}

function setUp(plan: Plan, airflow: Airflow, random: Random): Line[] {
  const limits = limitsOf(plan.probe, plan.limitShare);
  const errorPa = plan.errors * plan.limitShare * random.between(-150, 150);
  const pressurePa = plan.pressurePa + errorPa;
  return [
    { type: 'visit', version: 1, mode: plan.mode, pressurePa },
    { type: 'unit', id: UNIT, airflow, unevenPct: { return: 0, supply: 0 } },
    { type: 'probe', id: 'r', unit: UNIT, place: 'return', limits },
    { type: 'probe', id: 's', unit: UNIT, place: 'supply', limits },
  ];
}

/** What a technician tells, second by second, and the airflow at the start. */
function tellings(
  plan: Plan,
  flowM3s: number,
  random: Random,
): { first: Airflow; take(second: number): Line[] } {
  const limitPct = plan.limitShare * FLOW_LIMIT_PCT;
  const error = 1 + (plan.errors * random.between(-1, 1) * limitPct) / 100;
  const airflow = (share: number): Airflow => ({
    ...{ source: 'grid', flowM3s: share * flowM3s * error, limitPct },
    ...{ basis: 'actual', plane: 'supply' },
  });
  const lines: { second: number; line: Exclude<Line, { type: 'visit' | 'unit' | 'probe' }> }[] = [];
  let flow = 1;
  plan.changes.forEach((change, k) => {
    const { told, atS, toldAfterS } = change;
    if (told === null) return;
    const t = START_T - 1000 + Math.round(1000 * (atS + toldAfterS));
    const second = Math.floor(atS + toldAfterS);
    const event: EventLine =
      told === 'fan'
        ? { type: 'event', t, kind: 'fan', unit: UNIT, speed: `speed ${k}` }
        : { type: 'event', t, kind: 'setpoint', unit: UNIT, valueC: 18 + (k % 8) };
    lines.push({ second, line: event });
    if (change.flow !== flow) {
      lines.push({
        second,
        line: { type: 'airflow', t, unit: UNIT, airflow: airflow(change.flow) },
      });
    }
    flow = change.flow;
  });
  return {
    first: airflow(1),
    take: (second) => lines.filter((each) => each.second === second).map(({ line }) => line),
  };
}

function inOrder(readings: readonly Reading[], told: readonly Line[]): Line[] {
  const time = (line: Line): number => ('t' in line ? (line.t ?? 0) : 0);
  return [...readings, ...told].sort((a, b) => time(a) - time(b));
}
