/**
 * Invented visits in a record of their own, as a van's computer leaves them: a check, a measured airflow, a
 * steady capture, the push test, another capture, a verdict, a baseline, notes and a photo.
 */
import type { Line } from '../../adapters/contract.ts';
import { VisitTaker } from '../../server/cli/work-out.ts';
import { packed } from '../../server/archive/van/pack.ts';
import { partBytes } from '../../server/archive/parcel.ts';
import { humidityRatio, relativeHumidityPct } from '../../server/measure/moist-air.ts';
import { readDatabase } from '../../server/store/database.ts';
import { photoId } from '../../server/store/photos.ts';
import { visitById } from '../../server/store/visits.ts';
import { randomStream } from '../../simulator/random.ts';
import { createHash } from 'node:crypto';

export const T0 = 1_777_885_200_000;

export interface Invented {
  t: number;
  title: string;
  address: string;
  customer: string;
  unitName: string;
  model: string;
  serial: string;
  /** Delivered over what it should. */
  share: number;
  flowM3s: number;
  /** Ids of the two probes. */
  probes: readonly [string, string];
  /** What the second one reads more than the first in the same air, K. */
  offsetC: number;
  /** How long the check and the steady parts last, of usual ones. */
  stretch: number;
  photo: boolean;
  /** When the two probes were calibrated last, ms; null: nobody has said so. */
  calibratedT: number | null;
  /** Whether its airflow is marked as the baseline. */
  baseline: boolean;
}

const USUAL: Invented = {
  ...{ t: T0, title: 'The library', address: '12 Orchard Lane', customer: 'The town' },
  ...{ unitName: 'Reading room', model: 'Slim 35', serial: '', share: 1, flowM3s: 0.16 },
  ...{ probes: ['p1', 'p2'], offsetC: 0.2, stretch: 1, photo: false },
  ...{ calibratedT: null, baseline: false },
};

const RETURN = { temperatureC: 26.7, humidityPct: 50 };
const SUPPLY_RISE_C = 12;
const SUPPLY_PCT = 88;
const SEA_PA = 101_325;

/** Supply air that has lost a share of the heat, and the same share of the moisture. */
function supplyAt(share: number): { temperatureC: number; humidityPct: number } {
  const { temperatureC, humidityPct } = RETURN;
  const wet = humidityRatio(temperatureC, humidityPct, SEA_PA);
  const whole = humidityRatio(temperatureC - SUPPLY_RISE_C, SUPPLY_PCT, SEA_PA);
  const t = temperatureC - share * SUPPLY_RISE_C;
  const humidity = relativeHumidityPct(t, wet - share * (wet - whole), SEA_PA);
  return { temperatureC: t, humidityPct: humidity };
}

/** The lines of one, in order of time. */
export function visitLines(of: Partial<Invented> = {}, seed = 1): Line[] {
  const visit = { ...USUAL, ...of };
  const random = randomStream(seed, 'archive');
  const lines: Line[] = [];
  const { probes, unitName, model, serial } = visit;
  let { t } = visit;
  lines.push({
    ...{ type: 'visit', t, version: 1, mode: 'cooling', pressurePa: SEA_PA },
    ...{ title: visit.title, address: visit.address, customer: visit.customer },
    ...{ technician: 'J. Alder', why: 'Yearly service', captureAfterS: null },
  });
  lines.push({
    ...{ type: 'unit', id: 'u1', t, name: unitName, model, serial, fanSpeeds: ['low', 'high'] },
    ...{ form: 'wall', nominalW: 3500, unevenPct: { return: 0.5, supply: 1 } },
    airflow: {
      ...{
        source: 'measured',
        flowM3s: visit.flowM3s,
        limitPct: 4,
        basis: 'actual',
        plane: 'supply',
      },
    },
  });
  lines.push({
    ...{ type: 'expectation', unit: 'u1', t, mode: 'cooling', net: true, limitPct: 3 },
    points: [25, 35].flatMap((outdoorC) =>
      [16, 22].map((indoorWetBulbC) => ({
        ...{ speed: 'rated', outdoorC, indoorC: 27, indoorWetBulbC },
        totalW: (indoorWetBulbC === 16 ? 2900 : 3500) - (outdoorC - 25) * 20,
      })),
    ),
  });
  const places = ['return', 'supply'] as const;
  for (const [i, id] of probes.entries()) {
    lines.push({
      ...{
        type: 'probe',
        id,
        t,
        unit: 'u1',
        place: places[i],
        name: `Probe ${id}`,
        serial: `s-${id}`,
      },
      limits: { temperatureC: 0.2, humidityPct: 1.5 },
      calibratedT: visit.calibratedT,
    });
  }
  lines.push({ type: 'probe', id: 'out', t, place: 'outdoor', limits: { temperatureC: 0.5 } });

  const supply = supplyAt(visit.share);
  const run = (seconds: number, isTogether = false): void => {
    for (let s = 0; s < seconds * visit.stretch; s++, t += 1000) {
      for (const [i, probe] of probes.entries()) {
        const air = i === 1 && !isTogether ? supply : RETURN;
        const temperatureC = air.temperatureC + i * visit.offsetC + 0.03 * random.normal();
        const humidityPct = air.humidityPct + 0.2 * random.normal();
        const near = (value: number): number => Math.round(value * 100) / 100;
        lines.push({
          ...{ type: 'reading', t, probe },
          ...{ temperatureC: near(temperatureC), humidityPct: near(humidityPct) },
        });
      }
      if (s % 10 === 0) lines.push({ type: 'reading', t, probe: 'out', temperatureC: 30 });
    }
  };
  const event = (rest: object): void => {
    lines.push({ type: 'event', t, ...rest } as Line);
  };
  event({ kind: 'fan', unit: 'u1', speed: 'high' });
  const { flowM3s } = visit;
  lines.push({
    ...{ type: 'airflow', t, unit: 'u1' },
    airflow: { source: 'reference', flowM3s, limitPct: 5, basis: 'actual', plane: 'supply' },
  });
  if (visit.baseline) event({ kind: 'baseline', unit: 'u1', airflowT: t });
  event({ kind: 'check', phase: 'start', probes: [...probes] });
  run(240, true);
  event({ kind: 'check', phase: 'end', probes: [...probes] });
  event({ kind: 'setpoint', unit: 'u1', valueC: 18 });
  run(420);
  event({ kind: 'capture', unit: 'u1' });
  event({ kind: 'setpoint', unit: 'u1', valueC: 16 });
  run(420);
  event({ kind: 'capture', unit: 'u1' });
  event({ kind: 'note', unit: 'u1', text: 'Mrs. Birch let us in.' });
  if (visit.photo) {
    const bytes = Buffer.concat([Buffer.from([0xff, 0xd8, 0xff, 0xe0]), randomBytes(random)]);
    lines.push({
      ...{ type: 'photo', id: photoId(bytes), part: 0, of: 1, data: bytes.toString('base64') },
    });
  }
  run(30);
  return lines;
}

const randomBytes = (random: ReturnType<typeof randomStream>): Buffer =>
  Buffer.from(Array.from({ length: 6000 }, () => Math.floor(random.between(0, 256))));

/** Puts lines into a record as a visit that has ended. @returns what was refused */
export function record(dataDir: string, id: string, lines: readonly Line[]): string[] {
  const taker = new VisitTaker({ dataDir, id, kind: 'visit', writtenT: T0 });
  const refused = lines.flatMap((line) => taker.line(line) ?? []);
  taker.end();
  return refused;
}

export interface Parcel {
  visit: string;
  hash: string;
  bytes: Buffer;
}

/** A recorded visit as it is sent. */
export function parcelOf(dataDir: string, visit: string): Parcel {
  const db = readDatabase(dataDir);
  const found = db && visitById(db, visit);
  if (!db || !found) throw new Error(`there is no visit "${visit}"`);
  const bytes = Buffer.concat([...packed(db, found.key)].map(partBytes));
  db.close();
  return { visit, hash: createHash('sha256').update(bytes).digest('hex'), bytes };
}
