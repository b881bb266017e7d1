/**
 * What is known of sites, systems, units and probes across visits: kept up with the lines of a visit as
 * they are taken, so that a visit is found by what a person said of it. All calls belong into the
 * transaction that appends the line.
 */
import * as z from 'zod';
import type { Airflow, Line, ProbeLine, UnitLine, VisitLine } from '../../adapters/contract.ts';
import { probeDetails, systemDetails, unitDetails, visitDetails } from '../visit-log/details.ts';
import { type Database, one } from './database.ts';

const textRow = z.object({ text: z.string() });
const siteRow = z.object({ site: z.string() });

export class Catalog {
  readonly #db: Database;
  readonly #visit: number;
  /** Probes whose readings this visit holds. */
  #seen = new Set<string>();

  /** @param visit the visit's key */
  constructor(db: Database, visit: number) {
    this.#db = db;
    this.#visit = visit;
  }

  /** What was taken last did not come to be. */
  forget(): void {
    this.#seen = new Set();
  }

  take(line: Line): void {
    switch (line.type) {
      case 'reading':
        this.#reading(line.probe, line.t);
        return;
      case 'visit':
        this.#visitLine(line);
        return;
      case 'system':
        this.#merge(
          'outdoor_system',
          this.#site(),
          line.id,
          (known) => systemDetails(known, line),
          line.name,
        );
        return;
      case 'unit':
        this.#unit(line);
        return;
      case 'probe':
        this.#probe(line);
        return;
      case 'airflow':
        this.#airflow(line.unit, line.t, line.airflow);
        return;
      case 'outlet':
      case 'expectation':
      case 'event':
      case 'photo':
        return; // stands among what the session tells
    }
  }

  #reading(probe: string, t: number): void {
    if (this.#seen.has(probe)) return;
    this.#seen.add(probe);
    this.#db
      .prepare(
        `INSERT INTO probe (id, name, seen_t) VALUES (:id, :id, :t)
         ON CONFLICT (id) DO UPDATE SET seen_t = excluded.seen_t`,
      )
      .run({ id: probe, t });
  }

  #visitLine(line: VisitLine): void {
    const db = this.#db;
    if (line.site !== undefined) {
      db.prepare(
        "INSERT INTO site (id, name, address) VALUES (?, '', '') ON CONFLICT (id) DO NOTHING",
      ).run(line.site);
      db.prepare('UPDATE visit SET site = ? WHERE key = ?').run(line.site, this.#visit);
    }
    const known = this.#text('SELECT details AS text FROM visit WHERE key = ?', this.#visit);
    db.prepare(
      `UPDATE visit SET details = :details, title = COALESCE(:title, title),
         simulated = COALESCE(:simulated, simulated) WHERE key = :visit`,
    ).run({
      visit: this.#visit,
      details: JSON.stringify(visitDetails(known, line)),
      title: line.title ?? null,
      simulated: line.simulated === undefined ? null : Number(line.simulated),
    });
    db.prepare(
      `UPDATE site SET name = COALESCE(:title, name), address = COALESCE(:address, address),
         altitude_m = COALESCE(:altitude, altitude_m), pressure_pa = COALESCE(:pressure, pressure_pa)
       WHERE id = :site`,
    ).run({
      site: this.#site(),
      title: line.title ?? null,
      address: line.address ?? null,
      altitude: line.altitudeM ?? null,
      pressure: line.pressurePa ?? null,
    });
  }

  #unit(line: UnitLine): void {
    const { id, name } = line;
    const details = (known: object): object => unitDetails(known, line);
    this.#merge('indoor_unit', this.#site(), id, details, name);
    this.#merge('visit_unit', this.#visit, id, details, name);
    if (line.system !== undefined) {
      this.#db
        .prepare('UPDATE indoor_unit SET system = ? WHERE site = ? AND id = ?')
        .run(line.system, this.#site(), id);
    }
    if (line.airflow !== undefined) this.#airflow(id, line.t ?? null, line.airflow);
  }

  #probe(line: ProbeLine): void {
    if (line.simulated === true) {
      this.#db.prepare('UPDATE visit SET simulated = 1 WHERE key = ?').run(this.#visit);
    }
    const known = this.#text('SELECT details AS text FROM probe WHERE id = ?', line.id);
    this.#db
      .prepare(
        `INSERT INTO probe (id, name, details) VALUES (:id, COALESCE(:name, :id), :details)
         ON CONFLICT (id) DO UPDATE SET name = COALESCE(:name, probe.name), details = :details`,
      )
      .run({
        id: line.id,
        name: line.name ?? null,
        details: JSON.stringify(probeDetails(known, line)),
      });
  }

  #airflow(unit: string, t: number | null, airflow: Airflow): void {
    this.#db
      .prepare(
        `INSERT INTO airflow (visit, unit, n, t, flow_m3s, data) VALUES (:visit, :unit,
           (SELECT COUNT(*) FROM airflow WHERE visit = :visit AND unit = :unit), :t, :flow, :data)`,
      )
      .run({ visit: this.#visit, unit, t, flow: airflow.flowM3s, data: JSON.stringify(airflow) });
  }

  /** Puts what a line says beside what is known, or makes the row. */
  #merge(
    table: 'outdoor_system' | 'indoor_unit' | 'visit_unit',
    owner: string | number,
    id: string,
    details: (known: object) => object,
    name?: string,
  ): void {
    const [of, key] = table === 'visit_unit' ? ['visit', 'unit'] : ['site', 'id'];
    const where = `${of} = :owner AND ${key} = :id`;
    const known = this.#db.prepare(`SELECT details AS text FROM ${table} WHERE ${where}`);
    const said = details(parsed(one(known, textRow, { owner, id })));
    this.#db
      .prepare(
        `INSERT INTO ${table} (${of}, ${key}, name, details)
         VALUES (:owner, :id, COALESCE(:name, :id), :details)
         ON CONFLICT (${of}, ${key}) DO UPDATE
         SET name = COALESCE(:name, ${table}.name), details = :details`,
      )
      .run({ owner, id, name: name ?? null, details: JSON.stringify(said) });
  }

  #site(): string {
    const site = this.#db.prepare('SELECT site FROM visit WHERE key = ?');
    return one(site, siteRow, this.#visit)?.site ?? '';
  }

  #text(statement: string, key: string | number): object {
    return parsed(one(this.#db.prepare(statement), textRow, key));
  }
}

function parsed(row: { text: string } | undefined): object {
  return z.looseObject({}).parse(JSON.parse(row?.text ?? '{}'));
}
