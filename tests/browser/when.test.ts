/// <reference lib="dom" />
/** Knowing when, as a person meets it: the sentence, flags that are moved and named, captures. */
import type { Locator, Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import type { EventMessage, Frame } from '../../server/protocol.ts';
import {
  captureWith,
  doubtWith,
  eventWith,
  probeWith,
  stateWith,
  T0,
  unitWith,
} from '../client/fixtures.ts';
import { faultsOf, lookEverywhere, stage } from './browser.ts';
import { openTold, pastOf, snapshotOf, type Told } from './frames.ts';

const on = stage();

const FAN = eventWith({ id: 'e1', t: T0 - 400_000, kind: 'fan', unit: 'u1', speed: 'high' });
const CHECK = eventWith({ id: 'e2', t: T0 - 150_000, kind: 'check', phase: 'end' });
const PAST = pastOf(600, (s) => 2600 - 1500 * Math.exp((s - 600) / 200));
const SETTLING = unitWith({
  settling: { plateauW: 2610, plateauU95W: 180, steadyInS: 200, approachS: 200 },
});

const withEvents = (...events: EventMessage[]): Frame[] => [stateWith({ events }), PAST];
const flag = (page: Page, name: RegExp): Locator =>
  page.getByRole('list', { name: 'Events on the chart' }).getByRole('button', { name });
const amends = ({ calls }: Told): unknown[] => calls.map(({ body }) => body);

/** Drags a flag by so many pixels, in steps, and puts it down. */
async function drag(page: Page, what: Locator, byX: number): Promise<void> {
  const box = await what.boundingBox();
  if (box === null) throw new Error('The flag is not on the screen.');
  const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
  await page.mouse.move(x, y);
  await page.mouse.down();
  for (let i = 1; i <= 5; i++) await page.mouse.move(x + (byX * i) / 5, y + i);
  await page.mouse.up();
}

describe('the sentence and the figure', () => {
  test('say how long it takes, where it is heading, and how far the figure is behind', async () => {
    const told = await openTold(on, { frames: [stateWith({ units: { u1: SETTLING } }), PAST] });
    const { page, send } = told;
    const heading = page.getByRole('heading', { level: 1 });
    await expect
      .poll(() => heading.innerText())
      .toMatch(/^Reading room: settling, about 4\smin to go, heading for 2\.61\s±\s0\.21\skW\.$/u);
    const before = await page.locator('canvas').first().boundingBox();
    const settling = { state: 'steady', levelW: 2555, levelDelayS: 5, plateauW: 2590 } as const;
    const steady = unitWith({ settling: { ...settling, movedW: 20, lookedS: 180, aheadW: 40 } });
    send(snapshotOf(stateWith(), T0 + 1000, { u1: steady }));
    await expect.poll(() => heading.innerText()).toMatch(/steady since .* 2\.56\skW of cooling/u);
    const figure = await page.getByRole('region', { name: 'Delivered capacity' }).innerText();
    const said = figure.replace(/\s+/gu, ' ');
    expect(said).toContain('2.56 ±0.11 kW');
    expect(said).toContain('The figure is the mean of the last 10 s, so 5 s behind.');
    expect(figure).toContain('it would move less than 2\u202f% in the next ten minutes');
    // Nothing has jumped.
    const after = await page.locator('canvas').first().boundingBox();
    expect(after?.y).toBeCloseTo(before?.y ?? 0, 0);
    expect(told.complaints).toEqual([]);
  });
});

test('a steady figure with a doubt names it and leads to it; the strict test says that it is on', async () => {
  const doubts = [
    doubtWith({ code: 'check-missing', text: 'Not checked.' }),
    doubtWith({ code: 'probe-late', probe: 'p2', text: 'S is late: its last reading is 9 s old.' }),
  ];
  const units = { u1: unitWith({ settling: { state: 'steady', since: T0 - 60_000 }, doubts }) };
  const probes = { p2: probeWith({ name: 'S', place: 'supply' }) };
  const state = stateWith({ units, probes });
  const told = await openTold(on, { frames: [state, PAST] });
  const { page, send, complaints } = told;
  const figure = page.getByRole('region', { name: 'Delivered capacity' });
  await figure.getByText(/Steady, but: S is late\./).waitFor();
  await figure.getByRole('link', { name: 'S is late.' }).click();
  expect(await page.evaluate(() => location.hash)).toBe('#doubts');
  await page.locator('#doubts').getByText('its last reading is 9 s old').waitFor();
  expect(await figure.getByText('Strict test').count()).toBe(0);
  send({ ...state.visit, type: 'visit', steadyTest: 'strict' });
  await figure.getByText('Strict test').waitFor();
  expect(await faultsOf(page)).toEqual([]);
  expect(complaints).toEqual([]);
});

describe('flags', () => {
  test('hold their words in the box, and keep their rows while one is dragged', async () => {
    const events = [
      FAN,
      eventWith({ id: 'e5', t: T0 - 380_000, kind: 'setpoint', valueC: 18, unit: 'u1' }),
      eventWith({ id: 'e6', t: T0 - 200_000, text: 'WWWW MMMM WWWW' }),
    ];
    const { page } = await openTold(on, { frames: withEvents(...events) });
    const tops = () =>
      page.evaluate(() =>
        [
          ...document.querySelectorAll<HTMLElement>('[aria-label="Events on the chart"] button'),
        ].map((b) => b.style.top),
      );
    await flag(page, /^WWWW/).waitFor();
    const cut = await page.evaluate(() =>
      [...document.querySelectorAll<HTMLElement>('[aria-label="Events on the chart"] span')]
        .filter((span) => span.scrollWidth > span.clientWidth)
        .map((span) => span.textContent),
    );
    expect(cut).toEqual([]);
    const before = await tops();
    expect(new Set(before).size).toBe(2);
    // Away from the other, which would else come to the first row.
    const box = await flag(page, /^fan high/).boundingBox();
    const [x, y] = [(box?.x ?? 0) + 20, (box?.y ?? 0) + 20];
    await page.mouse.move(x, y);
    await page.mouse.down();
    for (let i = 1; i <= 5; i++) await page.mouse.move(x - 20 * i, y);
    await flag(page, /^fan high/)
      .getByText(/^\d\d:\d\d:\d\d$/)
      .waitFor();
    expect(await tops()).toEqual(before);
    await page.mouse.up();
    await expect.poll(async () => new Set(await tops()).size).toBe(1);
  });

  test('a flag is dragged to the right time, stays there, and tells the server once', async () => {
    const told = await openTold(on, { frames: withEvents(FAN, CHECK) });
    const { page, calls, complaints, send } = told;
    await drag(page, flag(page, /^fan high/), -60);
    await expect.poll(() => calls.length).toBe(1);
    const body = calls[0]?.body as { kind: string; event: string; toT: number };
    expect(calls[0]?.path).toBe('/api/events');
    expect(body).toEqual({ kind: 'amend', event: 'e1', toT: expect.any(Number) });
    // The axis holds ten minutes on some 700 px.
    expect(body.toT).toBeLessThan(FAN.t - 20_000);
    expect(body.toT).toBeGreaterThan(FAN.t - 120_000);
    // It is shown there before the server has told it again, and after.
    const clock = new Intl.DateTimeFormat('en-GB', { timeStyle: 'medium' });
    await flag(page, new RegExp(clock.format(body.toT))).waitFor();
    send({ ...FAN, t: body.toT });
    await page.waitForTimeout(300);
    await flag(page, new RegExp(clock.format(body.toT))).waitFor();
    // A drag is no touch: nothing was opened.
    expect(await page.getByRole('dialog').count()).toBe(0);
    await page.keyboard.press('Enter');
    await page.getByRole('dialog', { name: 'fan high' }).waitFor();
    expect(complaints).toEqual([]);
  });

  test('a finger drags it as well, and scrolls the page where it goes up or down', async () => {
    const context = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true };
    const told = await openTold(on, { frames: withEvents(FAN), context });
    const { page, calls } = told;
    const what = flag(page, /^fan high/);
    await what.evaluate((element) => element.scrollIntoView({ block: 'center' }));
    const cdp = await page.context().newCDPSession(page);
    const touch = async (toX: number, toY: number): Promise<void> => {
      const box = await what.boundingBox();
      const [x, y] = [(box?.x ?? 0) + 30, (box?.y ?? 0) + 23];
      const at = (part: number) => [{ x: x + toX * part, y: y + toY * part }];
      await cdp.send('Input.dispatchTouchEvent', { type: 'touchStart', touchPoints: at(0) });
      for (const part of [0.25, 0.5, 0.75, 1])
        await cdp.send('Input.dispatchTouchEvent', { type: 'touchMove', touchPoints: at(part) });
      await cdp.send('Input.dispatchTouchEvent', { type: 'touchEnd', touchPoints: [] });
    };
    await touch(50, 3);
    await expect.poll(() => calls.length).toBe(1);
    expect((calls[0]?.body as { toT: number }).toT).toBeGreaterThan(FAN.t + 20_000);
    const scrolledTo = await page.evaluate(() => scrollY);
    await touch(2, -200);
    await expect.poll(() => page.evaluate(() => scrollY)).toBeGreaterThan(scrolledTo + 50);
    await page.waitForTimeout(900);
    expect(calls).toHaveLength(1);
  });

  test('a refused move is taken back, with the sentence of the server', async () => {
    const told = await openTold(on, {
      frames: withEvents(FAN),
      answer: () => 'toT: that is more than an hour from where it was; enter it as a new event',
    });
    const { page } = told;
    await drag(page, flag(page, /^fan high/), 80);
    const sentence = 'The new time: that is more than an hour from where it was';
    await page.getByRole('alert').getByText(sentence).waitFor();
    const clock = new Intl.DateTimeFormat('en-GB', { timeStyle: 'medium' }).format(FAN.t);
    await flag(page, new RegExp(clock)).waitFor();
  });

  test('arrow keys move it by 5 s, several strokes are one move, Escape takes it back', async () => {
    const told = await openTold(on, { frames: withEvents(FAN) });
    const { page, calls } = told;
    await flag(page, /^fan high/).focus();
    for (let i = 0; i < 3; i++) await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('Shift+ArrowRight');
    await expect.poll(() => calls.length).toBe(1);
    expect(amends(told)).toEqual([{ kind: 'amend', event: 'e1', toT: FAN.t - 15_000 + 60_000 }]);
    // It has the focus still.
    expect(await page.evaluate(() => document.activeElement?.textContent.trim())).toContain('high');
    await page.keyboard.press('ArrowLeft');
    await page.keyboard.press('Escape');
    await page.waitForTimeout(900);
    expect(calls).toHaveLength(1);
  });

  test('it keeps the focus while it passes others', async () => {
    const passed = [500, 590].map((s, i) =>
      eventWith({ id: `e${i + 5}`, t: T0 - 1000 * s, text: 'filter' }),
    );
    const told = await openTold(on, { frames: withEvents(...passed, FAN) });
    await flag(told.page, /^fan high/).focus();
    for (let i = 0; i < 4; i++) await told.page.keyboard.press('Shift+ArrowLeft');
    for (let i = 0; i < 4; i++) await told.page.keyboard.press('ArrowRight');
    // Where the keys come slowly, it is put down on the way as well: it is the same flag, and ends there.
    await expect
      .poll(() => amends(told).at(-1))
      .toEqual({ kind: 'amend', event: 'e1', toT: T0 - 600_000 + 20_000 });
    for (const amended of amends(told)) expect(amended).toMatchObject({ event: 'e1' });
  });

  test('no further than the last data', async () => {
    const told = await openTold(on, { frames: withEvents({ ...FAN, t: T0 - 7000 }) });
    await flag(told.page, /^fan high/).focus();
    for (let i = 0; i < 4; i++) await told.page.keyboard.press('ArrowRight');
    await expect.poll(() => amends(told)).toEqual([{ kind: 'amend', event: 'e1', toT: T0 }]);
  });

  test('Enter opens it, and it is named', async () => {
    const told = await openTold(on, { frames: withEvents(FAN) });
    const { page, send, complaints } = told;
    await flag(page, /^fan high/).focus();
    await page.keyboard.press('Enter');
    const dialog = page.getByRole('dialog', { name: 'fan high' });
    const isThere = (field: Element): boolean => field === document.activeElement;
    await expect.poll(() => dialog.getByLabel('Name').evaluate(isThere)).toBe(true);
    await page.keyboard.type('after lunch');
    await page.keyboard.press('Enter');
    await dialog.waitFor({ state: 'detached' });
    expect(amends(told)).toEqual([{ kind: 'amend', event: 'e1', text: 'after lunch' }]);
    await flag(page, /^after lunch \(fan high\)/).waitFor();
    send({ ...FAN, text: 'after lunch' });
    await flag(page, /^after lunch \(fan high\)/).waitFor();
    expect(complaints).toEqual([]);
  });

  test('a check can be named, not moved; a refusal stands in the form', async () => {
    const told = await openTold(on, { frames: withEvents(CHECK), answer: () => 'text: no' });
    const { page, calls } = told;
    await drag(page, flag(page, /^check ends/), -80);
    await page.waitForTimeout(900);
    expect(calls).toEqual([]);
    const dialog = page.getByRole('dialog', { name: 'check ends' });
    if ((await dialog.count()) === 0) await flag(page, /^check ends/).click();
    expect(await dialog.getByLabel('Time', { exact: true }).count()).toBe(0);
    await dialog.getByText('This time is fixed.').waitFor();
    await dialog.getByLabel('Name').fill('in the hall');
    await dialog.getByRole('button', { name: 'Save' }).click();
    await dialog.getByRole('alert').getByText('The note or name: no.').waitFor();
    await dialog.getByRole('button', { name: 'Cancel' }).click();
    await flag(page, /^check ends/).waitFor();
  });

  test('the list of events does the same, by a name and by a time', async () => {
    const told = await openTold(on, { frames: withEvents(FAN, CHECK) });
    const { page } = told;
    await page.getByText('2 events, in words').click();
    expect(await page.getByRole('button', { name: /^Change time: check/ }).count()).toBe(0);
    await page.getByRole('button', { name: /^Change time: fan high/ }).click();
    const dialog = page.getByRole('dialog', { name: 'fan high' });
    const time = dialog.getByLabel('Time', { exact: true });
    expect(await time.evaluate((input) => input === document.activeElement)).toBe(true);
    const clock = new Intl.DateTimeFormat('en-GB', { timeStyle: 'medium' });
    expect(await time.inputValue()).toBe(clock.format(FAN.t));
    await time.fill(clock.format(FAN.t - 45_000));
    await dialog.getByRole('button', { name: 'Save' }).click();
    await dialog.waitFor({ state: 'detached' });
    expect(amends(told)).toEqual([{ kind: 'amend', event: 'e1', toT: FAN.t - 45_000 }]);
    await page.getByRole('button', { name: /^Rename check ends/ }).waitFor();
  });
});

/** A capture before the fan was set to high. */
const BEFORE = {
  event: { t: T0 - 60_000, kind: 'fan', speed: 'high' } as const,
  from: T0 - 600_000,
  to: T0 - 300_000,
  totalW: 2430,
  totalU95W: 100,
  differenceW: 210,
  differenceU95W: 60,
  sensibleDifferenceW: 150,
  sensibleDifferenceU95W: 50,
  latentDifferenceW: 60,
  latentDifferenceU95W: 40,
};

describe('captures', () => {
  test('the button says why it cannot, and captures when it can', async () => {
    const told = await openTold(on, { frames: [stateWith({ units: { u1: SETTLING } }), PAST] });
    const { page, calls, send, complaints } = told;
    const button = page.getByRole('button', { name: 'Capture', exact: true });
    expect(await button.isDisabled()).toBe(true);
    await page.getByText(/^Not steady yet: about 4\smin to go\.$/u).waitFor();
    const steady = unitWith({ settling: { state: 'steady', plateauW: 2610 } });
    send(snapshotOf(stateWith(), T0 + 1000, { u1: steady }));
    await expect.poll(() => button.isDisabled()).toBe(false);
    expect((await button.boundingBox())?.height).toBeGreaterThan(54);
    await button.click();
    await page.getByRole('alert').getByText('Captured. It is in the list below.').waitFor();
    expect(calls.map(({ body }) => body)).toEqual([{ kind: 'capture', unit: 'u1' }]);
    send(captureWith({ by: 'touch' }));
    const list = page.getByRole('list', { name: 'Captures' });
    await list.getByText('by hand').waitFor();
    expect(complaints).toEqual([]);
  });

  test('an open one grows in its place, and a pair says what a change has brought', async () => {
    const open = captureWith({ open: true, to: T0 + 60_000 });
    const { page, send } = await openTold(on, { frames: [stateWith({ captures: [open] }), PAST] });
    const entries = page.getByRole('list', { name: 'Captures' }).getByRole('listitem');
    await entries.getByText(/over 1\smin, steady, automatic, still growing/u).waitFor();
    send(captureWith({ to: T0 + 300_000, before: BEFORE }));
    await entries.getByText(/over 5\smin, steady, automatic\s*$/u).waitFor();
    expect(await entries.count()).toBe(1);
    await entries.getByText(/after fan high at .*: \+0\.21\s±\s0\.06\skW/u).waitFor();
    await entries.getByText(/sensible \+0\.15\s±\s0\.05\skW/u).waitFor();
    expect(await entries.locator('svg circle').count()).toBe(2);
  });
});

test('the visit says how steady is judged and when it is captured by itself', async () => {
  const told = await openTold(on, { frames: [stateWith(), PAST] });
  const { page, calls } = told;
  await page.getByRole('navigation').getByRole('link', { name: 'Record' }).click();
  await page.getByRole('link', { name: 'Visit settings' }).click();
  const dialog = page.getByRole('dialog', { name: 'Visit settings' });
  await dialog.getByText(/^Field: /).waitFor();
  await dialog.getByText('strict', { exact: true }).click();
  await dialog.getByText(/^Strict: .*ANSI\/ASHRAE 37/).waitFor();
  await dialog.getByLabel('Capture automatically').selectOption({ label: 'off: by hand only' });
  await dialog.getByRole('button', { name: 'Save' }).click();
  await dialog.waitFor({ state: 'detached' });
  expect(calls).toEqual([
    { method: 'PUT', path: '/api/visit', body: { steadyTest: 'strict', captureAfterS: null } },
  ]);
});

test('everyone can use it: flags, captures, events in words, and the dialogs', async () => {
  const steady = { state: 'steady', since: T0 - 60_000, levelW: 2600, levelDelayS: 5 } as const;
  const captures = [captureWith({ open: true, before: BEFORE })];
  const units = { u1: unitWith({ settling: steady }) };
  const events = [FAN, CHECK];
  const { page, complaints } = await openTold(on, {
    frames: [stateWith({ units, events, captures }), PAST],
    context: { bypassCSP: true },
  });
  // A low plot has one row: what was told to the unit comes first.
  await flag(page, /^fan high/).waitFor();
  await page.getByText('2 events, in words').click();
  await lookEverywhere(page, 'the figure');
  await page.getByRole('button', { name: 'Notices' }).click();
  await lookEverywhere(page, 'notices');
  await page.getByRole('button', { name: 'Close', exact: true }).click();
  await flag(page, /^fan high/).press('Enter');
  await lookEverywhere(page, 'an event');
  expect(complaints).toEqual([]);
});
