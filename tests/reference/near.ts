/** Comparing with a published figure: how far off, in the terms in which the source is exact. */
import { expect } from 'vitest';

/** `actual` within `fraction` of `expected`; `what` names the figure where it is not. */
export function expectWithin(actual: number, expected: number, fraction: number, what = ''): void {
  const off = Math.abs(actual - expected) / Math.abs(expected);
  expect(off, `${what} ${actual} against ${expected}: relative error`).toBeLessThanOrEqual(
    fraction,
  );
}

/** `actual` within ±`margin` of `expected`, in the figure's own unit. */
export function expectNear(actual: number, expected: number, margin: number, what = ''): void {
  const off = Math.abs(actual - expected);
  expect(off, `${what} ${actual} against ${expected}: error`).toBeLessThanOrEqual(margin);
}
