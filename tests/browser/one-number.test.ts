/// <reference lib="dom" />
/** One number on one screen, and one time for one thing, wherever they stand. */
import { expect, test } from 'vitest';
import type { Budget, Capture } from '../../server/protocol.ts';
import { captureWith, stateWith, T0, unitWith } from '../client/fixtures.ts';
import { clockMinutes } from '../../client/words/times.ts';
import { faultsOf, stage } from './browser.ts';
import { openTold, pastOf, snapshotOf } from './frames.ts';

const on = stage();
const MIN = 60_000;

/** The second now is 2.92 kW, the figure 2.891 kW; its parts alone would be 2.16 and 0.74 kW. */
const UNIT = unitWith({
  capacity: { totalW: 2920, sensibleW: 2180, latentW: 740 },
  settling: {
    ...{ state: 'steady', since: T0 - 5 * MIN, plateauW: 2850, plateauU95W: 90 },
    ...{ levelW: 2891, levelSensibleW: 2155.6, levelLatentW: 735.4, levelDelayS: 5 },
    // It drifts, and is steady all the same: one judgement.
    ...{ movedW: 20, lookedS: 180, aheadW: 110 },
  },
});
const BUDGET: Budget = {
  type: 'budget',
  ...{ unit: 'u1', t: T0, totalU95W: 124, regions: { return: null, supply: null }, advice: null },
  items: [{ kind: 'airflow', of: null, share: 1, totalW: 63 }],
};
/** Called steady again so soon that it is marked as one with what was before. */
const BEFORE = captureWith({ from: T0 - 8 * MIN, to: T0 - 4 * MIN, totalW: 2890 });
const MADE: Capture = captureWith({
  ...{ from: T0 - 4 * MIN + 1000, to: T0, by: 'touch' },
  ...{ totalW: 2890.6, sensibleW: 2155.4, latentW: 735.2 },
});

test.each([
  [390, 'dark'],
  [1280, 'light'],
] as const)('at %i px, %s', async (width, colorScheme) => {
  const state = stateWith({
    units: { u1: UNIT },
    captures: [BEFORE, MADE],
    budgets: { u1: BUDGET },
  });
  const { page, send, complaints } = await openTold(on, {
    frames: [state, pastOf(600, () => 2891)],
    context: { viewport: { width, height: 900 }, colorScheme, bypassCSP: true },
  });
  send(snapshotOf(state, T0 + 1000, { u1: UNIT }));
  const said = async (role: 'heading' | 'region', name: string | RegExp): Promise<string> =>
    (await page.getByRole(role, { name }).first().innerText()).replace(/\s+/gu, ' ');

  const since = clockMinutes(T0 - 8 * MIN);
  await expect
    .poll(() => said('heading', /^Reading room/))
    .toBe(`Reading room: steady since ${since} at 2.89 kW of cooling.`);
  const figure = await said('region', 'Delivered capacity');
  expect(figure).toContain('2.89 ±0.11 kW');
  // On a phone what follows from it stands below the first screen.
  await page.getByText('You can write this figure down.').waitFor();
  expect(figure).not.toMatch(/may not hold|drift/i);

  // The budget is of the interval that is shown, whichever second it was made in.
  await page.getByRole('button', { name: /^Why ±\s0\.11\?$/u }).click();
  await page.getByText(/^±\s0\.11\skW$/u).waitFor();

  const parts = page.getByLabel('What the capacity is made of');
  const text = (await parts.innerText()).replace(/\s+/gu, ' ');
  expect(text).toMatch(/Sensible 2\.16 ± 0\.08 kW Latent 0\.73 ± 0\.07 kW/);
  const rows = await page.getByRole('list', { name: 'Captures' }).innerText();
  expect(rows.replace(/\s+/gu, ' ')).toContain('sensible 2.16 ± 0.08 kW, latent 0.73 ± 0.07 kW');

  // The chart, right of its middle and at its end.
  const plot = page.locator('.power .u-over');
  const box = await plot.boundingBox();
  if (box === null) throw new Error('no plot');
  await plot.hover({ position: { x: box.width - 2, y: box.height / 2 } });
  await expect
    .poll(async () => (await page.locator('main').innerText()).replace(/\s+/gu, ' '))
    .toMatch(/total 2\.89 ± 0\.11 sensible 2\.1[67] latent 0\.7[23] kW/);
  expect(await faultsOf(page)).toEqual([]);
  expect(complaints).toEqual([]);
});

test('without an interval the button says what is missing, before and after', async () => {
  const doubts = [
    {
      ...{ code: 'limits-unknown', text: 'The ± of the airflow is not known.' },
      ...{ effect: 'There is no interval.', remedy: 'Give it.' },
    },
  ];
  const unit = unitWith({
    ...{ capacity: { totalU95W: null, sensibleU95W: null, latentU95W: null }, doubts },
    settling: { state: 'steady', since: T0 - MIN },
  });
  const { page, calls } = await openTold(on, {
    frames: [stateWith({ units: { u1: unit } }), pastOf(60, () => 2640)],
  });
  await page
    .getByText('Records the figure without a ±: the ± of the airflow is not known.')
    .waitFor();
  await page.getByRole('button', { name: 'Capture', exact: true }).click();
  await page
    .getByRole('alert')
    .getByText('Captured without a ±: the ± of the airflow is not known.')
    .waitFor();
  expect(calls.at(-1)?.body).toEqual({ kind: 'capture', unit: 'u1' });
});
