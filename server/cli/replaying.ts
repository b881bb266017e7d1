/** A visit log that is played into the live visit: pace, pause and jumps, and the time that it shows. */
import type { Adapter, Line } from '../../adapters/contract.ts';
import { createReplayAdapter } from '../../adapters/replay/index.ts';
import type { Replay } from '../protocol.ts';
import { afterOf, type RecordedLine } from '../visit-log/recorded.ts';
import type { LiveVisit } from '../visit.ts';
import type { ReplayDesk } from '../http/stage.ts';

/** The visit's time is let go on this often, ms; and where in the log it is is told every so many times. */
const TICK_MS = 200;
const TELL_EVERY = 5;

export interface Replaying extends ReplayDesk {
  readonly adapter: Adapter;
  /**
   * Takes a line of the log, as it was taken when it was lived.
   * @param line as it was checked
   * @param given with what was recorded beside it
   * @returns why it was refused, or null
   */
  take(line: Line, given: Line): string | null;
  /** Lets the visit's time go on from now on. @returns what ends that */
  run(): () => void;
}

/** @param open opens the log from its start: lines that were checked, in the order in which they were lived */
export function replaying(
  visit: LiveVisit,
  open: () => AsyncIterable<RecordedLine>,
  speed: number,
): Replaying {
  const adapter = createReplayAdapter({
    open,
    speed,
    jumping: (anew) => (anew ? visit.begin() : visit.hold()),
    arrived: () => {
      show();
      tell();
      visit.showAll();
    },
    changed: () => tell(),
  });
  const state = (): Replay => ({ type: 'replay', ...adapter.replay() });
  const tell = (): void => visit.replayed(state());
  // Never beyond the second that `analyse` would have worked out here: the figures are the same.
  function show(): void {
    const t = adapter.wholeT();
    if (t !== null) visit.showAt(t);
  }
  tell();
  return {
    adapter,
    state,
    change: (change) => adapter.change(change),
    take(line, given) {
      const mark = afterOf(given);
      if ('refusal' in mark) return mark.refusal;
      return visit.recorded(line, { adapter: 'replay', simulated: false }, mark.after);
    },
    run() {
      let ticks = 0;
      const timer = setInterval(() => {
        const { toT, at } = state();
        if (toT === null) show();
        if (++ticks % TELL_EVERY === 0 && at !== null) tell();
      }, TICK_MS);
      return () => clearInterval(timer);
    },
  };
}
