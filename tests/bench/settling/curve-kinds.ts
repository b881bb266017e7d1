/** The kinds of visits that are played from curves. Each draws its own figures from its seed. */
import { type Random, randomStream } from '../../../simulator/random.ts';
import {
  basePlan,
  defrost,
  heatingPlan,
  onOff,
  type Plan,
  step,
  type StepOptions,
} from './curve-plan.ts';
import type { ProbeKind } from './curve-probe.ts';
import { play } from './curve-visit.ts';
import {
  firstOrder,
  overshoot,
  ramp,
  secondOrder,
  type Shape,
  twoStage,
  windup,
} from './shapes.ts';
import type { Visit } from './visit.ts';

export interface Kind {
  name: string;
  /** Visits of it in a standard run. */
  visits: number;
  aside?: boolean;
  make: (seed: number) => Visit;
  /** The rows of the tables in which a visit counts; by default its kind's own. */
  groups?: (seed: number) => string[];
}

type Draw = (random: Random) => Shape;

export const ordinary: Draw = (random) =>
  random.uniform() < 0.4
    ? firstOrder(random.between(40, 160))
    : second(random, random.between(50, 150));

function second(random: Random, largerS: number): Shape {
  return secondOrder(largerS, largerS * random.between(0.15, 0.8));
}

/** A kind of which each visit is a plan with two or three steps. */
function steps(
  name: string,
  visits: number,
  draw: Draw,
  change: (plan: Plan, random: Random) => StepOptions = () => ({}),
  { aside = false, base = basePlan }: { aside?: boolean; base?: (random: Random) => Plan } = {},
): Kind {
  return made(name, visits, aside, (random) => {
    const plan = base(random);
    const options = change(plan, random);
    const count = 2 + Math.floor(random.uniform() * 2);
    for (let k = 0; k < count; k++) step(plan, random, draw(random), options);
    return plan;
  });
}

function made(
  name: string,
  visits: number,
  aside: boolean,
  planOf: (random: Random) => Plan,
): Kind {
  return {
    name,
    visits,
    aside,
    make: (seed) => play(name, planOf(randomStream(seed, `plan ${name}`)), seed, aside),
  };
}

/** A kind in which the probes are others. */
function probes(
  name: string,
  visits: number,
  probe: (random: Random) => Partial<ProbeKind>,
  aside = false,
): Kind {
  return steps(
    name,
    visits,
    ordinary,
    (plan, random) => {
      plan.probe = { ...plan.probe, ...probe(random) };
      return {};
    },
    { aside },
  );
}

export const CURVE_KINDS: readonly Kind[] = [
  steps('first-order', 6, (r) => firstOrder(r.between(40, 180))),
  steps('second-order', 8, (r) => second(r, r.between(50, 180))),
  steps('dead-time', 5, ordinary, (_, r) => ({ deadS: r.between(40, 90) })),
  steps('quick', 5, (r) => firstOrder(r.between(15, 40))),
  steps('slow', 6, (r) =>
    r.uniform() < 0.5 ? firstOrder(r.between(180, 300)) : second(r, r.between(150, 240)),
  ),
  steps('ramp', 6, (r) => ramp(r.between(90, 500), r.between(4, 30))),
  steps('overshoot', 6, (r) => overshoot(r.between(0.3, 0.7), r.between(150, 420))),
  // The flat top of it is taken for rest: known, and not mended.
  steps(
    'windup',
    6,
    (r) => windup(r.between(60, 150), r.between(15, 40), r.between(0.1, 0.3), r.between(90, 180)),
    undefined,
    { aside: true },
  ),
  steps('two-stage', 6, (r) => twoStage(r.between(20, 70), r.between(180, 320), 0.1)),
  made('from-zero', 8, false, (random) => {
    const plan = { ...basePlan(random), from: 0 };
    step(plan, random, ordinary(random), { plateau: 1, deadS: random.between(10, 90) });
    step(plan, random, ordinary(random));
    return plan;
  }),
  made('step-down', 5, false, (random) => {
    const plan = { ...basePlan(random), from: 1.1 };
    step(plan, random, ordinary(random), { plateau: random.between(0.65, 0.85) });
    step(plan, random, ordinary(random), { plateau: random.between(0.35, 0.5) });
    return plan;
  }),
  made('small-steps', 5, false, (random) => {
    const plan = { ...basePlan(random), from: 0.8 };
    for (let k = 0; k < 3; k++) {
      const last = plan.changes.at(-1)?.plateau ?? plan.from;
      const sign = random.uniform() < 0.5 ? -1 : 1;
      step(plan, random, ordinary(random), { plateau: last * (1 + 0.05 * sign) });
    }
    return plan;
  }),
  made('no-effect', 4, false, (random) => {
    const plan = basePlan(random);
    for (let k = 0; k < 3; k++) {
      step(plan, random, firstOrder(30), { plateau: plan.from, forS: 1200 });
    }
    return plan;
  }),
  steps('drifting', 6, ordinary, (plan, random) => {
    plan.driftPct = (random.uniform() < 0.7 ? -1 : 1) * random.between(1, 3);
    plan.returnDriftK = plan.driftPct * 0.2;
    return {};
  }),
  steps(
    'drifting-fast',
    4,
    ordinary,
    (plan, random) => {
      plan.driftPct = (random.uniform() < 0.7 ? -1 : 1) * random.between(3, 6);
      plan.returnDriftK = plan.driftPct * 0.2;
      return {};
    },
    { aside: true },
  ),
  steps('restless', 6, ordinary, (plan, random) => {
    plan.noise = { share: random.between(0.005, 0.008), timeS: random.between(40, 120) };
    plan.returnNoiseK = 0.1;
    return {};
  }),
  steps('swinging', 5, ordinary, (plan, random) => {
    plan.hunting = { share: 0.01, periodS: random.between(80, 300) };
    return {};
  }),
  made('hunting', 6, false, (random) => {
    const plan = basePlan(random);
    const periodS = random.between(100, 420);
    plan.hunting = { share: random.between(0.05, 0.12), periodS };
    step(plan, random, ordinary(random), { plateau: 1, forS: Math.max(1800, 10 * periodS) });
    const change = plan.changes[0];
    if (change !== undefined) change.stretch = 'cycles';
    return plan;
  }),
  made('on-off', 8, false, (random) => {
    const plan = { ...basePlan(random), from: 0 };
    const periodS = 240 * (1500 / 240) ** random.uniform();
    onOff(plan, random, { periodS, duty: random.between(0.35, 0.7), periods: 8 });
    return plan;
  }),
  made('defrost', 7, false, (random) => {
    const plan = heatingPlan(random);
    plan.frostLoss = random.between(0, 0.05);
    step(plan, random, ordinary(random), { forS: random.between(1600, 2600) });
    for (let k = 0; k < 2; k++) {
      defrost(plan, random, {
        lengthS: random.between(180, 480),
        fanOff: random.uniform() < 0.5,
        heatsS: random.between(1800, 3400),
      });
    }
    return plan;
  }),
  probes('slow-probes', 6, (r) => ({ lagC: r.between(20, 40), lagPct: r.between(30, 60) })),
  probes('unequal-lags', 6, (r) => ({ lagC: r.between(3, 8), lagPct: r.between(30, 60) })),
  probes('noisy-probes', 5, (r) => ({ noiseC: r.between(0.06, 0.15), noisePct: 0.6 })),
  probes('coarse-probes', 4, () => ({ resolutionC: 0.1, resolutionPct: 1, noiseC: 0.03 })),
  probes('four-hertz', 3, () => ({ intervalS: 0.25, noiseC: 0.03 })),
  probes('two-seconds', 4, () => ({ intervalS: 2 })),
  probes('five-seconds', 6, (r) => ({ intervalS: 5, noiseC: r.between(0.02, 0.06) })),
  probes('ten-seconds', 4, () => ({ intervalS: 10 })),
  probes('logger', 4, () => ({ intervalS: 60, jitter: 0.002 }), true),
  probes('dropouts', 5, (r) => ({ dropoutsPerH: 15, dropoutS: r.between(15, 40) })),
  probes('spikes', 5, () => ({ spikes: 1 / 200 })),
  steps('high-altitude', 4, ordinary, (plan, random) => {
    plan.pressurePa = random.between(72_000, 84_000);
    return {};
  }),
  steps('small-unit', 5, ordinary, (plan, random) => {
    plan.nominalW = random.between(1200, 1800);
    return {};
  }),
  steps('humid', 4, ordinary, (plan, random) => {
    plan.ret = { tC: random.between(25, 29), rhPct: random.between(62, 76) };
    plan.supply = { tC: random.between(14, 17), rhPct: 93 };
    return {};
  }),
  steps('dry', 4, ordinary, (plan, random) => {
    plan.ret = { tC: random.between(25, 29), rhPct: random.between(18, 30) };
    return {};
  }),
  steps('heating', 6, ordinary, undefined, { base: heatingPlan }),
  made('fan', 6, false, (random) => {
    const plan = basePlan(random);
    for (const flow of [random.between(0.6, 0.8), random.between(0.9, 1.05), 0.7]) {
      const plateau = (plan.changes.at(-1)?.plateau ?? 1) * random.between(0.85, 1.1);
      const told = 'fan';
      step(plan, random, ordinary(random), { flow, plateau, told, deadS: random.between(0, 10) });
    }
    return plan;
  }),
  made('cut-short', 6, false, (random) => {
    const plan = basePlan(random);
    for (let k = 0; k < 2; k++) {
      const forS = random.between(60, 240);
      step(plan, random, ordinary(random), { stretch: 'cut', forS });
      step(plan, random, ordinary(random));
    }
    return plan;
  }),
  steps('untold', 6, ordinary, () => ({ told: null })),
];
