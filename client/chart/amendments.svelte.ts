/**
 * What a person has changed of events and the server has not told again yet: shown at once, taken
 * back when it is refused.
 */
import type { EventMessage } from '../../server/protocol.ts';
import { postEvent } from '../live/api.ts';

interface Change {
  /** As it was told when the change began. */
  was: EventMessage;
  t: number;
  text: string;
  /** Whether the server has been told. */
  isTold: boolean;
}

/** What was taken is told again within so long; after that what the server says counts, ms. */
const TOLD_AGAIN_MS = 5000;

const textOf = ({ text }: EventMessage): string => text ?? '';

export class Amendments {
  #changes = $state.raw<Record<string, Change>>({});

  /** The events as they are shown. */
  applied(events: readonly EventMessage[]): EventMessage[] {
    return events.map((event) => {
      const change = this.#changes[event.id];
      if (change === undefined) return event;
      const isAnswered =
        change.isTold && (event.t !== change.was.t || textOf(event) !== textOf(change.was));
      return isAnswered ? event : { ...event, t: change.t, text: change.text };
    });
  }

  /** Shows an event at another time, or by another name, without telling anybody. */
  show(event: EventMessage, { t, text }: { t?: number; text?: string }): void {
    const before = this.#changes[event.id];
    const held = before?.isTold === false ? before : null;
    this.#put(event.id, {
      was: held?.was ?? event,
      t: t ?? held?.t ?? event.t,
      text: text ?? held?.text ?? textOf(event),
      isTold: false,
    });
  }

  /** Takes back what was shown and not told. */
  drop(id: string): void {
    this.#put(id, undefined);
  }

  /** Tells the server what is shown. Answers null, or why it was refused; then it is taken back. */
  async tell(id: string): Promise<string | null> {
    const change = this.#changes[id];
    if (change === undefined || change.isTold) return null;
    const { was, t, text } = change;
    if (t === was.t && text === textOf(was)) {
      this.drop(id);
      return null;
    }
    const told: Change = { ...change, isTold: true };
    this.#put(id, told);
    const refusal = await postEvent({
      kind: 'amend',
      event: id,
      ...(t === was.t ? {} : { toT: t }),
      ...(text === textOf(was) ? {} : { text }),
    });
    const dropTold = (): void => {
      if (this.#changes[id] === told) this.drop(id);
    };
    if (refusal === null) setTimeout(dropTold, TOLD_AGAIN_MS);
    else dropTold();
    return refusal;
  }

  #put(id: string, change: Change | undefined): void {
    const { [id]: _, ...others } = this.#changes;
    this.#changes = change === undefined ? others : { ...others, [id]: change };
  }
}
