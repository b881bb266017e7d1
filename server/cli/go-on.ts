/** What a live visit is kept going by: its time, second by second, and its record on the disk. */
import type { LiveVisit } from '../visit.ts';

/**
 * So long after each whole second the visit's time is let go on, ms: readings that are on their way
 * still count to it, and seconds come at an even pace.
 */
const GRACE_MS = 100;
/** How often the record is put on the disk, ms: what a power cut takes is no more than that. */
const RECORD_MS = 1000;

/**
 * Lets the visit's time go on after each whole second, and sees to its record.
 * @returns what ends it
 */
export function goOn(
  visit: Pick<LiveVisit, 'tick' | 'untilSecond'>,
  seeToRecord: () => void,
): () => void {
  let ticking = setTimeout(tick, GRACE_MS);
  function tick(): void {
    ticking = setTimeout(tick, visit.untilSecond() + GRACE_MS); // whatever becomes of this one
    visit.tick();
  }
  const recording = setInterval(seeToRecord, RECORD_MS);
  return () => {
    clearTimeout(ticking);
    clearInterval(recording);
  };
}
