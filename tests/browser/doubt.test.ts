/// <reference lib="dom" />
/** How sure it is, as a person meets it: what the interval is made of, and the check that narrows it. */
import { expect, test } from 'vitest';
import { stateSchema } from '../../server/protocol.ts';
import { openPage, shownU95W, shownW, stage } from './browser.ts';

const on = stage();
/** Errors of a probe's own, that a check narrows. */
const PROBES: ReadonlySet<string> = new Set(['temperature', 'humidity']);

const demo = async () => (await on.start('demo', '--speed', '30')).url;

test('"Why ±" opens what the interval is made of, and closes it again', async () => {
  const { page, complaints } = await openPage(on.browser, await demo());
  await expect.poll(() => shownW(page).catch(() => 0), { timeout: 20_000 }).toBeGreaterThan(500);
  const why = page.getByRole('button', { name: /^Why ±/ });
  await why.click();
  const budget = page.getByRole('region', { name: 'What makes up the ±' });
  await budget.waitFor();
  expect(await why.getAttribute('aria-expanded')).toBe('true');
  const parts = budget.getByRole('listitem');
  expect(await parts.count()).toBeGreaterThan(2);
  expect(await parts.first().innerText()).toMatch(/\d+\s%[\s\S]*±\s[\d.]+\skW/);
  // Nobody has walked the outlet yet, and that is most of it: so it leads there.
  expect(await budget.getByRole('link', { name: 'To the walk along the outlet' }).count()).toBe(1);
  await why.click();
  await budget.waitFor({ state: 'detached' });
  expect(complaints).toEqual([]);
});

test('a side-by-side check: begun, judged, ended, and the interval is narrower', async () => {
  const url = await demo();
  const { page, complaints } = await openPage(on.browser, url);
  await expect.poll(() => shownW(page).catch(() => 0), { timeout: 30_000 }).toBeGreaterThan(2000);
  // What the probes' own errors do to the figure, as a part of it: it is still on its way, and most of its
  // ± is the outlet that nobody has walked.
  const part = async (): Promise<number> => {
    const { budgets, units } = stateSchema.parse(await (await fetch(`${url}/api/state`)).json());
    const own = budgets['u1']?.items.filter(({ kind }) => PROBES.has(kind)) ?? [];
    if (own.length === 0) return Infinity;
    const together = Math.hypot(...own.map(({ totalW }) => totalW));
    return together / (units['u1']?.capacity.totalW ?? NaN);
  };
  await expect.poll(part).toBeLessThan(1);
  const before = await part();

  await page.getByRole('navigation').getByRole('link', { name: 'Probes' }).click();
  const check = page.getByRole('region', { name: 'Check the probes side by side' });
  await check.getByRole('button', { name: 'Start' }).click();
  await check.getByRole('progressbar').waitFor();
  await page.getByRole('link', { name: 'Next: leave the probes in the check' }).waitFor();
  // While they are together there is no figure, and that is said.
  await page.getByRole('navigation').getByRole('link', { name: 'Capacity' }).click();
  await page.getByRole('heading', { name: /in a side-by-side check/ }).waitFor();
  await page.getByRole('link', { name: /^Next: / }).click();
  await check.getByText('Enough readings: you can end it.').waitFor({ timeout: 60_000 });
  expect(await check.getByRole('status').innerText()).toMatch(/They agree|differ|is off|are off/);

  await check.getByRole('button', { name: 'End' }).click();
  await check.getByText(/^Ended at/).waitFor();
  await check.getByText(/^Their readings are now corrected/).waitFor();
  await page.getByRole('navigation').getByRole('link', { name: 'Capacity' }).click();
  // The figure comes back when the probes hang in their places again, and they are surer than they were.
  await expect.poll(() => shownU95W(page).catch(() => 0), { timeout: 60_000 }).toBeGreaterThan(0);
  await expect.poll(part, { timeout: 60_000 }).toBeLessThan(0.7 * before);
  await page.getByText('Return and supply probes have not been checked side by side.').waitFor({
    state: 'detached',
  });
  const events = page.getByText(/events, in words$/);
  await events.click();
  const list = page.getByRole('list', { name: 'Events', exact: true });
  await list.getByText('check begins', { exact: true }).waitFor();
  await list.getByText('check ends', { exact: true }).waitFor();
  expect(complaints).toEqual([]);
});
