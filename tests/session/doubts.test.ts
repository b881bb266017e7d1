/** Each doubt, provoked once: it has a text, an effect and a remedy, and stands where it belongs. */
import { describe, expect, test } from 'vitest';
import type { Line } from '../../adapters/contract.ts';
import type { Doubt } from '../../server/protocol.ts';
import { doubts } from '../../server/session/doubts.ts';
import { setUp, T0, TestVisit } from './visit.ts';

type Values = Parameters<TestVisit['reading']>[2];
const ROOM: Values = { temperatureC: 26.7, humidityPct: 51 };
const COLD: Values = { temperatureC: 12, humidityPct: 85 };

/** A few seconds of a visit with these readings; null: that probe is silent. */
function read(visit: TestVisit, r: Values | null, s: Values | null, fromS = 0, toS = 5): TestVisit {
  for (let i = fromS; i < toS; i++) {
    if (r !== null) visit.reading('r', i * 1000, r);
    if (s !== null) visit.reading('s', i * 1000 + 300, s);
  }
  visit.session.advanceTo(T0 + toS * 1000);
  return visit;
}
const COLD_DRY: Values = { temperatureC: 20, humidityPct: 8 };
/** More moisture than air of 26 °C and 40 % holds: 10.5 against 8.4 g/kg. */
const WETTER: Values = { temperatureC: 15, humidityPct: 99 };
const HEATING = (): TestVisit => new TestVisit(setUp({ mode: 'heating' }));
function withAirflow(airflow: Partial<NonNullable<Extract<Line, { type: 'unit' }>['airflow']>>) {
  return setUp().map((line): Line =>
    line.type === 'unit' && line.airflow !== undefined
      ? { ...line, airflow: { ...line.airflow, ...airflow } }
      : line,
  );
}
const visitLine = (more: object): Line[] => [
  { type: 'visit', version: 1, mode: 'cooling', ...more },
  ...setUp().slice(1),
];
const CHECK = {
  t: T0 - 100 * 86_400_000,
  probes: ['r', 's'],
  atC: 25,
  temperatureC: { offset: 0, u: 0 },
};

/** By code: a visit at the end of which it stands. Those of one code are told apart by a `/`. */
const PROVOKED: Record<string, () => TestVisit> = {
  'check-missing': () => read(new TestVisit(), ROOM, COLD),
  'airflow-not-measured': () => read(new TestVisit(), ROOM, COLD),
  'probe-stale': () => read(read(new TestVisit(), ROOM, COLD), ROOM, null, 5, 20),
  'probe-unheard': () => read(new TestVisit(), ROOM, null),
  'probe-late': () => read(read(new TestVisit(), ROOM, COLD), ROOM, null, 5, 11),
  'temperature-missing': () => read(new TestVisit(), ROOM, { humidityPct: 85 }),
  'air-mixed': () => {
    // The moisture of warm air and the temperature of both.
    const visit = new TestVisit([
      ...setUp(),
      { type: 'probe', id: 's2', unit: 'u1', place: 'supply', limits: { temperatureC: 0.5 } },
    ]);
    visit.reading('s2', 0, { temperatureC: 8 });
    return read(visit, ROOM, { temperatureC: 16, humidityPct: 95 });
  },
  'return-missing': () =>
    read(new TestVisit(setUp().filter((l) => !(l.type === 'probe' && l.id === 'r'))), null, COLD),
  'supply-missing': () =>
    read(new TestVisit(setUp().filter((l) => !(l.type === 'probe' && l.id === 's'))), ROOM, null),
  'humidity-missing/cooling': () => read(new TestVisit(), ROOM, { temperatureC: 12 }),
  'humidity-missing/heating': () => read(HEATING(), { temperatureC: 20 }, { temperatureC: 42 }),
  'humidity-saturated': () => read(new TestVisit(), ROOM, { temperatureC: 12, humidityPct: 100 }),
  'humidity-range': () => read(new TestVisit(), { temperatureC: 32, humidityPct: 4 }, COLD_DRY),
  'probe-wet/return': () =>
    read(new TestVisit(), { temperatureC: 26, humidityPct: 99 }, COLD, 0, 130),
  'probe-wet/supply': () =>
    read(new TestVisit(), { temperatureC: 26, humidityPct: 40 }, WETTER, 0, 130),
  'humidity-disagrees': () =>
    read(HEATING(), { temperatureC: 20, humidityPct: 40 }, { temperatureC: 42, humidityPct: 20 }),
  'supply-warmer': () => read(new TestVisit(), COLD, ROOM),
  'supply-colder': () =>
    read(HEATING(), { temperatureC: 42, humidityPct: 12 }, { temperatureC: 20, humidityPct: 40 }),
  'return-breathes-supply': () => moving((supplyC) => 26.7 + 0.3 * (supplyC - 24)),
  transient: () => moving(() => 26.7, 150),
  defrost: () => heated([42, 14], 300),
  'after-defrost': () => heated([42, 14, 42], 300),
  'check-running': () => {
    const visit = read(new TestVisit(), ROOM, COLD);
    const probes = ['r', 's'];
    visit.take({ type: 'event', t: T0 + 5000, kind: 'check', phase: 'start', probes });
    return read(visit, ROOM, ROOM, 6, 9);
  },
  'check-old': () =>
    read(
      new TestVisit([
        ...setUp(),
        { type: 'probe', id: 'r', check: CHECK },
        { type: 'probe', id: 's', check: CHECK },
      ]),
      ROOM,
      COLD,
    ),
  'airflow-missing': () =>
    read(new TestVisit(setUp().filter((l) => l.type !== 'unit')), ROOM, COLD),
  'airflow-basis': () =>
    read(
      new TestVisit([
        ...visitLine({ pressurePa: 84_556 }).slice(0, 1),
        ...withAirflow({ basis: 'standard' }).slice(1),
      ]),
      ROOM,
      COLD,
    ),
  'airflow-none': () => read(new TestVisit(withAirflow({ flowM3s: 0.005 })), ROOM, COLD),
  'nothing-delivered': () => read(new TestVisit(), ROOM, { temperatureC: 26.5, humidityPct: 51.5 }),
  'airflow-other-speed': () => {
    const visit = new TestVisit();
    visit.take({ type: 'event', t: T0 - 2000, kind: 'fan', unit: 'u1', speed: 'high' });
    const airflow = { source: 'entered', flowM3s: 0.2, basis: 'actual', plane: 'supply' } as const;
    visit.take({ type: 'airflow', t: T0 - 1500, unit: 'u1', airflow });
    visit.take({ type: 'event', t: T0 - 1000, kind: 'fan', unit: 'u1', speed: 'low' });
    return read(visit, ROOM, COLD);
  },
  'limits-unknown/airflow': () =>
    read(new TestVisit(withAirflow({ limitPct: undefined })), ROOM, COLD),
  'limits-unknown/probe': () =>
    read(
      new TestVisit(setUp().map((l) => (l.type === 'probe' ? { ...l, limits: {} } : l))),
      ROOM,
      COLD,
    ),
  'pressure-assumed': () => read(new TestVisit(visitLine({})), ROOM, COLD),
  'air-impossible': () =>
    read(
      new TestVisit(visitLine({ pressurePa: 50_000 })),
      { temperatureC: 95, humidityPct: 100 },
      COLD,
    ),
};

/** A unit that heats, its supply for so long at each of these temperatures. */
function heated(suppliesC: readonly number[], eachS: number): TestVisit {
  const visit = HEATING();
  suppliesC.forEach((temperatureC, i) => {
    const supply = { temperatureC, humidityPct: 30 };
    read(visit, { temperatureC: 20, humidityPct: 40 }, supply, i * eachS, (i + 1) * eachS);
  });
  return visit;
}

/** A supply that is pulled down from 24 to 12 °C, and what the return makes of it. */
function moving(returnOf: (supplyC: number, s: number) => number, untilS = 600): TestVisit {
  const visit = new TestVisit();
  for (let s = 0; s < untilS; s++) {
    const supplyC = 12 + 12 * Math.exp(-Math.max(0, s - 120) / 60);
    visit.reading('r', s * 1000, { temperatureC: returnOf(supplyC, s), humidityPct: 51 });
    visit.reading('s', s * 1000 + 300, { temperatureC: supplyC, humidityPct: 85 });
  }
  return visit;
}

/** Doubts that are made beside what finds them, not in doubts.ts. */
const BESIDE_THEIR_FINDERS = [
  'humidity-saturated',
  'humidity-range',
  'humidity-disagrees',
  'probe-wet',
  'airflow-basis',
  'pressure-assumed',
];

const codeOf = (name: string): string => name.split('/')[0] ?? name;

function standing(visit: TestVisit, code: string): Doubt[] {
  return visit.unit().doubts.filter((d) => d.code === code);
}

describe('each doubt', () => {
  test.each(Object.entries(PROVOKED))('%s', (name, provoke) => {
    const [doubt] = standing(provoke(), codeOf(name));
    expect(doubt).toBeDefined();
    for (const sentence of [doubt?.text, doubt?.effect, doubt?.remedy]) {
      expect(sentence).toMatch(/^[A-Z0-9“"a-z].*\.$/s);
      expect(sentence).not.toMatch(/NaN|undefined|null|Infinity/);
    }
    // What is probed is named; what is not, is not.
    expect(doubt?.probe ?? 'r').toMatch(/^(r|s|s2)$/);
  });

  test('is provoked here: none is left out', () => {
    // Each maker is called with something plausible for whatever it takes.
    const visit = read(new TestVisit(), ROOM, COLD);
    const probe = visit.session.probes.get('r');
    if (probe === undefined) throw new Error('no probe');
    const codes = [
      doubts.transient(),
      doubts.defrost(200_000),
      doubts.afterDefrost(300),
      doubts.stale(probe, T0),
      doubts.unheard(probe),
      doubts.noTemperature(probe),
      doubts.mixed(),
      doubts.late(probe, T0),
      doubts.noProbe('return'),
      doubts.noProbe('supply'),
      doubts.noHumidity('supply'),
      doubts.noHumidityHeating(),
      doubts.supplyWarmer(-500),
      doubts.supplyColder(),
      doubts.recirculation(0.3),
      doubts.checkRunning(false),
      doubts.checkMissing(),
      doubts.checkOld(1, 1),
      doubts.noAirflow(),
      doubts.airflowNotMeasured(),
      doubts.stillAir(),
      doubts.nothingDelivered(),
      doubts.airflowOtherSpeed('low'),
      doubts.limitsUnknown('a probe'),
      doubts.impossible('so'),
    ].map((d) => d.code);
    // `noProbe` makes two of them.
    expect(codes).toHaveLength(Object.keys(doubts).length + 1);
    expect(new Set(Object.keys(PROVOKED).map(codeOf))).toEqual(
      new Set([...codes, ...BESIDE_THEIR_FINDERS]),
    );
  });

  test('a visit with nothing to doubt has none', () => {
    const visit = new TestVisit(withAirflow({ source: 'grid' }));
    const check = { ...CHECK, t: T0 };
    for (const id of ['r', 's']) visit.take({ type: 'probe', id, check });
    expect(read(visit, ROOM, COLD).unit().doubts).toEqual([]);
  });
});

describe('a return probe that breathes supply air', () => {
  const share = (visit: TestVisit): string | undefined =>
    standing(visit, 'return-breathes-supply')[0]?.effect;

  test('its temperature follows the supply’s: found, with about the share', () => {
    const effect = share(moving((supplyC) => 26.7 + 0.3 * (supplyC - 24)));
    expect(Number(/About (\d+) %/.exec(effect ?? '')?.[1])).toBeCloseTo(30, -1);
  });

  test.each([0.2, 0.5])('a share of %d, and a probe that lags by 15 s', (part) => {
    let return_ = 26.7;
    const visit = moving((supplyC) => {
      return_ += (26.7 + part * (supplyC - 24) - return_) / 15;
      return return_;
    });
    const found = Number(/About (\d+) %/.exec(share(visit) ?? '')?.[1]);
    expect(Math.abs(found - 100 * part)).toBeLessThan(15);
  });

  test('a room that is cooled down slowly is not taken for it', () => {
    // A fast room: 26.7 to 22 °C with a time constant of 20 minutes.
    expect(share(moving((_, s) => 22 + 4.7 * Math.exp(-s / 1200)))).toBeUndefined();
  });

  test('nor a steady return, nor one that goes the other way', () => {
    expect(share(moving(() => 26.7))).toBeUndefined();
    expect(share(moving((supplyC) => 26.7 - 0.3 * (supplyC - 24)))).toBeUndefined();
  });

  test('nor does a probe that is hung from one place to the other make one', () => {
    const visit = read(new TestVisit(), COLD, COLD, 0, 100);
    read(visit, ROOM, COLD, 100, 300);
    expect(share(visit)).toBeUndefined();
  });
});
