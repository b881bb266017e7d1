/**
 * Visits that end with a verdict, of which the truth is known: a head at rest at full demand, healthy or
 * short of what it should deliver, in air drawn at random; a printed table, an airflow, and probes that are
 * each wrong within their limits; a capture, the setpoint pushed, another capture.
 */
import { expectedAt } from '../../server/measure/expectation/published.ts';
import { humidityRatio, relativeHumidityPct, wetBulbC } from '../../server/measure/moist-air.ts';
import type { Capture, VerdictMessage } from '../../server/protocol.ts';
import { atRest, fullLevelW, publishedTable } from '../../simulator/published.ts';
import { type Random, randomStream } from '../../simulator/random.ts';
import { scenario } from '../../simulator/scenarios.ts';
import { type Air, LIMITS, recorded, Sensors, T0 } from './coverage-visits.ts';

export interface VerdictMaking {
  /** Delivered over what a healthy unit would, in the same air. */
  share: number;
  checked: boolean;
  /** ± of the airflow, %. */
  flowLimitPct: number;
}

export interface Judged {
  capture: Capture;
  verdict: VerdictMessage['verdict'] | 'none';
  trueW: number;
}

const PRESSURE_PA = 101_325;
const TABLE_LIMIT_PCT = 5;
const OUTDOOR_LIMIT_K = 0.5;
const OUTDOOR_EVERY_S = 5;
const CHECK_S = 240;
const STEADY_S = 360;

const PLAIN = scenario('plain');
const HEAD = PLAIN.units[0]?.head;
const POINTS = publishedTable(PLAIN, 'u1');

/** One visit. */
export function verdictVisit(
  { share, checked, flowLimitPct }: VerdictMaking,
  seed: number,
): Judged {
  const random = randomStream(seed, 'verdict');
  const { room, outdoorC } = drawnAir(random);
  const { supply, totalW, flowM3s } = delivered(room, outdoorC, share);
  const off = (limitPct: number): number => 1 + (limitPct / 100) * random.between(-1, 1);
  const [tableOff, flowOff] = [off(TABLE_LIMIT_PCT), off(flowLimitPct)];
  const outdoorOff = OUTDOOR_LIMIT_K * random.between(-1, 1);
  const changes = seed % 2 === 1;
  const probes = [
    { id: 'r', place: 'return', hangs: room, sensors: new Sensors(changes, random) },
    { id: 's', place: 'supply', hangs: supply, sensors: new Sensors(changes, random) },
  ] as const;

  const { take, captures, verdicts, session } = recorded();
  take({ type: 'visit', version: 1, mode: 'cooling', pressurePa: PRESSURE_PA });
  take({
    ...{ type: 'unit', id: 'u1', unevenPct: { return: 0, supply: 0 } },
    airflow: {
      ...{ source: 'entered', flowM3s: flowM3s * flowOff, limitPct: flowLimitPct },
      ...{ basis: 'actual', plane: 'supply' },
    },
  });
  const points = POINTS.map((p) => ({ ...p, totalW: p.totalW * tableOff }));
  const published = { net: true, limitPct: TABLE_LIMIT_PCT, points };
  take({ type: 'expectation', unit: 'u1', mode: 'cooling', ...published });
  for (const { id, place } of probes)
    take({ type: 'probe', id, unit: 'u1', place, limits: LIMITS });
  take({ type: 'probe', id: 'o', place: 'outdoor', limits: { temperatureC: OUTDOOR_LIMIT_K } });

  let t = T0;
  const run = (seconds: number, together: Air | null = null): void => {
    for (let s = 0; s < seconds; s++, t += 1000) {
      for (const { id, hangs, sensors } of probes) {
        take({ type: 'reading', t, probe: id, ...sensors.read(together ?? hangs) });
      }
      if (s % OUTDOOR_EVERY_S !== 0) continue;
      const temperatureC = outdoorC + outdoorOff + 0.02 * random.normal();
      take({ type: 'reading', t, probe: 'o', temperatureC });
    }
  };
  const setpoint = (valueC: number): void =>
    take({ type: 'event', t, kind: 'setpoint', unit: 'u1', valueC });
  if (checked) {
    const check = { type: 'event', kind: 'check', probes: probes.map(({ id }) => id) } as const;
    take({ ...check, t, phase: 'start' });
    run(CHECK_S, room);
    take({ ...check, t, phase: 'end' });
    run(150);
  }
  setpoint(room.tC - 3);
  run(STEADY_S);
  setpoint(room.tC - 7);
  run(STEADY_S);
  session.finish();
  const capture = captures.at(-1);
  if (capture === undefined) throw new Error(`no capture in visit ${seed}`);
  return { capture, verdict: verdicts.at(-1)?.verdict ?? 'none', trueW: totalW };
}

/** Air in the room and outdoors, such that the table reaches it. */
function drawnAir(random: Random): { room: Air; outdoorC: number } {
  for (;;) {
    const room = { tC: random.between(23, 28), rhPct: random.between(40, 60) };
    const outdoorC = random.between(24, 40);
    const W = humidityRatio(room.tC, room.rhPct, PRESSURE_PA);
    const indoorWetBulbC = wetBulbC(room.tC, W, PRESSURE_PA);
    const at = { outdoorC, indoorC: room.tC, indoorWetBulbC };
    const expected = expectedAt('cooling', { points: POINTS }, at);
    if (typeof expected !== 'string' && expected.by === 'table') return { room, outdoorC };
  }
}

/** What comes out of a head that delivers a share of what a healthy one does. */
function delivered(
  room: Air,
  outdoorC: number,
  share: number,
): { supply: Air; totalW: number; flowM3s: number } {
  if (HEAD === undefined) throw new Error('the plain scenario has a unit');
  const W = humidityRatio(room.tC, room.rhPct, PRESSURE_PA);
  const working = {
    return: { temperatureC: room.tC, humidityRatio: W },
    ...{ outdoorC, heating: false, pressurePa: PRESSURE_PA },
  };
  const fullW = fullLevelW(HEAD, PLAIN.outdoorUnit, outdoorC, false);
  const wantedW = share * atRest(HEAD, { ...working, levelW: fullW }).totalW;
  let [low, high] = [0, fullW];
  for (let i = 0; i < (share === 1 ? 0 : 14); i++) {
    const middle = (low + high) / 2;
    if (atRest(HEAD, { ...working, levelW: middle }).totalW < wantedW) low = middle;
    else high = middle;
  }
  const { supply, totalW, flowM3s } = atRest(HEAD, { ...working, levelW: high });
  const { temperatureC: tC, humidityRatio: supplyW } = supply;
  const rhPct = Math.min(100, relativeHumidityPct(tC, supplyW, PRESSURE_PA));
  return { supply: { tC, rhPct }, totalW, flowM3s };
}
