/// <reference lib="dom" />
/** The demo as a person meets it: a fresh folder, a browser, a setpoint, a server that dies. */
import { expect, test } from 'vitest';
import { lookEverywhere, openPage, shownW, stage } from './browser.ts';

const on = stage();

const demo = (...more: string[]) => on.start('demo', ...more);

test('a capacity within ten seconds of the start, marked as simulated, with no further step', async () => {
  const { url } = await demo();
  const { page, complaints } = await openPage(on.browser, url);
  await expect.poll(() => shownW(page).catch(() => null), { timeout: 10_000 }).toBeGreaterThan(0);
  expect(await page.getByText('Simulated: no real air is measured here').isVisible()).toBe(true);
  for (const name of ['Return air', 'Supply air']) {
    expect(await page.getByRole('region', { name }).innerText()).toMatch(/\d+\.\d\s°C/);
  }
  expect(await page.locator('canvas').count()).toBeGreaterThan(0);
  expect(complaints).toEqual([]);
});

test('a setpoint moves it, and stands on the chart as an event', async () => {
  const { url } = await demo('--speed', '30');
  const { page, complaints } = await openPage(on.browser, url);
  await expect.poll(() => shownW(page).catch(() => 0), { timeout: 30_000 }).toBeGreaterThan(2000);
  await page.waitForTimeout(4000); // two minutes of the visit: near its plateau
  const before = await shownW(page);
  const up = page.getByRole('button', { name: 'Setpoint up' });
  for (let i = 0; i < 6; i++) await up.click(); // warmer: the unit has less to do
  await expect.poll(() => shownW(page), { timeout: 30_000 }).toBeLessThan(before - 500);
  const state = (await (await fetch(`${url}/api/state`)).json()) as { events: { kind: string }[] };
  expect(state.events.some((e) => e.kind === 'setpoint')).toBe(true);
  expect(complaints).toEqual([]);
});

test('the server is killed and started again: the page says so, comes back by itself, and no hole stays', async () => {
  const first = await demo();
  const { page, complaints } = await openPage(on.browser, first.url);
  await expect.poll(() => shownW(page).catch(() => 0), { timeout: 15_000 }).toBeGreaterThan(0);
  await page.waitForTimeout(2500);
  await first.end('SIGKILL');
  await page.getByText(/^Reconnecting/).waitFor({ timeout: 15_000 });
  // What was live is no longer shown as live.
  expect(await page.getByRole('button', { name: 'Setpoint up' }).isDisabled()).toBe(true);
  await page.waitForTimeout(3000);
  const second = await on.start('demo', '--port', String(first.port));
  await page.getByText(/^Reconnecting/).waitFor({ state: 'detached', timeout: 30_000 });
  await expect.poll(() => shownW(page).catch(() => 0), { timeout: 15_000 }).toBeGreaterThan(0);
  // The visit goes on: what was recorded before the kill is still its past.
  const history = (await (await fetch(`${second.url}/api/history`)).json()) as { t: number[] };
  const gap = Math.max(...history.t.slice(1).map((t, i) => t - (history.t[i] ?? t)));
  expect(history.t.length).toBeGreaterThan(5);
  expect(gap).toBeLessThan(120_000);
  expect(complaints.filter((c) => !/Failed to (load|fetch)|ERR_CONNECTION/.test(c))).toEqual([]);
});

test('units change at a touch and are remembered', async () => {
  const { url } = await demo('--speed', '30');
  const { page } = await openPage(on.browser, url);
  await expect.poll(() => shownW(page).catch(() => 0), { timeout: 20_000 }).toBeGreaterThan(500);
  await page.getByRole('navigation').getByRole('link', { name: 'Record' }).click();
  for (const unit of ['Btu/h', '°F', 'cfm']) await page.getByRole('radio', { name: unit }).check();
  await page.getByRole('navigation').getByRole('link', { name: 'Capacity' }).click();
  const region = page.getByRole('region', { name: 'Delivered capacity' });
  await expect.poll(() => region.innerText()).toMatch(/Btu\/h/);
  await page.reload();
  await expect
    .poll(() => region.innerText().catch(() => ''), { timeout: 10_000 })
    .toMatch(/Btu\/h/);
  expect(await page.getByRole('region', { name: 'Return air' }).innerText()).toMatch(/7\d\.\d\s°F/);
});

test('everyone can use it: on a phone and a laptop, light and dark', async () => {
  const { url } = await demo('--speed', '30');
  const { page, complaints } = await openPage(on.browser, url, { bypassCSP: true });
  await expect.poll(() => shownW(page).catch(() => 0), { timeout: 20_000 }).toBeGreaterThan(500);
  await lookEverywhere(page);
  expect(complaints).toEqual([]);
});

test('with no probes it says to turn them on, and how Bluetooth stands', async () => {
  const { url } = await on.start('start');
  const { page, complaints } = await openPage(on.browser, url);
  await page.getByRole('heading', { name: 'Turn on your probes.' }).waitFor({ timeout: 10_000 });
  await page.getByRole('link', { name: 'Next: turn on your probes' }).waitFor();
  expect(
    await page
      .getByText(/Bluetooth/)
      .first()
      .isVisible(),
  ).toBe(true);
  expect(complaints).toEqual([]);
});

test('signals end it cleanly', async () => {
  for (const signal of ['SIGINT', 'SIGTERM'] as const) {
    const running = await demo();
    const { page } = await openPage(on.browser, running.url); // an open page does not hold it up
    await page.waitForTimeout(500);
    expect(await running.end(signal)).toBe(0);
    on.server = null;
  }
});
