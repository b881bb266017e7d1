/** The events of a visit that have been told, so that they can be named or dated anew. */
import type {
  AmendEvent,
  BaselineEvent,
  CaptureEvent,
  EventLine,
  RemarkEvent,
  StrikeEvent,
} from '../../adapters/contract.ts';
import type { EventMessage } from '../protocol.ts';
import { shiftedEvent } from './clock-set.ts';
import { sent } from '../words/sent.ts';

/** The newest so many can be amended. */
const KEPT = 2000;
/** An event is dated anew by so much at most, ms. */
const REDATE_MS = 3_600_000;
/** What a person did, and may have told too late; the others happened when they were told. */
const REDATED: readonly EventMessage['kind'][] = ['setpoint', 'fan', 'note'];

/** What a person does to an earlier event, or to a figure: it is told, and is no event of the unit. */
export const isAboutEarlier = (
  line: EventLine,
): line is AmendEvent | CaptureEvent | StrikeEvent | RemarkEvent | BaselineEvent =>
  line.kind === 'amend' ||
  line.kind === 'capture' ||
  line.kind === 'strike' ||
  line.kind === 'remark' ||
  line.kind === 'baseline';

export class ToldEvents {
  readonly #events = new Map<string, EventMessage>();
  /** The number of the last id that was given. */
  #last = 0;

  /** Gives an event its id: the one that a record holds, unless it is taken, or the next. */
  add(event: Omit<EventMessage, 'id'>, recorded?: string): EventMessage {
    const known = recorded !== undefined && !this.#events.has(recorded);
    const id = known ? recorded : `e${this.#last + 1}`;
    this.#last = Math.max(this.#last, Number(id.slice(1)));
    const told = { ...event, id };
    this.#events.set(id, told);
    if (this.#events.size > KEPT) this.#events.delete(this.#events.keys().next().value ?? '');
    return told;
  }

  /** The clock was set: all of before is told by the new one. */
  clockSet(shiftMs: number): void {
    for (const [id, event] of this.#events) this.#events.set(id, shiftedEvent(event, shiftMs));
  }

  /**
   * Names or dates an event anew.
   * @returns it as it is now, or why that was refused, naming the field
   */
  amend({ event: id, t, toT, text }: AmendEvent): EventMessage | string {
    const event = this.#events.get(id);
    if (event === undefined) {
      return sent`event: there is no event "${id}" in this visit (its newest ${KEPT} can be amended)`;
    }
    if (toT === undefined && text === undefined) {
      return sent`text: is missing, and so is toT; give the new name, the new time or both`;
    }
    if (toT !== undefined) {
      const refusal = whyNot(event, toT, t);
      if (refusal !== null) return refusal;
    }
    const amended = { ...event, t: toT ?? event.t };
    if (text === '') delete amended.text;
    else if (text !== undefined) amended.text = text;
    this.#events.set(id, amended);
    return amended;
  }
}

function whyNot({ kind, t }: EventMessage, toT: number, now: number): string | null {
  if (!REDATED.includes(kind)) {
    return sent`toT: an event of the kind ${kind} is not dated anew, it happened when it was told; it may be named`;
  }
  if (toT > now) return sent`toT: ${toT} lies in the future of this visit; the latest is ${now}`;
  if (Math.abs(toT - t) > REDATE_MS) {
    return sent`toT: ${toT} is more than an hour from ${t}, where the event is; move it by less`;
  }
  return null;
}
