/// <reference lib="dom" />
/**
 * The airflow measured as a person does it, by each method from its start to a capture that uses it. That the
 * methods come to the truth is shown in tests/session/airflow-played.test.ts; here they must agree. Bucket,
 * heater and zero, which take more than an hour of the visit's time, are of the long form.
 */
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { type AirflowResult, stateSchema, type State } from '../../server/protocol.ts';
import { LONG } from '../long.ts';
import { begin, followed, press } from './airflow-steps.ts';
import { faultsOf, openPage, smallButtons, stage } from './browser.ts';

const on = stage();
const SOON = { timeout: 60_000 };

const stateOf = async (url: string): Promise<State> =>
  stateSchema.parse(await (await fetch(`${url}/api/state`)).json());
async function tell(url: string, event: object): Promise<void> {
  const headers = { 'content-type': 'application/json' };
  const answer = await fetch(`${url}/api/events`, {
    method: 'POST',
    headers,
    body: JSON.stringify(event),
  });
  expect(answer.status).toBe(200);
}
/** So many seconds of the visit's time. */
async function pass(url: string, seconds: number): Promise<void> {
  const from = (await stateOf(url)).t ?? 0;
  await expect
    .poll(async () => ((await stateOf(url)).t ?? 0) - from, SOON)
    .toBeGreaterThan(1000 * seconds);
}
const goTo = (page: Page, place: string): Promise<void> =>
  page.getByRole('navigation').getByRole('link', { name: place }).click();

/** Weighs the water of half an hour, and heats the air over a coil that has dried: an hour of the visit. */
async function weighedAndHeated(page: Page, url: string): Promise<void> {
  await pass(url, 1200); // the coil is wet, and the pan full
  await begin(page, 'Weighed condensate', 'The bucket is under it');
  await page.getByText(/^Enough\. Take the bucket away/).waitFor({ timeout: 120_000 });
  await press(page, 'The bucket is away');
  await page.getByText(/^Weigh the water/).waitFor(SOON);
  const told = (await stateOf(url)).events.findLast(({ text }) =>
    text?.startsWith('The bucket holds'),
  );
  await page.getByLabel('Water, g or ml').fill(/\d+/.exec(told?.text ?? '')?.[0] ?? '');
  await press(page, 'End');
  await page
    .getByText(/^Weighed condensate/)
    .first()
    .waitFor(SOON);
  expect(await smallButtons(page)).toEqual([]);

  // The compressor rests, and the fan runs alone until the coil is dry.
  await tell(url, { kind: 'setpoint', unit: 'u1', valueC: 35 });
  await pass(url, 2400);
  await page.locator('summary', { hasText: 'Metered heater' }).click();
  await page.getByLabel('Power of the heater, W').fill('1500');
  await press(page, 'The heater is on');
  await page.getByText(/^Settled\. Read the meter/).waitFor({ timeout: 120_000 });
  await press(page, 'End');
  await page
    .getByText(/^Metered heater/)
    .first()
    .waitFor(SOON);
}

/** Enters what a flow hood tells, which is marked as the baseline of later visits. */
async function byHood(page: Page, flowM3h: number): Promise<void> {
  await press(page, 'Add a flow from a hood');
  await page.getByLabel('Airflow, m³/h').fill(String(flowM3h));
  await page.getByLabel('Accuracy, ± %').fill('5');
  await press(page, 'Save');
  await page.getByText(/Hood or duct, fan/).waitFor(SOON);
  await page.getByText(/^Fitted to flows that need no anemometer here/).waitFor(SOON);
  await press(page, 'Mark as baseline');
  await page.getByText(/^Baseline: later visits/).waitFor(SOON);
}

/** The fan alone on a coil that is dry: what return and supply differ by is theirs. */
async function zeroed(page: Page, url: string): Promise<void> {
  await pass(url, 900); // the heater is off, and all has come to rest
  await page.locator('summary', { hasText: 'Zero in place' }).click();
  await page.getByLabel('Power of the fan, W').fill('25');
  await page.getByRole('button', { name: 'Start', exact: true }).click();
  await page.getByText('Enough. Tap End.').waitFor({ timeout: 120_000 });
  expect(await smallButtons(page)).toEqual([]);
  await press(page, 'End');
  await page.getByText('Zero in place:').waitFor(SOON);
  expect((await stateOf(url)).zeros.map(({ unit }) => unit)).toEqual(['u1']);
}

const SIZES = [
  { width: 390, height: 844, colorScheme: 'light' as const },
  { width: 1280, height: 800, colorScheme: 'dark' as const },
];

test.each(SIZES.slice(0, LONG ? 2 : 1))(
  'each method, to a capture, at $width px',
  async ({ width, height, colorScheme }) => {
    const { url } = await on.start('demo', '--speed', '60');
    const { page, complaints } = await openPage(on.browser, url, {
      viewport: { width, height },
      colorScheme,
      hasTouch: width < 1000,
      bypassCSP: true, // for the audit's own script
    });
    await page.getByRole('region', { name: 'Delivered capacity' }).waitFor();
    await goTo(page, 'Airflow');
    await page.getByRole('heading', { level: 1, name: 'Airflow' }).waitFor();

    await begin(page, 'Sweep', 'Start the sweep');
    await page.getByRole('button', { name: 'Pause' }).waitFor();
    expect(await faultsOf(page)).toEqual([]);
    await followed(page);
    await page.getByText('In use.').waitFor();
    await begin(page, 'Sweep', 'Start the sweep');
    await followed(page);
    await page.getByText(/2 repeats/).waitFor();

    await begin(page, 'Point by point', 'Start at the first point');
    await followed(page);
    await page.getByText(/Point by point, \d+ points/).waitFor();

    const grid = (await stateOf(url)).airflows.at(-1)?.flowM3s ?? NaN;
    await byHood(page, Math.round(3600 * grid));
    if (LONG) {
      await weighedAndHeated(page, url);
      await zeroed(page, url);
    }

    const { airflows } = await stateOf(url);
    const slow = LONG ? ['condensate', 'heat'] : [];
    const methods = ['sweep', 'sweep', 'grid', 'reference', ...slow];
    expect(airflows.map(({ method }) => method)).toEqual(methods);
    const differ = (a: AirflowResult, b: AirflowResult): boolean =>
      Math.abs(a.flowM3s - b.flowM3s) > 1.2 * Math.hypot(a.u95M3s, b.u95M3s);
    const last = airflows.at(-1);
    for (const each of airflows) {
      if (last !== undefined)
        expect(
          differ(each, last),
          `${each.method} ${each.flowM3s} ± ${each.u95M3s} against ${last.flowM3s}`,
        ).toBe(false);
    }

    // While it cools (again, after the heater) the capture is made with what was measured last.
    await tell(url, { kind: 'setpoint', unit: 'u1', valueC: 16 });
    await goTo(page, 'Capacity');
    await expect
      .poll(
        async () =>
          (await stateOf(url)).captures.filter(
            ({ unit, from }) => unit === 'u1' && from > (last?.t ?? 0),
          ).length,
        { timeout: 120_000 },
      )
      .toBeGreaterThan(0);
    expect((await stateOf(url)).units['u1']?.airflow.source).toBe(last?.method);
    expect(complaints).toEqual([]);
  },
  400_000,
);
