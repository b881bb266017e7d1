/// <reference lib="dom" />
/** Everyone can use it: in every state, with large text, by ear, and by keyboard alone. */
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { unitWith, stateWith, T0 } from '../client/fixtures.ts';
import { type ClassShown, JOINED, LED, showClass } from './class-states.ts';
import { lookEverywhere, openPage, stage } from './browser.ts';
import { openTold, pastOf, snapshotOf, type TellOptions } from './frames.ts';
import { illegible } from './legible.ts';
import { EARLIER, show, SHOWN, STEADY, visitWith } from './states.ts';

const on = stage();
const PAST = pastOf(600, (s) => 2600 - 1500 * Math.exp((s - 600) / 200), ['u1', 'u2']);
const opened = () =>
  openTold(on, {
    ...{ frames: [visitWith(STEADY), PAST], earlier: EARLIER },
    context: { bypassCSP: true },
  });

const CLASSES = [
  { who: 'who leads it', shown: LED },
  { who: 'a trainee', shown: JOINED },
];
const openedOfClass = (shown: ClassShown[], more: Partial<TellOptions> = {}) =>
  openTold(on, {
    ...{ frames: [visitWith(STEADY), PAST], served: shown[0]?.served ?? {} },
    context: { bypassCSP: true },
    ...more,
  });

describe('in every state', () => {
  test('no accessibility fault, no small target, nothing wider than the screen', async () => {
    const { page, send, cut, stall, complaints } = await opened();
    for (const shown of SHOWN) {
      await show(page, send, shown);
      await lookEverywhere(page, shown.name);
    }
    await page.keyboard.press('Escape');
    await page.evaluate(() => (location.hash = '#figure'));
    stall();
    await page.getByText('Late', { exact: true }).waitFor();
    await lookEverywhere(page, 'late');
    cut();
    await page.getByText(/^Reconnecting/).waitFor();
    await lookEverywhere(page, 'connection lost');
    expect(complaints).toEqual([]);
  });

  test.each(CLASSES)('of a class, $who: no accessibility fault', async ({ shown }) => {
    const { page, serve, complaints } = await openedOfClass(shown);
    for (const each of shown) {
      await showClass(page, serve, each);
      await lookEverywhere(page, each.name);
    }
    expect(complaints).toEqual([]);
  });

  test('the large figure is all that is seen, on the whole screen', async () => {
    const { page, send } = await opened();
    const large = SHOWN.filter(({ name }) => name === 'large');
    expect(large).toHaveLength(1);
    for (const shown of large) await show(page, send, shown);
    await expect.poll(() => page.evaluate(() => document.fullscreenElement?.tagName)).toBe('HTML');
    const seen = await page.screenshot();
    await page.addStyleTag({ content: '.frame { visibility: hidden }' });
    expect((await page.screenshot()).equals(seen)).toBe(true);
  });

  // As the browser's own setting has it, 16 px by default; and its zoom, which halves the screen.
  test.each([
    { px: 32, width: 390, height: 844 },
    { px: 32, width: 1280, height: 800 },
    { px: 16, width: 640, height: 400 },
  ])('text at twice its size can be read: $px px at $width×$height', async (screen) => {
    const { px, ...viewport } = screen;
    const options = {
      context: { bypassCSP: true, viewport },
      prepare: async (made: Page) => {
        const cdp = await made.context().newCDPSession(made);
        await cdp.send('Page.setFontSizes', { fontSizes: { standard: px } });
      },
    };
    const { page, send } = await openTold(on, { frames: [visitWith(STEADY), PAST], ...options });
    const folder = process.env['SHOTS'];
    const read = async (on: Page, name: string): Promise<void> => {
      await on.waitForTimeout(100);
      const at = `${name}, text of ${px} px at ${viewport.width} px`;
      if (folder !== undefined) {
        await on.screenshot({ path: `${folder}/${name}-${px}-${viewport.width}.png` });
      }
      const wide = await on.evaluate(() => document.documentElement.scrollWidth);
      expect.soft(wide, at).toBeLessThanOrEqual(viewport.width);
      expect.soft(await illegible(on), at).toEqual([]);
    };
    for (const shown of SHOWN) {
      await show(page, send, shown);
      await read(page, shown.name);
    }
    for (const { shown } of CLASSES) {
      const { page: classPage, serve } = await openedOfClass(shown, options);
      for (const each of shown) {
        await showClass(classPage, serve, each);
        await read(classPage, each.name);
      }
    }
  });
});

declare global {
  interface Window {
    /** What a screen reader has been told by itself. */
    announced: string[];
  }
}

/** Notes what changes in what is read out by itself, once the page has come to rest. */
function listen(): void {
  const LIVE = '[role=status], [role=alert], [aria-live]';
  window.announced = [];
  const before = new WeakMap<Element, string>();
  const look = (): void => {
    for (const live of document.querySelectorAll(LIVE)) {
      const text = (live.textContent ?? '').replace(/\s+/g, ' ').trim();
      if (text !== (before.get(live) ?? '') && text !== '') window.announced.push(text);
      before.set(live, text);
    }
  };
  let frame = 0;
  new MutationObserver(() => {
    cancelAnimationFrame(frame);
    frame = requestAnimationFrame(look);
  }).observe(document, { subtree: true, childList: true, characterData: true });
}

describe('by ear', () => {
  const STATE = stateWith();
  const announced = (page: Page, what: RegExp): Promise<string[]> =>
    page.evaluate(() => window.announced).then((all) => all.filter((text) => what.test(text)));

  test('steady is announced once, and so is that it is over', async () => {
    const { page, send } = await openTold(on, {
      frames: [STATE, PAST],
      prepare: (made) => made.addInitScript(listen),
    });
    await page.getByText('Settling', { exact: true }).waitFor();
    const tell = (s: number, state: 'steady' | 'settling') =>
      send(
        snapshotOf(STATE, T0 + 1000 * s, {
          u1: unitWith({ capacity: { totalW: 2640 + s }, settling: { state } }),
        }),
      );
    for (let s = 1; s <= 4; s++) tell(s, 'steady');
    await page.getByText('Steady', { exact: true }).waitFor();
    await page.waitForTimeout(300);
    tell(5, 'steady');
    await page.waitForTimeout(300);
    expect(await announced(page, /steady/i)).toEqual([expect.stringMatching(/is steady\./)]);
    tell(6, 'settling');
    await page.getByText('Settling', { exact: true }).waitFor();
    await page.waitForTimeout(300);
    // Within a minute of the last call it does not call: the state alone is said.
    expect((await announced(page, /settling/)).slice(1)).toEqual(['Reading room: settling.']);
  });

  test('a lost connection is announced once, whichever way it goes', async () => {
    const { page, cut } = await openTold(on, {
      frames: [STATE, PAST],
      prepare: (made) => made.addInitScript(listen),
    });
    await page.getByText('Settling', { exact: true }).waitFor();
    cut();
    await page.getByText(/^Reconnecting/).waitFor();
    await page.waitForTimeout(4000); // several tries, and by its own clock nothing is of now any more
    expect(await announced(page, /connection|no data/i)).toEqual([
      expect.stringMatching(/^Connection lost/),
    ]);
    cut();
    await page.getByText(/^Reconnecting/).waitFor({ state: 'detached', timeout: 20_000 });
    await page.waitForTimeout(300);
    expect((await page.evaluate(() => window.announced)).at(-1)).toMatch(/^Reading room: settling/);
  });
});

/** What has the focus: its name, and whether that is seen, in sight and uncovered. */
const focused = (page: Page): Promise<{ name: string; trouble: string | null }> =>
  page.evaluate(() => {
    const at = document.activeElement;
    if (!(at instanceof HTMLElement) || at === document.body) return { name: '', trouble: null };
    const isField = at instanceof HTMLInputElement || at instanceof HTMLSelectElement;
    const label = isField ? (at.labels?.[0]?.textContent ?? null) : null;
    const name = (at.getAttribute('aria-label') ?? label ?? at.textContent)
      .replace(/\s+/g, ' ')
      .trim();
    const shown = at.closest('label') ?? at;
    const isMarked = [shown, at].some((element) =>
      [null, '::after'].some((part) => {
        const style = getComputedStyle(element, part);
        return style.outlineStyle !== 'none' && parseFloat(style.outlineWidth) >= 2;
      }),
    );
    const box = shown.getBoundingClientRect();
    const top = document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2);
    const over = top?.closest('.above, nav') ?? null;
    const isThere = top !== null && (over === null || over.contains(shown));
    const trouble = isMarked ? (isThere ? null : 'out of sight') : 'no mark of the focus';
    return { name, trouble: trouble === null ? null : `${name}: ${trouble}` };
  });

/** Goes on by Tab to what has that name. @throws Error with all that was passed where there is none */
async function tabTo(page: Page, name: RegExp): Promise<void> {
  const passed: string[] = [];
  for (let i = 0; i < 80; i++) {
    await page.keyboard.press('Tab');
    let at = await focused(page);
    if (at.trouble !== null) {
      // What came above it in that moment has moved it: it is come to once more.
      await page.keyboard.press('Shift+Tab');
      await page.keyboard.press('Tab');
      at = await focused(page);
    }
    if (at.trouble !== null) expect.soft(at.trouble).toBeNull();
    if (name.test(at.name)) return;
    passed.push(at.name);
  }
  throw new Error(`Tab does not come to ${name.source}, but to ${passed.join(' | ')}`);
}

test('a whole visit by keyboard alone: from an empty page to a capture', async () => {
  const { url } = await on.start('start');
  const call = async (path: string, method: string, body: object): Promise<void> => {
    const headers = { 'content-type': 'application/json' };
    const response = await fetch(url + path, { method, headers, body: JSON.stringify(body) });
    expect(response.status, await response.text()).toBeLessThan(300);
  };
  const read = (seconds: number): Promise<void> => {
    const t = Date.now() - seconds * 1000;
    const lines = Array.from({ length: seconds * 2 }, (_, i) => ({
      ...{ t: t + Math.floor(i / 2) * 1000, probe: i % 2 === 0 ? 'alder' : 'birch' },
      ...{ temperatureC: i % 2 === 0 ? 26.7 : 12, humidityPct: i % 2 === 0 ? 51 : 94 },
    }));
    return call('/api/readings', 'POST', lines);
  };
  const { page, complaints } = await openPage(on.browser, url);
  const { keyboard } = page;
  const go = async (name: RegExp): Promise<void> => {
    await tabTo(page, name);
    await keyboard.press('Enter');
  };
  await page.getByRole('heading', { name: 'Turn on your probes.' }).waitFor();

  // Two probes are turned on.
  for (const id of ['alder', 'birch']) {
    const limits = { temperatureC: 0.3, humidityPct: 2 };
    await call(`/api/probes/${id}`, 'PUT', { name: id, limits });
  }
  await page.getByRole('heading', { name: 'Which one hangs in the return?' }).waitFor();
  await go(/^alder/);
  await page.getByRole('region', { name: 'Delivered capacity' }).waitFor();

  await go(/^(\d+ )?Airflow/);
  await page.getByRole('heading', { level: 1, name: 'Airflow' }).waitFor();
  await go(/^Enter the airflow/);
  await page.getByRole('dialog', { name: 'Airflow' }).waitFor();
  await tabTo(page, /^Airflow, /);
  await keyboard.type('720');
  await tabTo(page, /^Where the figure comes from/);
  await keyboard.press('ArrowDown');
  await tabTo(page, /^Accuracy/);
  await keyboard.type('5');
  await keyboard.press('Enter');
  await page.getByRole('dialog').waitFor({ state: 'detached' });

  await go(/^(\d+ )?Record/);
  await page.getByRole('heading', { level: 1, name: 'Record' }).waitFor();
  await go(/^Visit settings/);
  const settings = page.getByRole('dialog', { name: 'Visit settings' });
  await settings.waitFor();
  await tabTo(page, /^Title/);
  await keyboard.press('Control+A');
  await keyboard.type('Wrenfold Lane library');
  await tabTo(page, /^Or the altitude/);
  await keyboard.type('300');
  await keyboard.press('Enter');
  await settings.waitFor({ state: 'detached' });

  await call('/api/visit', 'PUT', { mode: 'cooling' }); // as the unit's remote control is set
  await read(600);
  await go(/^(\d+ )?Capacity/);
  await page.getByText('Steady', { exact: true }).waitFor();
  await tabTo(page, /^Setpoint down/);
  await tabTo(page, /^low/); // the row of fan speeds
  const isReady = page.getByRole('button', { name: 'Capture', exact: true });
  await expect.poll(() => isReady.isEnabled()).toBe(true);
  await keyboard.press('Home');
  await go(/^Capture$/);
  await page.getByRole('list', { name: 'Captures' }).getByText('by hand').waitFor();
  expect(complaints).toEqual([]);
});
