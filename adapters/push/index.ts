/** Readings that other programs send: the other side of `POST /api/readings`. */
import type { Adapter, AdapterHost, Reading } from '../contract.ts';
import { inOrder } from './in-order.ts';

/** Clocks differ a little; a reading from further ahead than this would outlive the real ones. */
const AHEAD_LIMIT_MS = 2000;
/** The range of a JavaScript date, ms. */
const LAST_DATE = 8.64e15;

/** Lets others have a turn in a long batch; null: go on. */
export type Turn = (t: number) => Promise<void> | null;

/** An adapter that is fed by calling `push`. */
export interface PushAdapter extends Adapter {
  /**
   * Takes a batch of readings, in any order; they go on in the order of their times.
   * @param readings of checked shape.
   * @param turn called before each with its time; where it answers with a promise, that is awaited first.
   * @returns for each reading, in the order given: null when it was taken, else why not.
   */
  push(readings: readonly Reading[], turn?: Turn): Promise<(string | null)[]>;
}

export interface PushOptions {
  /** The clock that readings must not be ahead of, ms since the epoch. */
  readonly now?: () => number;
}

export function createPushAdapter({ now = Date.now }: PushOptions = {}): PushAdapter {
  let host: AdapterHost | null = null;
  /** A probe whose sender's clock is ahead: the person at the screen is told of the first. */
  let ahead: string | null = null;

  function take(reading: Reading): string | null {
    if (host === null) return 'Pushed readings are not taken at the moment; send it again later.';
    const here = now();
    if (reading.t - here > AHEAD_LIMIT_MS) {
      if (ahead === null) {
        ahead = reading.probe;
        host.status(
          'running',
          `Readings of ${ahead} are refused: the clock of their sender is ahead.`,
        );
      }
      return aheadOfTime(reading.t, here);
    }
    if (ahead === reading.probe) {
      ahead = null;
      host.status('running');
    }
    return host.emit(reading);
  }

  return {
    name: 'push',
    start(given) {
      host = given;
      host.status('running');
    },
    stop() {
      host = null;
      ahead = null;
    },
    async push(readings, turn = () => null) {
      const answers: (string | null)[] = readings.map(() => null);
      let t = NaN;
      for (const place of inOrder(readings)) {
        const reading = place === null ? undefined : readings[place];
        t = reading?.t ?? t;
        const pause = turn(t);
        if (pause !== null) await pause;
        if (reading !== undefined && place !== null) answers[place] = take(reading);
      }
      return answers;
    },
  };
}

function aheadOfTime(t: number, here: number): string {
  return (
    `t: the reading is ${duration(t - here)} ahead of this computer's clock ` +
    `(it says ${isoTime(t)}, here it is ${isoTime(here)}): set the sender's clock.`
  );
}

function isoTime(t: number): string {
  return Math.abs(t) <= LAST_DATE ? new Date(t).toISOString() : `${t} ms`;
}

/** A span in its natural unit, in a few digits. */
function duration(ms: number): string {
  const [unitMs, unit] = [
    [86_400_000, 'days'] as const,
    [3_600_000, 'h'] as const,
    [60_000, 'min'] as const,
  ].find(([size]) => ms >= 2 * size) ?? [1000, 's'];
  return `${(ms / unitMs).toFixed(1)} ${unit}`;
}
