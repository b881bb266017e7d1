/// <reference lib="dom" />
/** A visit with many units, long names and many fan speeds on a small phone; forms with odd entries. */
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { openPage, stage } from './browser.ts';

const on = stage();

async function put(path: string, body: object): Promise<void> {
  const response = await fetch(`${on.server?.url ?? ''}${path}`, {
    method: 'PUT',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  });
  expect(response.status, await response.text()).toBeLessThan(300);
}

const FAN_SPEEDS = ['whisper', 'quiet', 'low', 'medium', 'high', 'powerful'];

/** A server with so many units; the first has a fan table's airflow. */
async function withUnits(count: number): Promise<string> {
  const { url } = await on.start('start');
  for (let n = 1; n <= count; n++) {
    const name = `Second floor, reading room towards the old orchard wall ${n}`;
    await put(`/api/units/u${n}`, { name, fanSpeeds: FAN_SPEEDS });
  }
  const fromTable = { source: 'fan-table', flowM3s: 0.1732, basis: 'actual', plane: 'supply' };
  await put('/api/units/u1/airflow', { ...fromTable, limitPct: 6 });
  return url;
}

const scrollWidth = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollWidth);

test.each([
  [2, 320],
  [3, 390],
  [5, 320],
  [5, 390],
])('%i units with long names: nothing wider than %i px', async (count, width) => {
  const url = await withUnits(count);
  const { page, complaints } = await openPage(on.browser, url, {
    viewport: { width, height: 700 },
  });
  await page.getByRole('radio', { name: 'powerful' }).waitFor();
  expect(await scrollWidth(page)).toBeLessThanOrEqual(width);
  const outside = await page.evaluate(() =>
    [...document.querySelectorAll('label, button, select')]
      .filter((e) => e.getBoundingClientRect().right > innerWidth)
      .map((e) => e.textContent),
  );
  expect(outside).toEqual([]);
  if (count > 3) {
    await page.getByRole('combobox', { name: 'Indoor unit' }).selectOption('u5');
    await page.getByRole('heading', { name: /orchard wall 5/ }).waitFor();
  }
  expect(complaints).toEqual([]);
});

test('arrowing through the fan speeds tells only the one that was stopped at', async () => {
  const url = await withUnits(1);
  const { page } = await openPage(on.browser, url);
  await page.getByRole('radio', { name: 'whisper' }).focus();
  for (let i = 0; i < 4; i++) await page.keyboard.press('ArrowRight');
  const speeds = async (): Promise<(string | undefined)[]> => {
    const state = (await (await fetch(`${url}/api/state`)).json()) as {
      events: { kind: string; speed?: string }[];
    };
    return state.events.filter((e) => e.kind === 'fan').map((e) => e.speed);
  };
  await expect.poll(speeds, { timeout: 10_000 }).toEqual(['high']);
});

test('an airflow that was only looked at stays from the fan table; odd entries are refused in words', async () => {
  const { page } = await openPage(on.browser, await withUnits(1));
  await page.getByRole('navigation').getByRole('link', { name: 'Airflow' }).click();
  await page.getByRole('button', { name: 'Enter another' }).click();
  const dialog = page.getByRole('dialog', { name: 'Airflow' });
  const flow = dialog.getByLabel('Airflow, m³/h');
  expect(await flow.inputValue()).toBe('624'); // 0.1732 m³/s × 3600 s/h = 623.5
  await dialog.getByRole('button', { name: 'Save' }).click();
  await dialog.waitFor({ state: 'detached' });
  await page.getByText('from the fan table').waitFor();

  await page.getByRole('button', { name: 'Enter another' }).click();
  await dialog.getByLabel('Accuracy, ±').fill('a little');
  await dialog.getByRole('button', { name: 'Save' }).click();
  const alert = dialog.getByRole('alert');
  await alert.getByText('“a little” is not a number').waitFor();
  // It is told at the field, which is marked and has the focus.
  const wrong = dialog.getByLabel('Accuracy, ±');
  expect(await wrong.getAttribute('aria-invalid')).toBe('true');
  expect(await wrong.getAttribute('aria-describedby')).toBe(await alert.getAttribute('id'));
  expect(await wrong.evaluate((e) => e === document.activeElement)).toBe(true);
  expect(await flow.getAttribute('aria-invalid')).toBeNull();
  const [at, from] = [await wrong.boundingBox(), await alert.boundingBox()];
  expect(Math.abs((from?.y ?? 0) - (at?.y ?? 0) - (at?.height ?? 0))).toBeLessThan(40);
  await dialog.getByLabel('Accuracy, ±').fill('8');
  await flow.fill('600');
  await dialog.getByLabel('Where the figure comes from').selectOption('known some other way');
  await dialog.getByRole('button', { name: 'Save' }).click();
  await dialog.waitFor({ state: 'detached' });
  await page.getByText('± 8.0\u202f%, entered by hand').waitFor();
});

test('an airflow without a ± asks once whether that is meant; a guess says that it is one', async () => {
  const { page } = await openPage(on.browser, await withUnits(1));
  await page.getByRole('navigation').getByRole('link', { name: 'Airflow' }).click();
  await page.getByRole('button', { name: 'Enter another' }).click();
  const dialog = page.getByRole('dialog', { name: 'Airflow' });
  await dialog.getByLabel('Accuracy, ±').fill('');
  await dialog.getByRole('button', { name: 'Save' }).click();
  await dialog.getByRole('alert').getByText('The accuracy is missing').waitFor();
  // Of an entered one after all nothing is asked.
  await dialog.getByLabel('Accuracy, ±').fill('10');
  await dialog.getByText('a guess', { exact: true }).click();
  await dialog.getByRole('button', { name: 'Save', exact: true }).click();
  await dialog.waitFor({ state: 'detached' });
  await page.getByText('± 10.0\u202f% (a guess), from the fan table').waitFor();

  await page.getByRole('button', { name: 'Enter another' }).click();
  await dialog.getByLabel('Accuracy, ±').fill('');
  await dialog.getByRole('button', { name: 'Save' }).click();
  await dialog.getByRole('button', { name: 'Save without ±' }).click();
  await dialog.waitFor({ state: 'detached' });
  await page.getByText('from the fan table, at the supply').waitFor();
});
