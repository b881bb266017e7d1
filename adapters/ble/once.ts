/** Calls of the Bluetooth library that can be waited for. */
import type { EventEmitter } from 'node:events';

/** A timer that is so late shows that the process stood still; so long it is waited for on, ms. */
const LATE_MS = 250;
const GRACE_MS = 1000;

export interface OnceOptions {
  /** What is waited for, as the end of "… did not end in time". */
  readonly what: string;
  readonly limitMs: number;
  /** Which of these events is the answer; default: the first. */
  readonly isAnswer?: (given: readonly unknown[]) => boolean;
  /** Whatever ends the waiting before the time: a link that is lost. */
  readonly until?: AbortSignal | undefined;
  /** Tells by `fail` that there will be no answer, and why; called with null when nobody waits. */
  readonly refused?: ((fail: ((text: string) => void) | null) => void) | undefined;
}

/** A call that had no answer in time: whoever was asked may be there no more. */
export class NoAnswer extends Error {
  override readonly name = 'NoAnswer';
}

/**
 * Makes a call, and waits for the event that answers it. The library's own callbacks and promises
 * will not do: what is outstanding when a link is lost never settles, an error of the probe answers
 * nothing, and the listeners left behind run into the next attempt.
 * @returns what came with the event
 */
export function once(
  emitter: EventEmitter,
  event: string,
  { what, limitMs, isAnswer = () => true, until, refused }: OnceOptions,
  call: () => void,
): Promise<unknown[]> {
  return new Promise((resolve, reject) => {
    let over = false;
    const end = (): void => {
      over = true;
      clearTimeout(timer);
      emitter.off(event, onEvent);
      until?.removeEventListener('abort', onAbort);
      refused?.(null);
    };
    const fail = (error: Error): void => {
      end();
      reject(error);
    };
    const onEvent = (...given: unknown[]): void => {
      if (!isAnswer(given)) return;
      end();
      resolve(given);
    };
    const onAbort = (): void => fail(new Error(`the link was lost before ${what} ended`));
    let timer: NodeJS.Timeout | undefined;
    const wait = (ms: number): void => {
      const dueT = performance.now() + ms;
      timer = setTimeout(() => {
        // After a standstill timers come before what has arrived meanwhile: perhaps the answer has.
        if (performance.now() - dueT > LATE_MS) wait(GRACE_MS);
        else fail(new NoAnswer(`${what} did not end within ${limitMs / 1000} s`));
      }, ms);
    };
    emitter.on(event, onEvent);
    until?.addEventListener('abort', onAbort);
    refused?.((text) => fail(new Error(text)));
    if (until?.aborted === true) onAbort();
    else {
      try {
        call();
        if (!over) wait(limitMs); // from now: the call itself may have blocked for long
      } catch (error) {
        fail(error instanceof Error ? error : new Error(String(error)));
      }
    }
  });
}
