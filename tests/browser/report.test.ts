/// <reference lib="dom" />
/** The report of a visit from the page: one touch, a file; and what is said where there is none. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { getDocumentProxy } from 'unpdf';
import { expect, test } from 'vitest';
import { lookEverywhere, openPage, stage } from './browser.ts';

const on = stage();

test('one touch makes the report, in the units that are read and on the paper of the place', async () => {
  const { url } = await on.start('demo', '--speed', '30');
  const { page, complaints } = await openPage(
    on.browser,
    `${url}/#record`,
    { bypassCSP: true, locale: 'en-US', acceptDownloads: true },
    (made) =>
      made.addInitScript(() => {
        const units = { temperature: 'F', flow: 'cfm', power: 'Btuh' };
        localStorage.setItem('plateau.units', JSON.stringify(units));
      }),
  );
  const button = page.getByRole('button', { name: 'Report (PDF)' });
  await button.waitFor();
  const [download] = await Promise.all([page.waitForEvent('download'), button.click()]);
  await page.getByText('The report is in your downloads.').waitFor();
  expect(download.suggestedFilename()).toMatch(/^visit-.*\.pdf$/);
  const file = join(on.folder, 'report.pdf');
  await download.saveAs(file);
  const pdf = await getDocumentProxy(new Uint8Array(readFileSync(file)));
  const first = await pdf.getPage(1);
  expect(first.view.slice(2)).toEqual([612, 792]); // US Letter, points
  const { items } = await first.getTextContent();
  const text = items.map((item) => ('str' in item ? item.str : '')).join(' ');
  expect(text).toContain('SIMULATED');
  expect(text).not.toContain('kW');
  await lookEverywhere(page, 'record');

  await page.route('**/report.pdf?*', (route) => route.abort());
  await button.click();
  await page.getByRole('alert').getByText('there is no report').waitFor();
  expect(complaints.filter((each) => !each.includes('ERR_FAILED'))).toEqual([]);
});

test('the air on the psychrometric chart is drawn, and said in words', async () => {
  const { url } = await on.start('demo', '--speed', '30');
  const { page, complaints } = await openPage(on.browser, url, { bypassCSP: true });
  const chart = page.getByRole('img', { name: /^From return .* to supply .*drier\.$/ });
  await chart.waitFor();
  await chart.scrollIntoViewIfNeeded();
  await chart.locator('.outline').first().waitFor({ state: 'attached' });
  expect(await chart.locator('.outline').count()).toBe(2);
  await lookEverywhere(page, 'figure');
  expect(complaints).toEqual([]);
});
