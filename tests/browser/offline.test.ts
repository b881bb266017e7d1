/// <reference lib="dom" />
/** The page as an app: it starts without its server, comes back by itself, and is never an old one. */
import { readFileSync } from 'node:fs';
import { get } from 'node:https';
import { join } from 'node:path';
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import * as z from 'zod';
import { makeCertificate } from '../certificate.ts';
import { built, ROOT } from '../program.ts';
import { openPage, stage } from './browser.ts';

const on = stage();
const APP = { serviceWorkers: 'allow', bypassCSP: false } as const;

/** Until the worker holds the whole page. */
const ready = (page: Page): Promise<unknown> =>
  page.evaluate(async () => {
    const { active } = await navigator.serviceWorker.ready;
    for (let i = 0; i < 200 && active?.state !== 'activated'; i++)
      await new Promise((resolve) => setTimeout(resolve, 50));
  });

test('a start without the server says so; it comes back by itself', async () => {
  const { url, port } = await on.start('demo');
  const { page } = await openPage(on.browser, url, APP);
  await page.getByRole('region', { name: 'Delivered capacity' }).waitFor();
  await ready(page);
  await on.server?.end();
  await page.reload();
  await page.getByText(/^The computer that runs Plateau cannot be reached\./).waitFor();
  await on.start('demo', '--port', String(port));
  await page.getByRole('region', { name: 'Delivered capacity' }).waitFor({ timeout: 20_000 });
  // What it holds is the page, and no figure of any visit.
  const held = await page.evaluate(async () => {
    const paths: string[] = [];
    for (const name of await caches.keys()) {
      for (const { url } of await (await caches.open(name)).keys())
        paths.push(new URL(url).pathname);
    }
    return paths;
  });
  expect(held).toContain('/');
  expect(held.filter((path) => path !== '/' && !path.startsWith('/assets/'))).toEqual([]);
});

test('a server that has another page than this one: it is said, and loaded by a touch', async () => {
  const { url } = await on.start('demo');
  const { page, complaints } = await openPage(on.browser, url, {}, async (made) => {
    // As after an update: the program has another name.
    await made.route('**/index.html', async (route) => {
      const response = await route.fetch();
      const body = (await response.text()).replace(/index-[\w-]+\.js/, 'index-newer.js');
      await route.fulfill({ response, body });
    });
  });
  const load = page.getByRole('button', { name: 'Load it' });
  await load.waitFor();
  await page.unroute('**/index.html');
  await load.click();
  await page.getByRole('region', { name: 'Delivered capacity' }).waitFor();
  await page.waitForTimeout(3000);
  expect(await load.count()).toBe(0);
  expect(complaints).toEqual([]);
});

const iconSchema = z.object({ src: z.string(), sizes: z.string(), purpose: z.string().optional() });
const manifestSchema = z.object({
  name: z.literal('Plateau'),
  display: z.literal('standalone'),
  icons: z.array(iconSchema),
});

test('it can be installed: a manifest, icons of their size, a worker that is never kept', async () => {
  const { url } = await on.start('start');
  const response = await fetch(`${url}/manifest.webmanifest`);
  expect(response.headers.get('content-type')).toMatch(/^application\/manifest\+json/);
  const { icons } = manifestSchema.parse(await response.json());
  expect(icons.some(({ purpose }) => purpose === 'maskable')).toBe(true);
  for (const { src, sizes } of icons.filter(({ src }) => src.endsWith('.png'))) {
    const png = Buffer.from(await (await fetch(new URL(src, url))).arrayBuffer());
    // Width and height stand at fixed places (PNG, ISO/IEC 15948, 11.2.2).
    expect(`${png.readUInt32BE(16)}x${png.readUInt32BE(20)}`, src).toBe(sizes);
  }
  const worker = await fetch(`${url}/sw.js`);
  expect(worker.headers.get('content-type')).toMatch(/javascript/);
  expect(worker.headers.get('cache-control')).toBe('no-store');
  expect(worker.headers.get('content-security-policy')).toMatch(
    /worker-src 'self'.*manifest-src 'self'/,
  );
  expect((await fetch(url)).headers.get('cache-control')).toBe('no-store');
});

test('over https, with the README’s certificate: trusted by who trusts its authority, and a secure cookie', async () => {
  const { cert, key, authority } = makeCertificate(on.folder);
  const { port } = await on.start('demo', '--lan', '--cert', cert, '--key', key);
  const ca = readFileSync(authority);
  const statusBy = (more: object): Promise<number | undefined> =>
    new Promise((resolve, reject) => {
      get({ host: '127.0.0.1', port, path: '/api/health', ...more }, (response) => {
        response.resume();
        resolve(response.statusCode);
      }).on('error', reject);
    });
  expect(await statusBy({ ca })).toBe(200);
  await expect(statusBy({})).rejects.toThrow(/certificate/);

  const url = `https://127.0.0.1:${port}`;
  const { page, complaints } = await openPage(on.browser, url, { ignoreHTTPSErrors: true });
  await page.getByRole('region', { name: 'Delivered capacity' }).waitFor();
  const status = await page.evaluate(async () => {
    const headers = { 'content-type': 'application/json' };
    const made = await fetch('/api/phones/codes', {
      ...{ method: 'POST', headers, body: JSON.stringify({ role: 'viewer' }) },
    });
    const { code } = (await made.json()) as { code: string };
    const body = JSON.stringify({ code, name: 'Ana' });
    return (await fetch('/api/session', { method: 'POST', headers, body })).status;
  });
  expect(status).toBe(200);
  const [cookie] = await page.context().cookies();
  expect(cookie).toMatchObject({ secure: true, httpOnly: true, sameSite: 'Strict' });
  expect(complaints).toEqual([]);
});

test('the build names every file that the page may need in the worker', async () => {
  expect((await built()).status).toBe(0);
  const worker = readFileSync(join(ROOT, 'build/client/sw.js'), 'utf8');
  const { files } = z
    .object({ version: z.string().min(8), files: z.array(z.string()) })
    .parse(JSON.parse(/^self\.BUILT = (.*);$/m.exec(worker)?.[1] ?? ''));
  expect(files.some((file) => /\/index-.*\.js$/.test(file))).toBe(true);
  expect(files.some((file) => /\/Join-.*\.js$/.test(file))).toBe(true);
  expect(files.filter((file) => /\.(br|gz)$/.test(file))).toEqual([]);
});
