/**
 * The evidence that a visit gives, from what its session has said: captures, the verdict, a walk, and means
 * of the snapshots over the span of the last capture.
 */
import type { Line } from '../../adapters/contract.ts';
import {
  type Evidence,
  evidenceOf,
  type Item,
  type Seen,
} from '../../server/measure/expectation/evidence.ts';
import type {
  Capture,
  Snapshot,
  UnitSnapshot,
  VerdictMessage,
  Walk,
} from '../../server/protocol.ts';
import { Session } from '../../server/session.ts';
import type { SystemParameters } from '../../simulator/system.ts';

/** Limits, %: of the measured airflow, the fan table, the capacity table. */
export const FLOW_LIMIT = 4;
export const FAN_TABLE_LIMIT = 6;
export const TABLE_LIMIT = 5;
const SOURCE = { adapter: 'visit', simulated: true };

/** A session, and what it has said. */
export class Heard {
  readonly snapshots: Snapshot[] = [];
  readonly closed: Capture[] = [];
  verdict: VerdictMessage | null = null;
  walk: Walk | null = null;
  readonly roomC: { t: number; c: number }[] = [];
  readonly session = new Session({
    snapshot: (s) => this.snapshots.push(s),
    capture: (c) => c.open !== true && this.closed.push(c),
    check: () => {},
    walk: (w) => (this.walk = w),
    event: () => {},
    probe: () => {},
    setup: () => {},
    verdict: (v, c) => c.open !== true && (this.verdict = v),
  });
  take(line: Line): void {
    if (line.type === 'reading' && line.probe === 'p4' && line.temperatureC !== undefined) {
      this.roomC.push({ t: line.t, c: line.temperatureC });
    }
    const refusal = this.session.apply(line, SOURCE);
    if (refusal !== null) throw new Error(refusal);
  }
}

/** What is known of a visit beside what its session says. */
export interface Known {
  fanOff: number;
  seen: Partial<Seen>;
  power: { measured: number; wanted: Item } | null;
  parameters: SystemParameters;
}

/** Probes of ± 0.3 K and 2 % RH, nobody having checked them. */
const U_K = 0.3 / Math.sqrt(3);
const U_PCT = 2 / Math.sqrt(3);

/** The evidence of the last capture; null where there is none. */
export function gathered(heard: Heard, known: Known): Evidence | null {
  const capture = heard.closed.at(-1);
  if (capture?.totalU95W === undefined || capture.totalU95W === null) return null;
  const { from, to, before } = capture;
  const span = heard.snapshots.flatMap(({ t, units }) =>
    t >= from && t <= to && units['u1'] !== undefined ? [units['u1']] : [],
  );
  const mean = (of: (unit: UnitSnapshot) => number | null): number => {
    const all = span.map(of).filter((x) => x !== null);
    return all.reduce((sum, x) => sum + x, 0) / all.length;
  };
  const { verdict, walk } = heard;
  if (span.length === 0 || verdict === null) return null;
  const head = known.parameters.units[0]?.head;
  const fastest = head?.fanSpeeds.at(-1);
  const wetM3s = 0.97 * (fastest?.flowM3s ?? NaN) * known.fanOff;
  return evidenceOf({
    ...{ mode: 'cooling', pressurePa: known.parameters.pressurePa, capacityChange: null },
    totalW: { value: capture.totalW, u: capture.totalU95W / 1.96 },
    expectedW: { value: verdict.expectedW, u: verdict.expectedU95W / 1.96 },
    return: {
      temperatureC: { value: mean((u) => u.return.temperatureC), u: U_K },
      humidityPct: { value: mean((u) => u.return.humidityPct), u: U_PCT },
    },
    supply: {
      temperatureC: { value: mean((u) => u.supply.temperatureC), u: U_K },
      humidityPct: { value: mean((u) => u.supply.humidityPct), u: U_PCT },
    },
    roomC: roomOf(heard, from, to),
    flowM3s: within(
      mean((u) => u.airflow.flowM3s),
      FLOW_LIMIT,
    ),
    isFlowMeasured: true,
    wantedFlowM3s: within(wetM3s, FAN_TABLE_LIMIT),
    powerW: known.power === null ? null : within(known.power.measured, 2),
    expectedPowerW: known.power?.wanted ?? null,
    pushGainW:
      before?.differenceU95W === undefined || before.differenceU95W === null
        ? null
        : { value: before.differenceW, u: before.differenceU95W / 1.96 },
    spotK: walk?.spotK === undefined || walk.spotK === null ? null : within(walk.spotK, 25),
    seen: {
      ...{
        fullDemand: verdict.verdict === 'not-asked' || before === undefined ? 'not-shown' : 'shown',
      },
      cycling: capture.state === 'cycling' ? 'yes' : 'no',
      ...{ otherHeads: null, coil: null, filter: null, probes: 'unchecked', ...known.seen },
    },
  });
}

/** A figure that is right within a ±, %. */
export const within = (value: number, limitPct: number): Item => ({
  value,
  u: (value * limitPct) / 100 / Math.sqrt(3),
});

/** The room's own probe, which no snapshot holds: from its readings. */
function roomOf(heard: Heard, from: number, to: number): Item | null {
  const all = heard.roomC.filter(({ t }) => t >= from && t <= to);
  if (all.length === 0) return null;
  return { value: all.reduce((sum, { c }) => sum + c, 0) / all.length, u: U_K };
}
