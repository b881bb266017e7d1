/**
 * What a unit should deliver, and whether it does: what was published, whether full demand has been shown,
 * and the verdict on a figure.
 */
import type { ExpectationLine, Mode } from '../../../adapters/contract.ts';
import { USUAL_LIMIT } from '../../measure/expectation/conformance.ts';
import { type Action, judge, type Judged, type Measured } from '../../measure/expectation/judge.ts';
import {
  type Conditions,
  type Expected,
  expectedAt,
  type NotExpected,
} from '../../measure/expectation/published.ts';
import { type Share, type SharedBy, shareOf } from '../../measure/expectation/shared-heads.ts';
import type { Capture, PublishedState, VerdictMessage } from '../../protocol.ts';
import { PushTests } from './full-demand.ts';
import { SpanLog } from './span-log.ts';

/** What lies around a unit while it is judged. */
export interface Around {
  conditions: { [K in keyof Conditions]: Conditions[K] | null };
  /** Standard uncertainty of the outdoor temperature, K, and whether a person told it. */
  outdoorU: number;
  outdoorFrom: 'probe' | 'entered';
  pPa: number;
  /** The other heads on the same outdoor unit; null where none runs. */
  shared: SharedBy | null;
  /** The fan speed that was told. */
  fan: string | null;
  /** What a person has done already. */
  done: readonly Action[];
}

export type WhyNot = NotExpected | 'no-mode' | 'no-outdoor' | 'no-indoor';

/** What is expected, at which conditions. */
export interface ExpectedHere {
  expected: Expected;
  share: Share;
  conditions: Conditions;
  /** The indoor temperature that counts, °C. */
  indoorC: number;
}

export class Expectation {
  readonly #published = new Map<Mode, ExpectationLine>();
  readonly log = new SpanLog();
  readonly push = new PushTests();

  tell(line: ExpectationLine): void {
    if (line.points.length === 0) this.#published.delete(line.mode);
    else this.#published.set(line.mode, line);
  }

  /** What was published, for the state. */
  toState(): PublishedState[] {
    return [...this.#published.values()].map(({ type: _, unit: _unit, t: _t, ...said }) => said);
  }

  clockSet(shiftMs: number): void {
    this.log.clockSet(shiftMs);
    this.push.clockSet(shiftMs);
  }

  /** What the unit should give in these conditions, or why that cannot be said. */
  here(mode: Mode | null, { conditions, pPa, shared }: Around): ExpectedHere | WhyNot {
    if (this.#published.size === 0) return 'nothing';
    if (mode === null) return 'no-mode';
    const published = this.#published.get(mode);
    if (published === undefined) return 'nothing';
    const { outdoorC, indoorC, indoorWetBulbC } = conditions;
    if (outdoorC === null) return 'no-outdoor';
    if (indoorC === null) return 'no-indoor';
    const at = { outdoorC, indoorC, indoorWetBulbC };
    const expected = expectedAt(mode, published, at, pPa);
    if (typeof expected === 'string') return expected;
    const share = shareOf(expected.totalW, expected.relative.u * expected.totalW, shared);
    const counts = mode === 'cooling' ? (indoorWetBulbC ?? indoorC) : indoorC;
    return { expected, share, conditions: at, indoorC: counts };
  }

  /** Measured against what is expected. */
  judge(mode: Mode, measured: Measured, here: ExpectedHere, around: Around): Judged {
    const { expected, share, indoorC } = here;
    const { outdoorU, outdoorFrom, pPa, done } = around;
    const probed: Action[] = outdoorFrom === 'probe' ? ['outdoor-probe'] : [];
    return judge(
      mode,
      measured,
      expected,
      share,
      { outdoorU, indoorC, pPa },
      this.limit(mode),
      this.push.shown !== null && !this.isAtOtherSpeed(mode, around.fan),
      [...done, ...probed],
    );
  }

  /** The part of what is expected that has to be reached. */
  limit(mode: Mode): number {
    return this.#published.get(mode)?.limit ?? USUAL_LIMIT;
  }

  /** Whether what was published is for another fan speed than the one that is told. */
  isAtOtherSpeed(mode: Mode, fan: string | null): boolean {
    const wanted = this.#published.get(mode)?.fan;
    return wanted !== undefined && fan !== null && wanted !== fan;
  }

  /** The verdict on a capture; null where nothing can be expected of it. */
  verdict(
    capture: Capture,
    around: Around,
  ): { verdict: Omit<VerdictMessage, 'causes'>; here: ExpectedHere } | null {
    const { at, totalU95W, totalW } = capture;
    if (at === undefined || totalU95W === null || at.dryAirKgs === null) return null;
    const mode: Mode = capture.latentW === null ? 'heating' : 'cooling';
    const { indoorC } = around.conditions;
    if (indoorC !== null) this.push.capture(capture, mode, indoorC);
    const here = this.here(mode, around);
    if (typeof here === 'string') return null;
    const measured: Measured = {
      totalW,
      errors: capture.errors ?? [],
      scatterW: (capture.scatterU95W ?? 0) / K95,
      dryAirKgs: at.dryAirKgs,
      returnProbes: at.returnProbes,
    };
    const judged = this.judge(mode, measured, here, around);
    const verdict = {
      type: 'verdict' as const,
      ...{ unit: capture.unit, from: capture.from, to: capture.to, by: capture.by, mode },
      ...{ expectedW: here.share.totalW, expectedU95W: K95 * judged.expectedU },
      ...{ limit: this.limit(mode), probability: judged.probability, verdict: judged.verdict },
      ...{ ratio: judged.ratio, ratioU95: judged.ratioU95, basis: here.expected.by },
      ...{ atMost: here.share.atMost, limited: here.share.limited },
      ...{ altitudeFactor: here.expected.altitudeFactor, conditions: here.conditions },
      ...{ outdoorFrom: around.outdoorFrom, fullDemand: this.push.shown },
      otherSpeed: this.isAtOtherSpeed(mode, around.fan),
      prospects: judged.prospects,
      simulated: capture.simulated,
    };
    return { verdict, here };
  }
}

const K95 = 1.96;
