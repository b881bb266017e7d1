/// <reference lib="dom" />
/** The chart under fingers, a mouse and keys: it is moved and stretched, and comes back to now. */
import type { CDPSession, Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import type { State } from '../../server/protocol.ts';
import { stateWith, T0, unitWith } from '../client/fixtures.ts';
import { faultsOf, smallButtons, stage } from './browser.ts';
import { openTold, pastOf, snapshotOf } from './frames.ts';

const on = stage();

const HOUR_S = 3600;
const past = (ids: string[] = ['u1']) =>
  pastOf(2 * HOUR_S, (s) => 2600 - 1500 * Math.exp((s - 2 * HOUR_S) / 600), ids);
const STEADY = unitWith({ settling: { state: 'steady', since: T0 - 900_000, levelW: 2600 } });

/** The stretch of time that the chart says it shows, s of the day. */
async function shownS(page: Page): Promise<{ from: number; to: number; long: number }> {
  const text = await page
    .getByRole('slider', { name: 'Time shown' })
    .first()
    .getAttribute('aria-valuetext');
  const [from = 0, to = 0] = (text ?? '').split(' to ').map((clock) => {
    const [h = 0, m = 0, s = 0] = clock.split(':').map(Number);
    return h * HOUR_S + m * 60 + s;
  });
  return { from, to, long: (to - from + 86_400) % 86_400 };
}

async function plotBox(
  page: Page,
): Promise<{ x: number; y: number; width: number; height: number }> {
  const box = await page.locator('.power .u-over').first().boundingBox();
  if (box === null) throw new Error('There is no plot.');
  return box;
}

/** Fingers go from their first places to their last, in steps. */
async function fingers(cdp: CDPSession, y: number, from: number[], to: number[]): Promise<void> {
  const points = (share: number) =>
    from.map((x, id) => ({ x: x + ((to[id] ?? x) - x) * share, y, id }));
  const send = (type: 'touchStart' | 'touchMove' | 'touchEnd', share: number | null) =>
    cdp.send('Input.dispatchTouchEvent', {
      type,
      touchPoints: share === null ? [] : points(share),
    });
  await send('touchStart', 0);
  for (let i = 1; i <= 8; i++) await send('touchMove', i / 8);
  await send('touchEnd', null);
}

async function opened(
  width = 390,
  height = 844,
  state: State = stateWith({ units: { u1: STEADY } }),
) {
  const told = await openTold(on, {
    frames: [state, past(Object.keys(state.units))],
    context: { viewport: { width, height }, hasTouch: width < 1000, bypassCSP: true },
  });
  await told.page.locator('.power .u-over').first().waitFor();
  await expect.poll(async () => (await shownS(told.page)).long).toBe(2 * HOUR_S);
  return told;
}

describe('on a phone', () => {
  test('two fingers stretch it, one moves it, and it stays while readings come', async () => {
    const { page, send, complaints } = await opened();
    const cdp = await page.context().newCDPSession(page);
    const box = await plotBox(page);
    const y = box.y + box.height / 2;
    const middle = box.x + box.width / 2;
    await fingers(cdp, y, [middle - 20, middle + 20], [middle - 80, middle + 80]);
    await expect.poll(async () => (await shownS(page)).long).toBeLessThan(0.3 * 2 * HOUR_S);
    const close = await shownS(page);
    expect(close.long).toBeGreaterThan(0.2 * 2 * HOUR_S);
    await fingers(cdp, y, [middle], [middle + box.width / 4]);
    await expect.poll(async () => (await shownS(page)).from).toBeLessThan(close.from - 300);
    const there = await shownS(page);
    expect(there.long).toBe(close.long);
    const state = stateWith();
    for (let s = 1; s <= 3; s++) send(snapshotOf(state, T0 + 1000 * s, { u1: STEADY }));
    await page.waitForTimeout(400);
    expect(await shownS(page)).toEqual(there);
    await page.getByRole('button', { name: 'Back to live' }).tap();
    await expect.poll(async () => (await shownS(page)).long).toBe(2 * HOUR_S + 3);
    expect(complaints).toEqual([]);
  });

  test('a finger up and down still scrolls the page', async () => {
    const { page } = await opened();
    const cdp = await page.context().newCDPSession(page);
    const box = await plotBox(page);
    const before = await shownS(page);
    const touch = (type: 'touchStart' | 'touchMove' | 'touchEnd', y: number | null) =>
      cdp.send('Input.dispatchTouchEvent', {
        type,
        touchPoints: y === null ? [] : [{ x: box.x + box.width / 2, y }],
      });
    const from = box.y + box.height / 2;
    await touch('touchStart', from);
    for (let i = 1; i <= 10; i++) {
      await touch('touchMove', from - 30 * i);
      await page.waitForTimeout(16);
    }
    await touch('touchEnd', null);
    await expect.poll(() => page.evaluate(() => scrollY)).toBeGreaterThan(150);
    expect(await shownS(page)).toEqual(before);
  });
});

describe('on a laptop', () => {
  test('a mouse drags it, the wheel with Ctrl stretches it, two clicks show all of it', async () => {
    const { page, complaints } = await opened(1280, 800);
    const box = await plotBox(page);
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    await page.mouse.move(x, y);
    await page.keyboard.down('Control');
    for (let i = 0; i < 4; i++) await page.mouse.wheel(0, -120);
    await page.keyboard.up('Control');
    await expect.poll(async () => (await shownS(page)).long).toBeLessThan(HOUR_S);
    const close = await shownS(page);
    await page.mouse.down();
    await page.mouse.move(x + 200, y, { steps: 5 });
    await page.mouse.up();
    await expect.poll(async () => (await shownS(page)).from).toBeLessThan(close.from - 60);
    await page.mouse.dblclick(x, y);
    await expect.poll(async () => (await shownS(page)).long).toBe(2 * HOUR_S);
    await page.getByRole('button', { name: 'Look closer' }).click();
    await expect.poll(async () => (await shownS(page)).long).toBeLessThan(2 * HOUR_S);
    expect(complaints).toEqual([]);
  });

  test('by the keyboard: moved, stretched, back, and on to the next control', async () => {
    const { page } = await opened(1280, 800);
    const slider = page.getByRole('slider', { name: 'Time shown' });
    await slider.focus();
    for (let i = 0; i < 4; i++) await page.keyboard.press('+');
    const close = await shownS(page);
    expect(close.long).toBeLessThan(0.3 * 2 * HOUR_S);
    await page.keyboard.press('Home');
    await expect.poll(async () => (await shownS(page)).from).toBeLessThan(close.from);
    await page.keyboard.press('Escape');
    await expect.poll(async () => (await shownS(page)).long).toBe(2 * HOUR_S);
    await page.keyboard.press('Tab');
    expect(await slider.evaluate((e) => e === document.activeElement)).toBe(false);
  });
});

/** Three heads that are steady. */
function threeHeads(): State {
  const before = stateWith().visit;
  const names = ['Reading room', 'Workshop', 'Entrance hall'];
  const [setup] = Object.values(before.units);
  if (setup === undefined) throw new Error('There is no unit.');
  const ids = ['u1', 'u2', 'u3'];
  return stateWith({
    units: Object.fromEntries(ids.map((id) => [id, STEADY])),
    sum: { totalW: 7800, sensibleW: 5850, latentW: 1950, totalU95W: 300 },
    visit: {
      ...before,
      units: Object.fromEntries(ids.map((id, i) => [id, { ...setup, name: names[i] ?? id }])),
    },
  });
}

test.each([
  [390, 844],
  [1280, 800],
])('at %i×%i: all heads and their sum, over one time', async (width, height) => {
  const { page, complaints } = await opened(width, height, threeHeads());
  await page.getByRole('button', { name: 'All heads' }).click();
  const all = page.getByRole('figure', { name: 'Capacity of all heads over time' });
  await all.getByText(/All together/).waitFor();
  expect(await all.locator('canvas').count()).toBe(4);
  expect(await all.innerText()).toMatch(/All together\s+7\.8\d?\s±\s0\.3\d?\skW/);
  expect(await faultsOf(page)).toEqual([]);
  expect(await smallButtons(page)).toEqual([]);
  await page.getByRole('button', { name: 'All heads' }).click();
  await page.getByRole('figure', { name: 'Capacity of Reading room over time' }).waitFor();
  expect(complaints).toEqual([]);
});

test('all heads on a phone: a finger and keys move them together, and a button leads back', async () => {
  const { page, complaints } = await opened(390, 844, threeHeads());
  await page.getByRole('button', { name: 'All heads' }).tap();
  const heads = page.locator('.head .u-over');
  await heads.first().waitFor();
  const slider = page.getByRole('slider', { name: 'Time shown' });
  await slider.focus();
  for (let i = 0; i < 4; i++) await page.keyboard.press('+');
  await page.keyboard.press('ArrowLeft');
  await expect.poll(async () => (await shownS(page)).long).toBeLessThan(0.3 * 2 * HOUR_S);
  const close = await shownS(page);
  const box = await heads.first().boundingBox();
  if (box === null) throw new Error('There is no plot.');
  const cdp = await page.context().newCDPSession(page);
  const x = box.x + box.width / 2;
  await fingers(cdp, box.y + box.height / 2, [x], [x + box.width / 4]);
  await expect.poll(async () => (await shownS(page)).from).toBeLessThan(close.from - 300);
  const back = page.getByRole('button', { name: 'Back to live' });
  await expect.poll(async () => (await back.boundingBox())?.height).toBeGreaterThanOrEqual(44);
  expect(await faultsOf(page)).toEqual([]);
  await back.tap();
  await expect.poll(async () => (await shownS(page)).long).toBe(2 * HOUR_S);
  expect(complaints).toEqual([]);
});

test('all heads on a laptop: the figures are those under the pointer', async () => {
  const { page } = await opened(1280, 800, threeHeads());
  await page.getByRole('button', { name: 'All heads' }).click();
  const all = page.getByRole('figure', { name: 'Capacity of all heads over time' });
  const box = await all.locator('.u-over').nth(1).boundingBox();
  if (box === null) throw new Error('There is no plot.');
  // The past begins two hours ago with 1,100 W a head and has 2,600 W − 1,500 W · e^(−6) an hour later.
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await all.getByText(/^at \d\d:\d\d:\d\d$/).waitFor();
  await expect.poll(() => all.innerText()).toMatch(/All together\s+7\.\d+\skW/);
  await expect.poll(() => all.innerText()).toMatch(/Workshop\s+2\.6\d?\s±\s0\.11\skW/);
  await page.mouse.move(5, 5);
  await expect.poll(() => all.innerText()).toMatch(/All together\s+7\.8\d?\s±\s0\.3\d?\skW/);
});

test('out of sight and back: it is drawn as before, and nothing breaks', async () => {
  const { page, complaints } = await opened();
  const size = () =>
    page
      .locator('.power canvas')
      .first()
      .evaluate((canvas: HTMLCanvasElement) => canvas.width);
  const before = await size();
  for (const display of ['none', '', 'none', '']) {
    await page.evaluate(async (display) => {
      document.body.style.display = display;
      for (let i = 0; i < 4; i++) await new Promise(requestAnimationFrame);
    }, display);
  }
  expect(await size()).toBe(before);
  expect(complaints).toEqual([]);
});
