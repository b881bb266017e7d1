/**
 * What a unit should deliver, and whether it does: the conditions of a visit minute by minute, what was
 * published, whether full demand has been shown, and the verdict on a capture.
 */
import type { ExpectationLine, Mode } from '../../adapters/contract.ts';
import { conformance, USUAL_LIMIT, verdictOf } from '../measure/expectation/conformance.ts';
import { type Conditions, expectedAt } from '../measure/expectation/published.ts';
import type { Capture, EventMessage, VerdictMessage } from '../protocol.ts';

const MINUTE_MS = 60_000;
/** A day of minutes. */
const KEPT = 1440;
/** A setpoint asks for all there is when it lies so far beyond the room's air, K (common practice). */
const ASKS_K = 2;

/** Sums of one minute. */
interface Minute {
  t: number;
  n: number;
  indoorC: number;
  wetBulbC: number;
  wetN: number;
  outdoorC: number;
  outdoorN: number;
}

/** Indoor and outdoor air over time. */
export class ConditionsLog {
  #minutes: Minute[] = [];

  second(
    t: number,
    indoorC: number | null,
    wetBulbC: number | null,
    outdoorC: number | null,
  ): void {
    if (indoorC === null) return;
    const minute = Math.floor(t / MINUTE_MS) * MINUTE_MS;
    let last = this.#minutes.at(-1);
    if (last?.t !== minute) {
      last = { t: minute, n: 0, indoorC: 0, wetBulbC: 0, wetN: 0, outdoorC: 0, outdoorN: 0 };
      this.#minutes.push(last);
      if (this.#minutes.length > KEPT) this.#minutes.shift();
    }
    last.n++;
    last.indoorC += indoorC;
    if (wetBulbC !== null) {
      last.wetBulbC += wetBulbC;
      last.wetN++;
    }
    if (outdoorC !== null) {
      last.outdoorC += outdoorC;
      last.outdoorN++;
    }
  }

  /** Means over a span; null where the outdoor or indoor air is not known in it. */
  mean(from: number, to: number): Conditions | null {
    const sum = { n: 0, indoorC: 0, wetBulbC: 0, wetN: 0, outdoorC: 0, outdoorN: 0 };
    for (const m of this.#minutes) {
      if (m.t + MINUTE_MS <= from || m.t > to) continue;
      sum.n += m.n;
      sum.indoorC += m.indoorC;
      sum.wetBulbC += m.wetBulbC;
      sum.wetN += m.wetN;
      sum.outdoorC += m.outdoorC;
      sum.outdoorN += m.outdoorN;
    }
    if (sum.n === 0 || sum.outdoorN === 0) return null;
    return {
      outdoorC: sum.outdoorC / sum.outdoorN,
      indoorC: sum.indoorC / sum.n,
      indoorWetBulbC: sum.wetN === 0 ? null : sum.wetBulbC / sum.wetN,
    };
  }

  clockSet(shiftMs: number): void {
    this.#minutes = this.#minutes.map((m) => ({ ...m, t: m.t + shiftMs }));
  }
}

/** What is expected of one unit, in either mode. */
export class Expectation {
  readonly #published = new Map<Mode, ExpectationLine>();
  readonly conditions = new ConditionsLog();
  /** The setpoint at which full demand was shown, °C; null: it was not, or was taken back. */
  #shownAtC: number | null = null;

  tell(line: ExpectationLine): void {
    if (line.points.length === 0) this.#published.delete(line.mode);
    else this.#published.set(line.mode, line);
  }

  /** What was published, for the state. */
  toState(): ExpectationLine[] {
    return [...this.#published.values()];
  }

  /** A setpoint that asks for less than the one at which full demand was shown takes that back. */
  setpoint({ valueC }: Pick<EventMessage, 'valueC'>, mode: Mode | null): void {
    if (this.#shownAtC === null || valueC === undefined) return;
    const less = mode === 'heating' ? valueC < this.#shownAtC : valueC > this.#shownAtC;
    if (less) this.#shownAtC = null;
  }

  /** The verdict on a capture; null where nothing was published for it, or its conditions are not known. */
  verdict(capture: Capture, simulated: boolean): VerdictMessage | null {
    const mode: Mode = capture.latentW === null ? 'heating' : 'cooling';
    const published = this.#published.get(mode);
    const at = this.conditions.mean(capture.from, capture.to);
    if (at !== null) this.#push(capture, mode, at);
    if (published === undefined || at === null || capture.totalU95W === null) return null;
    const { points, limitPct, limit = USUAL_LIMIT, net = true, fanW = 0 } = published;
    const expected = expectedAt(mode, points, at, limitPct);
    if (expected === null) return null;
    // The fan's heat is in the air that is measured: a gross figure is turned into a net one.
    const fan = net ? 0 : mode === 'cooling' ? -fanW : fanW;
    const expectedW = expected.totalW + fan;
    const uExpected = expected.relative.u * expected.totalW;
    const probability = conformance(
      capture.totalW,
      capture.totalU95W / 1.96,
      expectedW,
      uExpected,
      limit,
    );
    return {
      type: 'verdict',
      ...{ unit: capture.unit, from: capture.from, to: capture.to, expectedW },
      ...{ expectedU95W: 1.96 * uExpected, limit, probability },
      verdict: verdictOf(probability, this.#shownAtC !== null),
      ...{ by: expected.by, conditions: at, simulated },
    };
  }

  /** The push test: the setpoint was pushed on, and no more came than the interval of the difference. */
  #push({ before }: Capture, mode: Mode, { indoorC }: Conditions): void {
    if (before?.event.kind !== 'setpoint' || before.event.valueC === undefined) return;
    const { valueC } = before.event;
    const asks = mode === 'heating' ? valueC >= indoorC + ASKS_K : valueC <= indoorC - ASKS_K;
    if (!asks || before.differenceU95W === null) return;
    if (before.differenceW <= before.differenceU95W) this.#shownAtC = valueC;
  }
}
