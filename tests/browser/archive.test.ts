/// <reference lib="dom" />
/** The page over a company's archive: real visits of several vans, units and years, looked at in a browser. */
import { join } from 'node:path';
import type { BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { makeToken } from '../../server/archive/tokens.ts';
import { reportAside } from '../../server/cli/report-thread.ts';
import { OWNER } from '../archive/people.ts';
import { POSTGRES } from '../archive/postgres.ts';
import { type ArchiveStage, archiveStage, sendingVan } from '../archive/stage.ts';
import { type Invented, record, T0, visitLines } from '../archive/visits.ts';
import { ROOT, tempFolder } from '../program.ts';
import { faultsOf, openPage, smallButtons, stage } from './browser.ts';

const on = stage();
const YEAR_MS = 365.25 * 86_400_000;
const SITES = [
  'The library',
  'The school',
  'The bakery',
  'The clinic',
  'The mill',
  'The office',
].concat(['The bank', 'The gym', 'The chapel', 'The garage', 'The studio']);

/** A unit of one type at each site, of which that of the mill gives too little. */
const FIRST: Partial<Invented>[] = SITES.map((title, i) => ({
  ...{ title, address: `${i + 1} Orchard Lane`, unitName: `Unit ${i + 1}`, stretch: 0.5 },
  ...{ t: T0 - YEAR_MS + i * 3_600_000, share: title === 'The mill' ? 0.5 : 1 + 0.01 * (i % 4) },
  ...{ flowM3s: 0.16 + 0.001 * (i % 3), probes: ['p3', 'p4'], calibratedT: T0 - 2 * YEAR_MS },
}));
/** The first site again and again; one of the probes drifts. */
const AGAIN: Partial<Invented>[] = [3, 2, 1, 0].map((ago) => ({
  ...{ title: 'The library', address: '1 Orchard Lane', unitName: 'Unit 1', stretch: 0.5 },
  ...{ t: T0 - (ago + 0.1) * YEAR_MS, offsetC: 0.1 + 0.2 * (3 - ago), share: 1 - 0.02 * (3 - ago) },
  baseline: ago === 3,
}));

const PHONE = { width: 390, height: 844 };
const LAPTOP = { width: 1280, height: 800 };
/** Where pictures are put, of the other two as well. */
const SHOTS = process.env['SHOTS'];
const SCREENS: [string, BrowserContextOptions][] = [
  ['a phone in light', { viewport: PHONE, colorScheme: 'light' }],
  ['a laptop in dark', { viewport: LAPTOP, colorScheme: 'dark' }],
  ...(SHOTS === undefined
    ? []
    : ([
        ['a phone in dark', { viewport: PHONE, colorScheme: 'dark' }],
        ['a laptop in light', { viewport: LAPTOP, colorScheme: 'light' }],
      ] satisfies [string, BrowserContextOptions][])),
];
/** What a browser complains of where the archive lets nobody in. */
const isRefusal = (text: string): boolean => /status of 40[13]/.test(text);

/** No fault, no button too small for a thumb, nothing wider than the screen. */
async function look(page: Page, what: string): Promise<void> {
  if (SHOTS !== undefined)
    await page.screenshot({ path: join(SHOTS, `${what}.png`), fullPage: true });
  expect.soft(await faultsOf(page), what).toEqual([]);
  expect.soft(await smallButtons(page), what).toEqual([]);
  const [wide, screen] = await page.evaluate(() => [
    document.documentElement.scrollWidth,
    document.documentElement.clientWidth,
  ]);
  expect.soft(wide, what).toBeLessThanOrEqual(screen ?? 0);
}

/** Enters a token where it is asked for. */
async function enter(page: Page, token: string): Promise<void> {
  await page.getByLabel('Token').fill(token);
  await page.getByRole('button', { name: 'Open the archive' }).click();
}
const goTo = (page: Page, place: string): Promise<void> =>
  page.getByRole('navigation').getByRole('link', { name: place }).click();
/** Opens all tables of a page. */
async function unfold(page: Page): Promise<void> {
  for (const each of await page.locator('summary').all()) await each.click();
}

describe.skipIf(POSTGRES === null)('the page over an archive', () => {
  const temp = tempFolder();
  let archive: ArchiveStage;
  const tokens = { reader: '', owner: '', van: '' };

  beforeAll(async () => {
    archive = await archiveStage({
      clientDir: join(ROOT, 'build/client'),
      makeReport: (of, form) =>
        reportAside(join(ROOT, 'build/server/report.mjs'), { of, ...form, madeT: T0 }),
    });
    for (const [i, visits] of [FIRST, AGAIN].entries()) {
      const dataDir = join(temp.path, `van-${i}`);
      for (const [n, of] of visits.entries()) record(dataDir, `visit-${n}`, visitLines(of, n + 1));
      const { van, sender } = await sendingVan(archive, { dataDir, name: `Van ${i + 1}` });
      await sender().sendAll();
      tokens.van = van.token;
    }
    for (const role of ['reader', 'owner'] as const) {
      const made = await archive.db.as(OWNER, (ask) =>
        makeToken(ask, { role, name: role === 'owner' ? 'Office' : 'Desk' }, T0),
      );
      tokens[role] = made.token;
    }
  });
  afterAll(async () => {
    await archive.end();
    temp.remove();
  });

  const open = (how: BrowserContextOptions = {}) =>
    openPage(on.browser, archive.url, { bypassCSP: true, locale: 'en-US', ...how });

  test.each(SCREENS)('a reader finds everything, on %s', async (screen, how) => {
    const { page, complaints } = await open(how);
    await page.getByRole('heading', { name: 'Company archive' }).waitFor();
    await look(page, `${screen} token`);
    await page.getByRole('button', { name: 'Open the archive' }).click();
    await page.getByRole('alert').getByText('The token is missing.').waitFor();
    await enter(page, 'nonsense');
    await page.getByText('it is not one that lets anybody in').waitFor();
    expect(await page.getByLabel('Token').getAttribute('aria-invalid')).toBe('true');
    await look(page, `${screen} wrong token`);
    await enter(page, tokens.reader);

    const visits = page.getByRole('list', { name: 'Visits' });
    await page.getByText('15 visits, newest first.').waitFor();
    await look(page, `${screen} visits`);
    expect(await page.getByRole('link', { name: 'Office', exact: true }).count()).toBe(0);
    await page.getByLabel('Search').fill('mill');
    await page.getByText('1 visit found').waitFor();
    await visits.getByRole('link', { name: 'The mill' }).click();
    await page.getByText('Measured by Van 1.').waitFor();
    await page.getByText('Falls short').first().waitFor();
    for (const live of [/Begin/, /Continue/, /Delete/, /Erase/]) {
      expect(await page.getByRole('button', { name: live }).count(), String(live)).toBe(0);
    }
    await look(page, `${screen} visit`);
    const download = page.waitForEvent('download');
    await page.getByRole('button', { name: 'Report (PDF)' }).click();
    expect((await download).suggestedFilename()).toMatch(/^visit-\d+\.pdf$/);
    await page.getByText('The report is in your downloads.').waitFor();
    const table = await page.getByRole('link', { name: 'Captures (CSV)' }).getAttribute('href');
    expect(await (await page.request.get(`${archive.url}${table ?? ''}`)).text()).toMatch(
      /^visit,unit,unit_name,/,
    );
    await page.getByRole('link', { name: 'Put another beside it' }).click();
    await page.getByLabel('Search').fill('bakery');
    await page.getByText('1 visit found').waitFor();
    await visits.getByRole('link', { name: 'The bakery' }).click();
    await page.getByRole('heading', { name: 'Two visits side by side' }).waitFor();

    await goTo(page, 'Units');
    await page.getByText('11 units').waitFor();
    await look(page, `${screen} units`);
    await page.getByLabel('Search').fill('library');
    await page.getByText('1 unit.').waitFor();
    await page.getByRole('link', { name: 'Unit 1' }).click();
    await page.getByRole('img', { name: /Captured capacity over the years.*10 figures/ }).waitFor();
    await page.getByRole('img', { name: /Measured airflow over the years.*5 figures/ }).waitFor();
    await unfold(page);
    const years = page.getByRole('table', { name: /Captured capacity/ });
    expect(await years.getByRole('row').count()).toBe(11);
    expect(await years.getByText('Van 1', { exact: true }).count()).toBe(2);
    expect(await years.getByText('Van 2', { exact: true }).count()).toBe(8);
    expect(await page.getByRole('table').getByText('baseline').count()).toBe(1);
    await look(page, `${screen} unit`);
    await page.getByRole('radio', { name: 'Btu/h' }).check();
    await years.getByText('Btu/h').first().waitFor();
    await page.getByRole('radio', { name: 'kW' }).check();

    await page.getByRole('link', { name: 'All units of type Slim 35' }).click();
    const bad = page.getByRole('list', { name: /Capacity in cooling.*Outside/ });
    await bad.getByText('outside, too low').waitFor();
    expect(await bad.getByRole('listitem').count()).toBe(1);
    expect(await bad.getByRole('link').textContent()).toBe('Unit 5, The mill');
    await page.getByRole('img', { name: /11 units. Outside: Unit 5, The mill: outside/ }).waitFor();
    await unfold(page);
    await look(page, `${screen} type`);
    await goTo(page, 'Types');
    await page.getByText('11 units, 11 of them judged').waitFor();
    await look(page, `${screen} types`);

    await goTo(page, 'Probes');
    const book = page.getByRole('list', { name: 'Probe book' });
    expect(await book.getByRole('link').first().textContent()).toContain('Probe p3');
    expect(await book.getByText('Calibration due').count()).toBe(2);
    await look(page, `${screen} probes`);
    await book.getByRole('link', { name: /Probe p2/ }).click();
    await page.getByText(/^It drifts: \+0\.10.±.0\.0\d.K a year/).waitFor();
    await page.getByText(/^No clear drift/).waitFor();
    await unfold(page);
    await look(page, `${screen} probe`);

    await page.goto(`${archive.url}/#office`);
    await page.getByText('This place is the owner’s.').waitFor();
    await page.getByRole('button', { name: 'Forget the token here' }).click();
    await page.getByLabel('Token').waitFor();
    expect(complaints.filter((each) => !isRefusal(each))).toEqual([]);
  });

  test.each(SCREENS)('the owner makes a token, and withdraws it, on %s', async (screen, how) => {
    const { page, complaints } = await open(how);
    await enter(page, tokens.owner);
    await goTo(page, 'Office');
    await page.getByRole('button', { name: 'Make a token' }).click();
    await page.getByRole('button', { name: 'Make it' }).click();
    await page.getByText('The name is missing.').waitFor();
    await page.getByRole('radio', { name: 'A van that sends' }).check();
    await page.getByLabel('Which van').waitFor();
    await look(page, `${screen} make token`);
    await page.getByRole('radio', { name: 'Somebody who looks' }).check();
    const name = `Ash ${screen}`;
    await page.getByLabel('Name', { exact: true }).fill(name);
    await page.getByRole('button', { name: 'Make it' }).click();
    const token = await page.getByLabel('The new token').inputValue();
    expect(token).toMatch(/^[\w-]{43}$/);
    await look(page, `${screen} new token`);
    await page.getByRole('button', { name: 'Copy it' }).click();
    await page.getByText(/It is copied|copy it from there/).waitFor();
    await page.getByRole('button', { name: 'I have it' }).click();

    const ash = await open(how);
    await enter(ash.page, token);
    await ash.page.getByText(`${name}, reader`).waitFor();

    await page.getByRole('button', { name: `Withdraw ${name}` }).click();
    await page.getByText('From now on it opens nothing.').waitFor();
    await look(page, `${screen} withdraw`);
    await page.getByRole('button', { name: 'Withdraw it' }).click();
    await page.getByRole('button', { name: `Withdraw ${name}` }).waitFor({ state: 'detached' });
    await page.getByText(new RegExp(`withdrew token \\w+ of ${name}`)).waitFor();
    await look(page, `${screen} office`);

    await goTo(ash.page, 'Probes');
    await ash.page.getByText('The token was withdrawn').waitFor();
    await ash.page.getByLabel('Token').waitFor();
    expect([...complaints, ...ash.complaints].filter((each) => !isRefusal(each))).toEqual([]);
  });

  test('what is late is said, and what does not come', async () => {
    const { page } = await open();
    await enter(page, tokens.reader);
    await page.getByText('15 visits').waitFor();
    let isCut = true;
    await page.route('**/api/archive/units?*', async (route) => {
      if (!isCut) return route.continue();
      await new Promise((done) => setTimeout(done, 2000));
      return route.abort();
    });
    await goTo(page, 'Units');
    await page.getByText('Asking the archive.').waitFor();
    await page.getByRole('alert').getByText('The archive did not answer.').waitFor();
    await look(page, 'no answer');
    isCut = false;
    await page.getByRole('button', { name: 'Try again' }).click();
    await page.getByText('11 units').waitFor();
    await page.getByLabel('Search').fill('no such unit');
    await page.getByText('No unit matches.').waitFor();
    await page.goto(`${archive.url}/#units/999999`);
    await page.getByRole('alert').getByText('there is no "999999" in this archive').waitFor();
  });

  test('a van’s token is not for looking, and Spanish is spoken', async () => {
    const { page, complaints } = await open();
    await enter(page, tokens.van);
    await page.getByText('This token is a van’s').waitFor();
    expect(await page.getByRole('navigation').count()).toBe(0);
    const spanish = await open({ locale: 'es-MX', viewport: { width: 390, height: 844 } });
    await spanish.page.getByLabel('Clave').fill(tokens.owner);
    await spanish.page.getByRole('button', { name: 'Abrir el archivo' }).click();
    for (const [place, says] of [
      ['Visitas', 'Visitas'],
      ['Unidades', 'Unidades'],
      ['Modelos', 'Modelos'],
      ['Sondas', 'Libro de sondas'],
      ['Oficina', 'Oficina'],
    ] as const) {
      await goTo(spanish.page, place);
      await spanish.page.getByRole('heading', { level: 1, name: says }).waitFor();
      await look(spanish.page, `Spanish ${place}`);
    }
    expect([...complaints, ...spanish.complaints]).toEqual([]);
  });

  test('the owner deletes a visit, and erases what is personal of a site', async () => {
    const { page, complaints } = await open(SCREENS[0]?.[1]);
    await enter(page, tokens.owner);
    await page.getByRole('link', { name: 'The gym' }).click();
    await page.getByRole('button', { name: 'Delete this visit' }).click();
    await page.getByText('What goes: its readings').waitFor();
    await look(page, 'delete');
    await page.getByRole('button', { name: 'Delete it' }).click();
    await page.getByText('14 visits').waitFor();
    expect(await page.getByText('The gym').count()).toBe(0);

    await page.goto(`${archive.url}/#units`);
    await page.getByRole('link', { name: 'Unit 3' }).click();
    await page.getByRole('button', { name: 'Erase what is personal' }).click();
    await page.getByText('What stays: readings').waitFor();
    await look(page, 'erase');
    await page.getByRole('button', { name: 'Erase it' }).click();
    await page.getByText('What was personal of this site was erased').waitFor();
    await page.getByRole('heading', { level: 1, name: 'Slim 35' }).waitFor();
    expect(await page.getByText('The bakery').count()).toBe(0);
    expect(complaints).toEqual([]);
  });
});

test('the record of a van says how its sending stands, and nothing where there is no archive', async () => {
  const { url } = await on.start('demo', '--speed', '30');
  const { page, complaints } = await openPage(on.browser, `${url}/#record`);
  await page.getByRole('heading', { name: 'Hand it over' }).waitFor();
  await page.waitForResponse('**/api/sending');
  expect(await page.getByText(/the archive/).count()).toBe(0);
  await page.route('**/api/sending', (route) =>
    route.fulfill({
      json: {
        ...{ archive: 'https://archive.example.org', waiting: 2, visit: 'visit-1' },
        ...{ sentBytes: 40, bytes: 100, confirmedT: null, trouble: null },
      },
    }),
  );
  await page.getByText(/^A visit is on its way to the archive: 40/).waitFor();
  expect(complaints).toEqual([]);
});
