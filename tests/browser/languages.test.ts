/// <reference lib="dom" />
/** The page in Spanish: no state that a person can meet has English of ours left in it. */
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { SPANISH } from '../../server/words/spanish/index.ts';
import { stage } from './browser.ts';
import { openTold, pastOf } from './frames.ts';
import { EARLIER, SHOWN, STEADY, visitWith } from './states.ts';

const on = stage();
const PAST = pastOf(600, (s) => 2600 - 1500 * Math.exp((s - 600) / 200), ['u1', 'u2']);

/** What stands between the holes of a key, where it is long enough to be no name and no word of Spanish. */
const LONG = /\p{L}{2,}\W+\p{L}+\W+\p{L}{2,}/u;
const ENGLISH = Object.entries(SPANISH)
  .filter(([key, spanish]) => key !== spanish)
  .flatMap(([key]) => key.split(/\{\d+\}/))
  .map((part) => part.trim())
  .filter((part) => LONG.test(part));

/** All that is said on the page, for the eye and for the ear. */
const said = (page: Page): Promise<string> =>
  page.evaluate(() => {
    const aloud = [...document.querySelectorAll('[aria-label], [title], [placeholder], [alt]')];
    const names = aloud.flatMap((e) =>
      ['aria-label', 'title', 'placeholder', 'alt'].map((name) => e.getAttribute(name) ?? ''),
    );
    return [document.body.textContent, ...names].join('\n');
  });

/** What sticks out of the screen, and what does not fit into its button, link, label or heading. */
const cut = (page: Page): Promise<string[]> =>
  page.evaluate(() => {
    const wide = document.documentElement.scrollWidth > innerWidth ? ['the page'] : [];
    const parts = [
      ...document.querySelectorAll<HTMLElement>('button, a, label, h1, h2, nav strong'),
    ];
    const out = parts.filter((e) => {
      const { right, width } = e.getBoundingClientRect();
      if (width <= 1) return false;
      const isInline = getComputedStyle(e).display === 'inline';
      return right > innerWidth + 1 || (!isInline && e.scrollWidth > e.clientWidth + 1);
    });
    return [...wide, ...out.map((e) => e.textContent.trim())];
  });

test.each([
  ['es-MX', 390],
  ['es-ES', 1280],
])('nothing of it in English or cut off, %s, %i px', async (locale, width) => {
  const { page, send, complaints } = await openTold(on, {
    ...{ frames: [visitWith(STEADY), PAST], earlier: EARLIER },
    context: { locale, viewport: { width, height: 844 } },
  });
  await expect.poll(() => page.evaluate(() => document.documentElement.lang)).toBe('es');
  const found: string[] = [];
  // Those that are opened by their English names are left out: what they open hangs on those names.
  for (const { name, state, at } of SHOWN.filter(({ open }) => open === undefined)) {
    send(state);
    await page.evaluate((hash) => (location.hash = hash), at);
    await page.waitForTimeout(400);
    const text = await said(page);
    found.push(...ENGLISH.filter((part) => text.includes(part)).map((part) => `${name}: ${part}`));
    found.push(...(await cut(page)).map((part) => `${name}, cut: ${part}`));
  }
  expect(found).toEqual([]);
  expect(complaints).toEqual([]);
});

test('a refusal in Spanish is told at its field', async () => {
  const { page } = await openTold(on, {
    ...{ frames: [visitWith(STEADY), PAST], context: { locale: 'es-MX' } },
  });
  await page.evaluate(() => (location.hash = '#airflow'));
  await page.getByRole('button', { name: 'Ingresar otro' }).first().click();
  const field = page.getByLabel('Exactitud, ± %');
  await field.fill('');
  await page.getByRole('button', { name: /^Guardar/ }).click();
  await page
    .getByRole('alert')
    .getByText(/^La exactitud falta/)
    .waitFor();
  expect(await field.getAttribute('aria-invalid')).toBe('true');
  expect(await field.evaluate((e) => e === document.activeElement)).toBe(true);
});
