/** A visit for the tests of the session: lines in, everything it says collected. */
import type { Line, Reading } from '../../adapters/contract.ts';
import {
  type AirflowResult,
  type Capture,
  captureKey,
  type Check,
  type EventMessage,
  type Measuring,
  type Snapshot,
  type UnitSnapshot,
  type Walk,
  type ZeroResult,
} from '../../server/protocol.ts';
import { Session } from '../../server/session.ts';

export const T0 = 1_777_885_200_000;
const SOURCE = { adapter: 'test', simulated: false };

/** The airflow of these visits is entered, and nobody has checked the probes. */
export const STANDING = ['check-missing', 'airflow-not-measured'];

export class TestVisit {
  readonly snapshots: Snapshot[] = [];
  /** Every capture as it is told, and those that are left when later ones have replaced theirs. */
  readonly told: Capture[] = [];
  readonly captures: Capture[] = [];
  readonly events: EventMessage[] = [];
  readonly checks: Check[] = [];
  readonly walks: Walk[] = [];
  readonly measuring: Measuring[] = [];
  readonly airflows: AirflowResult[] = [];
  readonly zeros: ZeroResult[] = [];
  readonly forgotten: string[] = [];
  readonly session: Session;

  constructor(lines: readonly Line[] = setUp()) {
    this.session = new Session({
      snapshot: (s) => this.snapshots.push(s),
      capture: (c) => {
        this.told.push(c);
        const at = this.captures.findIndex((held) => captureKey(held) === captureKey(c));
        if (at < 0) this.captures.push(c);
        else this.captures[at] = c;
      },
      check: (c) => this.checks.push(c),
      walk: (w) => this.walks.push(w),
      measuring: (m) => this.measuring.push(m),
      airflow: (a) => this.airflows.push(a),
      zero: (z) => this.zeros.push(z),
      event: (e) => this.events.push(e),
      probe: (probe, forgotten) => forgotten && this.forgotten.push(probe.id),
      setup: () => {},
    });
    for (const line of lines) this.take(line);
  }

  take(line: Line, source = SOURCE): string | null {
    return this.session.apply(line, source);
  }

  reading(
    probe: string,
    atMs: number,
    values: Omit<Reading, 'type' | 't' | 'probe'>,
  ): string | null {
    return this.take({ type: 'reading', probe, t: T0 + atMs, ...values });
  }

  /** Both probes of `u1` once a second from `fromS` to before `toS`. */
  run(fromS: number, toS: number, supplyC: (s: number) => number = () => 12, stepS = 1): void {
    for (let s = fromS; s < toS; s += stepS) {
      this.reading('r', s * 1000, { temperatureC: 26.7, humidityPct: 51 });
      this.reading('s', s * 1000 + 300, { temperatureC: supplyC(s), humidityPct: 94 });
    }
  }

  /** The unit in the last snapshot. */
  unit(id = 'u1'): UnitSnapshot {
    const unit = this.snapshots.at(-1)?.units[id];
    if (unit === undefined) throw new Error(`no snapshot of ${id}`);
    return unit;
  }

  /** The doubts of the last snapshot, but for those of every visit that is set up by hand. */
  codes(id = 'u1'): string[] {
    return this.unit(id)
      .doubts.map((d) => d.code)
      .filter((code) => !STANDING.includes(code));
  }
}

/**
 * One unit `u1` with a return and a supply probe, at sea level. Its air is said to be even, so that
 * one probe is enough.
 */
export function setUp(more: { mode?: 'cooling' | 'heating' } = { mode: 'cooling' }): Line[] {
  const limits = { temperatureC: 0.5, humidityPct: 2.5 };
  return [
    { type: 'visit', version: 1, pressurePa: 101_325, ...more },
    {
      type: 'unit',
      id: 'u1',
      airflow: { source: 'entered', flowM3s: 0.2, basis: 'actual', plane: 'supply', limitPct: 5 },
      unevenPct: { return: 0, supply: 0 },
    },
    { type: 'probe', id: 'r', unit: 'u1', place: 'return', limits },
    { type: 'probe', id: 's', unit: 'u1', place: 'supply', limits },
  ];
}

/** A visit that keeps count of its seconds. */
export class PacedVisit extends TestVisit {
  s = 0;

  go(seconds: number, supplyC: number): void {
    this.run(this.s, this.s + seconds, () => supplyC);
    this.s += seconds;
  }

  /** On until it is steady, and so many seconds into that. */
  steady(supplyC: number, intoS = 60): void {
    this.go(10, supplyC);
    while (this.unit().settling.state !== 'steady') {
      if (this.s > 20_000) throw new Error('never steady');
      this.go(10, supplyC);
    }
    this.go(intoS, supplyC);
  }
}
