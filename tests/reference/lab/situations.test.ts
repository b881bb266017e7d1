/**
 * Situations over the laboratories' days: real machines that cool, heat, stop and start. Drying coils are
 * there to be seen, by the reference's own latent part (reference.ts); nothing else of its kind is.
 */
import { describe, expect, it } from 'vitest';
import { Session } from '../../../server/session.ts';
import { LAB_DAYS, type LabDay, readRows, visitLog } from './convert.ts';
import { referenceCapacity } from './reference.ts';
import { labUnit } from './run.ts';

const NEVER = ['probes-differ', 'reheat', 'return-breathes-supply', 'heat-between', 'other-head'];
/** A row holds for a minute; what ended with the row before may be said for 20 s more. */
const ROW_MS = 60_000;
const CARRIED_S = 20;

function watch(day: LabDay): { wrong: string[]; dryS: number; saidS: number } {
  const rows = readRows(day);
  const reference = new Map(rows.map((row) => [row.t, referenceCapacity(row)]));
  const flow = new Map(rows.map((row) => [row.t, row.dryAirKgs]));
  const seen = { wrong: new Set<string>(), dryS: 0, saidS: 0 };
  const ignore = (): void => {};
  const session = new Session({
    ...{ capture: ignore, check: ignore, walk: ignore },
    ...{ event: ignore, probe: ignore, setup: ignore },
    snapshot: (snapshot) => {
      const codes = labUnit(snapshot).doubts.map(({ code }) => code);
      for (const code of codes) if (NEVER.includes(code)) seen.wrong.add(code);
      const rowT = Math.floor(snapshot.t / ROW_MS) * ROW_MS;
      const { latentW = 0, totalW = 0 } = reference.get(rowT) ?? {};
      const into = (snapshot.t - rowT) / 1000;
      const said = codes.includes('coil-drying');
      if (said && latentW > 0 && into > CARRIED_S) seen.wrong.add('coil-drying');
      // Water goes back, and by the reference it cancels what is sensible.
      const dries = latentW < -500 && Math.abs(totalW) < 0.2 * Math.abs(latentW);
      if (day.mode !== 'cooling' || !dries || (flow.get(rowT) ?? 0) < 0.1) return;
      if (into <= CARRIED_S) return;
      seen.dryS++;
      if (said) seen.saidS++;
    },
  });
  for (const line of visitLog(day, rows)) session.apply(line, { adapter: null, simulated: false });
  session.finish();
  return { ...seen, wrong: [...seen.wrong] };
}

describe('over the laboratories’ days', () => {
  it.each(LAB_DAYS)('$file: nothing is named that is not there', (day) => {
    const { wrong, dryS, saidS } = watch(day);
    expect(wrong).toEqual([]);
    if (day.file.includes('atlanta')) expect(dryS).toBeGreaterThan(1000);
    // With ±3 % of humidity a little of it is no more than the probes can be off by.
    if (dryS > 0) expect(saidS / dryS).toBeGreaterThan(0.95);
  });
});
