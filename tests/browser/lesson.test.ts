/// <reference lib="dom" />
/**
 * One lesson from its beginning to its end: an instructor, and three trainees with a visit of their own. One
 * measures as it should be done, one trusts the fan table, one does nothing. `SHOTS=FOLDER` for pictures.
 */
import { join } from 'node:path';
import type { BrowserContextOptions, Locator, Page } from 'playwright-core';
import { expect, test, vi } from 'vitest';
import {
  type ClassState,
  classSchema,
  type Mine,
  mineSchema,
} from '../../server/protocol/class.ts';
import { begin, followed, press } from './airflow-steps.ts';
import { faultsOf, openPage, smallButtons, stage } from './browser.ts';

const on = stage();
const SOON = { timeout: 60_000 };
const SEED = 7;
/** Of these the picture shows all, to the end of the page. */
const IN_FULL = new Set(['pick', 'leading', 'results', 'result', 'verdict']);
const SIZES = [
  { width: 390, height: 844, colorScheme: 'light' as const },
  { width: 1280, height: 800, colorScheme: 'dark' as const },
];

const go = (page: Page, place: string): Promise<void> =>
  page.getByRole('navigation').getByRole('link', { name: place }).click();

/** What a call answers in the page's own name. */
const answered = (page: Page, path: string): Promise<unknown> =>
  page.evaluate(async (at) => (await fetch(at)).json() as Promise<unknown>, path);
const classOf = async (page: Page): Promise<ClassState> =>
  classSchema.parse(await answered(page, '/api/class'));
const mineOf = async (page: Page): Promise<Mine> =>
  mineSchema.parse(await answered(page, '/api/class/mine'));

/** Opens a page that joins the class, in a browser of its own. */
async function joined(
  url: string,
  code: string,
  name: string,
  context: BrowserContextOptions,
): Promise<{ page: Page; complaints: string[] }> {
  const opened = await openPage(on.browser, url, context);
  const { page } = opened;
  const status = await page.evaluate(async (body) => {
    const headers = { 'content-type': 'application/json' };
    return (await fetch('/api/session', { method: 'POST', headers, body })).status;
  }, JSON.stringify({ code, name }));
  expect(status).toBe(200);
  await page.reload();
  await page.getByText(`Class · ${name} · simulated`).waitFor();
  // It comes a moment later, and moves what stands below.
  await page.getByRole('region', { name: 'Your task' }).waitFor();
  return opened;
}

/** Touches it until that shows: while a lesson runs fast what stands above may move the page under the finger. */
async function touched(button: Locator, shows: Locator): Promise<void> {
  await vi.waitFor(
    async () => {
      if (!(await shows.isVisible())) await button.click({ timeout: 5000 });
      await shows.waitFor({ timeout: 5000 });
    },
    { timeout: 60_000, interval: 100 },
  );
}

/** Hangs return and supply where they belong. */
async function placed(page: Page): Promise<void> {
  await go(page, 'Probes');
  for (const place of ['Return', 'Supply']) {
    const target = page
      .getByRole('group', { name: 'Reading room' })
      .getByRole('button', { name: place });
    await touched(
      page.getByRole('button', { name: `Place it: ${place}`, exact: true }),
      page.getByText(`Where does ${place} hang?`),
    );
    await target.click();
    await page.getByText(`${place.toLowerCase()}, Reading room`, { exact: true }).waitFor();
  }
}

async function checked(page: Page): Promise<void> {
  const check = page.getByRole('region', { name: 'Check the probes side by side' });
  await check.getByRole('button', { name: 'Start' }).click();
  await page.getByRole('link', { name: 'Next: end the check' }).waitFor(SOON);
  await touched(check.getByRole('button', { name: 'End' }), check.getByText(/^Ended at/));
}

async function swept(page: Page): Promise<void> {
  await go(page, 'Airflow');
  await begin(page, 'Sweep', 'Start the sweep');
  await followed(page);
  await page.getByText('In use.').waitFor(SOON);
}

/** Captures once it is steady. @param pace sets the speed of the class: fast until then, and slow at the touch */
async function captured(page: Page, pace: (speed: string) => Promise<void>): Promise<void> {
  await go(page, 'Capacity');
  const capture = page.getByRole('button', { name: 'Capture', exact: true });
  const touched = page.getByText(/, steady, by hand/).first();
  await expect
    .poll(
      async () => {
        if (!(await capture.isEnabled())) return 0;
        await pace('2×');
        await capture.click({ timeout: 5000 }).catch(() => undefined);
        await touched.waitFor({ timeout: 5000 }).catch(() => undefined);
        await pace('30×');
        return touched.count();
      },
      { timeout: 120_000, interval: 500 },
    )
    .toBeGreaterThan(0);
}

async function decided(page: Page, answer: string): Promise<void> {
  await page.getByRole('link', { name: 'Decide', exact: true }).click();
  await page.getByRole('radio', { name: answer }).check();
  await press(page, 'Decide for this');
  await page.getByText(new RegExp(`^You decided, .*: ${answer}\\.$`)).waitFor();
}

test.each(SIZES)(
  'an instructor and three trainees, at $width px',
  async (size) => {
    const { url } = await on.start('demo', '--lan');
    const { width, height, colorScheme } = size;
    const context = {
      ...{ viewport: { width, height }, colorScheme, hasTouch: width < 1000 },
      bypassCSP: true, // for the audit's own script
    };
    async function look(page: Page, what: string): Promise<void> {
      const folder = process.env['SHOTS'];
      if (folder !== undefined) {
        await page.screenshot({
          path: join(folder, `${what}-${width}.png`),
          fullPage: IN_FULL.has(what),
        });
      }
      expect.soft(await faultsOf(page), what).toEqual([]);
      expect.soft(await smallButtons(page), what).toEqual([]);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth);
      expect.soft(wide, what).toBeLessThanOrEqual(width);
    }

    const { page: lead, complaints } = await openPage(on.browser, url, context, (page) =>
      page.route('**/api/class', (route) =>
        route.request().method() === 'POST'
          ? route.continue({ postData: JSON.stringify({ lesson: 'dirty-wheel', seed: SEED }) })
          : route.continue(),
      ),
    );
    await go(lead, 'Record');
    await lead.getByRole('link', { name: 'Lead a class' }).click();
    await lead.getByRole('heading', { level: 1, name: 'Class' }).waitFor();
    await lead.getByRole('radio', { name: /^Dirty blower wheel/ }).check();
    await lead.getByRole('img', { name: /^True capacity over time/ }).waitFor();
    await look(lead, 'pick');
    await press(lead, 'Open the class');
    await lead.getByText('Class code').waitFor();
    const { code } = await classOf(lead);
    if (code === null) throw new Error('An open class has a code.');

    const trainees = await Promise.all(
      ['Ana', 'Ben', 'Cleo'].map((name) => joined(url, code, name, context)),
    );
    const [ana, ben, cleo] = trainees.map(({ page }) => page);
    if (ana === undefined || ben === undefined || cleo === undefined) throw new Error('three');
    await lead.getByText('3 trainees are in.').waitFor();
    await ana.getByText('Not begun yet: the air stands still.').waitFor();
    await look(ana, 'joined');
    // What is of the house's visits is not offered.
    await go(cleo, 'Record');
    await cleo.getByRole('heading', { name: 'This screen' }).waitFor();
    for (const name of ['Earlier visits', 'Lead a class', 'Phones', 'Download the visit log']) {
      expect(await cleo.getByRole('link', { name }).count(), name).toBe(0);
    }
    for (const name of [/^Keep it/, 'Begin a new visit', 'Report (PDF)']) {
      expect(await cleo.getByRole('button', { name }).count()).toBe(0);
    }
    await look(cleo, 'record');

    await press(lead, 'Run');
    const pace = async (speed: string): Promise<void> => {
      await lead.getByText(speed, { exact: true }).click();
      await lead.getByText(new RegExp(`^Running ${speed} as fast`)).waitFor();
    };
    await pace('30×');
    await ana.getByText('The air runs 30× as fast.').waitFor();

    await placed(ben);
    await captured(ben, pace);
    await decided(ben, 'The refrigerant charge is low');

    await placed(ana);
    await checked(ana);
    await swept(ana);
    await go(ana, 'Capacity');
    for (let i = 0; i < 4; i++) await press(ana, 'Setpoint down');
    await captured(ana, pace);
    await decided(ana, 'The filter is loaded');
    await look(ana, 'decide');
    await decided(ana, 'The blower wheel is dirty');
    await look(ana, 'verdict');

    const row = (name: string) => lead.getByRole('row').filter({ hasText: name });
    await expect.poll(() => row('Ana').innerText(), SOON).toMatch(/Decided\s+yes|yes\s+Send/);
    await expect.poll(() => row('Ana').innerText()).toContain('from a sweep traverse');
    expect(await row('Ben').innerText()).toContain('from the fan table');
    expect(await row('Cleo').innerText()).toContain('not yet');

    // Frozen: for all of them, and said so.
    await press(lead, 'Freeze');
    await lead.getByText(/^Frozen at/).waitFor();
    await ana.getByText('The instructor has frozen the air.').waitFor();
    const { t } = await mineOf(ana);
    await ana.waitForTimeout(1500);
    expect((await mineOf(ana)).t).toBe(t);
    expect((await mineOf(cleo)).t).toBe(t);
    await look(lead, 'leading');

    await press(lead, 'Add a fault');
    const fault = lead.getByRole('dialog', { name: 'Add a fault' });
    await fault.getByLabel('Fault').selectOption('Loaded filter');
    await fault.getByText('heavy').waitFor();
    await look(lead, 'fault');
    await fault.getByRole('button', { name: 'Add it' }).click();
    // This page may be on the wall: what is the matter stands in a fold.
    expect(await lead.locator('strong', { hasText: 'Dirty blower wheel' }).isVisible()).toBe(false);
    await lead.getByText('Show what it is').click();
    await lead.getByText(/^Loaded filter: heavy, from/).waitFor();

    await press(lead, 'End the lesson');
    await lead
      .getByRole('dialog', { name: 'End the lesson?' })
      .getByRole('button', { name: 'End it' })
      .click();
    await lead.getByRole('heading', { name: 'How close the class came' }).waitFor();
    await lead.getByText(/^2 of 3 captured; of these, [12] had the truth inside/).waitFor();
    await lead.getByText('1 of 3 named it; 1 decided nothing.').waitFor();
    expect(await row('Ana').innerText()).toMatch(/● inside[\s\S]*● inside[\s\S]*● right/);
    expect(await row('Ben').innerText()).toMatch(/not measured[\s\S]*◇ not it/);
    expect(await row('Cleo').innerText()).toMatch(/no capture[\s\S]*nothing decided/);
    await look(lead, 'results');

    await ana.getByRole('link', { name: 'Your result' }).click();
    await ana.getByRole('heading', { name: 'What you captured' }).waitFor();
    const own = ana.getByRole('main');
    expect(await own.innerText()).toMatch(/● right\s+The blower wheel is dirty/);
    expect(await own.innerText()).toContain('Switch the unit off and lock the power out');
    await look(ana, 'result');
    const { result } = await mineOf(ben);
    const [capture] = result?.captures ?? [];
    const { value = NaN, truth = null, inside = null } = capture?.total ?? {};
    // The fan table is that of a clean wheel. Whether its wide interval still holds the truth is said as it is.
    expect(truth).toBeGreaterThan(1000);
    expect(value).toBeGreaterThan(1.2 * (truth ?? NaN));
    expect(await row('Ben').innerText()).toContain(inside === true ? '● inside' : '◇ outside');
    // What was found stands: the page offers no change, and the server takes none.
    expect(await ana.getByRole('button', { name: 'Decide for this' }).count()).toBe(0);
    await go(ana, 'Capacity');
    expect(await ana.getByRole('button', { name: 'Setpoint down' }).isEnabled()).toBe(false);
    const refused = await ana.evaluate(async () => {
      const headers = { 'content-type': 'application/json' };
      const body = JSON.stringify({ kind: 'note', unit: 'u1', text: 'late' });
      return (await fetch('/api/events', { method: 'POST', headers, body })).status;
    });
    expect(refused).toBe(409);

    await lead.emulateMedia({ media: 'print' });
    expect(await lead.getByRole('navigation').isVisible()).toBe(false);
    expect(await lead.getByRole('button', { name: 'Print this page' }).isVisible()).toBe(false);
    expect(await lead.getByText('Simulated: no real air was measured.').isVisible()).toBe(true);
    const path = join(process.env['SHOTS'] ?? on.folder, `class-${width}.pdf`);
    expect((await lead.pdf({ path, format: 'Letter' })).length).toBeGreaterThan(1000);
    await lead.emulateMedia({ media: 'screen' });

    // Closed: whoever was in it is out.
    await press(lead, 'Close the class');
    await lead
      .getByRole('dialog', { name: 'Close the class?' })
      .getByRole('button', { name: 'Close it' })
      .click();
    await lead.getByRole('heading', { name: 'Pick a lesson' }).waitFor();
    await cleo.getByText('Class · Cleo · simulated').waitFor({ state: 'detached' });
    expect(complaints).toEqual([]);
  },
  300_000,
);
