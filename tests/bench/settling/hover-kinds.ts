/**
 * Visits as real machines and ordinary probes make them: the capacity hovers, readings are rounded to
 * tenths, their noise has a memory, some are late or lost, and the room drifts. Played from curves
 * (curve-visit.ts): flat for 40 minutes, approaching, and cycling; each read every 1, 5 and 60 s.
 *
 * Flat visits are read by probes and an airflow of hardly any error, so that whether a capture holds the
 * truth asks for the scatter of its mean and not for the width of data sheets.
 */
import { type Random, randomStream } from '../../../simulator/random.ts';
import { type Kind, ordinary } from './curve-kinds.ts';
import { basePlan, onOff, type Plan, step } from './curve-plan.ts';
import { play } from './curve-visit.ts';
import { type Machine, MACHINES } from './hover.ts';

export const HOVERS_PCT = [0, 0.5, 1, 1.5, 2.5, 4] as const;
export const INTERVALS_S = [1, 5, 60] as const;
/** The aims hold up to here. */
const MOST_PCT = 2.5;
const FLAT_S = 2400;
const VISITS = 4;
/** What probes and airflow may be wrong in a flat visit: a share of their limits. */
const HARDLY = 0.01;

type Scene = 'flat' | 'approach' | 'cycles';

/** Which machine a visit has: in turns, and not always the same at the same size. */
function machineOf(hoverPct: number, seed: number): Machine {
  const names = Object.keys(MACHINES) as Machine[];
  const turn = seed + HOVERS_PCT.findIndex((pct) => pct === hoverPct);
  return names[((turn % names.length) + names.length) % names.length] ?? 'laboratory';
}

function planOf(scene: Scene, hoverPct: number, intervalS: number, seed: number): Plan {
  const random = randomStream(seed, `plan ${nameOf(scene, hoverPct, intervalS)}`);
  const plan = basePlan(random);
  ordinaryProbes(plan, random, intervalS);
  const machine = machineOf(hoverPct, seed);
  plan.noise.share = 0;
  plan.hover = { share: hoverPct / 100, spectrum: MACHINES[machine](random) };
  const sign = (): number => (random.uniform() < 0.5 ? -1 : 1);
  plan.driftPct = random.uniform() < 0.3 ? 0.7 * sign() : 0;
  plan.returnDriftK = random.uniform() < 0.5 ? 0.25 * sign() : 0;
  if (scene === 'flat') {
    plan.limitShare = HARDLY;
    plan.endS = FLAT_S;
  } else if (scene === 'approach') {
    for (let k = 0; k < 2; k++) step(plan, random, ordinary(random));
  } else {
    cycles(plan, random, intervalS, seed);
  }
  return plan;
}

/** 0.06 K and 0.35 % RH with a memory of 6 s, to tenths, through 8 to 35 s; late now and then, or lost. */
function ordinaryProbes(plan: Plan, random: Random, intervalS: number): void {
  const lagC = random.between(8, 35);
  Object.assign(plan.probe, {
    ...{ intervalS, jitter: intervalS === 60 ? 0.01 : 0.1 },
    ...{ lagC, lagPct: Math.min(lagC * random.between(1, 1.5), 35) },
    ...{ noiseC: 0.06, noisePct: 0.35, memoryS: 6, resolutionC: 0.1, resolutionPct: 0.1 },
    ...{ dropoutsPerH: 4, dropoutS: 8 },
  } satisfies Partial<Plan['probe']>);
}

/** On and off, or a controller that hunts; read once a minute only where a minute can tell. */
function cycles(plan: Plan, random: Random, intervalS: number, seed: number): void {
  const least = intervalS === 60 ? 900 : 300;
  const periodS = least * random.between(1, 2.5);
  if (seed % 2 === 0) {
    plan.from = 0;
    onOff(plan, random, { periodS, duty: random.between(0.35, 0.7), periods: 8 });
    return;
  }
  plan.hunting = { share: random.between(0.08, 0.15), periodS };
  step(plan, random, ordinary(random), { plateau: 1, forS: 10 * periodS });
  const change = plan.changes[0];
  if (change !== undefined) change.stretch = 'cycles';
}

function nameOf(scene: Scene, hoverPct: number, intervalS: number): string {
  return `${scene}-${hoverPct}-${intervalS}s`;
}

function kind(scene: Scene, hoverPct: number, intervalS: number, visits: number): Kind {
  const name = nameOf(scene, hoverPct, intervalS);
  const aside = hoverPct > MOST_PCT;
  return {
    ...{ name, visits, aside },
    make: (seed) => ({
      ...play(name, planOf(scene, hoverPct, intervalS, seed), seed, aside),
      source: 'hover',
    }),
    groups: (seed) => {
      if (scene === 'cycles') return ['cycles', `cycles, every ${intervalS} s`];
      const groups = [`${scene}, hover ${hoverPct} %`];
      if (aside) return groups;
      groups.push(`${scene}, every ${intervalS} s`);
      const hovers = hoverPct === 0 ? 'without hover' : 'with hover';
      groups.push(`${scene}, ${hovers}`, `${scene}, ${hovers}, every ${intervalS} s`);
      if (hoverPct > 0) groups.push(`${scene}, ${machineOf(hoverPct, seed)}`);
      return groups;
    },
  };
}

export const HOVER_KINDS: readonly Kind[] = [
  ...(['flat', 'approach'] as const).flatMap((scene) =>
    HOVERS_PCT.flatMap((pct) => INTERVALS_S.map((s) => kind(scene, pct, s, VISITS))),
  ),
  ...[0, 1.5, 2.5].flatMap((pct) => INTERVALS_S.map((s) => kind('cycles', pct, s, 2))),
];
