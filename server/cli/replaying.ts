/** A visit log that is played into the live visit: pace, pause and jumps, and the time that it shows. */
import type { Adapter } from '../../adapters/contract.ts';
import { createReplayAdapter, type ReplayChange } from '../../adapters/replay/index.ts';
import type { ReplayDesk } from '../http/replay.ts';
import type { Replay } from '../protocol.ts';
import type { RecordedLine } from '../visit-log/recorded.ts';
import type { LiveVisit } from '../visit.ts';

/** Where in the log one is is told this often, in ticks. */
const TELL_EVERY = 5;

export interface Replaying extends ReplayDesk {
  adapter: Adapter;
  /** Lets the visit's time go on; to be called a few times a second. */
  readonly tick: () => void;
}

/** @param open opens the log from its start: lines that were checked, in the order in which they were lived */
export function replaying(
  visit: LiveVisit,
  open: () => AsyncIterable<RecordedLine>,
  speed: number,
): Replaying {
  let ticks = 0;
  const adapter = createReplayAdapter({
    open,
    speed,
    jumping: (anew) => (anew ? visit.begin() : visit.hold()),
    arrived: () => {
      show();
      visit.replayed(state());
      visit.showAll();
    },
    changed: () => visit.replayed(state()),
  });
  const state = (): Replay => ({ type: 'replay', ...adapter.replay() });
  // Never beyond the second that `analyse` would have worked out here: the figures are the same.
  const show = (): void => {
    const t = adapter.wholeT();
    if (t !== null) visit.showAt(t);
  };
  visit.replayed(state());
  return {
    adapter,
    state,
    change: (change: ReplayChange) => adapter.change(change),
    tick: () => {
      const { toT, at } = state();
      if (toT === null) show();
      if (++ticks % TELL_EVERY === 0 && at !== null) visit.replayed(state());
    },
  };
}
