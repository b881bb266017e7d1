/// <reference lib="dom" />
/** The probes as a person handles them: placed by touch and by keyboard, found, forgotten, unlocked. */
import type { BrowserContextOptions, Locator, Page } from 'playwright-core';
import { describe, expect, onTestFinished, test } from 'vitest';
import { stateSchema, type ProbeState } from '../../server/protocol.ts';
import { doubtWith, probeWith, stateWith, T0, unitWith } from '../client/fixtures.ts';
import { lookEverywhere, openPage, stage } from './browser.ts';
import { openTold } from './frames.ts';

const on = stage();

const PHONE: BrowserContextOptions = { viewport: { width: 390, height: 844 }, hasTouch: true };

async function probesOf(url: string): Promise<Record<string, ProbeState>> {
  const response = await fetch(`${url}/api/state`);
  return stateSchema.parse(await response.json()).probes;
}
const placeOf = async (url: string, id: string): Promise<string> => {
  const probe = (await probesOf(url))[id];
  return probe === undefined ? 'none' : `${probe.unit ?? ''} ${probe.place ?? 'unplaced'}`;
};

/** A server to which these probes send a reading a second, until the test is over. */
async function sending(ids: readonly string[]): Promise<string> {
  const { url } = await on.start('start');
  const send = async (): Promise<void> => {
    const readings = ids.map((probe, i) => ({ t: Date.now(), probe, temperatureC: 20 + i }));
    await fetch(`${url}/api/readings`, {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(readings),
    }).catch(() => undefined); // the server of this test is being ended
  };
  await send();
  const timer = setInterval(() => void send(), 1000);
  onTestFinished(() => clearInterval(timer));
  return url;
}

const target = (page: Page, unit: string, place: string): Locator =>
  page.getByRole('group', { name: unit }).getByRole('button', { name: place });
const rowOf = (page: Page, name: string): Locator =>
  page.getByRole('listitem').filter({ has: page.getByRole('heading', { name, exact: true }) });
const act = (page: Page, words: string): Locator =>
  page.getByRole('button', { name: words, exact: true });

test('a quick look without any record is two touches', async () => {
  const url = await sending(['alder', 'birch']);
  const { page, complaints } = await openPage(on.browser, url, PHONE);
  await page.getByRole('heading', { name: 'Which one hangs in the return?' }).waitFor();
  await act(page, 'Do not record').tap();
  await page.getByText('nothing of it is left unless you keep it').waitFor();
  await page.getByRole('button', { name: /^alder/ }).tap();
  await page.getByRole('region', { name: 'Delivered capacity' }).waitFor();
  await page.getByText('Quick look, not recorded').waitFor();
  // The figure may stand before the second of the two placings is through.
  await expect.poll(() => placeOf(url, 'birch')).toBe('u1 supply');
  const { visits, live } = (await (await fetch(`${url}/api/visits`)).json()) as {
    visits: { id: string }[];
    live: string;
  };
  expect(visits.map(({ id }) => id)).not.toContain(live);
  await page.getByRole('navigation').getByRole('link', { name: 'Record' }).tap();
  await act(page, 'Keep it: record from its beginning').tap();
  await page.getByText('Quick look, not recorded').waitFor({ state: 'detached' });
  expect(complaints).toEqual([]);
});

describe('placing', () => {
  test('by touch: a probe and then its place, or a place and then its probes; taken away', async () => {
    const url = await sending(['alder', 'birch', 'cedar']);
    const { page, complaints } = await openPage(on.browser, url, PHONE);
    await page.getByRole('link', { name: /^Probes .*3 warnings/ }).tap();
    await page.getByText('3 probes: 3 to place, 0 in order.').waitFor();

    await act(page, 'Place it: alder').tap();
    await page.getByText('Where does alder hang?').waitFor();
    await target(page, 'Indoor unit', 'Return').tap();
    await expect.poll(() => placeOf(url, 'alder')).toBe('u1 return');
    await rowOf(page, 'alder').getByText('return, Indoor unit').waitFor();
    // The thumb's place is free again: the picture has made room for the list.
    expect(await target(page, 'Indoor unit', 'Return').isVisible()).toBe(false);

    await act(page, 'Places').tap();
    await target(page, 'Indoor unit', 'Supply').tap();
    await page.getByText('Which probes hang here: supply, Indoor unit?').waitFor();
    await act(page, 'Hang here: birch').tap();
    await act(page, 'Hang here: cedar').tap();
    await expect.poll(() => placeOf(url, 'cedar')).toBe('u1 supply');
    expect(await placeOf(url, 'birch')).toBe('u1 supply');
    await act(page, 'Done').tap();

    await act(page, 'Move: cedar').tap();
    await act(page, 'Take away').tap();
    await expect.poll(() => placeOf(url, 'cedar')).toBe(' unplaced');
    await page.getByText('cedar hangs nowhere now.').waitFor();
    await act(page, 'Place it: cedar').tap();
    await act(page, 'Another indoor unit').tap();
    await page.getByRole('group', { name: 'Indoor unit, new' }).getByText('Outlet').tap();
    await expect.poll(() => placeOf(url, 'cedar')).toBe('u2 outlet');
    await act(page, 'Move: cedar').tap();
    await act(page, 'Outdoors no probe').tap();
    await expect.poll(() => placeOf(url, 'cedar')).toBe(' outdoor');
    expect(complaints).toEqual([]);
  });

  test('by keyboard alone; Escape chooses none', async () => {
    const url = await sending(['alder']);
    const { page, complaints } = await openPage(on.browser, `${url}/#probes`);
    const place = act(page, 'Place it: alder');
    await place.waitFor();
    await place.focus();
    await page.keyboard.press('Enter');
    await page.getByText('Where does alder hang?').waitFor();
    expect(await place.getAttribute('aria-pressed')).toBe('true');
    await page.keyboard.press('Escape');
    await page.getByText('Where does alder hang?').waitFor({ state: 'detached' });
    expect(await place.getAttribute('aria-pressed')).toBe('false');

    await page.keyboard.press('Space');
    const supply = target(page, 'Indoor unit', 'Supply');
    for (let i = 0; i < 12; i++) {
      await page.keyboard.press('Tab');
      if (await supply.evaluate((element) => element === document.activeElement)) break;
    }
    await page.keyboard.press('Enter');
    await expect.poll(() => placeOf(url, 'alder')).toBe('u1 supply');
    // It is said, and the focus has not been lost.
    const said = page.getByRole('status').filter({ hasText: 'alder is placed: supply.' });
    await said.waitFor();
    await expect
      .poll(() => said.evaluate((element) => element === document.activeElement))
      .toBe(true);
    expect(complaints).toEqual([]);
  });

  test('what the server refuses is said where it was touched', async () => {
    const probes = { p1: probeWith({ place: null, unit: null, name: 'alder' }) };
    const { page } = await openTold(on, {
      frames: [stateWith({ probes })],
      answer: () => 'place: is not taken today',
    });
    await page
      .getByRole('link', { name: /^Probes/ })
      .first()
      .click();
    await act(page, 'Place it: alder').click();
    await target(page, 'Reading room', 'Return').click();
    await page.getByRole('alert').getByText('The place: is not taken today.').waitFor();
    await page.getByText('Where does alder hang?').waitFor();
  });
});

describe('the list', () => {
  const probes = {
    a: probeWith({ name: 'alder', signalDbm: -61, batteryPct: 88, intervalMs: 2000 }),
    b: probeWith({ name: 'birch', state: 'lost', values: {}, lastT: T0 - 240_000 }),
    c: probeWith({ name: 'cedar', place: null, unit: null, simulated: true }),
    d: probeWith({ name: 'dogwood', place: 'supply' }),
  };
  const doubt = doubtWith({
    ...{ code: 'probe-wet', probe: 'd' },
    ...{ text: 'dogwood is probably wet.', remedy: 'Dry it.' },
  });
  const state = stateWith({ probes, units: { u1: unitWith({ doubts: [doubt] }) } });
  const names = (page: Page): Promise<string[]> =>
    page.getByRole('listitem').getByRole('heading').allInnerTexts();

  test('what wants a hand comes first, with why and what to do; the figure stays in sight', async () => {
    const { page, complaints } = await openTold(on, { frames: [state], context: PHONE });
    await page.getByRole('link', { name: /^Probes .*3 warnings/ }).click();
    await expect.poll(() => names(page)).toEqual(['cedar', 'dogwood', 'birch', 'alder']);
    const text = async (name: string): Promise<string> =>
      (await rowOf(page, name).innerText()).replaceAll(/\s+/g, ' ');
    expect(await text('alder')).toMatch(/26\.0 °C 50 %.*−61 dBm, good.*every 2 s battery 88 %/);
    expect(await text('birch')).toMatch(/lost, last heard 4 min ago.*birch is lost\. Check its/);
    expect(await text('cedar')).toMatch(/not placed simulated.*cedar has no place yet/);
    expect(await text('dogwood')).toMatch(/dogwood is probably wet\. Dry it\./);
    const figure = page.getByRole('link', { name: /^Capacity 2\.64\skW/ });
    await page.mouse.wheel(0, 5000);
    const box = await figure.boundingBox();
    expect((box?.y ?? Infinity) + (box?.height ?? 0)).toBeLessThanOrEqual(844);
    await page.getByRole('navigation').getByRole('link', { name: 'Capacity' }).click();
    await page.getByRole('heading', { name: /^Reading room:/ }).waitFor();
    await page.goBack();
    await page.getByRole('heading', { name: 'Probes', exact: true }).waitFor();
    expect(complaints).toEqual([]);
  });

  test('nothing moves while a probe is chosen', async () => {
    const { page, send } = await openTold(on, { frames: [state] });
    await page
      .getByRole('link', { name: /^Probes/ })
      .first()
      .click();
    await act(page, 'Move: alder').click();
    await target(page, 'Reading room', 'Return').focus(); // away from the list
    send({ ...probes.a, type: 'probe', id: 'a', state: 'lost', values: {}, place: null });
    await page.getByText('alder is lost.').waitFor();
    expect(await names(page)).toEqual(['cedar', 'dogwood', 'birch', 'alder']);
    await page.keyboard.press('Escape');
    await expect.poll(() => names(page)).toEqual(['alder', 'cedar', 'dogwood', 'birch']);
  });

  test('values are asked for while the probes are in front, and shown as they come', async () => {
    const { page, send, asked } = await openTold(on, { frames: [state] });
    await page
      .getByRole('link', { name: /^Probes/ })
      .first()
      .click();
    await expect.poll(() => asked).toEqual(['{"type":"values","on":true}']);
    send({ type: 'values', t: T0, probes: { a: { lastT: T0, values: { temperatureC: 27.3 } } } });
    await rowOf(page, 'alder')
      .getByText(/27\.3\s°C/)
      .waitFor();
    await page.getByRole('navigation').getByRole('link', { name: 'Capacity' }).click();
    await expect.poll(() => asked.at(-1)).toBe('{"type":"values","on":false}');
    expect(asked).toHaveLength(2);
  });
});

describe('finding one', () => {
  test('the one that is warmed is pointed at, named and placed at once', async () => {
    const { url } = await on.start('demo');
    const { page, complaints } = await openPage(on.browser, url, PHONE);
    await page
      .getByRole('link', { name: /^Probes/ })
      .first()
      .tap();
    await act(page, 'Find one: warm it in your hand').tap();
    await page.getByRole('heading', { name: 'Hold one in your warm hand now.' }).waitFor();
    await page.getByText(/\d+\ss left/).waitFor();
    const warm = await fetch(`${url}/api/simulation/warm`, {
      method: 'PUT',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify({ probe: 'p5' }),
    });
    expect(warm.status).toBe(200);
    await page
      .getByRole('heading', { name: 'It is Workshop return.' })
      .waitFor({ timeout: 60_000 });
    await page.getByLabel('Name').fill('Fernhill 2');
    await act(page, 'Name it').tap();
    await page.getByRole('heading', { name: 'It is Fernhill 2.' }).waitFor();
    await target(page, 'Reading room', 'Supply').tap();
    await expect.poll(() => placeOf(url, 'p5')).toBe('u1 supply');
    await page.getByText('Fernhill 2 is placed: supply, Reading room.').waitFor();
    await act(page, 'Back to all probes').tap();
    await rowOf(page, 'Fernhill 2').getByText('supply, Reading room').waitFor();
    expect(complaints).toEqual([]);
  });

  test('a demo warms one of its own; two at once are both named', async () => {
    const ids = ['a', 'b', 'c'];
    const probes = Object.fromEntries(
      ids.map((id) => [id, probeWith({ name: id, simulated: true })]),
    );
    const { page, send, calls } = await openTold(on, {
      frames: [stateWith({ probes, simulated: true })],
    });
    await page
      .getByRole('link', { name: /^Probes/ })
      .first()
      .click();
    await act(page, 'Find one: warm it in your hand').click();
    await act(page, 'Warm one that is simulated').click();
    await expect.poll(() => calls.length).toBe(1);
    expect(calls[0]).toMatchObject({ method: 'PUT', path: '/api/simulation/warm' });
    const base = stateWith({ probes });
    for (let s = 1; s <= 20; s++) {
      const t = T0 + s * 1000;
      const reads = (temperatureC: number) => ({ lastT: t, values: { temperatureC } });
      send({ ...base, type: 'snapshot', t });
      send({
        type: 'values',
        t,
        probes: { a: reads(26 + s / 4), b: reads(26 + s / 5), c: reads(26) },
      });
    }
    await page.getByRole('heading', { name: 'a and b rise at once.' }).waitFor();
    await act(page, 'Back to all probes').click();
    await expect.poll(() => calls.at(-1)?.body).toEqual({ probe: null });
  });
});

describe('forgetting', () => {
  test('is confirmed, says what is lost and what stays, and takes the probe away', async () => {
    const { url } = await on.start('start');
    const post = (): Promise<Response> =>
      fetch(`${url}/api/readings`, {
        method: 'POST',
        headers: { 'content-type': 'application/json' },
        body: JSON.stringify([{ t: Date.now(), probe: 'alder', temperatureC: 20 }]),
      });
    await post();
    const { page, complaints } = await openPage(on.browser, `${url}/#probes`);
    await act(page, 'Forget: alder').click();
    const dialog = page.getByRole('dialog', { name: 'Forget alder?' });
    expect(await dialog.innerText()).toMatch(
      /You lose its name[\s\S]*You keep its readings in the record/,
    );
    await dialog.getByRole('button', { name: 'Cancel' }).click();
    expect(Object.keys(await probesOf(url))).toEqual(['alder']);
    await act(page, 'Forget: alder').click();
    await dialog.getByRole('button', { name: 'Forget it' }).click();
    await page.getByText('No probe yet.').waitFor();
    expect(await probesOf(url)).toEqual({});
    await post();
    await act(page, 'Place it: alder').waitFor();
    expect(complaints).toEqual([]);
  });

  test('one that lies in a check is refused in words', async () => {
    const { page } = await openTold(on, {
      frames: [stateWith({ probes: { a: probeWith({ name: 'alder' }) } })],
      answer: () => 'probe: "alder" lies in a side-by-side check: end the check, then forget it',
    });
    await page
      .getByRole('link', { name: /^Probes/ })
      .first()
      .click();
    await act(page, 'Forget: alder').click();
    await act(page, 'Forget it').click();
    await page
      .getByRole('alert')
      .getByText(/lies in a side-by-side check: end the check/)
      .waitFor();
  });
});

test('a probe whose broadcasts are encrypted takes its key, which is not shown again', async () => {
  const KEY = '231d39c1d7cc1ab1aee224cd096db932';
  const locked = probeWith({
    ...{ name: 'alder', adapter: 'ble', needs: 'key', state: 'lost' },
    ...{ lastT: null, values: {}, place: null, unit: null },
  });
  let refusal: string | null = 'key: has 31 digits: a key has 32 hexadecimal digits';
  const { page, calls, send } = await openTold(on, {
    // It is the only probe: nothing has been read yet, and there is no time.
    frames: [stateWith({ probes: { 'ble:00aa01010001': locked }, t: null, units: {} })],
    answer: () => refusal,
  });
  await page
    .getByRole('link', { name: /^Probes/ })
    .first()
    .click();
  await page.getByText('The key of alder is missing or does not fit.').waitFor();
  const form = page.getByRole('form', { name: 'Key of alder' });
  await form.getByRole('textbox').fill(KEY.slice(1));
  await act(page, 'Save key').click();
  await form
    .getByRole('alert')
    .getByText(/^The key: has 31 digits/)
    .waitFor();
  refusal = null;
  await form.getByRole('textbox').fill(KEY);
  await act(page, 'Save key').click();
  await form.getByText('Key saved. The next reading shows whether it fits.').waitFor();
  expect(await form.getByRole('textbox').inputValue()).toBe('');
  await act(page, 'Remove key').click();
  await expect
    .poll(() => calls.map(({ body }) => body))
    .toEqual([{ key: KEY.slice(1) }, { key: KEY }, { key: null }]);
  expect(calls[1]).toMatchObject({ method: 'PUT', path: '/api/bluetooth/keys/ble:00aa01010001' });
  expect(await act(page, 'Place it: alder').isEnabled()).toBe(true);
  const { needs: _, ...unlocked } = locked;
  send({ ...unlocked, type: 'probe', id: 'ble:00aa01010001', state: 'live', lastT: T0 });
  await form.waitFor({ state: 'detached' });
});

test('everyone can use it: the list, while choosing, forgetting and finding', async () => {
  const locked = probeWith({ name: 'alder', needs: 'key', state: 'lost', signalDbm: -84 });
  const probes = {
    a: { ...locked, simulated: true },
    b: probeWith({
      name: 'A probe whose name is a good deal longer than the others',
      unit: 'u1',
    }),
    c: probeWith({ name: 'cedar', place: null, unit: null, batteryPct: 4 }),
  };
  const { page, complaints } = await openTold(on, {
    frames: [stateWith({ probes })],
    context: { bypassCSP: true },
  });
  await page
    .getByRole('link', { name: /^Probes/ })
    .first()
    .click();
  await act(page, 'Place it: cedar').waitFor();
  await lookEverywhere(page, 'the list');
  await act(page, 'Place it: cedar').click();
  await target(page, 'Reading room', 'Return').waitFor();
  await lookEverywhere(page, 'choosing');
  await act(page, 'Cancel').click();
  await act(page, 'Forget: alder').click();
  await lookEverywhere(page, 'forgetting');
  await page.getByRole('dialog').getByRole('button', { name: 'Cancel' }).click();
  await act(page, 'Find one: warm it in your hand').click();
  await page.getByText(/s left/).waitFor();
  await lookEverywhere(page, 'finding');
  expect(complaints).toEqual([]);
});
