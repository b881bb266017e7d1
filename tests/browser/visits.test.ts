/// <reference lib="dom" />
/** The page of the record: what is not recorded, what is late, and visits that are found and gone on with. */
import { execFileSync } from 'node:child_process';
import { renameSync, rmSync, writeFileSync } from 'node:fs';
import type { Locator, Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { type State, stateSchema } from '../../server/protocol.ts';
import { captureWith, stateWith, T0, unitWith } from '../client/fixtures.ts';
import { faultsOf, openPage, smallButtons, stage } from './browser.ts';
import { openTold, pastOf, snapshotOf } from './frames.ts';

const on = stage();
const PHONE = { viewport: { width: 390, height: 844 }, bypassCSP: true };

async function call(path: string, method: 'POST' | 'PUT', body: object): Promise<void> {
  const response = await fetch(`${on.server?.url ?? ''}${path}`, {
    method,
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify(body),
  });
  expect(response.status, await response.text()).toBeLessThan(300);
}
const state = async (): Promise<State> =>
  stateSchema.parse(await (await fetch(`${on.server?.url ?? ''}/api/state`)).json());

/** Seconds of readings up to now, at a unit that cools. */
async function readings(seconds: number): Promise<void> {
  const t = Date.now() - seconds * 1000;
  const lines = Array.from({ length: seconds * 2 }, (_, i) => ({
    ...{ t: t + Math.floor(i / 2) * 1000, probe: i % 2 === 0 ? 'r' : 's' },
    ...{ temperatureC: i % 2 === 0 ? 26.7 : 12, humidityPct: i % 2 === 0 ? 51 : 94 },
  }));
  await call('/api/readings', 'POST', lines);
}
async function setUp(title: string): Promise<void> {
  await call('/api/visit', 'PUT', { title, mode: 'cooling', altitudeM: 300, customer: 'A. Wren' });
  const airflow = {
    source: 'entered',
    flowM3s: 0.2,
    basis: 'actual',
    plane: 'supply',
    limitPct: 5,
  };
  await call('/api/units/u1', 'PUT', { name: 'Study', airflow });
  const limits = { temperatureC: 0.3, humidityPct: 2 };
  await call('/api/probes/r', 'PUT', { name: 'R', unit: 'u1', place: 'return', limits });
  await call('/api/probes/s', 'PUT', { name: 'S', unit: 'u1', place: 'supply', limits });
}

const scrollWidth = (page: Page): Promise<number> =>
  page.evaluate(() => document.documentElement.scrollWidth);

describe('not recording', () => {
  test('is said on every view while it lasts, and that it is over', async () => {
    await on.start('start');
    await setUp('Orchard Lane 4');
    await readings(5);
    const { page, complaints } = await openPage(on.browser, on.server?.url ?? '', PHONE);
    await page.getByRole('heading', { level: 1, name: /Study/ }).waitFor();
    const alert = page.getByRole('alert').getByText('Not recording');
    expect(await alert.count()).toBe(0);
    const away = `${on.folder}-away`;
    renameSync(on.folder, away);
    writeFileSync(on.folder, 'in the way');
    try {
      for (const place of ['Probes', 'Airflow', 'Verdict', 'Record']) {
        await alert.waitFor({ timeout: 10_000 });
        expect(await scrollWidth(page)).toBeLessThanOrEqual(390);
        await page.getByRole('navigation').getByRole('link', { name: place }).click();
      }
      await alert.waitFor();
      expect(await faultsOf(page)).toEqual([]);
    } finally {
      rmSync(on.folder);
      renameSync(away, on.folder);
    }
    await alert.waitFor({ state: 'detached', timeout: 10_000 });
    await page.getByText('Recording again.').waitFor({ state: 'attached' });
    expect(complaints.filter((text) => !text.includes('500'))).toEqual([]);
  });
});

describe('late figures', () => {
  /** What stands over the page, and not what is read aloud. */
  const gone = (page: Page): Locator =>
    page.locator('p:not([role])').filter({ hasText: /^(No data since|Reconnecting)/ });
  const STEADY = unitWith({ settling: { state: 'steady', since: T0 - 600_000, plateauW: 2640 } });

  test('a silent line: late within 4 s, gone within 11 s, as the page’s own clock says', async () => {
    const steady = stateWith({ units: { u1: STEADY } });
    const told = await openTold(on, {
      frames: [steady, pastOf(60, () => 2640)],
      prepare: (page) => page.clock.install(),
    });
    const { page } = told;
    const figure = page.getByRole('region', { name: 'Delivered capacity' });
    const count = (word: string): Promise<number> =>
      figure.getByText(word, { exact: true }).count();
    await figure.getByText('Steady', { exact: true }).waitFor();
    // At rest for longer than late: the beat says that there is nothing newer.
    await page.waitForTimeout(4000);
    expect(await count('Steady')).toBe(1);
    await page.clock.pauseAt(await page.evaluate(() => Date.now() + 50));
    // A last beat, at this time of the page.
    await page.waitForTimeout(600);
    told.stall();
    await page.clock.runFor(2000);
    expect(await count('Steady')).toBe(1);
    await page.clock.runFor(2000);
    await figure.getByText('Late', { exact: true }).waitFor();
    expect(await count('Steady')).toBe(0);
    expect(await figure.getByRole('button', { name: 'Capture' }).isDisabled()).toBe(true);
    // A frame of something else is no news of the figure.
    told.send({ type: 'record', visit: 'visit-1', trouble: null, kept: true });
    await page.clock.runFor(4500);
    expect(await gone(page).count()).toBe(0);
    await page.clock.runFor(2500);
    await gone(page).waitFor();
    expect(await figure.locator('.value').first().innerText()).toBe('—');
    told.send(snapshotOf(steady, T0 + 1000, { u1: STEADY }));
    await figure.getByText('Steady', { exact: true }).waitFor();
  });

  test('a server that is stopped and goes on', async () => {
    const { url, child } = await on.start('demo');
    const { page } = await openPage(on.browser, url);
    const figure = page.getByRole('region', { name: 'Delivered capacity' });
    await expect.poll(() => figure.locator('.value').first().innerText()).toMatch(/\d/);
    const all = (signal: 'STOP' | 'CONT'): void => {
      for (const pid of processesOf(child.pid ?? 0)) process.kill(pid, `SIG${signal}`);
    };
    all('STOP');
    try {
      await figure.getByText('Late', { exact: true }).waitFor({ timeout: 4500 });
      await gone(page).waitFor({ timeout: 8500 });
      expect(await figure.locator('.value').first().innerText()).toBe('—');
    } finally {
      all('CONT');
    }
    await expect
      .poll(() => figure.locator('.value').first().innerText(), { timeout: 20_000 })
      .toMatch(/\d/);
    await gone(page).waitFor({ state: 'detached' });
  });
});

/** A process and those that it has started. */
function processesOf(pid: number): number[] {
  let text = '';
  try {
    text = execFileSync('ps', ['-o', 'pid=', '--ppid', String(pid)], { encoding: 'utf8' });
  } catch {
    // It has started none.
  }
  const children = text.split(/\s+/).filter(Boolean).map(Number);
  return [pid, ...children.flatMap(processesOf)];
}

describe('visits', () => {
  test('a new one is begun; the old one is found, read, put beside it, and gone on with', async () => {
    const { url } = await on.start('start');
    await setUp('Orchard Lane 4');
    await readings(150);
    await call('/api/events', 'POST', { kind: 'note', text: 'door shut' });
    const { page, complaints } = await openPage(on.browser, url, PHONE);
    const old = (await state()).record.visit;
    await page.getByRole('navigation').getByRole('link', { name: 'Record' }).click();
    await page.getByRole('link', { name: 'Earlier visits' }).click();
    const list = page.getByRole('list', { name: 'Visits' });
    await list.getByText('Live now').waitFor();
    await list.getByRole('link', { name: 'Orchard Lane 4' }).click();
    await page.getByRole('heading', { level: 1, name: 'Orchard Lane 4' }).waitFor();
    await page.getByRole('button', { name: 'Begin a new visit here' }).click();
    const dialog = page.getByRole('dialog', { name: 'Begin a new visit here' });
    await dialog.getByText(/Orchard Lane 4.*ends/).waitFor();
    await dialog.getByRole('button', { name: 'Begin it' }).click();
    await expect.poll(async () => (await state()).record.visit).not.toBe(old);
    const begun = (await state()).visit;
    expect(begun.title).toBe('Orchard Lane 4');
    expect(begun.units['u1']?.name).toBe('Study');
    await setUp('Mill House');
    await readings(5);

    await page.getByRole('navigation').getByRole('link', { name: 'Record' }).click();
    await page.getByRole('link', { name: 'Earlier visits' }).click();
    await list.getByRole('link', { name: 'Mill House' }).waitFor();
    const search = page.getByRole('searchbox', { name: 'Search' });
    await search.fill('nowhere');
    await page.getByText('No visit matches.').waitFor();
    await search.fill('orchard');
    await page.getByText('1 visit found').waitFor();
    expect(await faultsOf(page)).toEqual([]);
    expect(await smallButtons(page)).toEqual([]);
    expect(await scrollWidth(page)).toBeLessThanOrEqual(390);
    await list.getByRole('link', { name: 'Orchard Lane 4' }).click();
    await page.getByText('Recorded', { exact: true }).waitFor();
    await page.getByRole('figure', { name: /Capacity of Study over time, recorded/ }).waitFor();
    await page.getByText('in words').click();
    await page.getByRole('list', { name: 'Events', exact: true }).getByText('door shut').waitFor();
    expect(await page.getByRole('button', { name: /Rename|Strike/ }).count()).toBe(0);
    const log = await page.getByRole('link', { name: 'Download its log' }).getAttribute('href');
    expect(await (await fetch(new URL(log ?? '', url))).text()).toContain('"door shut"');
    expect(await faultsOf(page)).toEqual([]);
    expect(await smallButtons(page)).toEqual([]);
    expect(await scrollWidth(page)).toBeLessThanOrEqual(390);

    await page.getByRole('link', { name: 'Put another beside it' }).click();
    await page.getByRole('heading', { level: 1, name: /beside it/ }).waitFor();
    await list.getByRole('link', { name: 'Mill House' }).click();
    await page.getByRole('heading', { level: 2, name: 'Captures of Study' }).waitFor();
    expect(await page.getByRole('figure').count()).toBe(2);
    expect(await faultsOf(page)).toEqual([]);
    expect(await scrollWidth(page)).toBeLessThanOrEqual(390);
    await page.goBack();
    await page.goBack();

    await page.getByRole('button', { name: 'Continue this visit' }).click();
    const goOn = page.getByRole('dialog', { name: 'Continue this visit' });
    await goOn.getByText(/Mill House.*ends/).waitFor();
    await goOn.getByRole('button', { name: 'Continue it' }).click();
    await expect.poll(async () => (await state()).record.visit).toBe(old);
    // The page follows: its title, and the chart of the visit that goes on.
    await page.getByRole('banner').getByText('Orchard Lane 4').waitFor();
    await page.getByRole('region', { name: 'Delivered capacity' }).waitFor();
    expect(complaints).toEqual([]);
  });

  test('a list that cannot be had, and one that takes long, say so', async () => {
    let answer: 'slow' | 'fail' | 'one' = 'slow';
    const capture = captureWith();
    const { page } = await openTold(on, {
      frames: [stateWith({ captures: [capture] })],
      prepare: (page) =>
        page.route(/\/api\/visits\?/, async (route) => {
          if (answer === 'fail') return route.fulfill({ status: 500, json: { error: 'broken' } });
          if (answer === 'slow') await new Promise((resolve) => setTimeout(resolve, 2500));
          return route.fulfill({ json: { live: null, visits: [] } });
        }),
    });
    await page.getByRole('navigation').getByRole('link', { name: 'Record' }).click();
    await page.getByRole('link', { name: 'Earlier visits' }).click();
    await page.getByText('Reading the record.').waitFor({ timeout: 2400 });
    await page.getByText('Nothing recorded yet.').waitFor();
    answer = 'fail';
    await page.getByRole('searchbox', { name: 'Search' }).fill('x');
    const alert = page.getByRole('alert').filter({ hasText: 'could not read its record' });
    await alert.waitFor();
    answer = 'one';
    await alert.getByRole('button', { name: 'Try again' }).click();
    await alert.waitFor({ state: 'detached' });
  });
});

test('what is said for the record is sent, and stays behind its headings', async () => {
  const { page, calls, complaints } = await openTold(on, {
    frames: [stateWith()],
    context: PHONE,
  });
  await page.getByRole('navigation').getByRole('link', { name: 'Record' }).click();
  await page.getByRole('link', { name: 'Visit settings' }).click();
  const dialog = page.getByRole('dialog', { name: 'Visit settings' });
  expect(await dialog.getByLabel('Customer').isVisible()).toBe(false);
  await dialog.getByText('For the record: who, where, why').click();
  await dialog.getByLabel('Customer').fill('Friends of the library');
  await dialog.getByText('For the record: Reading room').click();
  await dialog.getByLabel('Type').fill('cassette');
  await dialog.getByLabel('Nominal capacity').fill('3,5');
  await dialog.getByLabel('Outdoor unit it is piped to').selectOption('another one');
  await dialog.getByText('For the record: Outdoor unit').click();
  await dialog.getByLabel('Line length').fill('12');
  expect(await faultsOf(page)).toEqual([]);
  expect(await scrollWidth(page)).toBeLessThanOrEqual(390);
  await dialog.getByRole('button', { name: 'Save' }).click();
  await dialog.waitFor({ state: 'detached' });
  expect(calls.map(({ path, body }) => [path, body])).toEqual([
    ['/api/visit', { customer: 'Friends of the library' }],
    ['/api/systems/s1', { lineLengthM: 12 }],
    ['/api/units/u1', { form: 'cassette', system: 's1', nominalW: 3500 }],
  ]);
  expect(complaints).toEqual([]);
});
