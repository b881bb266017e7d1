/**
 * The chart under fingers, in Chromium: eight hours of eight heads and their sixteen probes of air, a row a
 * second, opened, panned and pinched while 40 probes go on reading. Beside each figure the floor: a
 * canvas of the same size that does nothing but move a bar under the same fingers, in the same run.
 * The page is the real one; what the server would tell it is told by the benchmark.
 */
import { loadavg } from 'node:os';
import { setTimeout as pause } from 'node:timers/promises';
import type { Browser, CDPSession, Page } from 'playwright-core';
import { T0 } from '../client/fixtures.ts';
import { onPage, pastOfDay, second, stateOfDay, toldFromHere } from './chart-stage.ts';
import { aligned } from './harness.ts';
import { quantile as quantileOf } from './health-watch.ts';

const ROUNDS = 3;
const SCREENS = [
  { name: 'phone, 390 × 844', width: 390, height: 844, deviceScaleFactor: 2 },
  { name: 'laptop, 1280 × 800', width: 1280, height: 800, deviceScaleFactor: 1 },
];

/** In the page: how long each frame took in which the fingers moved, and from each input to the end of the frame that shows it, ms. */
const WATCH = `(() => {
  const watch = { on: false, frames: [], inputs: [] };
  window.chartWatch = watch;
  let last = 0;
  let moved = false;
  let wasMoved = false;
  const frame = (t) => {
    // What a move costs is seen in when the next frame begins.
    if (watch.on && last > 0 && wasMoved) watch.frames.push(t - last);
    last = watch.on ? t : 0;
    wasMoved = moved;
    moved = false;
    requestAnimationFrame(frame);
  };
  requestAnimationFrame(frame);
  const seen = ({ timeStamp }) => {
    if (!watch.on) return;
    moved = true;
    requestAnimationFrame(() => {
      const { port1, port2 } = new MessageChannel();
      port1.onmessage = () => watch.inputs.push(performance.now() - timeStamp);
      port2.postMessage(0);
    });
  };
  for (const type of ['pointerdown', 'pointermove', 'keydown', 'wheel'])
    addEventListener(type, seen, { capture: true, passive: true });
})()`;

/** A canvas with nothing on it but a bar, moved with the pointer as the chart is. */
const floorOf = (width: number, height: number): string => `
  <meta name="viewport" content="width=device-width">
  <canvas style="width:${width}px;height:${height}px;touch-action:pan-y"></canvas>
  <script>
    const canvas = document.querySelector('canvas');
    canvas.width = ${width} * devicePixelRatio;
    canvas.height = ${height} * devicePixelRatio;
    const pen = canvas.getContext('2d');
    let x = 0, asked = false;
    const draw = () => {
      asked = false;
      pen.clearRect(0, 0, canvas.width, canvas.height);
      pen.fillRect(x * devicePixelRatio, 0, 4, canvas.height);
    };
    canvas.addEventListener('pointermove', (event) => {
      x = event.offsetX;
      if (!asked) requestAnimationFrame(draw);
      asked = true;
    });
  </script>`;

interface Figures {
  frames: number[];
  inputs: number[];
  /** Of the main thread over the gestures, s; and how often it laid out and found styles. */
  busyS: number;
  layouts: number;
  styles: number;
}
const NONE = (): Figures => ({ frames: [], inputs: [], busyS: 0, layouts: 0, styles: 0 });

async function metricsOf(cdp: CDPSession): Promise<Map<string, number>> {
  const { metrics } = await cdp.send('Performance.getMetrics');
  return new Map(metrics.map(({ name, value }) => [name, value]));
}

interface Box {
  x: number;
  y: number;
  width: number;
  height: number;
}

/** Lets `gesture` happen and adds what was seen of it. */
async function watched(
  page: Page,
  cdp: CDPSession,
  into: Figures,
  gesture: () => Promise<unknown>,
): Promise<void> {
  const before = await metricsOf(cdp);
  await page.evaluate('Object.assign(chartWatch, { on: true, frames: [], inputs: [] })');
  await gesture();
  const seen: { frames: number[]; inputs: number[] } = JSON.parse(
    await page.evaluate(
      '(chartWatch.on = false, JSON.stringify({ frames: chartWatch.frames, inputs: chartWatch.inputs }))',
    ),
  );
  const after = await metricsOf(cdp);
  const grown = (name: string): number => (after.get(name) ?? 0) - (before.get(name) ?? 0);
  into.frames.push(...seen.frames);
  into.inputs.push(...seen.inputs);
  into.busyS += grown('TaskDuration');
  into.layouts += grown('LayoutCount');
  into.styles += grown('RecalcStyleCount');
}

/** Two fingers in and out, one finger there and back, at the pace of a hand. */
async function fingers(page: Page, cdp: CDPSession, box: Box, pans: Figures, pinches: Figures) {
  const at = { x: box.x + box.width / 2, y: box.y + box.height / 2 };
  const pinch = (scaleFactor: number): Promise<unknown> =>
    cdp.send('Input.synthesizePinchGesture', {
      ...at,
      ...{ scaleFactor, relativeSpeed: 300, gestureSourceType: 'touch' },
    });
  const pan = (xDistance: number): Promise<unknown> =>
    cdp.send('Input.synthesizeScrollGesture', {
      ...{ x: at.x - xDistance / 2, y: at.y, xDistance, speed: 300 },
      ...{ gestureSourceType: 'touch', preventFling: true },
    });
  const way = 0.6 * box.width;
  await watched(page, cdp, pinches, () => pinch(2.2));
  for (const distance of [way, way, -way]) await watched(page, cdp, pans, () => pan(distance));
  await watched(page, cdp, pinches, () => pinch(2));
  for (const distance of [way, -way]) await watched(page, cdp, pans, () => pan(distance));
  await watched(page, cdp, pinches, () => pinch(0.5));
}

/** The keys of the chart, one a moment. */
async function keys(page: Page, cdp: CDPSession, into: Figures): Promise<void> {
  await page.getByRole('slider', { name: 'Time shown' }).focus();
  for (const key of [
    '+',
    '+',
    '+',
    'ArrowLeft',
    'ArrowLeft',
    'ArrowRight',
    'Home',
    'End',
    'Escape',
  ])
    await watched(page, cdp, into, async () => {
      await page.keyboard.press(key);
      await pause(120);
    });
}

function row(name: string, figures: Figures): string[] {
  const { frames, inputs, busyS, layouts, styles } = figures;
  const text = (value: number): string => (Number.isFinite(value) ? value.toFixed(1) : '–');
  const median = quantile(frames, 0.5);
  const each = (value: number): string => text(value / Math.max(1, frames.length));
  return [
    name,
    text(1000 / median),
    text(median),
    text(quantile(frames, 0.95)),
    text(quantile(inputs, 0.5)),
    text(quantile(inputs, 0.95)),
    each(1000 * busyS),
    each(layouts),
    each(styles),
  ];
}

const HEAD = [
  ...['frames/s', 'median, ms', 'p95, ms', 'input to paint, ms', 'p95, ms', 'busy, ms a frame'],
  ...['layouts a frame', 'styles a frame'],
];

async function onScreen(
  browser: Browser,
  url: string,
  screen: (typeof SCREENS)[number],
  rounds: number,
): Promise<string> {
  const { name, width, height, deviceScaleFactor } = screen;
  const state = stateOfDay();
  const told = await toldFromHere(url, [JSON.stringify(state), JSON.stringify(pastOfDay())]);
  const figures = new Map<string, Figures>();
  const of = (of: string): Figures => {
    const found = figures.get(of) ?? NONE();
    figures.set(of, found);
    return found;
  };
  const opened: number[] = [];
  for (let round = 0; round < rounds; round++) {
    const context = await browser.newContext({
      viewport: { width, height },
      ...{ deviceScaleFactor, hasTouch: true, serviceWorkers: 'block' },
    });
    const page = await context.newPage();
    await page.addInitScript({ content: WATCH });
    await page.goto(told.url);
    const slider = '[role=slider][aria-valuetext*=" to "]';
    await page.locator(slider).waitFor({ state: 'attached' });
    opened.push(await page.evaluate<number>('performance.now()'));
    let t = T0;
    const beat = setInterval(() => told.send(second(state, (t += 1000))), 1000);
    const cdp = await context.newCDPSession(page);
    await cdp.send('Performance.enable');
    await pause(1500);
    const boxOf = async (selector: string): Promise<Box> => {
      const place = page.locator(selector).first();
      await place.scrollIntoViewIfNeeded();
      const box = await place.boundingBox();
      if (box === null) throw new Error(`There is no ${selector}.`);
      return box;
    };
    const box = await boxOf('.power .u-over');
    const shown = (): Promise<string | null> =>
      page.locator(slider).first().getAttribute('aria-valuetext');
    const whole = await shown();
    await fingers(page, cdp, box, of('one head, panned'), of('one head, pinched'));
    if ((await shown()) === whole) throw new Error('The fingers did nothing.');
    await keys(page, cdp, of('one head, by keys'));
    await page.getByRole('button', { name: 'All heads' }).click();
    await page.getByRole('figure', { name: 'Capacity of all heads over time' }).waitFor();
    await pause(500);
    const all = await boxOf('.head .u-over');
    await fingers(page, cdp, all, of('eight heads, panned'), of('eight heads, pinched'));
    clearInterval(beat);

    const floor = await context.newPage();
    await floor.setContent(floorOf(box.width, box.height));
    await floor.evaluate(WATCH);
    const floorCdp = await context.newCDPSession(floor);
    await floorCdp.send('Performance.enable');
    const at = { ...box, x: 8, y: 8 };
    await fingers(floor, floorCdp, at, of('floor, panned'), of('floor, pinched'));
    await context.close();
  }
  told.end();
  const rows = [...figures].map(([each, found]) => row(each, found));
  const load = loadavg()[0] ?? 0;
  return [
    aligned([[name, ...HEAD], ...rows]),
    `opened in ${quantile(opened, 0.5).toFixed(0)} ms, median of ${opened.length} (from navigation to the chart, 40 probes told); load of the machine ${load.toFixed(1)}`,
  ].join('\n');
}

const quantile = (values: readonly number[], share: number): number =>
  quantileOf(
    values.toSorted((a, b) => a - b),
    share,
  );

/** Both screens, one after the other. Aim: 60 frames a second, p95 ≤ 20 ms, input to paint < 100 ms. */
export async function print(rounds = ROUNDS): Promise<void> {
  await onPage(async (browser, url) => {
    for (const screen of SCREENS) console.log(`${await onScreen(browser, url, screen, rounds)}\n`);
  });
}
