/** Student's t: what 1.96 becomes where the scatter itself is known from a few figures only. */

/** Beyond so many degrees of freedom the expansion about the normal distribution is exact enough. */
const MANY = 60;
const cache: number[] = [];

/**
 * Factor by which the standard uncertainty of a mean becomes the half-width of 95 %, where its scatter
 * was judged from `degrees` + 1 figures (JCGM 100:2008, G.3).
 * @param degrees of freedom; rounded down; under 1 nothing is known, and the factor is infinite
 */
export function student95(degrees: number): number {
  const n = Math.floor(degrees);
  if (!(n >= 1)) return Infinity;
  if (n > MANY) return expansion(n);
  return (cache[n] ??= solve(n));
}

/** The angle of which the probability within ±t is 0.95, by bisection: t = √n tan θ. */
function solve(n: number): number {
  let low = 0;
  let high = Math.PI / 2;
  for (let i = 0; i < 60; i++) {
    const angle = (low + high) / 2;
    if (within(n, angle) < 0.95) low = angle;
    else high = angle;
  }
  return Math.sqrt(n) * Math.tan(low);
}

/** P(|t| < √n tan θ) of n degrees, a finite sum (Abramowitz and Stegun 26.7.3 and 26.7.4). */
function within(n: number, angle: number): number {
  const cos = Math.cos(angle);
  const odd = n % 2 === 1;
  let term = odd ? cos : 1;
  let sum = n === 1 ? 0 : term;
  for (let k = odd ? 3 : 2; k < n; k += 2) {
    term *= ((k - 1) / k) * cos * cos;
    sum += term;
  }
  const part = Math.sin(angle) * sum;
  return odd ? (2 / Math.PI) * (angle + part) : part;
}

/** Abramowitz and Stegun 26.7.5. */
function expansion(n: number): number {
  const z = 1.959964;
  return z + (z ** 3 + z) / (4 * n) + (5 * z ** 5 + 16 * z ** 3 + 3 * z) / (96 * n * n);
}
