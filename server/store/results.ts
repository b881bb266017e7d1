/**
 * What the session told of a visit (captures, events, checks, its chart), kept so that an old visit is
 * shown without being worked out again. It can always be made anew from the visit's lines.
 */
import * as z from 'zod';
import type { HistoryPart } from '../history.ts';
import {
  type AirflowResult,
  airflowResultSchema,
  type Capture,
  captureKey,
  captureSchema,
  type Check,
  checkSchema,
  type EventMessage,
  eventSchema,
  type Frame,
  type VerdictMessage,
  verdictSchema,
} from '../protocol.ts';
import { decodeChartPart, encodeChartPart } from './chart-part.ts';
import { all, type Database } from './database.ts';

const TABLES = ['capture', 'event', 'probe_check', 'measured_airflow', 'verdict', 'chart'];

/** Gathers what is told until it can be written. */
export class Results {
  readonly #captures = new Map<string, Capture>();
  readonly #events = new Map<string, EventMessage>();
  readonly #checks = new Map<number, Check>();
  #airflows: AirflowResult[] = [];
  readonly #verdicts = new Map<string, VerdictMessage>();
  #chart: HistoryPart[] = [];
  /** All that was written before is of no use any more. */
  #anew = false;

  get waiting(): boolean {
    return (
      this.#anew ||
      this.#captures.size + this.#events.size + this.#checks.size + this.#chart.length > 0 ||
      this.#airflows.length + this.#verdicts.size > 0
    );
  }

  /** From here on everything is told anew. */
  anew(): void {
    this.#anew = true;
    this.written();
    this.#anew = true;
  }

  frame(frame: Frame): void {
    if (frame.type === 'capture') this.#captures.set(captureKey(frame), frame);
    else if (frame.type === 'event') this.#events.set(frame.id, frame);
    else if (frame.type === 'check') this.#checks.set(frame.from, frame);
    else if (frame.type === 'airflow') this.#airflows.push(frame);
    else if (frame.type === 'verdict') this.#verdicts.set(captureKey(frame), frame);
  }

  chart(part: HistoryPart): void {
    if (part.t.length > 0) this.#chart.push(part);
  }

  /** Writes what waits; belongs into a transaction, after which `written` is called. */
  write(db: Database, visit: number): void {
    if (this.#anew) {
      for (const table of TABLES) {
        db.prepare(`DELETE FROM ${table} WHERE visit = ?`).run(visit);
      }
    }
    const capture = db.prepare(
      `INSERT INTO capture (visit, key, unit, from_t, to_t, total_w, total_u95_w, data)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?) ON CONFLICT (visit, key) DO UPDATE SET from_t = excluded.from_t,
       to_t = excluded.to_t, total_w = excluded.total_w, total_u95_w = excluded.total_u95_w,
       data = excluded.data`,
    );
    for (const [key, c] of this.#captures) {
      capture.run(visit, key, c.unit, c.from, c.to, c.totalW, c.totalU95W, JSON.stringify(c));
    }
    const event = db.prepare(
      `INSERT INTO event (visit, id, t, kind, unit, data) VALUES (?, ?, ?, ?, ?, ?)
       ON CONFLICT (visit, id) DO UPDATE SET t = excluded.t, data = excluded.data`,
    );
    for (const [id, e] of this.#events) {
      event.run(visit, id, e.t, e.kind, e.unit ?? null, JSON.stringify(e));
    }
    const check = db.prepare(
      `INSERT INTO probe_check (visit, since, data) VALUES (?, ?, ?)
       ON CONFLICT (visit, since) DO UPDATE SET data = excluded.data`,
    );
    for (const [since, c] of this.#checks) check.run(visit, since, JSON.stringify(c));
    const airflow = db.prepare(
      `INSERT INTO measured_airflow (visit, unit, t, method, flow_m3s, u95_m3s, data)
       VALUES (?, ?, ?, ?, ?, ?, ?) ON CONFLICT (visit, unit, t, method) DO UPDATE
       SET flow_m3s = excluded.flow_m3s, u95_m3s = excluded.u95_m3s, data = excluded.data`,
    );
    for (const a of this.#airflows) {
      airflow.run(visit, a.unit, a.t, a.method, a.flowM3s, a.u95M3s, JSON.stringify(a));
    }
    const verdict = db.prepare(
      `INSERT INTO verdict (visit, key, unit, to_t, verdict, data) VALUES (?, ?, ?, ?, ?, ?)
       ON CONFLICT (visit, key) DO UPDATE SET to_t = excluded.to_t, verdict = excluded.verdict,
       data = excluded.data`,
    );
    for (const [key, v] of this.#verdicts) {
      verdict.run(visit, key, v.unit, v.to, v.verdict, JSON.stringify(v));
    }
    const chart = db.prepare(
      `INSERT INTO chart (visit, first_t, data) VALUES (?, ?, ?)
       ON CONFLICT (visit, first_t) DO UPDATE SET data = excluded.data`,
    );
    for (const part of this.#chart) chart.run(visit, part.t[0] ?? 0, encodeChartPart(part));
  }

  written(): void {
    this.#anew = false;
    this.#captures.clear();
    this.#events.clear();
    this.#checks.clear();
    this.#airflows = [];
    this.#verdicts.clear();
    this.#chart = [];
  }
}

const dataRow = z.object({ data: z.string() });
const blobRow = z.object({ data: z.instanceof(Uint8Array) });

/** What was told of a visit, oldest first. */
export interface Told {
  captures: Capture[];
  events: EventMessage[];
  checks: Check[];
  airflows: AirflowResult[];
  verdicts: VerdictMessage[];
}

export function readTold(db: Database, visit: number): Told {
  const told = <T>(schema: { parse(value: unknown): T }, table: string, order: string): T[] =>
    all(
      db.prepare(`SELECT data FROM ${table} WHERE visit = ? ORDER BY ${order}`),
      dataRow,
      visit,
    ).map(({ data }) => schema.parse(JSON.parse(data)));
  return {
    captures: told(captureSchema, 'capture', 'to_t'),
    events: told(eventSchema, 'event', 't'),
    checks: told(checkSchema, 'probe_check', 'since'),
    airflows: told(airflowResultSchema, 'measured_airflow', 't'),
    verdicts: told(verdictSchema, 'verdict', 'to_t'),
  };
}

/** The chart of a visit, part by part. */
export function* readChart(db: Database, visit: number): Generator<HistoryPart> {
  const rows = db.prepare('SELECT data FROM chart WHERE visit = ? ORDER BY first_t');
  for (const { data } of all(rows, blobRow, visit)) yield decodeChartPart(data);
}
