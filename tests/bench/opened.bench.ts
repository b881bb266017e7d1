/**
 * An earlier visit is opened: eight hours, 16 probes at 4 units, from the click on its row in the list
 * until its charts are painted (wanted: under a second). `cold` is the first opening of a server and a
 * browser that have just been started, `again` any later one on the same page. A phone is narrower, and
 * its processor is slower than this one as well.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { loadavg, tmpdir } from 'node:os';
import { join } from 'node:path';
import { chromium, type Page } from 'playwright-core';
import * as z from 'zod';
import { VisitRecord } from '../../server/store/visit-record.ts';
import { findChromium } from '../chromium.mjs';
import { aligned, spreadOf } from './harness.ts';
import { LiveStage } from './live-stage.ts';
import { build, startOn } from './own-server.ts';

const HOURS = 8;
const AGAIN = 3;
const SCREENS = [
  { name: '1280 px wide', viewport: { width: 1280, height: 800 }, slower: 1 },
  { name: '390 px wide', viewport: { width: 390, height: 844 }, slower: 1 },
  { name: '390 px wide, 4 × slower', viewport: { width: 390, height: 844 }, slower: 4 },
];

/**
 * In the page: `plateauOpened()` resolves, once both charts have drawn their lines and two frames have
 * gone by, to ms since the click: now, and when the server's answer was there.
 */
const WATCH = `
  let clickedT = 0;
  addEventListener('click', (event) => (clickedT = event.timeStamp), true);
  const drawn = new Set();
  const { stroke } = CanvasRenderingContext2D.prototype;
  CanvasRenderingContext2D.prototype.stroke = function (...path) {
    if (path.length > 0) drawn.add(this.canvas); // grid and axes are drawn without one
    return stroke.apply(this, path);
  };
  const frame = () => new Promise(requestAnimationFrame);
  window.plateauOpened = async () => {
    const charts = () => [...document.querySelectorAll('figure[aria-label$="recorded"] canvas')];
    const isDrawn = () => charts().length > 1 && charts().every((each) => drawn.has(each));
    while (!isDrawn()) await frame();
    await frame();
    await frame();
    const answers = performance.getEntriesByType('resource');
    const { responseEnd } = answers.findLast(({ name }) => name.includes('/api/visits/'));
    return [performance.now() - clickedT, responseEnd - clickedT];
  };`;

const opened = z.tuple([z.number(), z.number()]);
type Opened = z.infer<typeof opened>;

function recordVisit(dataDir: string): void {
  // Long ago, or a server that starts would go on with it.
  const clocks = { now: () => 0, monotonic: () => performance.now() };
  const record = new VisitRecord({ dataDir, id: 'visit-1', kind: 'visit', ...clocks });
  const stage = new LiveStage({ units: 4, probes: 4, hz: 1, watched: false }, record);
  for (let minute = 0; minute < HOURS * 60; minute++) {
    if (minute % 120 === 119) stage.change();
    stage.feed(stage.bodies(60));
    record.tick();
  }
  stage.end();
  record.close();
}

async function open(page: Page): Promise<Opened> {
  const row = page.getByRole('list', { name: 'Visits' }).getByRole('link').last();
  await row.waitFor();
  await page.waitForTimeout(300); // what the list is still busy with does not count
  const watched = page.evaluate('plateauOpened()');
  await row.click();
  const took = opened.parse(await watched);
  await page.goBack();
  return took;
}

/** Of a server and a browser that are started for it: the first opening, and those after it. */
async function openings(dataDir: string, screen: (typeof SCREENS)[number]): Promise<Opened[]> {
  const server = await startOn(dataDir);
  const browser = await chromium.launch({
    executablePath: findChromium() ?? '',
    args: ['--no-sandbox', '--disable-gpu', '--disable-background-networking'],
  });
  const page = await browser.newPage({ viewport: screen.viewport });
  await page.addInitScript(WATCH);
  const devtools = await page.context().newCDPSession(page);
  await devtools.send('Emulation.setCPUThrottlingRate', { rate: screen.slower });
  await page.goto(`${server.url}/#visits`);
  const all: Opened[] = [];
  for (let i = 0; i < 1 + AGAIN; i++) all.push(await open(page));
  await browser.close();
  await server.end();
  return all;
}

const text = (values: number[]): string => {
  const { median, low, high } = spreadOf(values);
  return `${median.toFixed(0)} (${low.toFixed(0)}–${high.toFixed(0)})`;
};

export async function print(rounds = 7): Promise<void> {
  if (findChromium() === null) throw new Error('There is no Chromium: set CHROMIUM_PATH to one.');
  const dataDir = mkdtempSync(join(tmpdir(), 'plateau-bench-'));
  try {
    build();
    recordVisit(dataDir);
    const rows = [['8 h, 16 series, ms from the click on', 'painted', 'answered']];
    const cold = SCREENS.map((): Opened[] => []);
    const again = SCREENS.map((): Opened[] => []);
    for (let round = 0; round < rounds; round++) {
      for (const [i, screen] of SCREENS.entries()) {
        const [first, ...later] = await openings(dataDir, screen);
        if (first !== undefined) cold[i]?.push(first);
        again[i]?.push(...later);
      }
    }
    for (const [i, { name }] of SCREENS.entries()) {
      for (const [when, took] of [['cold', cold[i]] as const, ['again', again[i]] as const]) {
        const column = (place: 0 | 1): string => text((took ?? []).map((each) => each[place]));
        rows.push([`  ${name}, ${when}, of ${took?.length}`, column(0), column(1)]);
      }
    }
    const [load] = loadavg();
    process.stdout.write(`${aligned(rows)}\n`);
    process.stdout.write(`  load of the machine over the last minute: ${load?.toFixed(1)}\n`);
  } finally {
    rmSync(dataDir, { recursive: true, force: true });
  }
}
