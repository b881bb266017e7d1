/// <reference lib="dom" />
/** A walk along the outlet, as a person makes it: begun, told when to go, ended, and what it has brought. */
import { expect, test } from 'vitest';
import { faultsOf, openPage, shownU95W, shownW, smallButtons, stage } from './browser.ts';

const on = stage();

interface State {
  t: number;
  events: { t: number; phase?: string }[];
  units: Record<string, { supply: { temperatureC: number } }>;
  probes: Record<string, { values: { temperatureC: number } }>;
}
const air = async (url: string): Promise<State> =>
  (await (await fetch(`${url}/api/state`)).json()) as State;

test('a walk corrects the probe that stays, and the interval is narrower', async () => {
  const { url } = await on.start('demo', '--scenario', 'uneven-outlet', '--speed', '15');
  const { page, complaints } = await openPage(on.browser, url);
  await expect.poll(() => shownW(page).catch(() => 0), { timeout: 30_000 }).toBeGreaterThan(2000);
  const beforeU = await shownU95W(page);

  await page.getByRole('navigation').getByRole('link', { name: 'Probes' }).click();
  const walk = page.getByRole('region', { name: 'Walk the outlet' });
  await walk.getByText('Nobody has walked the outlet yet').waitFor();
  await walk.getByRole('button', { name: 'Start' }).click();
  await walk.getByText(/^Hold Return still|^It has settled\. Tap Go/).waitFor();
  await walk.getByText(/^It has settled\. Tap Go/).waitFor({ timeout: 30_000 });
  await walk.getByRole('button', { name: 'Go' }).click();
  await walk.getByRole('progressbar').waitFor();
  await walk
    .getByText('Enough heard: go back to where you began, and end.')
    .waitFor({ timeout: 30_000 });
  // Nobody watches it go: the simulated walker is back where it began every minute.
  const goneAt = (await air(url)).events.find(({ phase }) => phase === 'go')?.t ?? NaN;
  await expect
    .poll(async () => (await air(url)).t - goneAt, { timeout: 60_000 })
    .toBeGreaterThan(57_000);
  expect(await walk.getByText(/^Spots differ by/).innerText()).toMatch(
    /the total is \d+\s% too low\./,
  );
  await walk.getByRole('button', { name: 'End' }).click();

  await walk.getByText('The probes that stayed put are corrected for their spot').waitFor();
  // It hangs where the air is 1 K warmer than the outlet's mean; the return probe comes back to its air.
  const correctedK = async (): Promise<number> => {
    const { units, probes } = await air(url);
    const read = probes.p2?.values.temperatureC ?? NaN;
    return read - (units.u1?.supply.temperatureC ?? NaN);
  };
  await expect
    .poll(async () => Math.abs((await correctedK()) - 1), { timeout: 60_000 })
    .toBeLessThan(0.4);
  await page.getByRole('navigation').getByRole('link', { name: 'Capacity' }).click();
  await expect
    .poll(() => shownU95W(page).catch(() => Infinity), { timeout: 60_000 })
    .toBeLessThan(0.9 * beforeU);
  expect(complaints).toEqual([]);
}, 180_000);

test('how even it is can be entered, and taken back', async () => {
  const { url } = await on.start('demo', '--scenario', 'uneven-outlet', '--speed', '10');
  const { page, complaints } = await openPage(on.browser, url);
  await page.getByRole('navigation').getByRole('link', { name: 'Probes' }).click();
  const walk = page.getByRole('region', { name: 'Walk the outlet' });
  const enter = async (value: string): Promise<void> => {
    await walk.getByRole('button', { name: 'Enter how even it is' }).click();
    await page.getByLabel('Outlet, %').fill(value);
    await page.getByRole('button', { name: 'Save' }).click();
  };
  await enter('hardly');
  await page.getByText(/“hardly” is not a number/).waitFor();
  expect(await faultsOf(page)).toEqual([]);
  expect(await smallButtons(page)).toEqual([]);
  await page.getByRole('button', { name: 'Cancel' }).click();
  await enter('2');
  await walk.getByText(/^Entered: spots of the outlet differ by 2\.0\s% /).waitFor();
  await enter('');
  await walk.getByText('Nobody has walked the outlet yet').waitFor();
  expect(complaints).toEqual([]);
});
