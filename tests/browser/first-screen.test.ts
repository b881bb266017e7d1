/// <reference lib="dom" />
/** What a person sees without scrolling, and how the settings of a visit are found. */
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import type { State, UnitSnapshot } from '../../server/protocol.ts';
import { doubtWith, stateWith, T0, UNIT, unitWith } from '../client/fixtures.ts';
import { faultsOf, smallButtons, stage } from './browser.ts';
import { openTold, pastOf } from './frames.ts';

const on = stage();

const SETTLING = unitWith({
  settling: { plateauW: 2610, plateauU95W: 180, steadyInS: 200, approachS: 200, lookedS: 180 },
});
const STEADY = unitWith({
  settling: {
    ...{ state: 'steady', since: T0 - 600_000, levelW: 2600, levelDelayS: 5, plateauW: 2600 },
    ...{ movedW: 20, lookedS: 180, aheadW: 40 },
  },
});
const past = (ids: string[]) => pastOf(600, (s) => 2600 - 1500 * Math.exp((s - 600) / 200), ids);

/** A state with the units of an invented library, the first of which is watched. */
function library(ids: string[], unit = SETTLING): State {
  const [setup] = Object.values(stateWith().visit.units);
  const names = ['Reading room', 'Workshop', 'Entrance hall'];
  return stateWith({
    simulated: true,
    units: Object.fromEntries(ids.map((id) => [id, unit])),
    visit: {
      ...stateWith().visit,
      title: 'Wrenfold Lane library',
      units: Object.fromEntries(
        ids.map((id, i) => [id, { ...setup, ...BARE, name: names[i] ?? id }]),
      ),
    },
  });
}
const BARE = { ...UNIT, setpointC: 20, fan: 'high' };

/** Where on the screen everything lies that is watched or touched from a ladder, CSS pixels. */
async function placesOf(page: Page): Promise<Record<string, Box>> {
  const region = page.getByRole('region', { name: 'Delivered capacity' });
  const found: Record<string, Box> = {};
  for (const [name, what] of Object.entries({
    sentence: region.getByRole('heading', { level: 1 }),
    figure: region.locator('.value').first(),
    chart: region.getByRole('figure').locator('.u-over').first(),
    capture: region.getByRole('button', { name: 'Capture' }),
    down: region.getByRole('button', { name: 'Setpoint down' }),
    up: region.getByRole('button', { name: 'Setpoint up' }),
    // The touchable word of the last fan speed.
    fan: region.getByRole('group', { name: 'Fan' }).locator('label').last(),
    way: page.getByRole('navigation').getByRole('link', { name: 'Verdict' }),
    next: page.getByRole('link', { name: /^Next: / }),
  })) {
    const box = await what.boundingBox();
    if (box === null) throw new Error(`The ${name} is not there.`);
    found[name] = box;
  }
  return found;
}
type Box = { x: number; y: number; width: number; height: number };

/** The least that the figure is high, and its chart, by the height of the screen, px. */
const LEAST_PX = { low: { figure: 44, chart: 90 }, high: { figure: 56, chart: 120 } };

const SCREENS = [
  { width: 390, height: 844 },
  { width: 844, height: 390 },
  { width: 768, height: 1024 },
  { width: 1280, height: 800 },
];

describe('without scrolling', () => {
  test.each([{ ids: ['u1'] }, { ids: ['u1', 'u2'] }])(
    'in four sizes, units $ids: figure, sentence, chart, Capture, setpoint and fan',
    async ({ ids }) => {
      const told = await openTold(on, { frames: [library(ids), past(ids)] });
      const { page, send } = told;
      for (const unit of [SETTLING, STEADY]) {
        send(library(ids, unit));
        await page.locator(`.word[data-state=${unit.settling.state}]`).waitFor();
        await page.locator('canvas').first().waitFor();
        for (const screen of SCREENS) {
          await page.setViewportSize(screen);
          await page.waitForTimeout(300);
          await expectInSight(page, screen, `${unit.settling.state} at ${screen.width} px: `);
        }
      }
      expect(told.complaints).toEqual([]);
    },
  );

  test.each([{ ids: ['u1'] }, { ids: ['u1', 'u2'] }])(
    'opened at the figure in each size, with warnings and what makes up the ±, units $ids',
    async ({ ids }) => {
      const text = 'Return and supply have not been checked side by side.';
      const doubts = ['check-missing', 'airflow-guessed'].map((code) => doubtWith({ code, text }));
      const state = library(ids, { ...SETTLING, doubts });
      const none = {
        t: T0,
        totalU95W: 260,
        items: [],
        advice: null,
        regions: { return: null, supply: null },
      };
      state.budgets = { u1: { type: 'budget', unit: 'u1', ...none } };
      for (const screen of SCREENS) {
        const { page } = await openTold(on, {
          frames: [state, past(ids)],
          context: { viewport: screen },
        });
        await page.evaluate(() => (location.hash = '#figure'));
        await page.reload();
        await page.getByRole('button', { name: /^Why/ }).waitFor();
        await page.locator('canvas').first().waitFor();
        await page.waitForTimeout(300);
        await expectInSight(page, screen, `opened at ${screen.width} px: `);
        await page.context().close();
      }
    },
  );
});

async function expectInSight(
  page: Page,
  { width, height }: { width: number; height: number },
  when: string,
): Promise<void> {
  const places = await placesOf(page);
  for (const [name, box] of Object.entries(places)) {
    expect(box.y, when + name).toBeGreaterThanOrEqual(0);
    expect(box.x, when + name).toBeGreaterThanOrEqual(0);
    expect(box.y + box.height, when + name).toBeLessThanOrEqual(height);
    expect(box.x + box.width, when + name).toBeLessThanOrEqual(width);
  }
  // Nothing that is touched lies under the way through the visit.
  const way = places['way'];
  for (const name of ['capture', 'up', 'fan']) {
    const box = places[name];
    if (way !== undefined && box !== undefined) expect(overlap(way, box), when + name).toBe(false);
  }
  // Not at the cost of what is read from a ladder, or of a thumb.
  const least = height < 500 ? LEAST_PX.low : LEAST_PX.high;
  expect(places['chart']?.height, when).toBeGreaterThan(least.chart);
  const px = await page
    .getByRole('region', { name: 'Delivered capacity' })
    .locator('.value')
    .first()
    .evaluate((e) => parseFloat(getComputedStyle(e).fontSize));
  expect(px, when).toBeGreaterThan(width >= 1280 ? 110 : least.figure);
  expect(await smallButtons(page), when).toEqual([]);
}

const overlap = (a: Box, b: Box): boolean =>
  a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;

describe('the settings of the visit', () => {
  test.each([390, 1280])(
    'at %i px: from the record, and they hold the notices too',
    async (width) => {
      const told = await openTold(on, {
        frames: [library(['u1', 'u2']), past(['u1', 'u2'])],
        context: { viewport: { width, height: 844 }, bypassCSP: true },
      });
      const { page, calls, complaints } = told;
      await page.getByRole('navigation').getByRole('link', { name: 'Record' }).click();
      const button = page.getByRole('link', { name: 'Visit settings' });
      const box = await button.boundingBox();
      expect(box?.height).toBeGreaterThanOrEqual(44);
      expect(box?.width).toBeGreaterThanOrEqual(44);
      expect((box?.x ?? 0) + (box?.width ?? Infinity)).toBeLessThanOrEqual(width);
      await button.click();
      const dialog = page.getByRole('dialog', { name: 'Visit settings' });
      expect(await dialog.getByLabel('Title').inputValue()).toBe('Wrenfold Lane library');
      for (const field of ['Barometric pressure at the site', 'Or the altitude']) {
        await dialog.getByLabel(field).waitFor();
      }
      await dialog.getByLabel('Capture automatically').waitFor();
      await dialog.getByText('strict', { exact: true }).waitFor();
      await dialog.getByRole('button', { name: 'Notices' }).click();
      const notices = page.getByRole('dialog', { name: 'When a unit becomes steady' });
      await notices.getByText(/^Vibration/).waitFor();
      expect(await faultsOf(page)).toEqual([]);
      await notices.getByRole('button', { name: 'Close' }).click();
      await notices.waitFor({ state: 'detached' });
      // What was being entered is still there, and nothing was sent.
      await dialog.getByLabel('Title').fill('Orchard Lane 5');
      await dialog.getByLabel('Name of indoor unit 2').fill('Cellar');
      await dialog.getByRole('button', { name: 'Save' }).click();
      await dialog.waitFor({ state: 'detached' });
      expect(calls.map(({ path, body }) => [path, body])).toEqual([
        ['/api/visit', { title: 'Orchard Lane 5' }],
        ['/api/units/u2', { name: 'Cellar' }],
      ]);
      expect(await button.evaluate((e) => e === document.activeElement)).toBe(true);
      expect(complaints).toEqual([]);
    },
  );

  test('the units stand with the record, and hold everywhere', async () => {
    const { page } = await openTold(on, {
      frames: [library(['u1']), past(['u1'])],
      context: { viewport: { width: 390, height: 844 } },
    });
    await page.getByRole('navigation').getByRole('link', { name: 'Record' }).click();
    await page.getByRole('radio', { name: 'Btu/h' }).check();
    await page.getByRole('navigation').getByRole('link', { name: 'Capacity' }).click();
    const region = page.getByRole('region', { name: 'Delivered capacity' });
    await expect.poll(() => region.innerText()).toMatch(/Btu\/h/);
  });
});

describe('a doubt leads to where it is mended', () => {
  const missing = (code: string, text: string) => doubtWith({ code, text, remedy: 'Mend it.' });
  const noFigure = (...doubts: UnitSnapshot['doubts']): UnitSnapshot =>
    unitWith({ capacity: { totalW: null }, settling: { state: 'waiting' }, doubts });

  test('the airflow and the pressure: by the keyboard, and back', async () => {
    const doubts = [
      missing('airflow-missing', 'No airflow.'),
      missing('pressure-assumed', 'Sea level.'),
    ];
    const told = await openTold(on, {
      frames: [stateWith({ units: { u1: noFigure(...doubts) } }), past(['u1'])],
      context: { viewport: { width: 390, height: 844 } },
    });
    const { page, complaints } = told;
    await page.getByRole('link', { name: 'To the airflow' }).press('Enter');
    await page.getByRole('heading', { level: 1, name: 'Airflow' }).waitFor();
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    const airflow = page.getByRole('dialog', { name: 'Airflow' });
    await airflow.waitFor();
    await page.keyboard.press('Escape');
    await airflow.waitFor({ state: 'detached' });
    await page.goBack();
    const way = page.getByRole('link', { name: 'To the visit settings' });
    await way.press('Enter');
    const settings = page.getByRole('dialog', { name: 'Visit settings' });
    await settings.waitFor();
    await page.keyboard.press('Escape');
    await settings.waitFor({ state: 'detached' });
    // Again: it is a form, and no part of the page that would be left.
    await way.press('Enter');
    await settings.waitFor();
    expect(complaints).toEqual([]);
  });

  test('two that are mended at one place point there once', async () => {
    const doubts = [
      missing('return-missing', 'No return.'),
      missing('supply-missing', 'No supply.'),
    ];
    const { page } = await openTold(on, {
      frames: [stateWith({ units: { u1: noFigure(...doubts) } }), past(['u1'])],
    });
    const figure = page.getByRole('region', { name: 'Delivered capacity' });
    await figure.getByText('No supply.').waitFor();
    expect(await figure.getByRole('link', { name: 'To the probes' }).count()).toBe(1);
    await figure.getByRole('link', { name: 'To the probes' }).click();
    await page.getByRole('heading', { level: 1, name: 'Probes' }).waitFor();
  });
});
