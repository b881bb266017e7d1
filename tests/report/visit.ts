/** An invented visit with all that a report tells of: a check, a grid traverse, captures, a verdict. */
import type { Line } from '../../adapters/contract.ts';
import { readVisit } from '../../server/cli/report-visit.ts';
import type { ReportVisit } from '../../server/report/visit.ts';

export const T0 = Date.UTC(2026, 4, 4, 9, 0, 0);
const LIMITS = { temperatureC: 0.3, humidityPct: 2 };
/** m/s at the points of the outlet: faster at the middle. */
const VELOCITIES = [2.8, 3.6, 3.4, 2.6];
/** When the last capture by hand is made, s. */
export const TOUCHED_S = 2150;
const END_S = 2200;

/** @param simulated as the visit itself says */
export function visitLines(simulated = false, mode: 'cooling' | 'heating' = 'cooling'): Line[] {
  const isHeating = mode === 'heating';
  const lines: Line[] = [
    {
      ...{ type: 'visit', version: 1, title: 'Alder Court 9', address: '9 Alder Court, Wrenfold' },
      ...{ customer: 'J. Café', technician: 'R. Finch', why: 'new head', mode, simulated },
      ...{ pressurePa: 98_300, altitudeM: undefined },
    },
    { type: 'system', id: 's1', name: 'Yard', lineLengthM: 7.5, lineHeightM: -3 },
    {
      ...{ type: 'unit', id: 'u1', name: 'Study', form: 'wall', serial: '0042', system: 's1' },
      nominalW: 3500,
      airflow: {
        ...{ source: 'entered', flowM3s: 0.151, basis: 'actual', plane: 'supply', limitPct: 6 },
      },
    },
    {
      ...{ type: 'outlet', id: 'o1', unit: 'u1', plane: 'supply', freeArea: 0.9 },
      sections: [{ widthM: 0.1, lengthM: 0.6 }],
    },
    { type: 'probe', id: 'r', name: 'R', unit: 'u1', place: 'return', limits: LIMITS, serial: '7' },
    { type: 'probe', id: 's', name: 'S', unit: 'u1', place: 'supply', limits: LIMITS },
    { type: 'probe', id: 'o', name: 'Yard', place: 'outdoor', limits: LIMITS },
    {
      ...{ type: 'probe', id: 'v', name: 'Vane', anemometer: { kind: 'vane', headM: 0.07 } },
      limits: { velocityMs: 0.1, velocityPct: 2 },
    },
    {
      ...{ type: 'expectation', unit: 'u1', mode, net: true, limitPct: 5 },
      points: [
        {
          ...{ speed: 'rated', outdoorC: isHeating ? 8.3 : 35, indoorC: isHeating ? 21.1 : 26.7 },
          ...(isHeating ? {} : { indoorWetBulbC: 19.4 }),
          totalW: 3500,
        },
      ],
    },
  ];
  for (let s = 0; s < END_S; s++) {
    const t = T0 + 1000 * s;
    for (const event of eventsAt(s)) lines.push({ ...event, t });
    const inCheck = s < 300;
    const settled = 1 - Math.exp(-Math.max(0, s - 600) / 60);
    const wave = 0.02 * Math.sin(s);
    const supplyC = isHeating ? 21 + 20 * settled : 26.7 - 12.7 * settled;
    const supplyPct = isHeating ? 40 - 26 * settled : 51 + 40 * settled;
    const read = (probe: string, temperatureC: number, humidityPct: number): Line => ({
      ...{ type: 'reading', t, probe, temperatureC, humidityPct },
    });
    const roomC = isHeating ? 21 : 26.7;
    const roomPct = isHeating ? 40 : 51;
    lines.push(read('r', roomC + wave, roomPct));
    // Beside the other one in the same air it reads a little more.
    lines.push(
      inCheck ? read('s', roomC + 0.1, roomPct + 0.5) : read('s', supplyC + wave, supplyPct),
    );
    lines.push({ type: 'reading', t, probe: 'o', temperatureC: isHeating ? 8.3 : 35 });
    if (s >= 320 && s < 380) {
      const velocityMs = VELOCITIES[Math.floor((s - 320) / 15)] ?? 0;
      for (const ms of [100, 350, 600, 850]) {
        lines.push({ type: 'reading', t: t + ms, probe: 'v', velocityMs });
      }
    }
  }
  return lines;
}

type Timed<T> = T extends { t: number } ? Omit<T, 't'> & { type: 'event' } : never;
type Told = Timed<Extract<Line, { type: 'event' }>>;

function eventsAt(s: number): Told[] {
  const check = (phase: 'start' | 'end'): Told => ({
    ...{ type: 'event', kind: 'check', phase, probes: ['r', 's'] },
  });
  const traverse = { type: 'event', kind: 'traverse', unit: 'u1' } as const;
  switch (s) {
    case 1:
      return [check('start')];
    case 300:
      return [check('end')];
    case 310:
      return [{ type: 'event', kind: 'fan', unit: 'u1', speed: 'high' }];
    case 319:
      return [{ ...traverse, phase: 'start', outlet: 'o1', probe: 'v', method: 'grid' }];
    case 320:
    case 335:
    case 350:
    case 365:
      return [{ ...traverse, phase: 'point', section: 0, row: 0, column: (s - 320) / 15 }];
    case 380:
      return [{ ...traverse, phase: 'end' }];
    case 600:
      return [{ type: 'event', kind: 'setpoint', unit: 'u1', valueC: 18 }];
    case TOUCHED_S:
      return [{ type: 'event', kind: 'capture', unit: 'u1' }];
    default:
      return [];
  }
}

/** That visit as a report reads it. */
export const visitOf = (lines: Line[]): ReportVisit =>
  readVisit(lines, { id: 'visit-1', kind: 'visit' });
