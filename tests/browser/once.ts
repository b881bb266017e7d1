/** Made once for all browser tests: the build, a browser, and a server for pages that the test feeds. */
import { chromium } from 'playwright-core';
import type { TestProject } from 'vitest/node';
import { findChromium } from '../chromium.mjs';
import { built, startServer, tempFolder } from '../program.ts';

declare module 'vitest' {
  interface ProvidedContext {
    /** Where the browser is to be had. */
    browser: string;
    /** Where the page is to be had that a test feeds by itself. */
    page: string;
  }
}

/**
 * The last of these switches is the one that counts, so those that Playwright sets stand here again. The
 * others are the browser's own list below its address bar: two pages of its own for each window, which
 * nobody sees here, and half of all the work of opening one.
 */
const WITHOUT = [
  ...['AvoidUnnecessaryBeforeUnloadCheckSync', 'DestroyProfileOnBrowserClose', 'HttpsUpgrades'],
  ...['HttpsFirstBalancedModeAutoEnable', 'LensOverlay', 'MediaRouter', 'PaintHolding'],
  ...['ThirdPartyStoragePartitioning', 'AvoidCorsURLLoaderRestartOnRedirect', 'OptimizationHints'],
  ...['NetworkTimeServiceQuerying', 'AimEnabled', 'PreconnectToSearch'],
  ...['WebUIOmniboxPopup', 'WebUIOmniboxAimPopup', 'WebUIOmniboxFullPopup'],
];

const ARGS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  `--disable-features=${WITHOUT.join(',')}`,
];

/** Starts Chromium: `CHROMIUM_PATH` (set by `npm test`), else one that is found here. */
export default async function setUp({ provide }: TestProject): Promise<() => Promise<void>> {
  const executablePath = findChromium();
  if (executablePath === null) {
    throw new Error('No Chromium found: set CHROMIUM_PATH to one, or run the tests by `npm test`.');
  }
  const { status, err } = await built();
  if (status !== 0) throw new Error(`The build failed: ${err}`);
  const folder = tempFolder();
  const server = await startServer('start', ['--port', '0', '--data', folder.path]);
  const browser = await chromium.launchServer({ executablePath, args: ARGS });
  provide('browser', browser.wsEndpoint());
  provide('page', server.url);
  return async () => {
    await browser.close();
    await server.end();
    folder.remove();
  };
}
