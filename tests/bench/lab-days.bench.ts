/**
 * The laboratories' days (tests/reference/data, a reading a minute) through the session: how long each
 * state lasted, how often it changed, how many captures were made; and a picture of each stretch in which
 * the machine ran, to be looked at: capacity by time, with what it was called beneath.
 *
 * `npm run bench -- lab-days`; the pictures (SVG) go to a new folder among the temporary ones, or to
 * `LAB_PICTURES=FOLDER`.
 */
import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Session } from '../../server/session.ts';
import { LAB_DAYS, type LabDay, readRows, UNIT, visitLog } from '../reference/lab/convert.ts';
import type { State } from './settling/watch.ts';

interface Second {
  t: number;
  totalW: number | null;
  state: State;
}
interface Stretch {
  from: number;
  to: number;
}

const LEAST_MS = 600_000;
const COLOURS: Record<State, string> = {
  waiting: '#ddd',
  settling: '#e5b567',
  steady: '#2f7d6b',
  cycling: '#7d6bb0',
};

/** Plays a day. */
function play(day: LabDay): { seconds: Second[]; captures: Stretch[]; runs: Stretch[] } {
  const rows = readRows(day);
  const seconds: Second[] = [];
  const captures: Stretch[] = [];
  const nothing = (): void => undefined;
  const session = new Session({
    snapshot({ t, units }) {
      const unit = units[UNIT];
      if (unit === undefined) return;
      seconds.push({ t, totalW: unit.capacity.totalW, state: unit.settling.state });
    },
    capture: (capture) => {
      if (capture.open !== true) captures.push(capture);
    },
    ...{ check: nothing, walk: nothing, event: nothing, probe: nothing, setup: nothing },
  });
  for (const line of visitLog(day, rows)) {
    const refusal = session.apply(line, { adapter: 'bench', simulated: true });
    if (refusal !== null) throw new Error(`${day.file}: ${refusal}`);
  }
  session.finish();
  const runs: Stretch[] = [];
  rows.forEach(({ t, compressing }, i) => {
    if (!compressing) return;
    const run = runs.at(-1);
    if (i > 0 && rows[i - 1]?.compressing === true && run !== undefined) run.to = t;
    else runs.push({ from: t, to: t });
  });
  return { seconds, captures, runs: runs.filter(({ from, to }) => to - from >= LEAST_MS) };
}

/** A run and two minutes on both sides as SVG. */
function picture(seconds: readonly Second[], captures: readonly Stretch[], run: Stretch): string {
  const from = run.from - 120_000;
  const to = run.to + 120_000;
  const shown = seconds.filter(({ t }) => from <= t && t <= to);
  const watts = shown.flatMap(({ totalW }) => (totalW === null ? [] : [totalW]));
  const low = watts.reduce((a, b) => Math.min(a, b), 0);
  const high = watts.reduce((a, b) => Math.max(a, b), 0);
  const x = (t: number): number => 60 + (1120 * (t - from)) / (to - from);
  const y = (w: number): number => 330 - (300 * (w - low)) / Math.max(high - low, 1);
  const line = shown
    .flatMap(({ t, totalW }) =>
      totalW === null ? [] : [`${x(t).toFixed(1)},${y(totalW).toFixed(1)}`],
    )
    .join(' ');
  const bars: string[] = [];
  const bar = (a: number, b: number, top: number, height: number, colour: string): void => {
    const width = Math.max(x(b) - x(a), 1).toFixed(1);
    bars.push(
      `<rect x="${x(a).toFixed(1)}" y="${top}" width="${width}" height="${height}" fill="${colour}"/>`,
    );
  };
  let begun = 0;
  shown.forEach(({ t, state }, i) => {
    if (shown[i + 1]?.state === state) return;
    bar(shown[begun]?.t ?? t, shown[i + 1]?.t ?? t, 345, 22, COLOURS[state]);
    begun = i + 1;
  });
  for (const capture of captures) {
    if (capture.to < from || capture.from > to) continue;
    bar(Math.max(capture.from, from), Math.min(capture.to, to), 372, 6, '#222');
  }
  const text = (at: number, label: string): string => `<text x="2" y="${at}">${label}</text>`;
  const legend = Object.entries(COLOURS)
    .map(
      ([state, colour], i) => `<text x="${60 + 110 * i}" y="396" fill="${colour}">${state}</text>`,
    )
    .join('');
  return `<svg xmlns="http://www.w3.org/2000/svg" width="1200" height="405" font-family="sans-serif" font-size="12">
<rect width="1200" height="405" fill="#fff"/>${text(y(high) + 4, `${high.toFixed(0)} W`)}${text(y(low) + 4, `${low.toFixed(0)} W`)}
<polyline points="${line}" fill="none" stroke="#222"/>${bars.join('')}${legend}<text x="520" y="396">black: captures</text></svg>\n`;
}

/** Works it out, prints a line a day, and draws. */
export function print(): void {
  const wanted = process.env['LAB_PICTURES'];
  if (wanted !== undefined) mkdirSync(wanted, { recursive: true });
  const folder = wanted ?? mkdtempSync(join(tmpdir(), 'plateau-lab-days-'));
  for (const day of LAB_DAYS) {
    const { seconds, captures, runs } = play(day);
    const within = seconds.filter(({ t }) => runs.some(({ from, to }) => from <= t && t <= to));
    const share = (state: State): string => {
      const count = within.filter((second) => second.state === state).length;
      return `${state} ${((100 * count) / within.length).toFixed(1)} %`;
    };
    const changes = within.filter(({ state }, i) => i > 0 && within[i - 1]?.state !== state).length;
    const states = (Object.keys(COLOURS) as State[]).map(share).join(', ');
    console.log(
      `${day.file}: ${runs.length} runs of 10 min and more, ${(within.length / 3600).toFixed(1)} h`,
    );
    console.log(`  ${states}; ${changes} changes, ${captures.length} captures all day`);
    runs.forEach((run, i) => {
      const name = `${day.file.replace('.csv', '')}-${String(i + 1).padStart(2, '0')}.svg`;
      writeFileSync(join(folder, name), picture(seconds, captures, run));
    });
  }
  console.log(`Pictures: ${folder}`);
}
