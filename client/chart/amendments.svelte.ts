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

/** What is changed of an event: its time, ms since the epoch, its name, or both. */
export interface Amendment {
  t?: number;
  text?: string;
}

export class Amendments {
  #changes = $state.raw<Record<string, Change>>({});
  /** Why the last move was refused, as a sentence. */
  trouble = $state<string | null>(null);
  readonly #events: () => readonly EventMessage[];

  /** @param events as the server has told them */
  constructor(events: () => readonly EventMessage[]) {
    this.#events = events;
  }

  /** The events as they are shown. */
  get shown(): EventMessage[] {
    return this.#events().map((event) => {
      const change = this.#changes[event.id];
      if (change === undefined) return event;
      const isAnswered =
        change.isTold && (event.t !== change.was.t || textOf(event) !== textOf(change.was));
      return isAnswered ? event : { ...event, t: change.t, text: change.text };
    });
  }

  /** Shows an event at another time, or by another name, without telling anybody. */
  show(id: string, { t, text }: Amendment): void {
    const event = this.#events().find((each) => each.id === id);
    if (event === undefined) return;
    const before = this.#changes[id];
    const held = before?.isTold === false ? before : null;
    this.#put(id, {
      was: held?.was ?? event,
      t: t ?? held?.t ?? event.t,
      text: text ?? held?.text ?? textOf(event),
      isTold: false,
    });
  }

  /** An event is on its way to a time. */
  readonly move = (id: string, t: number): void => this.show(id, { t });

  /** It is put down there. */
  readonly putDown = async (id: string): Promise<void> => {
    this.trouble = await this.tell(id);
  };

  /** Takes back what was shown and not told. */
  readonly drop = (id: string): void => this.#put(id, undefined);

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
