/** A replay on the page: marked on every screen, led by its bar, and altered by nothing. */
import { describe, expect, test } from 'vitest';
import type { Frame, Replay, State } from '../../server/protocol.ts';
import { captureWith, probeWith, stateWith, T0 } from '../client/fixtures.ts';
import { faultsOf, smallButtons, stage } from './browser.ts';
import { openTold, pastOf } from './frames.ts';

const on = stage();
const PLAYED: Replay = {
  ...{ type: 'replay', speed: 1, paused: false, from: T0 - 600_000, to: T0 + 600_000, at: T0 },
  ...{ toT: null, jumps: 0, ended: false },
};
const played = (change: Partial<State> = {}): Frame[] => [
  stateWith({ replay: PLAYED, captures: [captureWith()], ...change }),
  pastOf(300, () => 2640),
];

describe('a replay', () => {
  test('is led by play and pause, speed and time', async () => {
    const { page, calls, send, complaints } = await openTold(on, { frames: played() });
    const bar = page.getByRole('group', { name: 'Replay' });
    await bar.getByRole('button', { name: 'Pause' }).click();
    await expect.poll(() => calls.at(-1)?.body).toEqual({ paused: true });
    send({ ...PLAYED, paused: true });
    await bar.getByRole('button', { name: 'Play' }).waitFor();
    await bar.getByLabel('Speed').selectOption('30');
    await expect.poll(() => calls.at(-1)?.body).toEqual({ speed: 30 });
    const slider = bar.getByRole('slider', { name: 'Time in the replay' });
    await slider.press('ArrowLeft');
    await slider.press('ArrowLeft');
    await expect.poll(() => calls.at(-1)?.body).toEqual({ toT: T0 - 20_000 });
    await slider.press('End');
    await expect.poll(() => calls.at(-1)?.body).toEqual({ toT: T0 + 600_000 });
    send({ ...PLAYED, at: PLAYED.to, ended: true });
    await bar.getByRole('button', { name: 'Play again' }).click();
    await expect.poll(() => calls.at(-1)?.body).toEqual({ paused: false, toT: T0 - 600_000 });
    expect(new Set(calls.map(({ path }) => path))).toEqual(new Set(['/api/replay']));
    expect(complaints).toEqual([]);
  });

  test('is marked on every screen, and nothing in it can be touched', async () => {
    const { page, complaints } = await openTold(on, {
      frames: played({ simulated: true }),
      context: { bypassCSP: true },
    });
    await page.getByRole('group', { name: 'Replay' }).waitFor();
    const way = page.getByRole('navigation');
    for (const place of ['Probes', 'Airflow', 'Capacity', 'Verdict', 'Record']) {
      await way.getByRole('link', { name: place }).click();
      await page.locator(`h1${place === 'Capacity' ? '' : `:text-is("${place}")`}`).waitFor();
      await page.locator('.bar', { hasText: 'Replay, simulated' }).waitFor();
      await page.getByText('This is a replay: nothing in it can be changed.').first().waitFor();
      for (const name of ['Capture', 'Setpoint up', 'Strike out', 'Begin a new visit']) {
        for (const button of await page.getByRole('button', { name }).all()) {
          expect(await button.isDisabled(), `${name} at ${place}`).toBe(true);
        }
      }
      expect(await page.getByText('Next:').count()).toBe(0);
      expect(await faultsOf(page), place).toEqual([]);
    }
    await page.goto(`${page.url().split('#')[0]}#settings`);
    expect(await page.getByRole('button', { name: 'Save' }).isDisabled()).toBe(true);
    expect(await page.getByLabel('Title').isDisabled()).toBe(true);
    await expect.poll(() => page.locator(':focus').textContent()).toMatch(/^\s*Close\s*$/);
    expect(await faultsOf(page), 'settings').toEqual([]);
    expect(complaints).toEqual([]);
  });

  test.each([true, false])('shows its probes as they were, simulated %s', async (simulated) => {
    const of = { adapter: 'replay', simulated };
    const { page } = await openTold(on, {
      frames: played({
        simulated,
        adapters: { replay: { state: 'running', text: 'The replay is paused.' } },
        probes: {
          p1: probeWith({ ...of, name: 'Alder' }),
          p2: probeWith({ ...of, name: 'Birch', place: 'supply', state: 'lost', values: {} }),
          p3: probeWith({ ...of, name: 'Cedar', adapter: null, lastT: null, state: 'lost' }),
        },
      }),
    });
    await page.getByRole('navigation').getByRole('link', { name: 'Probes' }).click();
    const main = page.getByRole('main');
    await main.getByText('Birch is lost.').waitFor();
    const marks = main.getByRole('listitem').getByText('simulated', { exact: true });
    expect(await marks.count()).toBe(simulated ? 3 : 0);
    // Whoever looks at it cannot do anything about a probe of that time.
    expect(await main.getByRole('button').count()).toBe(0);
    const text = (await main.innerText()).replace(/\s+/g, ' ');
    expect(text).not.toMatch(
      /Turn it on|Check its battery|Place it|from a|move together|on its own/,
    );
    expect(text).toMatch(/the visit log The replay is paused\./);
    expect(text).toContain('No side-by-side check so far.');
  });

  test('shows another place of it at once after a jump, without asking again', async () => {
    const { page, send, complaints } = await openTold(on, { frames: played() });
    await page.getByRole('group', { name: 'Replay' }).waitFor();
    let connections = 0;
    page.on('websocket', () => connections++);
    send(stateWith({ t: T0 - 500_000, replay: { ...PLAYED, at: T0 - 500_000, jumps: 1 } }));
    send(pastOf(0, () => 1200));
    const slider = page.getByRole('slider', { name: 'Time in the replay' });
    await expect.poll(() => slider.inputValue()).toBe(String(T0 - 500_000));
    await page.waitForTimeout(300);
    expect(connections).toBe(0);
    expect(complaints).toEqual([]);
  });

  test.each([
    [390, 844],
    [844, 390],
  ])('has one row at %d × %d, for a thumb', async (width, height) => {
    const { page } = await openTold(on, {
      frames: played({ simulated: true }),
      context: { viewport: { width, height } },
    });
    const bar = page.getByRole('group', { name: 'Replay' });
    await bar.waitFor();
    const parts = [
      bar.getByRole('button'),
      bar.getByLabel('Speed'),
      bar.getByRole('slider'),
      bar.locator('time'),
      ...(width > height ? [page.locator('.tag')] : []),
    ];
    const boxes = await Promise.all(parts.map((part) => part.boundingBox()));
    for (const [i, box] of boxes.entries()) {
      const next = boxes[i + 1];
      if (box === null || next === null) throw new Error('it is not seen');
      if (i < 3) expect(box.height, String(i)).toBeGreaterThanOrEqual(44);
      if (next !== undefined) expect(box.x + box.width, String(i)).toBeLessThanOrEqual(next.x);
    }
    expect(boxes[2]?.width).toBeGreaterThan(100);
    expect(await smallButtons(page)).toEqual([]);
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    expect(wide).toBeLessThanOrEqual(width);
  });
});
