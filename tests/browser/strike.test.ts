/// <reference lib="dom" />
/** A capture that was a mistake: struck out by a touch, with or without a reason, and taken back. */
import { expect, test } from 'vitest';
import { captureWith, stateWith, T0 } from '../client/fixtures.ts';
import { faultsOf, openPage, shownW, smallButtons, stage } from './browser.ts';
import { openTold, pastOf } from './frames.ts';

const on = stage();
const PAST = pastOf(600, () => 2600);
const FIRST = captureWith({ from: T0 - 500_000, to: T0 - 300_000, totalW: 2400 });
const TOUCHED = captureWith({ from: T0 - 200_000, to: T0 - 100_000, by: 'touch', totalW: 2640 });

test.each([
  [390, 'dark'],
  [1280, 'light'],
] as const)('at %i px, %s: with a reason, without, and back', async (width, colorScheme) => {
  const told = await openTold(on, {
    frames: [stateWith({ captures: [FIRST, TOUCHED] }), PAST],
    context: { viewport: { width, height: 844 }, colorScheme, bypassCSP: true },
  });
  const { page, calls, send, complaints } = told;
  const rows = page.getByRole('list', { name: 'Captures' }).getByRole('listitem');
  const row = rows.filter({ hasText: 'by hand' });
  await row.getByRole('button', { name: /^Strike out: 2\.64/ }).click();
  const dialog = page.getByRole('dialog', { name: /^Strike out 2\.64/ });
  expect(await faultsOf(page)).toEqual([]);
  await dialog.getByLabel(/^Why/).fill('the door was open');
  await dialog.getByRole('button', { name: 'Strike out' }).click();
  await dialog.waitFor({ state: 'detached' });
  const { unit, from, to } = TOUCHED;
  const which = { kind: 'strike', unit, from, by: 'touch', to };
  expect(calls.at(-1)?.body).toEqual({ ...which, struck: true, text: 'the door was open' });

  // It stays in its place: a sign, a word, a line through it; and is told by ear as well.
  send({ ...TOUCHED, struck: { t: T0, text: 'the door was open' } });
  await row.getByText(/^Struck out at \d\d:\d\d: the door was open\.$/).waitFor();
  expect(await rows.count()).toBe(2);
  const line = await row
    .getByText('2.64')
    .first()
    .evaluate((e) => getComputedStyle(e).textDecorationLine);
  expect(line).toBe('line-through');
  expect(await faultsOf(page)).toEqual([]);
  expect(await smallButtons(page)).toEqual([]);
  expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(
    width,
  );

  // By the keyboard, and the focus does not get lost.
  const back = row.getByRole('button', { name: /^Restore: 2\.64/ });
  await back.press('Enter');
  await expect.poll(() => calls.at(-1)?.body).toEqual({ ...which, struck: false });
  send(TOUCHED);
  await row.getByRole('button', { name: /^Strike out/ }).waitFor();
  expect(await page.evaluate(() => document.activeElement?.textContent)).toMatch(/^Strike out/);
  expect(await row.getByText('Struck out').count()).toBe(0);

  // Of one that is made by itself the end is not told: it may have grown.
  await rows
    .filter({ hasText: 'automatic' })
    .getByRole('button', { name: /^Strike out/ })
    .click();
  await page.getByRole('dialog').getByRole('button', { name: 'Strike out' }).click();
  await expect
    .poll(() => calls.at(-1)?.body)
    .toEqual({ kind: 'strike', unit, from: FIRST.from, by: 'itself', struck: true });
  expect(complaints).toEqual([]);
});

test('a refusal stands in the form', async () => {
  const told = await openTold(on, {
    frames: [stateWith({ captures: [FIRST] }), PAST],
    answer: () => 'from: no capture of "u1" by itself begins at 1',
  });
  await told.page.getByRole('button', { name: /^Strike out/ }).click();
  const dialog = told.page.getByRole('dialog');
  await dialog.getByRole('button', { name: 'Strike out' }).click();
  await dialog
    .getByRole('alert')
    .getByText(/^The capture: no capture of "u1"/)
    .waitFor();
});

test('in the demo: captured by itself, struck, and still so after a restart', async () => {
  const first = await on.start('demo', '--speed', '60');
  const one = await openPage(on.browser, first.url);
  await expect
    .poll(() => shownW(one.page).catch(() => 0), { timeout: 30_000 })
    .toBeGreaterThan(500);
  const strike = one.page.getByRole('button', { name: /^Strike out/ }).first();
  await strike.waitFor({ timeout: 60_000 });
  await strike.click();
  const dialog = one.page.getByRole('dialog');
  await dialog.getByLabel(/^Why/).fill('a window was open');
  await dialog.getByRole('button', { name: 'Strike out' }).click();
  await dialog.waitFor({ state: 'detached' });
  const words = /Struck out at \d\d:\d\d: a window was open\./;
  await one.page.getByText(words).waitFor();
  await one.page.waitForTimeout(1500); // the record is written once a second
  await first.end();
  const second = await on.start('demo', '--port', String(first.port));
  const again = await openPage(on.browser, second.url);
  await again.page.getByText(words).waitFor({ timeout: 20_000 });
});
