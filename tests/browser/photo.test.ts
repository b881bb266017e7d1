/// <reference lib="dom" />
/** A note and photos of a capture: by hand on a phone and at a desk, and in the demo from camera to record. */
import { join } from 'node:path';
import { writeFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import { captureWith, stateWith, T0 } from '../client/fixtures.ts';
import { jpegOf, SECRETS, withTraces } from '../photo/pictures.ts';
import { faultsOf, openPage, smallButtons, stage } from './browser.ts';
import { openTold, pastOf } from './frames.ts';

const on = stage();
const PAST = pastOf(600, () => 2600);
const FIRST = captureWith({ from: T0 - 500_000, to: T0 - 300_000, totalW: 2400 });
const TOUCHED = captureWith({ from: T0 - 200_000, to: T0 - 100_000, by: 'touch', totalW: 2640 });
const PHOTOS = ['1', '2', '3'].map((n) => ({ id: n.repeat(32), bytes: 1000 }));
/** Red above, blue below, and held on its side. */
const picture = async (): Promise<Buffer> =>
  withTraces(await jpegOf(800, 2000, (_, y) => (y < 1000 ? [220, 30, 30] : [30, 30, 220])), 6);

async function serveAnyPhoto(page: Page): Promise<void> {
  const body = await jpegOf(640, 480, (x, y) => [x / 4, 120, y / 3]);
  await page.route(/\/api\/photos\//, (route) =>
    route.fulfill({ contentType: 'image/jpeg', body }),
  );
}

test.each([
  [390, 'dark'],
  [1280, 'light'],
] as const)(
  'at %i px, %s: a note, a photo, opened large, taken off',
  async (width, colorScheme) => {
    const { page, calls, send, complaints } = await openTold(on, {
      frames: [stateWith({ captures: [FIRST, TOUCHED] }), PAST],
      context: { viewport: { width, height: 844 }, colorScheme, bypassCSP: true },
      prepare: serveAnyPhoto,
    });
    const rows = page.getByRole('list', { name: 'Captures' }).locator('> li');
    const row = rows.filter({ hasText: 'by hand' });
    const { unit, from, to } = TOUCHED;
    const which = { kind: 'remark', unit, from, by: 'touch', to };

    await row.getByRole('button', { name: /^Note: 2\.64/ }).click();
    const note = page.getByRole('dialog', { name: /^Note on 2\.64/ });
    expect(await faultsOf(page)).toEqual([]);
    await note.getByLabel(/^Note/).fill('filter washed\nlouvre down');
    await note.getByRole('button', { name: 'Save' }).click();
    await note.waitFor({ state: 'detached' });
    expect(calls.at(-1)?.body).toEqual({ ...which, text: 'filter washed\nlouvre down' });
    send({ ...TOUCHED, note: 'filter washed\nlouvre down' });
    await row.getByText('filter washed').waitFor();

    const file = join(on.folder, 'photo.jpg');
    writeFileSync(file, await picture());
    const input = row.getByLabel(/^Photo: 2\.64/);
    expect(await input.getAttribute('accept')).toBe('image/*');
    expect(await input.getAttribute('capture')).toBe('environment');
    await input.setInputFiles(file);
    await expect.poll(() => calls.at(-1)?.path).toBe('/api/captures/photo');
    // It went over the line small, and without what the camera wrote.
    const sent = calls.at(-1)?.body;
    if (!Buffer.isBuffer(sent)) throw new Error('no picture was sent');
    for (const word of SECRETS) expect(sent.toString('latin1')).not.toContain(word);
    expect(sent.length).toBeLessThan(300_000);

    send({ ...TOUCHED, note: 'filter washed\nlouvre down', photos: PHOTOS });
    const thumbs = row.getByRole('list', { name: /^Photos of 2\.64/ }).getByRole('button');
    await expect.poll(() => thumbs.count()).toBe(3);
    expect(await faultsOf(page)).toEqual([]);
    expect(await smallButtons(page)).toEqual([]);
    const label = await row.locator('label').boundingBox();
    expect(Math.min(label?.height ?? 0, label?.width ?? 0)).toBeGreaterThanOrEqual(44);
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(
      width,
    );

    await thumbs.nth(1).press('Enter');
    const large = page.getByRole('dialog', { name: /^Photo 2 of 3, 2\.64/ });
    await expect
      .poll(() => large.getByRole('img').evaluate((e) => (e as HTMLImageElement).naturalWidth))
      .toBe(640);
    expect(await faultsOf(page)).toEqual([]);
    await page.keyboard.press('Escape');
    await large.waitFor({ state: 'detached' });
    expect(await page.evaluate(() => document.activeElement?.getAttribute('aria-label'))).toBe(
      'Open photo 2 of 3',
    );
    await thumbs.nth(1).click();
    await large.getByText('it stays in the record').waitFor();
    await large.getByRole('button', { name: 'Take it off' }).click();
    expect(calls.at(-1)?.body).toEqual({ ...which, photo: PHOTOS[1]?.id, off: true });
    await large.waitFor({ state: 'detached' });

    // Four are enough.
    const four = [...PHOTOS, { id: '4'.repeat(32), bytes: 1 }];
    send({ ...TOUCHED, photos: four });
    await row.getByText('4 photos').waitFor();
    expect(await input.isDisabled()).toBe(true);
    expect(complaints).toEqual([]);
  },
);

test('what is no picture is said before it is sent; a refusal stands in the row', async () => {
  const { page, calls } = await openTold(on, {
    frames: [stateWith({ captures: [FIRST] }), PAST],
    answer: () => 'photo: it would be one too many: a capture has at most 4 photos',
  });
  const file = join(on.folder, 'photo.heic');
  writeFileSync(file, 'no picture');
  const input = page.getByLabel(/^Photo: 2\.40/);
  await input.setInputFiles(file);
  await page
    .getByRole('alert')
    .getByText(/^This browser cannot read that file as a picture/)
    .waitFor();
  expect(calls).toEqual([]);
  writeFileSync(file, await jpegOf(60, 60));
  await input.setInputFiles(file);
  await page
    .getByRole('alert')
    .getByText(/^The photo: it would be one too many/)
    .waitFor();
});

test('in the demo: a photo goes into the record, is there after a restart and in the old visit, upright', async () => {
  const first = await on.start('demo', '--speed', '60');
  const one = await openPage(on.browser, first.url);
  const input = one.page.getByLabel(/^Photo: /).first();
  await input.waitFor({ state: 'attached', timeout: 90_000 });
  const file = join(on.folder, '..', `photo-${process.pid}.jpg`);
  writeFileSync(file, await picture());
  await input.setInputFiles(file);
  const thumb = one.page.getByRole('button', { name: 'Open photo 1 of 1' });
  await thumb.waitFor({ timeout: 60_000 });
  await first.end('SIGKILL');

  const second = await on.start('demo', '--port', String(first.port));
  const again = await openPage(on.browser, second.url);
  await again.page.getByRole('button', { name: 'Open photo 1 of 1' }).click({ timeout: 20_000 });
  const image = again.page.getByRole('dialog').getByRole('img');
  await expect.poll(() => image.evaluate((e) => (e as HTMLImageElement).naturalWidth)).toBe(1280);
  // By this browser's decoder: turned as Exif said (6: the right-hand side was up), so red is at the right.
  const seen = await image.evaluate((e) => {
    const picture = e as HTMLImageElement;
    const canvas = document.createElement('canvas');
    [canvas.width, canvas.height] = [picture.naturalWidth, picture.naturalHeight];
    const pen = canvas.getContext('2d');
    pen?.drawImage(picture, 0, 0);
    const at = (x: number) => [...(pen?.getImageData(x, 200, 1, 1).data ?? [])].slice(0, 3);
    return { height: canvas.height, left: at(200), right: at(1080) };
  });
  expect(seen.height).toBe(512);
  const isNear = (a: number[], b: number[]) => a.every((v, i) => Math.abs(v - (b[i] ?? 0)) < 12);
  expect(isNear(seen.right, [220, 30, 30]), String(seen.right)).toBe(true);
  expect(isNear(seen.left, [30, 30, 220]), String(seen.left)).toBe(true);

  const { visit } = (
    (await (await fetch(`${second.url}/api/state`)).json()) as { record: { visit: string } }
  ).record;
  await again.page.goto(`${second.url}/#visits/${visit}`);
  await again.page.getByRole('button', { name: 'Open photo 1 of 1' }).click({ timeout: 20_000 });
  expect(await again.page.getByRole('button', { name: 'Take it off' }).count()).toBe(0);
  expect(await again.page.getByLabel(/^Photo: /).count()).toBe(0);
  expect(again.complaints).toEqual([]);
});
