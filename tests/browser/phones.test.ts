/// <reference lib="dom" />
/** Phones that are let in: joining, what a viewer may not, who has changed what, and how they are sent away. */
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { codeSchema, type Role } from '../../server/protocol/access.ts';
import {
  faultsOf,
  lookEverywhere,
  openPage,
  smallButtons,
  stage,
  type Watched,
} from './browser.ts';
import { illegible } from './legible.ts';

const on = stage();
const PHONE = { viewport: { width: 390, height: 844 }, bypassCSP: true };

/** A demo of two heads that lets phones in. */
async function open(): Promise<string> {
  const { port } = await on.start('demo', '--lan', '--seed', '1');
  return `http://127.0.0.1:${port}`;
}
async function codeFor(url: string, role: Role): Promise<string> {
  const response = await fetch(`${url}/api/phones/codes`, {
    method: 'POST',
    headers: { 'content-type': 'application/json' },
    body: JSON.stringify({ role }),
  });
  return codeSchema.parse(await response.json()).code;
}

/** Another machine's browser: on this one it may do all, until it says that it is out. */
async function stranger(url: string): Promise<Watched> {
  return openPage(on.browser, url, PHONE, async (page) => {
    let isFirst = true;
    await page.route('**/api/session', async (route) => {
      if (!isFirst || route.request().method() !== 'GET') return route.fallback();
      isFirst = false;
      return route.fulfill({ json: { role: null, id: null, name: null, lan: true } });
    });
  });
}
async function join(page: Page, code: string, name: string): Promise<void> {
  await page.getByLabel('Code, eight digits').fill(code);
  await page.getByLabel('Your name').fill(name);
  await page.getByRole('button', { name: 'Join' }).click();
}
async function joined(url: string, role: Role, name: string): Promise<Watched> {
  const watched = await stranger(url);
  await join(watched.page, await codeFor(url, role), name);
  await watched.page.getByRole('region', { name: 'Delivered capacity' }).waitFor();
  return watched;
}

const place = (page: Page, name: string): Promise<void> =>
  page.getByRole('navigation').getByRole('link', { name }).click();
/** Opens the form of the airflow. */
async function airflowForm(page: Page) {
  await place(page, 'Airflow');
  await page.getByRole('button', { name: 'Enter another' }).click();
  return page.getByRole('dialog', { name: 'Airflow' });
}
async function enterAirflow(page: Page, value: string): Promise<void> {
  const form = await airflowForm(page);
  await form.getByLabel(/^Airflow, /).fill(value);
  await form.getByLabel('Accuracy, ±').fill('5');
  await form.getByRole('button', { name: 'Save' }).click();
  await form.waitFor({ state: 'detached' });
}
const line = (page: Page, text: string | RegExp) => page.getByRole('status').getByText(text);

/** That a phone is out: it says why, and nothing of the visit is left on it. */
async function isOut(page: Page, why: string | RegExp): Promise<void> {
  await page.getByRole('alert').getByText(why).waitFor();
  await page.getByLabel('Code, eight digits').waitFor();
  expect(await page.getByRole('region', { name: 'Delivered capacity' }).count()).toBe(0);
  expect(await page.getByRole('navigation').count()).toBe(0);
  expect(await page.locator('body').innerText()).not.toMatch(/kW|Reading|library/);
  expect(await page.title()).toBe('Plateau');
}

describe('joining', () => {
  test('the owner’s page makes the code; a wrong one is told at the field', async () => {
    const url = await open();
    const owner = await openPage(on.browser, url, { bypassCSP: true });
    await place(owner.page, 'Record');
    await owner.page.getByRole('link', { name: 'Phones' }).click();
    await owner.page.getByRole('img', { name: /^QR code with the address http:/ }).waitFor();
    await owner.page.getByText('No phone yet.').waitFor();
    await owner.page.getByRole('button', { name: 'Code for an operator' }).click();
    const shown = owner.page.getByText(/^\d{4} \d{4}$/);
    const code = await shown.innerText();

    const phone = await stranger(url);
    const { page } = phone;
    await page.getByRole('heading', { level: 1, name: 'Join the visit' }).waitFor();
    await lookEverywhere(page, 'join');
    const field = page.getByLabel('Code, eight digits');
    expect(await field.getAttribute('inputmode')).toBe('numeric');
    await field.pressSequentially('12345678');
    expect(await field.inputValue()).toBe('1234 5678');
    await page.getByRole('button', { name: 'Join' }).click();
    await page.getByRole('alert').getByText('The name is missing.').waitFor();
    await page.getByLabel('Your name').fill('Ana');
    await field.fill('123');
    await page.getByRole('button', { name: 'Join' }).click();
    await page.getByRole('alert').getByText('The code has eight digits.').waitFor();
    await join(page, code === '1234 5678' ? '1234 5679' : '1234 5678', 'Ana');
    const alert = page.getByRole('alert').getByText(/^The code: it is not one that can be used/);
    await alert.waitFor();
    expect(await field.getAttribute('aria-invalid')).toBe('true');
    expect(await field.getAttribute('aria-describedby')).toBe(await alert.getAttribute('id'));

    await join(page, code, 'Ana');
    await page.getByRole('region', { name: 'Delivered capacity' }).waitFor();
    await owner.page.getByText(/^Operator since \d\d:\d\d, here now$/).waitFor();
    await shown.waitFor({ state: 'detached' });
    await lookEverywhere(owner.page, 'phones');
    // The name is remembered for the next visit, the code is not.
    expect(await page.evaluate(() => JSON.stringify({ ...localStorage }))).toContain('Ana');
    expect(
      await page.evaluate(() => JSON.stringify({ ...localStorage }) + location.href),
    ).not.toContain(code.replace(' ', ''));
    expect(owner.complaints).toEqual([]);
  });

  test('a code that was used lets nobody else in; too many wrong ones have to wait', async () => {
    const url = await open();
    const code = await codeFor(url, 'viewer');
    const first = await stranger(url);
    await join(first.page, code, 'Ana');
    await first.page.getByRole('region', { name: 'Delivered capacity' }).waitFor();
    const { page } = await stranger(url);
    for (let i = 0; i < 5; i++) {
      await join(page, code, 'Ben');
      await page
        .getByRole('alert')
        .getByText(/can be used/)
        .waitFor();
      await page.getByLabel('Your name').fill('');
      await page.getByRole('button', { name: 'Join' }).click();
      await page.getByRole('alert').getByText('The name is missing.').waitFor();
    }
    await join(page, code, 'Ben');
    await page
      .getByRole('alert')
      .getByText(/^Too many wrong codes: wait \d+ seconds/)
      .waitFor();
  });

  test('without --lan the owner is told how to start', async () => {
    const { url } = await on.start('start');
    const { page } = await openPage(on.browser, `${url}#phones`, { bypassCSP: true });
    await page.getByText('npm start -- --lan').waitFor();
    expect(await page.getByRole('button', { name: /Code for/ }).count()).toBe(0);
    await lookEverywhere(page, 'phones, not open');
  });
});

describe('several at one visit', () => {
  test('what an operator changes is seen and told; a viewer sees all and can touch nothing', async () => {
    const url = await open();
    const owner = await openPage(on.browser, url, { bypassCSP: true });
    const operator = await joined(url, 'operator', 'Ana');
    const viewer = await joined(url, 'viewer', 'Ben');
    await enterAirflow(operator.page, '600');
    const pages = [owner.page, viewer.page];
    const told = /^Ana changed the airflow of .+\.$/;
    await Promise.all(pages.map((page) => line(page, told).waitFor()));
    expect(await faultsOf(viewer.page)).toEqual([]);
    expect(await smallButtons(viewer.page)).toEqual([]);
    for (const page of pages) {
      await place(page, 'Airflow');
      await page.getByText(/600/).first().waitFor();
      await line(page, told).waitFor({ state: 'detached', timeout: 12_000 });
    }
    // Their own changes are not told to those who made them.
    expect(await operator.page.getByText(/^Ana changed/).count()).toBe(0);

    const { page } = viewer;
    await page.getByRole('link', { name: /^Viewer/ }).waitFor();
    expect(await page.getByRole('link', { name: /^Next:/ }).count()).toBe(0);
    for (const name of ['Probes', 'Airflow', 'Verdict']) {
      await place(page, name);
      await page.getByText('You are a viewer: you see everything, and change nothing.').waitFor();
      const open = page.locator('main').locator('button, input, select, textarea');
      for (const each of await open.all()) expect(await each.isDisabled()).toBe(true);
    }
    await place(page, 'Capacity');
    for (const name of ['Capture', 'Setpoint up', 'Setpoint down']) {
      expect(await page.getByRole('button', { name }).isDisabled()).toBe(true);
    }
    await place(page, 'Record');
    expect(await page.getByRole('link', { name: /Earlier visits|Phones/ }).count()).toBe(0);
    expect(await page.getByRole('button', { name: 'Begin a new visit' }).count()).toBe(0);
    await page.getByRole('link', { name: 'Visit settings' }).click();
    expect(await page.getByRole('button', { name: 'Save' }).isDisabled()).toBe(true);
    await page.getByRole('button', { name: 'Close' }).click();
    // And where the page would not stop it, the server does.
    const status = await page.evaluate(async () => {
      const body = JSON.stringify({ kind: 'note', text: 'by hand' });
      const headers = { 'content-type': 'application/json' };
      return (await fetch('/api/events', { method: 'POST', headers, body })).status;
    });
    expect(status).toBe(403);
    await lookEverywhere(page, 'viewer');

    await page.getByRole('button', { name: 'Sign off' }).click();
    await isOut(page, 'You have signed off.');
  });

  test('a form that is open on what another has changed says so, and shows theirs', async () => {
    const url = await open();
    const owner = await openPage(on.browser, url, { bypassCSP: true });
    const operator = await joined(url, 'operator', 'Ana');
    const form = await airflowForm(owner.page);
    await form.getByLabel(/^Airflow, /).fill('555');
    // Something else of the visit is no conflict.
    await place(operator.page, 'Record');
    await operator.page.getByRole('link', { name: 'Visit settings' }).click();
    const settings = operator.page.getByRole('dialog', { name: 'Visit settings' });
    await settings.getByLabel('Title').fill('Mill House');
    await settings.getByRole('button', { name: 'Save' }).click();
    await line(owner.page, 'Ana changed the visit settings.').waitFor({ state: 'attached' });
    const told = form.getByText(/^Ana has changed this since you opened it/);
    expect(await told.count()).toBe(0);

    await enterAirflow(operator.page, '612');
    await told.waitFor();
    await form.getByText('Saving replaces what Ana has entered.').waitFor();
    expect(await form.getByLabel(/^Airflow, /).inputValue()).toBe('555');
    await lookEverywhere(owner.page, 'conflict');
    await form.getByRole('button', { name: 'Show theirs' }).click();
    await expect.poll(() => form.getByLabel(/^Airflow, /).inputValue()).toBe('612');
    expect(await told.count()).toBe(0);
    await form.getByRole('button', { name: 'Save' }).click();
    await form.waitFor({ state: 'detached' });
  });

  test('withdrawn, or another visit begun: out at once, and told why', async () => {
    const url = await open();
    const owner = await openPage(on.browser, `${url}#phones`, { bypassCSP: true });
    const ana = await joined(url, 'operator', 'Ana');
    const ben = await joined(url, 'viewer', 'Ben');
    await place(ana.page, 'Record');
    await ana.page.getByRole('link', { name: 'Visit settings' }).click();
    await owner.page.getByRole('button', { name: 'Withdraw Ana' }).click();
    const asked = owner.page.getByRole('dialog', { name: 'Withdraw Ana?' });
    await asked.getByRole('button', { name: 'Withdraw' }).click();
    await isOut(ana.page, 'You were signed off at the computer. Ask there for a new code.');
    expect(await ana.page.getByRole('dialog').count()).toBe(0);
    await owner.page.getByRole('button', { name: 'Withdraw Ana' }).waitFor({ state: 'detached' });
    expect(await ben.page.getByRole('region', { name: 'Delivered capacity' }).count()).toBe(1);

    const begun = await fetch(`${url}/api/visits`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ like: null }),
    });
    expect(begun.status).toBe(200);
    await isOut(ben.page, 'The visit has ended. Ask at the computer for a new code.');
    // With a new code it is back.
    await join(ben.page, await codeFor(url, 'operator'), 'Ben');
    await ben.page.getByRole('navigation').waitFor();
    await ben.page.getByRole('link', { name: /^Operator/ }).waitFor();
  });

  test('text at twice its size can be read, on a phone', async () => {
    const url = await open();
    const { page } = await stranger(url);
    const cdp = await page.context().newCDPSession(page);
    await cdp.send('Page.setFontSizes', { fontSizes: { standard: 32 } });
    const wide = (): Promise<number> => page.evaluate(() => document.documentElement.scrollWidth);
    await page.getByRole('button', { name: 'Join' }).waitFor();
    expect(await wide()).toBeLessThanOrEqual(390);
    expect(await illegible(page)).toEqual([]);
    await join(page, await codeFor(url, 'viewer'), 'Bartholomew of the upper floor');
    await page.getByRole('region', { name: 'Delivered capacity' }).waitFor();
    expect(await wide()).toBeLessThanOrEqual(390);
    expect(await illegible(page)).toEqual([]);
  });
});
