/// <reference lib="dom" />
/** How an airflow is measured on the page: a method is begun, and followed as the page says. */
import type { Page } from 'playwright-core';

const SOON = { timeout: 60_000 };

/** Presses the first button of that name. */
export const press = (page: Page, name: string | RegExp): Promise<void> =>
  page.getByRole('button', { name }).first().click();

/** Opens a method and begins it. */
export async function begin(page: Page, method: string, act: string): Promise<void> {
  const button = page.getByRole('button', { name: act });
  const heading = page.locator('summary', { hasText: method });
  await heading.waitFor();
  if (!(await button.isVisible())) await heading.click();
  await button.click();
}

/** Goes through the sections of a sweep, or the points of a grid, as the page says, and ends it. */
export async function followed(page: Page): Promise<void> {
  for (let steps = 0; steps < 60; steps++) {
    const enough = page.getByText(/Tap End\.$/);
    const next = page.getByRole('button', {
      name: /^Section \d$|^I hold it there$|^At the next point$/,
    });
    await enough
      .or(page.getByText(/^Enough here|^Settled|^Hold the anemometer/))
      .first()
      .waitFor(SOON);
    if (await enough.isVisible()) break;
    // At sixty times the speed it may go away under the finger: the page says anew what is next.
    await next.click({ timeout: 5000 }).catch(() => undefined);
    // What is said of the one before goes away first.
    await page.waitForTimeout(300);
  }
  await press(page, 'End');
  await page.getByRole('heading', { name: 'Measured in this visit' }).waitFor(SOON);
}
