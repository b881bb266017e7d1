/**
 * Ten minutes of a sweep on the page, in Chromium on a phone's screen: how long each frame takes while the
 * instruction, the velocity, its trace and the sections' bars change. The page hears of an anemometer that
 * reads at 10 Hz once a second, as of any; told ten times as fast, it hears of it at 10 Hz.
 * The page is the real one; what the server would tell it is told by the benchmark.
 */
import { setTimeout as pause } from 'node:timers/promises';
import type { Frame, State } from '../../server/protocol.ts';
import { measuringWith, stateWith, T0 } from '../client/fixtures.ts';
import { onPage, pastOfDay, second, stateOfDay, toldFromHere } from './chart-stage.ts';
import { aligned } from './harness.ts';
import { quantile } from './health-watch.ts';

const SCREENS = [
  { name: '390 × 844', width: 390, height: 844, deviceScaleFactor: 2 },
  { name: '1280 × 800', width: 1280, height: 800, deviceScaleFactor: 1 },
];
const SECONDS = 600;
const FASTER = 10;

/** In the page: how long each frame took, ms. */
const WATCH = `(() => {
  window.sweepFrames = [];
  let last = 0;
  const frame = (t) => {
    if (last > 0) sweepFrames.push(t - last);
    last = t;
    requestAnimationFrame(frame);
  };
  requestAnimationFrame(frame);
})()`;

const SECTIONS = 4;

/** The day's visit, at whose first head a cassette's four slots are swept. */
function stateOfSweep(): State {
  const day = stateOfDay();
  const outlet = {
    ...{ unit: 'u1', name: '', plane: 'supply' as const, freeArea: 0.9, form: '', louverDeg: null },
    sections: Array.from({ length: SECTIONS }, () => ({ widthM: 0.05, lengthM: 0.5 })),
  };
  return { ...stateWith(), ...day, visit: { ...day.visit, outlets: { o1: outlet } } };
}

/** What is said of the sweep in its nth second. */
function swept(n: number, t: number): Frame {
  const seconds = SECONDS / SECTIONS;
  const section = Math.min(SECTIONS - 1, Math.floor(n / seconds));
  return measuringWith({
    ...{ from: T0, t, outlet: 'o1', probe: 'p0-0', section, progress: n / SECONDS },
    text: `Section ${section + 1} of ${SECTIONS}. Move end to end at an even pace. ${SECONDS - n} s to go.`,
    velocityMs: 3 + Math.sin(n / 2) + 0.3 * Math.sin(7 * n),
    sections: Array.from({ length: SECTIONS }, (_, i) => {
      const passed = Math.min(seconds, Math.max(0, n - i * seconds));
      return { meanMs: passed === 0 ? null : 3, seconds: passed, progress: passed / seconds };
    }),
  });
}

/** Prints frame times on both screens. Aim: p95 ≤ 20 ms. */
export async function print(rounds = 1): Promise<void> {
  await onPage(async (browser, url) => {
    const rows = [
      ['a sweep told 10 times a second', 'frames', 'median, ms', 'p95, ms', 'longest, ms'],
    ];
    for (const { name, width, height, deviceScaleFactor } of SCREENS) {
      const state = stateOfSweep();
      const told = await toldFromHere(url, [JSON.stringify(state), JSON.stringify(pastOfDay())]);
      const viewport = { width, height };
      const context = await browser.newContext({ viewport, deviceScaleFactor });
      const page = await context.newPage();
      await page.goto(`${told.url}/#airflow`);
      told.send([swept(0, T0)]);
      await page.getByRole('img', { name: 'Velocity over the last minute' }).waitFor();
      await pause(1500);
      await page.evaluate(WATCH);
      for (let n = 1; n <= rounds * SECONDS; n++) {
        const t = T0 + 1000 * n;
        told.send([...second(state, t), swept(n % SECONDS, t)]);
        await pause(1000 / FASTER);
      }
      const frames: number[] = JSON.parse(await page.evaluate('JSON.stringify(sweepFrames)'));
      const sorted = frames.toSorted((a, b) => a - b);
      const at = (share: number): string => quantile(sorted, share).toFixed(1);
      rows.push([name, String(frames.length), at(0.5), at(0.95), at(1)]);
      await context.close();
      told.end();
    }
    console.log(aligned(rows));
  });
}
