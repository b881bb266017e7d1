/** The kinds of simulated visits: the simulator's scenarios, each with a technician's acts. */
import { type Random, randomStream } from '../../../simulator/random.ts';
import { scenario } from '../../../simulator/scenarios.ts';
import type { SystemParameters } from '../../../simulator/system.ts';
import type { Kind } from './curve-kinds.ts';
import type { Act, Script } from './simulated-script.ts';
import { playScript } from './simulated-visit.ts';

/**
 * No two days and no two machines are alike: another outdoor air, another room, a compressor that
 * takes up to five times as long, and a setpoint that leaves more or less for it to do at first.
 */
function another(parameters: SystemParameters, random: Random): SystemParameters {
  const { mode, outdoorAir, outdoorUnit, units } = parameters;
  const warmerK = random.between(-0.5, 1);
  const outdoorsK = mode === 'cooling' ? random.between(-2, 3) : 0;
  const restK = random.between(0, 1.2) * (mode === 'cooling' ? 1 : -1);
  const slower = random.between(0.2, 1);
  return {
    ...parameters,
    outdoorAir: { ...outdoorAir, temperatureC: outdoorAir.temperatureC + outdoorsK },
    outdoorUnit: { ...outdoorUnit, risePerS: outdoorUnit.risePerS * slower },
    units: units.map((unit) => ({
      ...unit,
      setpointC: unit.setpointC + restK,
      room: {
        ...unit.room,
        temperatureC: unit.room.temperatureC + warmerK,
        massTemperatureC: unit.room.massTemperatureC + warmerK,
        humidityPct: unit.room.humidityPct + random.between(-3, 3),
      },
    })),
  };
}

function told(random: Random): number {
  return random.between(0, 3);
}

/** Full capacity, then other fan speeds; each for half an hour or more. */
function ordinaryActs({ mode }: SystemParameters, random: Random, tells = true): Act[] {
  const full = mode === 'cooling' ? random.between(16, 18) : random.between(28, 30);
  const speeds = random.uniform() < 0.5 ? ['quiet', 'high'] : ['high', 'low'];
  let atS = 1500;
  const acts: Act[] = [];
  for (const what of [{ setpointC: Math.round(full) }, ...speeds.map((fan) => ({ fan }))]) {
    acts.push({ atS, unit: 'u1', toldAfterS: tells ? told(random) : null, ...what });
    atS += Math.round(random.between(1700, 2100));
  }
  return acts;
}

function scripted(
  name: string,
  visits: number,
  scriptOf: (parameters: SystemParameters, random: Random) => Script,
  of = name,
): Kind {
  return {
    name,
    visits,
    make: (seed) => {
      const random = randomStream(seed, `script ${name}`);
      return playScript(name, scriptOf(another(scenario(of), random), random), seed);
    },
  };
}

function ordinary(name: string, visits = 4): Kind {
  return scripted(name, visits, (parameters, random) => {
    const acts = ordinaryActs(parameters, random);
    return { parameters, acts, endS: (acts.at(-1)?.atS ?? 0) + 1800 };
  });
}

/** With a load that takes what the machine gives: else a room under full heating never stands. */
function loaded(parameters: SystemParameters): SystemParameters {
  const { units } = parameters;
  return {
    ...parameters,
    units: units.map((unit) => ({ ...unit, room: { ...unit.room, sensibleW: -2600 } })),
  };
}

export const SIMULATED_KINDS: readonly Kind[] = [
  ordinary('plain'),
  ordinary('humid'),
  ordinary('dry'),
  ordinary('high-altitude'),
  ordinary('small-unit'),
  ordinary('slow'),
  ordinary('noisy'),
  ordinary('dropouts'),
  ordinary('spikes'),
  ordinary('five-seconds'),
  ordinary('drifting-room'),
  ordinary('fouled'),
  scripted('heating', 4, (parameters, random) => {
    const acts = ordinaryActs(parameters, random);
    // Dry outdoors: no frost.
    const outdoorAir = { ...parameters.outdoorAir, humidityPct: 40 };
    return {
      parameters: { ...loaded(parameters), outdoorAir },
      acts,
      endS: (acts.at(-1)?.atS ?? 0) + 1800,
    };
  }),
  scripted('defrost', 4, (parameters, random) => {
    const { outdoorUnit } = parameters;
    const frost = { ...outdoorUnit.frost, loss: random.between(0.02, 0.08) };
    return {
      parameters: { ...loaded(parameters), outdoorUnit: { ...outdoorUnit, frost } },
      acts: [{ atS: 300, unit: 'u1', setpointC: 29, toldAfterS: told(random) }],
      endS: 9000,
    };
  }),
  // As it is: on another day it might not cycle.
  {
    name: 'cycling',
    visits: 3,
    make: (seed) => {
      const script = { parameters: scenario('cycling'), acts: [], endS: 10_800 };
      return playScript('cycling', { ...script, cycles: 'found' }, seed);
    },
  },
  scripted('hunting', 4, (parameters, random) => ({
    parameters,
    acts: [{ atS: 600, unit: 'u1', setpointC: 17, toldAfterS: told(random) }],
    ...{ endS: 3600, cycles: parameters.outdoorUnit.hunting.periodS },
  })),
  // What is done to the other head changes this one, and nothing is told of that here.
  scripted('two-heads', 4, (parameters, random) => ({
    parameters,
    acts: [
      { atS: 1200, unit: 'u1', setpointC: 18, toldAfterS: told(random) },
      { atS: 3000, unit: 'u2', setpointC: 26, toldAfterS: told(random) },
      { atS: 4800, unit: 'u2', setpointC: 18, toldAfterS: told(random) },
    ],
    endS: 6600,
  })),
  scripted(
    'cut-short',
    4,
    (parameters, random) => {
      const after = Math.round(random.between(40, 150));
      const fan = random.uniform() < 0.5 ? 'high' : 'low';
      return {
        parameters,
        acts: [
          { atS: 1200, unit: 'u1', setpointC: 18, toldAfterS: told(random), cut: true },
          { atS: 1200 + after, unit: 'u1', fan, toldAfterS: told(random) },
          { atS: 3300, unit: 'u1', fan: 'quiet', toldAfterS: told(random), cut: true },
          { atS: 3300 + after, unit: 'u1', fan: 'medium', toldAfterS: told(random) },
        ],
        endS: 5200,
      };
    },
    'plain',
  ),
  scripted(
    'untold',
    4,
    (parameters) => ({
      parameters,
      acts: [
        { atS: 1500, unit: 'u1', setpointC: 17, toldAfterS: null },
        { atS: 3600, unit: 'u1', setpointC: 23.5, toldAfterS: null },
      ],
      endS: 5700,
    }),
    'plain',
  ),
];
