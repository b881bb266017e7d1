/// <reference lib="dom" />
/**
 * A whole visit as a person goes through it: probes compared, airflow looked at, setpoint pushed, a steady
 * figure captured, what was captured found again. Two sizes; `WHOLE_VISIT=all` for four, light and dark, and
 * `SHOTS=FOLDER` for a picture of each place.
 */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { extractText } from 'unpdf';
import { expect, test } from 'vitest';
import { faultsOf, openPage, smallButtons, stage } from './browser.ts';

const on = stage();

const SIZES = [
  [390, 844],
  [844, 390],
  [768, 1024],
  [1280, 800],
] as const;
const ALL = SIZES.flatMap(([width, height]) =>
  (['light', 'dark'] as const).map((scheme) => ({ width, height, scheme })),
);
const SOME = [
  { width: 390, height: 844, scheme: 'dark' as const },
  { width: 1280, height: 800, scheme: 'light' as const },
];

const go = (page: Page, place: string): Promise<void> =>
  page.getByRole('navigation').getByRole('link', { name: place }).click();

test.each(process.env['WHOLE_VISIT'] === 'all' ? ALL : SOME)(
  'at $width×$height, $scheme',
  async ({ width, height, scheme }) => {
    const { url } = await on.start('demo', '--speed', '60');
    const { page, complaints } = await openPage(on.browser, url, {
      viewport: { width, height },
      colorScheme: scheme,
      hasTouch: width < 1000,
      bypassCSP: true, // for the audit's own script
    });
    const next = page.getByRole('link', { name: /^Next: / });
    async function look(place: string): Promise<void> {
      expect(await faultsOf(page), place).toEqual([]);
      expect(await smallButtons(page), place).toEqual([]);
      const wide = await page.evaluate(() => document.documentElement.scrollWidth);
      expect(wide, place).toBeLessThanOrEqual(width);
      const folder = process.env['SHOTS'];
      if (folder === undefined) return;
      await page.screenshot({ path: `${folder}/${place}-${width}-${scheme}.png` });
    }

    await page.getByRole('region', { name: 'Delivered capacity' }).waitFor();
    await go(page, 'Probes');
    await page.getByRole('heading', { level: 1, name: 'Probes' }).waitFor();
    const check = page.getByRole('region', { name: 'Check the probes side by side' });
    await check.getByRole('button', { name: 'Start' }).click();
    await page.getByRole('link', { name: 'Next: leave the probes in the check' }).waitFor();
    await look('check');
    await page.getByRole('link', { name: 'Next: end the check' }).waitFor({ timeout: 60_000 });
    await next.click();
    await check.getByRole('button', { name: 'End' }).click();
    await check.getByText(/^Ended at/).waitFor();
    await page.getByRole('link', { name: /^Probes.*done/ }).waitFor();
    await look('probes');

    await go(page, 'Airflow');
    await page.getByRole('button', { name: 'Enter another' }).waitFor();
    await look('airflow');

    await go(page, 'Capacity');
    const down = page.getByRole('button', { name: 'Setpoint down' });
    for (let i = 0; i < 6; i++) await down.click();
    await page.getByText('high', { exact: true }).click();
    await look('settling');
    // At sixty times the speed it may stop being steady under the finger: it is touched again, and what
    // the server refused then is no fault.
    const soFar = complaints.length;
    const touched = page.getByText(/, steady, by hand/).first();
    await expect
      .poll(
        async () => {
          const capture = page.getByRole('button', { name: 'Capture' });
          await capture.click({ timeout: 2000 }).catch(() => undefined);
          return touched.count();
        },
        { timeout: 90_000, interval: 1000 },
      )
      .toBeGreaterThan(0);
    const since = complaints.splice(soFar);
    complaints.push(...since.filter((each) => !each.includes('400 (Bad Request)')));
    await look('steady');

    await go(page, 'Verdict');
    // The simulated maker’s table is there already, for the fastest speed.
    await page
      .getByText(/^Expected/)
      .first()
      .waitFor();
    await page.getByRole('button', { name: 'Enter what the maker publishes' }).click();
    const published = page.getByRole('dialog', { name: 'What the maker publishes' });
    // The reading room’s unit gives some 3.8 kW, less than nine tenths of this.
    await published
      .getByLabel('The figures, as they are printed')
      .fill('\t25\t35\n16\t4.8\t4.5\n22\t5.7\t5.3');
    await published.getByText('Read as').waitFor();
    await published.getByRole('button', { name: 'Save' }).click();
    await published.waitFor({ state: 'detached' });
    await page.getByText('Not asked for all it has').first().waitFor();
    await look('not asked');
    await page.getByRole('button', { name: /^Start the push test|^Push it once more/ }).click();
    await page
      .getByRole('button', { name: /^It is set to|^Boost is on/ })
      .first()
      .click();
    await page.getByText(/this is all it gives/).waitFor({ timeout: 90_000 });
    await page.getByText(/may or may not deliver|delivers less than/).waitFor();
    await page.getByRole('button', { name: /^Mark this capture/ }).click();
    await page.getByText(/^This capture is a baseline/).waitFor();
    await look('verdict');

    await go(page, 'Record');
    await page.getByRole('link', { name: 'Visit settings' }).click();
    const settings = page.getByRole('dialog', { name: 'Visit settings' });
    await settings.getByText('For the record: who, where, why').click();
    await settings.getByLabel('Customer').fill('The library');
    await settings.getByRole('button', { name: 'Save' }).click();
    await settings.waitFor({ state: 'detached' });
    await page.getByText('The library', { exact: true }).waitFor();
    const captures = page.getByRole('list', { name: /^Captures/ }).first();
    expect(await captures.getByRole('listitem').count()).toBeGreaterThan(0);
    await page.getByRole('link', { name: 'Download the visit log' }).waitFor();
    await look('record');
    const saved = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Report (PDF)' }).click();
    const file = join(on.folder, 'whole-visit.pdf');
    await (await saved).saveAs(file);
    const { text } = await extractText(new Uint8Array(readFileSync(file)), { mergePages: true });
    for (const part of [
      'The library',
      'Verdict: ',
      'Baseline',
      'SIMULATED',
      'What the ± is made of',
    ]) {
      expect(text).toContain(part);
    }
    expect(complaints).toEqual([]);
  },
  240_000,
);
