/** The demo over Bluetooth as a person meets it: radio process, library and adapter are at work. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Locator, Page } from 'playwright-core';
import { expect, test } from 'vitest';
import * as z from 'zod';
import { hasRadioLibrary } from '../radio-library.mjs';
import { openPage, shownW, stage } from './browser.ts';

const on = stage();
/** All seven have to be found and linked first, one at a time. */
const FOUND = { timeout: 60_000 };

const rowOf = (page: Page, name: string): Locator =>
  page.getByRole('listitem').filter({ has: page.getByRole('heading', { name, exact: true }) });
const act = (page: Page, words: string): Locator =>
  page.getByRole('button', { name: words, exact: true });

test.skipIf(!hasRadioLibrary)(
  'a capacity, and the signal of every probe; one is locked, unlocked, forgotten, placed',
  async () => {
    const { url } = await on.start('demo', '--over-bluetooth');
    const { page, complaints } = await openPage(on.browser, url);
    await expect.poll(() => shownW(page).catch(() => 0), FOUND).toBeGreaterThan(500);
    expect(await page.getByText('Simulated: no real air is measured here').isVisible()).toBe(true);

    await page
      .getByRole('link', { name: /^Probes/ })
      .first()
      .click();
    await page.getByText('7 probes: 7 in order.').waitFor(FOUND);
    const rows = page.getByRole('listitem').filter({ hasText: 'dBm' });
    await expect.poll(() => rows.count()).toBe(7);
    for (const row of await rows.all()) {
      // A radio that links to another probe is deaf for seconds: a row is looked at until it is heard.
      await row.getByText('heard now').waitFor(FOUND);
      const text = await row.innerText();
      expect(text).toMatch(/−\d\d\sdBm, (strong|good|fair|weak)/);
      expect(text).toMatch(/\d\s°C|\d\sm\/s/);
      expect(text).toMatch(/simulated[\s\S]*from Bluetooth\s*ble:f01ab000000[1-7]/);
    }

    // The supply, right, broadcasts encrypted.
    const name = 'Reading room supply, right';
    const keys: unknown = JSON.parse(readFileSync(join(on.folder, 'bluetooth-keys.json'), 'utf8'));
    const key = z.record(z.string(), z.string()).parse(keys)['f01ab0000004'] ?? '';
    await fetch(`${url}/api/bluetooth/keys/f01ab0000004`, {
      method: 'PUT',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ key: null }),
    });
    const form = page.getByRole('form', { name: `Key of ${name}` });
    await form.getByRole('textbox').fill(key);
    await act(page, 'Save key').click();
    await form.waitFor({ state: 'detached' });
    await rowOf(page, name).getByText('heard now').waitFor(FOUND);

    const linked = 'Reading room return';
    await act(page, `Forget: ${linked}`).click();
    await act(page, 'Forget it').click();
    await rowOf(page, linked).getByText('not placed').waitFor();
    await rowOf(page, linked).getByText('heard now').waitFor(FOUND);
    await act(page, `Place it: ${linked}`).click();
    await page
      .getByRole('group', { name: 'Reading room' })
      .getByRole('button', { name: /^Return/ })
      .click();
    await rowOf(page, linked).getByText('return, Reading room').waitFor();
    await page.getByText('7 probes: 7 in order.').waitFor(FOUND);
    await page.getByRole('navigation').getByRole('link', { name: 'Capacity' }).click();
    await expect.poll(() => shownW(page).catch(() => 0), FOUND).toBeGreaterThan(500);
    expect(complaints).toEqual([]);
  },
);
