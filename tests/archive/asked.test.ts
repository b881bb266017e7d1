/** What readers ask: visits by words, a unit over the years and vans, types, the probe book. */
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { listProbes, probeHistory } from '../../server/archive/probe-book.ts';
import { compareType, listTypes } from '../../server/archive/types.ts';
import { findUnits, unitHistory } from '../../server/archive/units.ts';
import { searchArchive, showArchived } from '../../server/archive/visits.ts';
import { showVisit } from '../../server/store/visit-list.ts';
import { readDatabase } from '../../server/store/database.ts';
import { tempFolder } from '../program.ts';
import { READER } from './people.ts';
import { POSTGRES } from './postgres.ts';
import { type ArchiveStage, archiveStage, sendingVan } from './stage.ts';
import { type Invented, record, T0, visitLines } from './visits.ts';

const YEAR_MS = 365.25 * 86_400_000;
const UNITS = 12;

describe.skipIf(POSTGRES === null)('an archive of two vans', () => {
  const temp = tempFolder();
  const [one, two] = [join(temp.path, 'one'), join(temp.path, 'two')];
  let stage: ArchiveStage;
  beforeAll(async () => {
    stage = await archiveStage();
    let seed = 0;
    const visit = (dataDir: string, id: string, of: Partial<Invented>): void => {
      expect(record(dataDir, id, visitLines(of, ++seed))).toEqual([]);
    };
    // One unit, by its serial number, by two vans over four years; its place is spelled in two ways.
    for (let year = 0; year < 4; year++) {
      visit(year % 2 === 0 ? one : two, `visit-${year}`, {
        ...{ t: T0 + year * YEAR_MS, serial: 'SN 7', flowM3s: 0.16 - 0.004 * year },
        address: year % 2 === 0 ? '12 Orchard Lane' : '12, orchard lane.',
        ...{ share: 1 - 0.03 * year, offsetC: 0.2 + 0.15 * year },
      });
    }
    // Others of its type, one of which gives far too little.
    for (let i = 0; i < UNITS; i++) {
      visit(one, `other-${i}`, {
        ...{
          t: T0 + i * 86_400_000,
          serial: `X-${i}`,
          address: `${i} Mill Road`,
          title: `Mill ${i}`,
        },
        ...{ unitName: 'Hall', share: i === 3 ? 0.55 : 1, flowM3s: 0.155 + 0.001 * i },
        probes: ['q1', 'q2'],
      });
    }
    for (const [name, dataDir] of [
      ['Van One', one],
      ['Van Two', two],
    ] as const) {
      const { sender } = await sendingVan(stage, { name, dataDir });
      expect(await sender().sendAll()).toBe(true);
    }
  }, 240_000);
  afterAll(async () => {
    await stage.end();
    temp.remove();
  });

  const search = (text: string, more = {}) =>
    stage.db.as(READER, (ask) =>
      searchArchive(ask, { text, since: -1e15, until: 1e15, most: 100, ...more }),
    );
  const unitOf = async (text: string): Promise<number> =>
    (await stage.db.as(READER, (ask) => findUnits(ask, text)))[0]?.unit ?? -1;

  test('finds visits by words of title, address, people, units and van, and by days', async () => {
    expect((await search('')).length).toBe(4 + UNITS);
    expect((await search('orchard LANE')).length).toBe(4);
    expect((await search('mill hall')).length).toBe(UNITS);
    expect((await search('van two')).length).toBe(2);
    expect((await search('100%')).length).toBe(0);
    expect((await search('', { since: T0 + 0.5 * YEAR_MS })).length).toBe(3);
    expect((await search('', { most: 5 })).length).toBe(5);
    const t = (await search('orchard')).map(({ begunT }) => begunT ?? 0);
    expect(t).toEqual(t.toSorted((a, b) => b - a));
  });

  test('shows a visit as the van’s own record does', async () => {
    const [found] = await search('mill 5');
    const shown = await stage.db.as(READER, (ask) => showArchived(ask, Number(found?.id), 300));
    const db = readDatabase(one);
    const own = db && showVisit(db, 'other-5', 300);
    db?.close();
    const { id: _, site: _site, systems, ...rest } = own ?? ({} as never);
    expect(shown).toMatchObject({ ...rest, units: own?.units });
    expect(Object.keys(shown?.systems ?? {})).toEqual(Object.keys(systems));
    expect(shown?.captures.length).toBeGreaterThan(0);
    expect(shown?.verdicts.length).toBeGreaterThan(0);
  });

  test('knows one unit across vans, years, and spellings of its place', async () => {
    const units = await stage.db.as(READER, (ask) => findUnits(ask, 'orchard'));
    expect(units.length).toBe(1);
    expect(units[0]).toMatchObject({ visits: 4, serial: 'SN 7', model: 'Slim 35' });
    const history = await stage.db.as(READER, (ask) => unitHistory(ask, units[0]?.unit ?? -1));
    expect(new Set(history?.captures.map(({ van }) => van))).toEqual(
      new Set(['Van One', 'Van Two']),
    );
    const flows = history?.airflows.map(({ flowM3s }) => flowM3s) ?? [];
    expect(flows).toHaveLength(4);
    for (const [year, flow] of flows.entries()) expect(flow).toBeCloseTo(0.16 - 0.004 * year, 6);
    const watts = history?.captures.map(({ totalW }) => totalW) ?? [];
    expect(watts.length).toBe(8);
    expect(watts.at(-1)).toBeLessThan(0.9 * (watts[0] ?? NaN));
    expect(await stage.db.as(READER, (ask) => unitHistory(ask, 999_999))).toBe(null);
  });

  test('a unit with another serial number at the same place is another unit', async () => {
    const dataDir = join(temp.path, 'replaced');
    record(dataDir, 'new', visitLines({ t: T0 + 5 * YEAR_MS, serial: 'SN 8', stretch: 0.1 }));
    const { sender } = await sendingVan(stage, { name: 'Van Three', dataDir });
    await sender().sendAll();
    expect(await unitOf('SN 8')).not.toBe(await unitOf('SN 7'));
    expect(await unitOf('SN 8')).not.toBe(-1);
  });

  test('sets the units of a type beside each other, and names the one that lies outside', async () => {
    expect(await stage.db.as(READER, listTypes)).toMatchObject([{ model: 'Slim 35' }]);
    const compared = await compareType(stage.db, READER, 'Slim 35');
    const [cooling] = compared?.capacity ?? [];
    expect(cooling?.mode).toBe('cooling');
    const low = cooling?.funnel.units.filter(({ lies }) => lies === 'low') ?? [];
    // The library has come down by 9 % in three years, and what the others give differs by less than their ±.
    expect(low.map(({ title }) => title)).toEqual(['Mill 3', 'The library']);
    expect(cooling?.funnel.mean).toBeCloseTo(1.03, 2);
    const flow = compared?.airflow.find(({ fan }) => fan === 'high')?.funnel;
    expect(flow?.units.length).toBe(UNITS + 2);
    expect(await compareType(stage.db, READER, 'Unknown')).toBe(null);
  });

  test('keeps the probe book: offsets of each check, and a drift that is clear', async () => {
    const probes = await stage.db.as(READER, listProbes);
    const p2 = probes.find(({ probe }) => probe === 'p2');
    expect(p2).toMatchObject({ name: 'Probe p2', serial: 's-p2' });
    const now = T0 + 4 * YEAR_MS;
    const history = await stage.db.as(READER, (ask) => probeHistory(ask, 'p2', now));
    const offsets = history?.temperature.offsets.map(({ offset }) => offset ?? NaN) ?? [];
    // Half of what it reads more than the other one: from the mean of the two.
    for (const [year, offset] of offsets.slice(0, 4).entries()) {
      expect(offset).toBeCloseTo(0.1 + 0.075 * year, 1);
    }
    const drift = history?.temperature.drift;
    expect(drift?.perYear).toBeCloseTo(0.075, 2);
    expect(drift?.isClear).toBe(true);
    const steady = await stage.db.as(READER, (ask) => probeHistory(ask, 'q2', now));
    expect(steady?.temperature.drift).toBe(null); // eight days tell nothing of a year
    expect(await stage.db.as(READER, (ask) => probeHistory(ask, 'nobody', now))).toBe(null);
  });

  test('two units of one name at one site are two, for each van', async () => {
    const lines = visitLines({ address: '7 Twin Street', stretch: 0.1 });
    const at = lines.findIndex(({ type }) => type === 'unit');
    const twin = { type: 'unit', id: 'u2', t: T0, name: 'Reading room', model: 'Slim 50' } as const;
    lines.splice(at + 1, 0, twin);
    for (const name of ['Van Four', 'Van Five']) {
      const dataDir = join(temp.path, name);
      record(dataDir, 'twins', lines);
      const { sender } = await sendingVan(stage, { name, dataDir });
      await sender().sendAll();
    }
    const units = await stage.db.as(READER, (ask) => findUnits(ask, 'twin street'));
    expect(units.map(({ model, visits }) => [model, visits]).sort()).toEqual([
      ['Slim 35', 2],
      ['Slim 50', 2],
    ]);
  });
});
