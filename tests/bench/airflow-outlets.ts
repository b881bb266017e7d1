/**
 * Outlets of which the truth is known, traversed by a simulated hand through the session: what the
 * measured airflow and its interval are held against. Geometry, field, hand, rhythm and anemometer are
 * drawn for each; what is stated with a ± is wrong by what is drawn inside it.
 */
import type { Line } from '../../adapters/contract.ts';
import { gridPoints, type Rule } from '../../server/measure/airflow/positions.ts';
import { pressureAtAltitudePa, volumeM3kg } from '../../server/measure/moist-air.ts';
import type { AirflowResult } from '../../server/protocol.ts';
import { Session } from '../../server/session.ts';
import { sectionSeconds } from '../../server/session/airflow/guide.ts';
import { HeldAnemometer } from '../../simulator/anemometer.ts';
import { lanesOf } from '../../simulator/hand.ts';
import { EVEN, type Jet, type SectionSize, type Support } from '../../simulator/outlet-field.ts';
import type { ProbeReading } from '../../simulator/probe.ts';
import { type Random, randomStream } from '../../simulator/random.ts';

const T0 = 1_777_885_200_000;
const STEP_MS = 500;
/** Anemometers are made for air of this density, kg/m³. */
const STANDARD_DENSITY = 1.204;
/** A vane feels from nothing to this part of what velocity pressure does with density; what a thermal one misses of it. */
const VANE_SHARE = 0.5;
const THERMAL_SHARE = 0.1;
/** The probe in the outlet tells the air's temperature this seldom, ms. */
const AIR_EVERY_MS = 5000;
/** A rule is read to a millimeter. */
const RULE_M = 0.001;
/** A head wider than the slot reads wrong by up to this part. */
const WIDER = 0.05;

export type Form = 'wall unit' | 'cassette' | 'grille';
export const FORMS: readonly Form[] = ['wall unit', 'cassette', 'grille'];

export interface OutletTrial {
  form: Form;
  flowM3s: number;
  sweeps: AirflowResult[];
  grid: AirflowResult;
  tchebycheff: AirflowResult;
  /** Parts of the population. */
  densityKgM3: number;
  isJet: boolean;
  hasSupport: boolean;
  headM: number;
  intervalS: number;
}

function sizes(form: Form, random: Random): SectionSize[] {
  if (form === 'wall unit') {
    const count = random.uniform() < 0.5 ? 1 : 2;
    const widthM = random.between(0.045, 0.08);
    const lengthM = random.between(0.6, 1) / count;
    return Array.from({ length: count }, () => ({ widthM, lengthM }));
  }
  if (form === 'cassette') {
    const widthM = random.between(0.03, 0.05);
    const lengthM = random.between(0.35, 0.6);
    return Array.from({ length: 4 }, () => ({ widthM, lengthM }));
  }
  return [{ widthM: random.between(0.15, 0.35), lengthM: random.between(0.4, 0.9) }];
}

/** Two jets at most, none in a third of all outlets. */
function jetsOf(sections: number, random: Random): Jet[] {
  const count = Math.floor(random.between(0, 3));
  return Array.from({ length: count }, () => ({
    section: Math.floor(random.between(0, sections)),
    at: random.between(0.1, 0.9),
    width: random.between(0.1, 0.4),
    strength: random.between(0.2, 1.2),
  }));
}

/** One outlet, swept three times and held at its points by either rule. */
export function outletTrial(seed: number): OutletTrial {
  const random = randomStream(seed, 'outlet');
  const off = (limit: number): number => random.between(-limit, limit);
  const form = FORMS[seed % 3] ?? 'grille';
  const sections = sizes(form, random);
  const jets = jetsOf(sections.length, random);
  const supports: Support[] = [];
  if (random.uniform() < 0.25) {
    const lengthM = sections[0]?.lengthM ?? NaN;
    const atM = lengthM * random.between(0.3, 0.7);
    supports.push({ section: 0, atM, widthM: random.between(0.01, 0.025) });
  }
  // Thermal ones are thin; every fifth is one.
  const kind = seed % 5 === 4 ? 'thermal' : 'vane';
  const headM = kind === 'thermal' ? 0.012 : random.between(0.06, 0.1);
  const freeAreaSaid = random.between(0.75, 1);
  const freeAreaLimit = random.between(0.01, 0.04);
  const opening = {
    sections,
    freeArea: freeAreaSaid + off(freeAreaLimit),
    shape: {
      ...EVEN,
      // Half have a turbulent profile, half an even one that begins behind a dead end.
      ...(random.uniform() < 0.5
        ? { endPower: random.between(0, 0.28) }
        : { deadM: random.between(0, 0.022) }),
      sidePower: random.between(0, 0.28),
      jets,
      supports,
      louverDeg: random.between(0, 30),
      shares: sections.map(() => random.between(0.85, 1.15)),
    },
  };
  const intervalS = [0.1, 0.25, 1][Math.floor(random.between(0, 3))] ?? 1;
  const dropoutsPerH = random.uniform() < 0.2 ? 60 : 0;
  const limits = { velocityMs: random.between(0.03, 0.1), velocityPct: random.between(1, 3) };
  const narrow = Math.min(...sections.map(({ widthM }) => widthM));
  const edge = headM > narrow ? 1 + off(WIDER) : 1;
  const air = supplyAir(seed);
  const reads = edge * readsIn(air.densityKgM3, kind, air.feels);
  const held = new HeldAnemometer(
    opening,
    {
      probe: {
        id: 'v',
        name: '',
        unit: null,
        place: 'outlet',
        sensors: {
          velocityMs: {
            lagS: kind === 'thermal' ? 0.3 : random.between(0.5, 1.5),
            limit: limits.velocityMs,
            limitPct: limits.velocityPct,
            noise: 0.01,
            resolution: 0.01,
          },
        },
        intervalS,
        unevenK: 0,
        dropoutsPerH,
        dropoutS: 4,
        spikesPerH: 0,
        batteryPct: 90,
        batteryPctPerH: 0,
      },
      headM,
      turbulence: random.between(0.05, 0.2),
      eddyS: random.between(0.2, 1),
      hand: {
        paceMs: random.between(0.06, 0.16),
        unevenness: random.between(0.1, 0.3),
        unevenS: random.between(1, 4),
        stopsPerMin: random.between(0, 4),
        paints: random.uniform() < 0.5 ? 'lanes' : 'zigzag',
      },
    },
    seed,
  );

  const measured = (m: number): number => m + off(RULE_M);
  const said = sections.map(({ widthM, lengthM }) => ({ widthM, lengthM }));
  const widthM = measured(said[0]?.widthM ?? NaN);
  const lengthM = measured(said[0]?.lengthM ?? NaN);
  const told = said.map((_, i) => {
    const blockedM2 = supports
      .filter(({ section }) => section === i)
      .reduce((sum, support) => sum + support.widthM * widthM, 0);
    return { widthM, lengthM, ...(blockedM2 === 0 ? {} : { blockedM2 }) };
  });
  const area = sections.reduce((sum, s) => sum + s.widthM * s.lengthM, 0);
  const flowM3s = random.between(1.5, 5) * area * opening.freeArea;

  const visit = new Visit(held, { flowM3s, reads, intervalS, supplyC: air.supplyC }, random);
  visit.take({ type: 'visit', version: 1, pressurePa: air.pressurePa, mode: 'cooling' });
  visit.take({ type: 'unit', id: 'u', fanSpeeds: ['high'] });
  visit.take({ type: 'probe', id: 's', unit: 'u', place: 'supply' });
  visit.take({
    type: 'probe',
    id: 'v',
    limits,
    anemometer: { kind, headM },
  });
  visit.take({
    type: 'outlet',
    id: 'o',
    unit: 'u',
    sections: told,
    freeArea: freeAreaSaid,
    freeAreaLimit,
  });
  const paceMs = held.parameters.hand?.paceMs ?? NaN;
  const sweeps = [0, 1, 2].map(() => visit.sweep(sections, headM, paceMs));
  const grid = visit.grid(told, 'equal-area');
  const tchebycheff = visit.grid(told, 'log-tchebycheff');
  return {
    form,
    flowM3s,
    sweeps,
    grid,
    tchebycheff,
    densityKgM3: air.densityKgM3,
    isJet: jets.length > 0,
    hasSupport: supports.length > 0,
    headM,
    intervalS,
  };
}

/** Supply air of a cold or a warm coil, by the sea or in the mountains; and how an anemometer feels it. */
function supplyAir(seed: number): {
  pressurePa: number;
  supplyC: number;
  densityKgM3: number;
  feels: number;
} {
  const random = randomStream(seed, 'outlet air');
  const pressurePa = pressureAtAltitudePa(random.between(0, 2000));
  const supplyC = random.between(12, 48);
  const humidityRatio = random.between(0.004, 0.009);
  const densityKgM3 = (1 + humidityRatio) / volumeM3kg(supplyC, humidityRatio, pressurePa);
  return { pressurePa, supplyC, densityKgM3, feels: random.uniform() };
}

/** What an anemometer reads of 1 m/s in air of that density. @param feels 0 to 1: how much it feels it */
function readsIn(densityKgM3: number, kind: 'vane' | 'thermal', feels: number): number {
  const ratio = densityKgM3 / STANDARD_DENSITY;
  return kind === 'vane'
    ? 1 + VANE_SHARE * feels * (Math.sqrt(ratio) - 1)
    : ratio * (1 + THERMAL_SHARE * (2 * feels - 1) * (1 / ratio - 1));
}

/** A session that hears what the hand's anemometer says. */
class Visit {
  readonly #session: Session;
  readonly #results: AirflowResult[] = [];
  readonly #held: HeldAnemometer;
  readonly #air: { flowM3s: number; reads: number; intervalS: number; supplyC: number };
  readonly #random: Random;
  #ms = 0;
  #lastT = T0;
  #airT = -Infinity;

  constructor(
    held: HeldAnemometer,
    air: { flowM3s: number; reads: number; intervalS: number; supplyC: number },
    random: Random,
  ) {
    this.#held = held;
    this.#air = air;
    this.#random = random;
    const nothing = (): void => undefined;
    this.#session = new Session({
      ...{ snapshot: nothing, capture: nothing, check: nothing, walk: nothing, event: nothing },
      ...{ probe: nothing, setup: nothing },
      airflow: (result) => this.#results.push(result),
    });
  }

  take(line: Line): void {
    const refusal = this.#session.apply(line, { adapter: 'bench', simulated: true });
    if (refusal !== null) throw new Error(refusal);
  }

  /** As long in each section as the guide asks for, or as its lanes take; more or less by a person's patience. */
  sweep(sections: readonly SectionSize[], headM: number, paceMs: number): AirflowResult {
    const traverse = { type: 'event', kind: 'traverse', unit: 'u' } as const;
    sections.forEach((size, section) => {
      const { lengthM, widthM } = size;
      this.#held.sweep(section);
      const t = this.#t;
      if (section > 0) this.take({ ...traverse, t, phase: 'section' });
      else this.take({ ...traverse, t, phase: 'start', outlet: 'o', method: 'sweep', probe: 'v' });
      const lanes = Math.max(2, lanesOf(widthM, headM));
      const wantedS = Math.max(sectionSeconds(size, headM), (lanes * lengthM) / paceMs);
      this.#run(wantedS * this.#random.between(0.9, 1.4));
    });
    this.take({ ...traverse, t: this.#t, phase: 'end' });
    return this.#last();
  }

  grid(told: readonly SectionSize[], rule: Rule): AirflowResult {
    const traverse = { type: 'event', kind: 'traverse', unit: 'u' } as const;
    const start = { phase: 'start', outlet: 'o', method: 'grid', probe: 'v', rule } as const;
    this.take({ ...traverse, t: this.#t, ...start });
    for (const { section, row, column } of gridPoints(rule, told)) {
      this.take({ ...traverse, t: this.#t, phase: 'point', section, row, column });
      this.#held.holdAt(rule, { section, row, column });
      this.#run(this.#random.between(7, 12));
    }
    this.take({ ...traverse, t: this.#t, phase: 'end' });
    return this.#last();
  }

  get #t(): number {
    return Math.max(T0 + this.#ms, this.#lastT);
  }

  #last(): AirflowResult {
    const last = this.#results.at(-1);
    if (last === undefined) throw new Error('no airflow');
    return last;
  }

  #run(seconds: number): void {
    const { flowM3s, reads, intervalS, supplyC } = this.#air;
    const still = { temperatureC: 20, vapourPressurePa: 1000, velocityMs: 0 };
    const around = { ...still, pressurePa: 101_325, powerW: 0 };
    const stream = { flowM3s, temperatureC: supplyC };
    const until = this.#ms + STEP_MS * Math.ceil((1000 * seconds) / STEP_MS);
    for (; this.#ms < until; this.#ms += STEP_MS) {
      if (this.#t - this.#airT >= AIR_EVERY_MS) {
        this.#airT = this.#t;
        this.take({ type: 'reading', t: this.#airT, probe: 's', temperatureC: supplyC });
      }
      this.#held.step(this.#ms, this.#ms + STEP_MS, stream, around, (ms, reading) => {
        this.#hear(ms + 300 * intervalS * this.#random.uniform(), reading, reads);
      });
    }
  }

  /** Late by a part of its interval, never before the one that was heard last. */
  #hear(ms: number, { velocityMs }: ProbeReading, reads: number): void {
    if (velocityMs === undefined) return;
    const t = Math.max(Math.round(T0 + ms), this.#lastT + 1);
    this.#lastT = t;
    this.take({ type: 'reading', t, probe: 'v', velocityMs: velocityMs * reads });
  }
}
