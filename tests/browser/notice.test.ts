/// <reference lib="dom" />
/** Notices: what calls a person who does not look, each way switchable, and the screen kept awake. */
import type { Page } from 'playwright-core';
import { expect, test } from 'vitest';
import type { SettlingSnapshot, UnitSnapshot } from '../../server/protocol.ts';
import { stateWith, T0, UNIT, unitWith, VISIT } from '../client/fixtures.ts';
import { stage } from './browser.ts';
import { openTold, pastOf, snapshotOf, type Told } from './frames.ts';

const on = stage();

interface Log {
  /** Pitches of the tones that were started, Hz. */
  tones: number[];
  pulses: unknown[];
  shown: { title: string; body: string | undefined }[];
  asked: number;
  /** Wake locks taken and let go. */
  locks: number;
  released: number;
}
declare global {
  interface Window {
    noticeLog: Log;
    /** What the browser will answer when it is asked for notifications. */
    answer: NotificationPermission;
    /** Lets the wake lock go as a browser does when the page is hidden. */
    loseLock: () => void;
  }
}

/** Stands in for what a test cannot hear, feel or see. */
function stubs(): void {
  const log: Log = { tones: [], pulses: [], shown: [], asked: 0, locks: 0, released: 0 };
  window.noticeLog = log;
  window.answer = 'granted';
  const Real = AudioContext;
  class Heard extends Real {
    override createOscillator(): OscillatorNode {
      const made = super.createOscillator();
      const start = made.start.bind(made);
      made.start = (when) => {
        log.tones.push(Math.round(made.frequency.value));
        start(when);
      };
      return made;
    }
  }
  Object.defineProperty(window, 'AudioContext', { value: Heard });
  navigator.vibrate = (pulses) => {
    log.pulses.push(pulses);
    return true;
  };
  class Shown extends EventTarget {
    static permission: NotificationPermission = 'default';
    static requestPermission = (): Promise<NotificationPermission> => {
      log.asked++;
      Shown.permission = window.answer;
      return Promise.resolve(window.answer);
    };
    constructor(title: string, options?: NotificationOptions) {
      super();
      log.shown.push({ title, body: options?.body });
    }
  }
  Object.defineProperty(window, 'Notification', { value: Shown });
  const request = (): Promise<EventTarget & { release: () => Promise<void> }> => {
    log.locks++;
    const lock = Object.assign(new EventTarget(), {
      release: (): Promise<void> => {
        log.released++;
        lock.dispatchEvent(new Event('release'));
        return Promise.resolve();
      },
    });
    window.loseLock = () => void lock.dispatchEvent(new Event('release'));
    return Promise.resolve(lock);
  };
  Object.defineProperty(navigator, 'wakeLock', { value: { request } });
}

const two = (first: SettlingSnapshot['state'], second: SettlingSnapshot['state']) => ({
  u1: unitWith({ settling: { state: first } }),
  u2: unitWith({ settling: { state: second } }),
});
const STATE = stateWith({
  units: two('settling', 'steady'),
  visit: {
    ...VISIT,
    units: { u1: { ...UNIT, name: 'Reading room' }, u2: { ...UNIT, name: 'Hall' } },
  },
});

const open = (prepare: (page: Page) => Promise<unknown>): Promise<Told> =>
  openTold(on, { frames: [STATE, pastOf(60, () => 2600, ['u1', 'u2'])], prepare });
const openStubbed = (): Promise<Told> => open((page) => page.addInitScript(stubs));
const logOf = (page: Page): Promise<Log> => page.evaluate(() => window.noticeLog);

let t = T0;
function tell({ send }: Told, units: Record<string, UnitSnapshot>): void {
  t += 1000;
  send(snapshotOf(STATE, t, units));
}

test('nothing calls on loading the page; each unit calls by its name when it becomes steady, or stops', async () => {
  const told = await openStubbed();
  const { page, complaints } = told;
  await page.getByRole('heading', { name: /Reading room: settling/ }).click(); // the first touch
  tell(told, two('settling', 'steady'));
  await page.waitForTimeout(300);
  expect(await logOf(page)).toMatchObject({ tones: [], pulses: [], shown: [], asked: 0 });

  tell(told, two('steady', 'steady'));
  await expect.poll(async () => (await logOf(page)).pulses.length).toBe(1);
  const rising = (await logOf(page)).tones;
  expect(rising.filter((_, i) => i % 2 === 0)).toEqual([523, 659, 784]);
  const spoken = page.getByRole('status');
  await expect
    .poll(() => spoken.allTextContents())
    .toContainEqual(
      expect.stringMatching(/^Reading room is steady\. 2\.64\s±\s0\.11\skW at \d\d:\d\d\.$/u),
    );

  // Another unit, which is not the one that is looked at, stops being steady.
  tell(told, two('steady', 'settling'));
  await expect.poll(async () => (await logOf(page)).pulses.length).toBe(2);
  const falling = (await logOf(page)).tones.slice(rising.length).filter((_, i) => i % 2 === 0);
  expect(falling).toEqual([392, 294]);
  await expect
    .poll(() => spoken.allTextContents())
    .toContainEqual(expect.stringMatching(/^Hall is no longer steady\./));

  // It flaps, and does not call again so soon.
  for (let i = 0; i < 6; i++) tell(told, two(i % 2 === 0 ? 'settling' : 'steady', 'settling'));
  await page.waitForTimeout(300);
  const after = await logOf(page);
  expect(after.pulses).toHaveLength(2);
  expect(after.shown).toEqual([]); // nobody has switched notifications on
  expect(complaints).toEqual([]);
});

test('each way is switched by itself, is tried, and is remembered', async () => {
  const told = await openStubbed();
  const { page, complaints } = told;
  await page.getByRole('button', { name: 'Notices' }).click();
  const dialog = page.getByRole('dialog', { name: 'When a unit becomes steady' });
  await dialog.getByRole('button', { name: 'Try it' }).click();
  await expect.poll(async () => (await logOf(page)).tones.length).toBe(6);
  expect((await logOf(page)).pulses).toHaveLength(1);
  expect((await logOf(page)).asked).toBe(0);

  // Notifications: asked for by the touch of the switch, and by nothing else.
  const notification = dialog.getByRole('checkbox', { name: /^Browser notification/ });
  await page.evaluate(() => (window.answer = 'denied'));
  await notification.click();
  await dialog
    .getByRole('alert')
    .getByText(/does not show notifications of this page/)
    .waitFor();
  expect(await notification.isChecked()).toBe(false);
  await page.evaluate(() => (window.answer = 'granted'));
  await notification.click();
  await expect.poll(() => notification.isChecked()).toBe(true);
  await dialog.getByRole('checkbox', { name: /^Sound/ }).click();
  await dialog.getByRole('checkbox', { name: /^Vibration/ }).click();
  await dialog.getByRole('button', { name: 'Try it' }).click();
  await expect.poll(async () => (await logOf(page)).shown.length).toBe(1);
  expect(await logOf(page)).toMatchObject({ asked: 2 });
  expect((await logOf(page)).tones).toHaveLength(6);
  expect((await logOf(page)).pulses).toHaveLength(1);
  await dialog.getByRole('button', { name: 'Close' }).click();
  await page.getByText('Calls you when steady: notification.').waitFor();

  tell(told, two('steady', 'steady'));
  await expect
    .poll(async () => (await logOf(page)).shown.at(-1)?.title)
    .toBe('Reading room is steady');
  await page.reload();
  await page.getByText('Calls you when steady: notification.').waitFor();
  expect(complaints).toEqual([]);
});

test('the screen stays awake, again after the page was hidden, and not when it is switched off', async () => {
  const { page } = await openStubbed();
  await expect.poll(async () => (await logOf(page)).locks).toBe(1);
  await page.evaluate(() => {
    window.loseLock();
    document.dispatchEvent(new Event('visibilitychange'));
  });
  await expect.poll(async () => (await logOf(page)).locks).toBe(2);
  await page.getByRole('button', { name: 'Notices' }).click();
  await page.getByText('It stays awake while this page is in front.').waitFor();
  await page.getByRole('checkbox', { name: /^Keep the screen awake/ }).click();
  await expect.poll(async () => (await logOf(page)).released).toBe(1);
  await page.evaluate(() => document.dispatchEvent(new Event('visibilitychange')));
  await page.waitForTimeout(200);
  expect((await logOf(page)).locks).toBe(2);
});

test('a page that nobody has touched calls without a complaint of the browser', async () => {
  const told = await open(async () => undefined);
  const { page, complaints } = told;
  await page.getByRole('heading', { name: /Reading room: settling/ }).waitFor();
  tell(told, two('steady', 'steady'));
  await page.getByText(/^Reading room is steady\./).waitFor({ state: 'attached' });
  await page.waitForTimeout(200);
  expect(complaints).toEqual([]);
});

test('where the browser cannot keep it awake it says so, and what to do', async () => {
  const { page, complaints } = await open((made) =>
    made.addInitScript(() => {
      // As over plain HTTP from another machine: there is none.
      delete (Navigator.prototype as { wakeLock?: unknown }).wakeLock;
      Object.defineProperty(window, 'isSecureContext', { value: false });
    }),
  );
  await page.getByText('The screen may go dark.').waitFor();
  await page.getByRole('button', { name: 'Notices' }).click();
  await page.getByText(/only for pages over https.*Set a longer time/).waitFor();
  expect(complaints).toEqual([]);
});
