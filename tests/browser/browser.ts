/// <reference lib="dom" />
/** A real browser for the tests of the page. Whatever the page complains of fails the test. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { afterAll, afterEach, beforeAll, expect, inject } from 'vitest';
import { LONG } from '../long.ts';
import { type RunningServer, startServer, tempFolder } from '../program.ts';

export interface Watched {
  page: Page;
  /** What the page complained of, but for a line that is down. */
  complaints: string[];
}

/** Opens a page that may talk to nobody but the server. @param prepare done before it goes there */
export async function openPage(
  browser: Browser,
  url: string,
  options: BrowserContextOptions = {},
  prepare: (page: Page) => Promise<unknown> = async () => undefined,
): Promise<Watched> {
  const context = await browser.newContext({
    viewport: { width: 1280, height: 800 },
    serviceWorkers: 'block', // what it answered, no test could
    ...options,
  });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('console', (message) => {
    if (message.type() === 'error' && !message.text().includes('WebSocket connection')) {
      complaints.push(message.text());
    }
  });
  page.on('request', (request) => {
    if (new URL(request.url()).host !== new URL(url).host)
      complaints.push(`went to ${request.url()}`);
  });
  await prepare(page);
  await page.goto(url);
  return { page, complaints };
}

const require = createRequire(import.meta.url);
let axe = '';

/**
 * What an audit finds against accessibility. The page must have been opened with `bypassCSP`.
 * @param rules only these of its rules; none: all
 */
export async function faultsOf(page: Page, rules: string[] = []): Promise<string[]> {
  axe ||= readFileSync(require.resolve('axe-core/axe.min.js'), 'utf8');
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(axe);
  return page.evaluate(async (only) => {
    const { axe } = window as unknown as {
      axe: {
        run(options: object): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }>;
      };
    };
    const options = { resultTypes: ['violations'] };
    const { violations } = await axe.run(
      only.length === 0 ? options : { ...options, runOnly: { type: 'rule', values: only } },
    );
    return violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.html).join(' | ')}`);
  }, rules);
}

/** The screens that a page is looked at on: a phone and a laptop. */
export const SCREENS = [
  { width: 390, height: 844 },
  { width: 1280, height: 800 },
] as const;
/** Of the rules of the audit those that depend on the colors. */
const COLOR_RULES = ['color-contrast', 'link-in-text-block'];

/**
 * Looks at a page on a phone and on a laptop, in light and in dark: no accessibility fault, no button too
 * small for a thumb, nothing wider than the screen. The page, opened with `bypassCSP`, is left on the
 * screen that it had, in light.
 * @param what what is looked at, for the message
 */
export async function lookEverywhere(page: Page, what = ''): Promise<void> {
  const before = page.viewportSize();
  for (const screen of SCREENS) {
    const at = `${what} at ${screen.width} px`;
    await page.setViewportSize(screen);
    await page.emulateMedia({ colorScheme: 'light' });
    expect.soft(await faultsOf(page), `${at}, light`).toEqual([]);
    expect.soft(await smallButtons(page), at).toEqual([]);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    expect.soft(wide, at).toBeLessThanOrEqual(screen.width);
    // The colors are the same on both screens, and what they are measured on is nearly so.
    if (!LONG && screen !== SCREENS[0]) continue;
    await page.emulateMedia({ colorScheme: 'dark' });
    expect.soft(await faultsOf(page, COLOR_RULES), `${at}, dark`).toEqual([]);
  }
  await page.emulateMedia({ colorScheme: 'light' });
  if (before !== null) await page.setViewportSize(before);
}

/** The buttons that are too small for a thumb. */
export function smallButtons(page: Page): Promise<string[]> {
  return page.evaluate(() =>
    [...document.querySelectorAll('button')]
      .map((button) => ({ text: button.textContent, box: button.getBoundingClientRect() }))
      .filter(({ box }) => box.width > 0 && (box.height < 44 || box.width < 44))
      .map(({ text, box }) => `${text} ${box.width}×${box.height}`),
  );
}

/** The text of the region of the big figure, with plain spaces. */
async function figureText(page: Page): Promise<string> {
  const text = await page.getByRole('region', { name: 'Delivered capacity' }).innerText();
  return text.replace(/[\s\u00a0\u2009\u202f]+/g, ' ');
}

/** The big figure, in W. */
export async function shownW(page: Page): Promise<number> {
  const text = await figureText(page);
  const match = /(-?[\d.]+)\s*(?:±\s*[\d.]+)?\s*kW/.exec(text);
  expect(match, text).not.toBeNull();
  return Number(match?.[1]) * 1000;
}

/** The half-width of its interval, in W. */
export async function shownU95W(page: Page): Promise<number> {
  const text = await figureText(page);
  const match = /Total capacity\s*[\d.]+\s*±\s*([\d.]+)\s*kW/.exec(text);
  expect(match, text).not.toBeNull();
  return Number(match?.[1]) * 1000;
}

/** What a file of browser tests runs on: the one browser, and for each test a server and a fresh folder. */
export interface Stage {
  browser: Browser;
  /** The server of the present test, null before `start`. */
  server: RunningServer | null;
  /** The data folder of the present test. */
  folder: string;
  /** Starts the server of the present test (again), on a free port unless one is given. */
  start(command: 'demo' | 'start', ...more: string[]): Promise<RunningServer>;
}

/** Sets the stage up and clears it away; to be called once, at the top of a file. */
export function stage(): Stage {
  let browser: Browser | null = null;
  let folder = tempFolder();
  const made: Stage = {
    get browser() {
      if (browser === null) throw new Error('The browser is there from the first test on.');
      return browser;
    },
    server: null,
    get folder() {
      return folder.path;
    },
    async start(command, ...more) {
      const port = more.includes('--port') ? [] : ['--port', '0'];
      made.server = await startServer(command, [...port, '--data', folder.path, ...more]);
      return made.server;
    },
  };
  beforeAll(async () => {
    browser = await chromium.connect(inject('browser'));
  });
  afterAll(() => browser?.close());
  afterEach(async () => {
    // A page that is left open would go on drawing, or looking for its server.
    await Promise.all(browser?.contexts().map((context) => context.close()) ?? []);
    await made.server?.end();
    made.server = null;
    folder.remove();
    folder = tempFolder();
  });
  return made;
}
