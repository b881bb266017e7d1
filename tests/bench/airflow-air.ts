/**
 * Buckets and heaters of which the true flow is known, through the session: what the airflow by
 * condensate and by known heat is held against. The air is even, and a person has said so. Probes (as in
 * coverage-visits.ts), scale, pan, meter and what escapes are wrong by what is drawn inside their limits.
 */
import { moistHeat } from '../../server/measure/air-model.ts';
import { relativeHumidityPct, volumeM3kg } from '../../server/measure/moist-air.ts';
import type { AirflowResult } from '../../server/protocol.ts';
import { type Random, randomStream } from '../../simulator/random.ts';
import { type Air, LIMITS, point, PRESSURE_PA, recorded, Sensors, T0 } from './coverage-visits.ts';

const CHECK_S = 240;
const COMES_S = 150;
/** The bucket stands for half an hour; probes of such a visit speak this seldom, s. */
const BUCKET_S = 1800;
const SELDOM_S = 5;
/** What the session assumes where nothing is said: scale and hold-up, kg; meter and escape, parts. */
const SCALE_KG = 0.005;
const HOLD_UP_KG = 0.015;
const METER = 0.01;
const MOST_ESCAPE = 0.04;
/** How fast the supply follows the heater, s. */
const WARMS_S = 40;

export interface AirTrial {
  flowM3s: number;
  result: AirflowResult;
  /** Whether the probes' errors change with what they measure. */
  changes: boolean;
}

/** A return and a supply probe in a visit, checked or not, then brought to where they hang. */
class Visit {
  readonly take: ReturnType<typeof recorded>['take'];
  readonly airflows: AirflowResult[];
  readonly #probes: readonly [string, Sensors][];
  t = T0;

  constructor(changes: boolean, random: Random) {
    const { take, airflows } = recorded();
    this.take = take;
    this.airflows = airflows;
    this.#probes = ['r', 's'].map((id) => [id, new Sensors(changes, random)]);
    take({ type: 'visit', version: 1, mode: 'cooling', pressurePa: PRESSURE_PA });
    take({ type: 'unit', id: 'u', unevenPct: { return: 0, supply: 0 } });
    for (const [id, place] of [
      ['r', 'return'],
      ['s', 'supply'],
    ] as const) {
      take({ type: 'probe', id, unit: 'u', place, limits: LIMITS });
    }
  }

  check(air: Air): void {
    const probes = ['r', 's'];
    this.take({ type: 'event', t: this.t, kind: 'check', phase: 'start', probes });
    this.run(CHECK_S, air, () => air);
    this.take({ type: 'event', t: this.t, kind: 'check', phase: 'end', probes });
  }

  run(seconds: number, ret: Air, supply: (s: number) => Air, everyS = 1): void {
    for (let s = 0; s < seconds; s += everyS, this.t += 1000 * everyS) {
      this.#probes.forEach(([probe, sensors], i) => {
        const air = probe === 'r' ? ret : supply(s);
        this.take({ type: 'reading', t: this.t + 300 * i, probe, ...sensors.read(air) });
      });
    }
  }

  last(): AirflowResult {
    const last = this.airflows.at(-1);
    if (last === undefined) throw new Error('no airflow');
    return last;
  }
}

/** Half an hour of steady cooling with a bucket under the drain. */
export function condensateTrial(seed: number, checked: boolean): AirTrial | null {
  const random = randomStream(seed, 'bucket');
  const within = (limit: number): number => random.between(-limit, limit);
  const changes = seed % 2 === 1;
  const ret = { tC: random.between(23, 28), rhPct: random.between(45, 65) };
  const supply = { tC: random.between(9, 14), rhPct: random.between(88, 97) };
  const drop = point(ret).humidityRatio - point(supply).humidityRatio;
  // Rooms in which there is hardly anything to catch are for another method.
  if (drop < 0.0012) return null;
  const volume = volumeM3kg(supply.tC, point(supply).humidityRatio, PRESSURE_PA);
  const flowM3s = random.between(0.08, 0.25);
  const waterKg = (flowM3s / volume) * drop * BUCKET_S;
  const visit = new Visit(changes, random);
  if (checked) visit.check(ret);
  visit.run(COMES_S, ret, () => supply);
  visit.take({ type: 'event', t: visit.t, kind: 'condensate', phase: 'start', unit: 'u' });
  visit.run(BUCKET_S, ret, () => supply, SELDOM_S);
  const massKg = waterKg + within(HOLD_UP_KG) + within(SCALE_KG);
  visit.take({ type: 'event', t: visit.t, kind: 'condensate', phase: 'end', unit: 'u', massKg });
  const result = visit.airflows.at(-1);
  return result === undefined ? null : { flowM3s, result, changes };
}

/** Four minutes of the fan alone, then ten with a heater before the intake. */
export function heatTrial(seed: number): AirTrial {
  const random = randomStream(seed, 'heater trial');
  const changes = seed % 2 === 1;
  const ret = { tC: random.between(18, 26), rhPct: random.between(35, 60) };
  const { humidityRatio } = point(ret);
  const fanK = random.between(0.05, 0.25);
  const powerW = random.between(800, 2000);
  const dryAirKgs = random.between(0.09, 0.25);
  const riseK =
    (powerW * (1 - random.between(0, MOST_ESCAPE))) / (dryAirKgs * moistHeat(humidityRatio));
  const air = (tC: number): Air => ({
    tC,
    rhPct: relativeHumidityPct(tC, humidityRatio, PRESSURE_PA),
  });
  const visit = new Visit(changes, random);
  visit.run(COMES_S + 240, ret, () => air(ret.tC + fanK));
  const says = powerW * (1 + random.between(-METER, METER));
  const heat = { type: 'event', kind: 'heat', unit: 'u' } as const;
  visit.take({ ...heat, t: visit.t, phase: 'start', powerW: says });
  visit.run(600, ret, (s) => air(ret.tC + fanK + riseK * (1 - Math.exp(-s / WARMS_S))));
  visit.take({ ...heat, t: visit.t, phase: 'end' });
  const volume = volumeM3kg(ret.tC + fanK + riseK, humidityRatio, PRESSURE_PA);
  return { flowM3s: dryAirKgs * volume, result: visit.last(), changes };
}
