/// <reference lib="dom" />
/** What a form cannot take is told at its field, which is marked and has the focus; in every form. */
import type { Locator, Page } from 'playwright-core';
import { expect, test } from 'vitest';
import type { State } from '../../server/protocol.ts';
import { measuringWith, probeWith } from '../client/fixtures.ts';
import { stage } from './browser.ts';
import { openTold, pastOf } from './frames.ts';
import { STEADY, visitWith } from './states.ts';

const on = stage();

interface Wrong {
  form: string;
  at: string;
  state?: State;
  /** Opens it, and enters what cannot be taken. @returns the field that is wrong */
  enter: (page: Page) => Promise<Locator>;
  /** What sends it; without it "Save". */
  act?: string | RegExp;
  /** What the server refuses it with; without it the form refuses. */
  answer?: string;
  says: RegExp;
}

const USUAL = visitWith(STEADY);
const [unit] = Object.values(USUAL.visit.units);
if (unit === undefined) throw new Error('The visit has units.');
const twoOutdoors: State = visitWith(STEADY, {
  visit: { ...USUAL.visit, systems: { s1: {}, s2: {} } },
});
const noAirflow: State = visitWith(STEADY, {
  visit: { ...USUAL.visit, units: { u1: { ...unit, airflow: null } } },
});
const anemometer: State = visitWith(STEADY, {
  probes: {
    ...USUAL.probes,
    a1: probeWith({ name: 'Vane', place: null, unit: null, values: { velocityMs: 2 } }),
  },
});
const bucket: State = visitWith(STEADY, {
  measuring: {
    u1: measuringWith({
      ...{ method: 'condensate', outlet: null, probe: null, section: null, sections: [] },
    }),
  },
});

const press = (page: Page, name: string | RegExp): Promise<void> =>
  page.getByRole('button', { name }).first().click();
async function fill(field: Locator, text: string): Promise<Locator> {
  await field.fill(text);
  return field;
}

const WRONG: Wrong[] = [
  {
    ...{ form: 'airflow, no source', at: '#airflow', state: noAirflow },
    enter: async (page) => {
      await press(page, 'Enter the airflow');
      await page.getByLabel('Airflow, m³/h').fill('540');
      return page.getByLabel('Where the figure comes from');
    },
    says: /^The source is missing/,
  },
  {
    ...{ form: 'airflow, no ±', at: '#airflow', act: /^Save/ },
    enter: async (page) => {
      await press(page, 'Enter another');
      return fill(page.getByLabel('Accuracy, ± %'), '');
    },
    says: /^The accuracy is missing/,
  },
  {
    ...{ form: 'fan table', at: '#airflow' },
    enter: async (page) => {
      await press(page, 'Change the fan table');
      return fill(page.getByLabel(/^A line for each speed/), 'high; much');
    },
    says: /^The fan table has a heading only/,
  },
  {
    ...{ form: 'outlet', at: '#airflow' },
    enter: async (page) => {
      await press(page, 'Change the opening');
      return fill(page.getByLabel('Length, mm').last(), 'long');
    },
    says: /^The length of section 2: “long”/,
  },
  {
    ...{ form: 'anemometer', at: '#airflow', state: anemometer },
    enter: async (page) => {
      await press(page, 'Its head and accuracy');
      return fill(page.getByLabel(/^and ±/), '90');
    },
    says: /^The fixed part cannot be 90/,
  },
  {
    ...{ form: 'bucket', at: '#airflow', state: bucket, act: 'End' },
    enter: (page) => fill(page.getByLabel('Water, g or ml'), 'full'),
    says: /^The water: “full”/,
  },
  {
    ...{ form: 'heater', at: '#airflow', act: 'The heater is on' },
    enter: async (page) => {
      await page.locator('summary', { hasText: /heater/i }).click();
      return fill(page.getByLabel('Power of the heater, W'), '5');
    },
    says: /^The power of the heater cannot be 5/,
  },
  {
    ...{ form: 'settings, altitude', at: '#record' },
    enter: async (page) => {
      await page.getByRole('link', { name: 'Visit settings' }).click();
      return fill(page.getByLabel('Or the altitude'), 'high');
    },
    says: /^The altitude: “high”/,
  },
  {
    ...{ form: 'settings, pressure of the server', at: '#record' },
    enter: async (page) => {
      await page.getByRole('link', { name: 'Visit settings' }).click();
      return fill(page.getByLabel(/^Barometric pressure/), '950');
    },
    answer: 'pressurePa: a probe sends it already',
    says: /^The barometric pressure \(in Pa\): a probe/,
  },
  {
    ...{ form: 'settings, the second outdoor unit', at: '#record', state: twoOutdoors },
    enter: async (page) => {
      await page.getByRole('link', { name: 'Visit settings' }).click();
      await page.locator('summary', { hasText: 'Outdoor unit 2' }).click();
      return fill(page.getByLabel(/^Line length/).last(), '900');
    },
    says: /^The line length of Outdoor unit 2 cannot be 900/,
  },
  {
    ...{ form: 'probe', at: '#probes' },
    enter: async (page) => {
      await press(page, 'Name, limits: Reading room return');
      return fill(page.getByLabel(/^Humidity accuracy/), '80');
    },
    says: /^The humidity accuracy cannot be 80/,
  },
  {
    ...{ form: 'evenness', at: '#walk' },
    enter: async (page) => {
      await press(page, 'Enter how even it is');
      return fill(page.getByLabel('Intake, %'), '200');
    },
    says: /^The intake cannot be 200/,
  },
  {
    ...{ form: 'note', at: '#figure', act: 'Note', answer: 'text: must not be that' },
    enter: (page) => fill(page.getByLabel('Note', { exact: true }), 'filter washed'),
    says: /^The note or name: must not/,
  },
];

test('the wrong field is marked, told at the field, and has the focus', async () => {
  let answer: string | null = null;
  const { page, send, complaints } = await openTold(on, {
    frames: [USUAL, pastOf(60, () => 2640, ['u1', 'u2'])],
    answer: () => answer,
  });
  for (const { form, at, state = USUAL, enter, act = 'Save', says, ...more } of WRONG) {
    await page.keyboard.press('Escape');
    answer = more.answer ?? null;
    await page.evaluate((hash) => (location.hash = hash), at);
    send(state);
    const field = await enter(page).catch((error: unknown) => {
      throw new Error(`${form}: ${String(error)}`);
    });
    const dialog = page.getByRole('dialog');
    const from = (await dialog.count()) > 0 ? dialog : page.getByRole('main');
    await from.getByRole('button', { name: act, exact: true }).last().click();
    const alert = from.getByRole('alert').filter({ hasText: says });
    await alert.waitFor({ timeout: 5000 }).catch(async () => {
      const told = await from.getByRole('alert').allTextContents();
      throw new Error(`${form}: it says ${told.join(' | ')}`);
    });
    expect(await field.getAttribute('aria-invalid'), form).toBe('true');
    expect(await field.getAttribute('aria-describedby'), form).toBe(await alert.getAttribute('id'));
    expect(await field.evaluate((e) => e === document.activeElement), form).toBe(true);
    expect(await page.locator('[aria-invalid=true]').count(), form).toBe(1);
    const [box, told] = [await field.boundingBox(), await alert.boundingBox()];
    const apart = (told?.y ?? Infinity) - (box?.y ?? 0) - (box?.height ?? 0);
    expect(Math.abs(apart), form).toBeLessThan(70);
  }
  expect(complaints.filter((text) => !text.includes('400'))).toEqual([]);
});
