/**
 * Whether it has been shown that a unit gives all it has. A variable-speed unit gives what it is asked:
 * so the setpoint is pushed on, or the unit's boost is pressed, and when no more comes, that is all.
 */
import type { Capture, EventMessage, FullDemand, PushTest } from '../../protocol.ts';
import type { Mode } from '../../../adapters/contract.ts';

/** A setpoint asks for all there is when it lies so far beyond the room's air, K (common practice). */
export const ASKS_K = 2;
/** So well must the difference be known, as a part of the figure: else no change means nothing. */
const KNOWN_TO = 0.1;

/** The steps that were asked for, and the last answer. */
export class PushTests {
  /** Where it was shown; null: it was not, or was taken back. */
  shown: FullDemand | null = null;
  last: PushTest | null = null;

  /** A setpoint that asks for less than where it was shown takes that back, and so does another fan speed. */
  event({ kind, valueC, boost }: EventMessage, mode: Mode | null): void {
    const { shown } = this;
    if (shown === null) return;
    const less =
      kind === 'setpoint' && valueC !== undefined && boost !== true
        ? mode === 'heating'
          ? valueC < shown.valueC
          : valueC > shown.valueC
        : kind === 'fan';
    if (less) this.shown = null;
  }

  /** A capture after a setpoint that was pushed on tells whether more came. */
  capture({ before, totalW, to, struck }: Capture, mode: Mode, indoorC: number): void {
    if (struck !== undefined || before?.event.kind !== 'setpoint') return;
    const { valueC, boost = false } = before.event;
    const { differenceW, differenceU95W, event } = before;
    if (valueC === undefined || differenceU95W === null) return;
    const asks = mode === 'heating' ? valueC >= indoorC + ASKS_K : valueC <= indoorC - ASKS_K;
    if (!asks && !boost) return;
    const more = differenceW > differenceU95W;
    const unsure = !more && differenceU95W > KNOWN_TO * Math.abs(totalW);
    const answer = more ? 'more' : unsure ? 'unsure' : 'all';
    this.last = { t: event.t, to, valueC, boost, differenceW, differenceU95W, answer };
    if (answer === 'all') this.shown = { t: to, valueC };
    else if (answer === 'more') this.shown = null;
  }

  clockSet(shiftMs: number): void {
    if (this.shown !== null) this.shown = { ...this.shown, t: this.shown.t + shiftMs };
    const { last } = this;
    if (last !== null) this.last = { ...last, t: last.t + shiftMs, to: last.to + shiftMs };
  }
}
