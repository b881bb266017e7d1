/** What a visit of the curves is made of, before it is played. */
import type { Mode } from '../../../adapters/contract.ts';
import type { Random } from '../../../simulator/random.ts';
import type { ProbeKind } from './curve-probe.ts';
import type { Spectrum } from './hover.ts';
import { firstOrder, type Shape, timeConstantS } from './shapes.ts';
import type { Stretch } from './visit.ts';

/** Something that is done to the unit, or that it does by itself. */
export interface Change {
  atS: number;
  deadS: number;
  /** Where the capacity goes, as a share of the nominal one. */
  plateau: number;
  shape: Shape;
  stretch: Exclude<Stretch, 'lead'>;
  /** What the log is told, and how long after the act, s; null: nothing. */
  told: 'setpoint' | 'fan' | null;
  toldAfterS: number;
  /** The airflow from then on, as a share of the nominal one; 0: the fan stands. */
  flow: number;
  /** True where the segment of the change before goes on: the same cycling. */
  goesOn?: boolean;
}

export interface Plan {
  mode: Mode;
  pressurePa: number;
  nominalW: number;
  ret: { tC: number; rhPct: number };
  /** The supply air at the nominal capacity: it makes the airflow. */
  supply: { tC: number; rhPct: number };
  /** The share of the nominal capacity that is delivered when the visit begins. */
  from: number;
  changes: Change[];
  endS: number;
  /** How the capacity drifts with its room, % in ten minutes. */
  driftPct: number;
  /** Fluctuation of the capacity itself: standard deviation as a share, and correlation time, s. */
  noise: { share: number; timeS: number };
  hunting: { share: number; periodS: number };
  /** Hover: standard deviation as a share of the capacity. */
  hover: { share: number; spectrum: Spectrum };
  /** Return air: its drift, K in ten minutes, and its fluctuation, K. */
  returnDriftK: number;
  returnNoiseK: number;
  /** 0: sensible and latent go alike; 1: the sensible part runs as far ahead as it can. */
  sensibleLead: number;
  /** Loss of capacity by frost since the last defrost, as a share at the end of the run. */
  frostLoss: number;
  probe: ProbeKind;
  /** Of probes, airflow and barometer: within this share of their limits they are drawn. */
  errors: number;
  /** Limits, errors and all, as a share of the ordinary ones. */
  limitShare: number;
}

export const PROBE: ProbeKind = {
  intervalS: 1,
  jitter: 0.03,
  lagC: 8,
  lagPct: 14,
  noiseC: 0.02,
  noisePct: 0.12,
  resolutionC: 0.01,
  resolutionPct: 0.1,
  dropoutsPerH: 0,
  dropoutS: 0,
  spikes: 0,
  memoryS: 0,
};

/** An ordinary cooling visit, still without changes. */
export function basePlan(random: Random): Plan {
  return {
    mode: 'cooling',
    pressurePa: random.between(96_000, 102_500),
    nominalW: random.between(2000, 6000),
    ret: { tC: random.between(24, 28), rhPct: random.between(44, 58) },
    supply: { tC: random.between(11, 14.5), rhPct: random.between(82, 93) },
    from: random.between(0.45, 1),
    changes: [],
    endS: 0,
    driftPct: random.between(-0.4, 0.2),
    noise: { share: random.between(0.001, 0.004), timeS: random.between(10, 60) },
    hunting: { share: 0, periodS: 1 },
    hover: { share: 0, spectrum: [] },
    returnDriftK: random.between(-0.3, 0.1),
    returnNoiseK: random.between(0.02, 0.06),
    sensibleLead: random.uniform(),
    frostLoss: 0,
    probe: { ...PROBE, lagC: random.between(4, 12), lagPct: random.between(8, 25) },
    errors: 1,
    limitShare: 1,
  };
}

export function heatingPlan(random: Random): Plan {
  return {
    ...basePlan(random),
    mode: 'heating',
    ret: { tC: random.between(17, 22), rhPct: random.between(28, 45) },
    supply: { tC: random.between(36, 48), rhPct: 20 },
  };
}

/** Long enough to settle and to stay so for a quarter of an hour, 25 to 45 min. */
function lengthS(deadS: number, shape: Shape): number {
  let settledS = 1;
  for (let s = 1; s < 1800; s++) if (Math.abs(shape.done(s) - 1) > 0.02) settledS = s;
  return Math.min(Math.max(deadS + settledS + 900, 1500), 2700);
}

export interface StepOptions {
  plateau?: number;
  deadS?: number;
  flow?: number;
  told?: 'setpoint' | 'fan' | null;
  stretch?: 'settles' | 'cut';
  /** How long until the next change; default: until it has settled and a quarter of an hour more. */
  forS?: number;
}

/** Appends a step to where the plan ends. */
export function step(plan: Plan, random: Random, shape: Shape, options: StepOptions = {}): void {
  const last = plan.changes.at(-1);
  if (plan.endS === 0) plan.endS = Math.round(random.between(150, 260));
  const deadS = options.deadS ?? random.between(0, 30);
  plan.changes.push({
    atS: plan.endS,
    deadS,
    plateau: options.plateau ?? another(last?.plateau ?? plan.from, random),
    shape,
    stretch: options.stretch ?? 'settles',
    told: options.told === undefined ? 'setpoint' : options.told,
    toldAfterS: random.between(0, 3),
    flow: options.flow ?? last?.flow ?? 1,
  });
  plan.endS += Math.round(options.forS ?? lengthS(deadS, shape));
}

/** A plateau at least a fifth away from that before. */
function another(before: number, random: Random): number {
  for (;;) {
    const share = random.between(0.5, 1.1);
    if (Math.abs(share - before) > 0.2 * Math.max(share, before)) return share;
  }
}

/** Appends on and off in turn, `periods` times, as one cycling segment. */
export function onOff(
  plan: Plan,
  random: Random,
  cycle: { periodS: number; duty: number; periods: number },
): void {
  if (plan.endS === 0) plan.endS = Math.round(random.between(100, 200));
  const tauS = random.between(0.08, 0.16) * cycle.periodS;
  for (let i = 0; i < cycle.periods; i++) {
    // No two turns are quite alike.
    const onS = cycle.periodS * cycle.duty * random.between(0.95, 1.05);
    const offS = cycle.periodS * (1 - cycle.duty) * random.between(0.95, 1.05);
    const common = { deadS: 0, stretch: 'cycles', toldAfterS: 0, flow: 1 } as const;
    const on = firstOrder(Math.min(tauS, onS / 3));
    const off = firstOrder(random.between(15, 35));
    const told = i === 0 ? 'setpoint' : null;
    const at = { atS: plan.endS, plateau: 1, shape: on, told } as const;
    plan.changes.push({ ...common, ...at, goesOn: i > 0 });
    plan.endS += onS;
    const rest = { atS: plan.endS, plateau: 0, shape: off, told: null } as const;
    plan.changes.push({ ...common, ...rest, goesOn: true });
    plan.endS += offS;
  }
  plan.endS = Math.floor(plan.endS);
}

/** Appends a defrost and the recovery from it. */
export function defrost(
  plan: Plan,
  random: Random,
  of: { lengthS: number; fanOff: boolean; heatsS: number },
): void {
  const before = plan.changes.at(-1)?.plateau ?? plan.from;
  const quiet = { deadS: 0, told: null, toldAfterS: 0 } as const;
  plan.changes.push({
    ...quiet,
    atS: plan.endS,
    plateau: of.fanOff ? 0 : -random.between(0.08, 0.25) * before,
    shape: firstOrder(of.fanOff ? 3 : random.between(12, 25)),
    stretch: 'defrost',
    flow: of.fanOff ? 0 : 1,
  });
  plan.endS += Math.round(of.lengthS);
  plan.changes.push({
    ...quiet,
    atS: plan.endS,
    deadS: random.between(5, 30),
    plateau: before * random.between(0.97, 1.03),
    shape: firstOrder(random.between(40, 110)),
    stretch: 'settles',
    flow: 1,
  });
  plan.endS += Math.round(of.heatsS);
}

/** 63.2 % time of a change's way, s. */
export function tauOf(change: Change): number {
  return timeConstantS(change.shape);
}
