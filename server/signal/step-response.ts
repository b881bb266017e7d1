/**
 * Where a figure is heading soon after something was told to the unit, from where it was before: a
 * dead time L, then a rise, y = y₀ + A·h(t − L). Three kinds of rise are tried, for a grid of durations
 * each: of second order (a machine behind a probe), the same with too little damping (a controller that
 * overshoots), and at a constant pace to a stop, behind a probe (a compressor that may change its speed
 * only so fast). A and L follow by Gauss and Newton, A in closed form within each step; all weigh by how
 * well they explain the means and by how usual they are, so the plateau has an interval that is wide
 * while little is known.
 */

/** Time constants, s: 8 s to 10 min. */
const TAU_S: readonly number[] = Array.from({ length: 13 }, (_, i) => 8 * 1.433 ** i);
/** The shorter time constant as a part of the longer. */
const RATIOS = [0.12, 0.4, 0.75] as const;
const SECOND_ORDER = TAU_S.length * RATIOS.length;
/** Damping of those that overshoot: by a fifth, a tenth, and a thirtieth. */
const DAMPING = [0.45, 0.6, 0.75] as const;
/** How likely it is that one does, beforehand, as a part of how likely each other kind is. */
const OVERSHOOTS = 0.35;
const OVERSHOOTING = SECOND_ORDER + TAU_S.length * DAMPING.length;
/** A rise at a constant pace lasts so many times a time constant; the probe behind it follows in, s. */
const PACED = 2.5;
const PROBE_S = 12;
const NODES = OVERSHOOTING + TAU_S.length;
/** The time constant of a node, s. */
function tauOf(node: number): number {
  if (node < SECOND_ORDER) return TAU_S[Math.floor(node / RATIOS.length)] ?? 1;
  if (node >= OVERSHOOTING) return TAU_S[node - OVERSHOOTING] ?? 1;
  return TAU_S[Math.floor((node - SECOND_ORDER) / DAMPING.length)] ?? 1;
}
const MOST_MEANS = 64;
/** Usual time constants: about this, within this factor either way. */
const USUAL_TAU_S = 60;
const USUAL_FACTOR = 2.5;
/** A dead time is moved by no more than this in one step, s. */
const STEP_S = 15;
/** Scatter below this part of the step and of the level is not believed: the grid is not that fine. */
const LEAST_OF_STEP = 0.012;
const LEAST_OF_LEVEL = 0.0015;
/** A best fit that leaves more than this part of the step explains nothing. */
const MISFIT = 0.06;
/** Beforehand a unit goes to about this many times what it has moved already. */
const USUAL_MORE = 1.2;

const LOG_PRIOR = Array.from({ length: NODES }, (_, node) => {
  const usual = -0.5 * (Math.log(tauOf(node) / USUAL_TAU_S) / Math.log(USUAL_FACTOR)) ** 2;
  // Beforehand the kinds are as likely however many nodes they have; one that overshoots is less so.
  if (node < SECOND_ORDER) return usual - Math.log(RATIOS.length);
  return node < OVERSHOOTING ? usual - Math.log(DAMPING.length / OVERSHOOTS) : usual;
});

export class StepResponse {
  /** The plateau and half of its 95 % interval; NaN where the last fit explained nothing. */
  plateau = NaN;
  u95 = NaN;
  /** Middle of the likely time constants, s. */
  tauS = NaN;
  #togo = 0;
  readonly #a = new Float64Array(NODES);
  /** Variance of `#a` in terms of that of the means. */
  readonly #v = new Float64Array(NODES);
  readonly #sse = new Float64Array(NODES);
  readonly #weight = new Float64Array(NODES);
  readonly #h = new Float64Array(MOST_MEANS);
  readonly #d = new Float64Array(MOST_MEANS);
  readonly #order = Array.from({ length: NODES }, (_, node) => node);
  readonly #onsetS = new Float64Array(NODES).fill(NaN);

  /** Another step: nothing of the last one is a beginning for it. */
  restart(): void {
    this.#onsetS.fill(NaN);
  }

  /**
   * @param y means since the change, oldest first, NaN where not known
   * @param n how many
   * @param stepS how long each of them is, s
   * @param before the level before the change
   * @param movedS when the first movement was seen, s after the change
   * @returns whether it explains them
   */
  fit(y: Float64Array, n: number, stepS: number, before: number, movedS: number): boolean {
    this.plateau = NaN;
    let square = 0;
    let known = 0;
    let rough = 0;
    for (let i = 0; i < n; i++) {
      const v = (y[i] ?? NaN) - before;
      if (v !== v) continue;
      square += v * v;
      known++;
      const bend = v - 2 * ((y[i - 1] ?? NaN) - before) + (y[i - 2] ?? NaN) - before;
      if (bend === bend) rough += bend * bend;
    }
    if (known < 5) return false;
    let best = 0;
    for (let node = 0; node < NODES; node++) {
      const first = this.#onsetS[node] !== this.#onsetS[node];
      if (first) this.#onsetS[node] = 0.7 * movedS;
      for (let i = first ? 0 : 1; i < 3; i++) this.#step(node, y, n, stepS, before, square, movedS);
      if ((this.#sse[node] ?? 0) < (this.#sse[best] ?? 0)) best = node;
    }
    return this.#weigh(known, best, before, rough / (6 * Math.max(1, known - 2)), y[n - 1] ?? NaN);
  }

  /** One step of Gauss and Newton in the dead time of a node. */
  #step(
    node: number,
    y: Float64Array,
    n: number,
    stepS: number,
    before: number,
    square: number,
    movedS: number,
  ): void {
    const onset = this.#onsetS[node] ?? 0;
    // The first mean whose middle lies after the onset.
    const first = Math.max(0, Math.ceil(onset / stepS - 0.5));
    const x = (first + 0.5) * stepS - onset;
    const scale = this.#shape(node, x, n - first, stepS);
    let hh = 0;
    let hd = 0;
    let dd = 0;
    let hy = 0;
    let dy = 0;
    for (let i = first; i < n; i++) {
      const v = (y[i] ?? NaN) - before;
      if (v !== v) continue;
      const h = this.#h[i - first] ?? 0;
      const d = this.#d[i - first] ?? 0;
      hh += h * h;
      hd += h * d;
      dd += d * d;
      hy += h * v;
      dy += d * v;
    }
    // A little that holds the dead time where the means say nothing of it.
    dd += 1e-3 * hh + 1e-9;
    const det = hh * dd - hd * hd;
    const a = (dd * hy - hd * dy) / det;
    const c = (hh * dy - hd * hy) / det;
    this.#a[node] = a;
    this.#v[node] = dd / det;
    this.#sse[node] = Math.max(0, square - a * hy - c * dy);
    const move = a === 0 ? 0 : (c / a) * scale;
    const to = onset + Math.min(STEP_S, Math.max(-STEP_S, move === move ? move : 0));
    this.#onsetS[node] = Math.min(movedS, Math.max(0, to));
  }

  /**
   * Fills `#h` with the rise of a node from `x` seconds after its onset on, and `#d` with what a later
   * onset does to it.
   * @returns so many seconds later does `#d`
   */
  #shape(node: number, x: number, n: number, stepS: number): number {
    if (node < SECOND_ORDER) return this.#rise(node, x, n, stepS);
    return node < OVERSHOOTING
      ? this.#overshooting(node, x, n, stepS)
      : this.#paced(node, x, n, stepS);
  }

  /** The rise of second order. */
  #rise(node: number, x: number, n: number, stepS: number): number {
    const tau = tauOf(node);
    const ratio = RATIOS[node % RATIOS.length] ?? 0.5;
    const slow = Math.exp(-stepS / tau);
    const fast = Math.exp(-stepS / (ratio * tau));
    let es = Math.exp(-x / tau) / (1 - ratio);
    let ef = Math.exp(-x / (ratio * tau)) / (1 - ratio);
    for (let i = 0; i < n; i++) {
      this.#h[i] = 1 - es + ratio * ef;
      this.#d[i] = ef - es;
      es *= slow;
      ef *= fast;
    }
    return tau;
  }

  /** The same with less than critical damping. */
  #overshooting(node: number, x: number, n: number, stepS: number): number {
    const tau = tauOf(node);
    const damping = DAMPING[(node - SECOND_ORDER) % DAMPING.length] ?? 0.7;
    const swings = Math.sqrt(1 - damping * damping);
    const decay = Math.exp((-damping * stepS) / tau);
    const [turn, lift] = [Math.cos((swings * stepS) / tau), Math.sin((swings * stepS) / tau)];
    const size = Math.exp((-damping * x) / tau);
    let c = size * Math.cos((swings * x) / tau);
    let s = size * Math.sin((swings * x) / tau);
    for (let i = 0; i < n; i++) {
      this.#h[i] = 1 - c - (damping / swings) * s;
      this.#d[i] = -s / swings;
      [c, s] = [decay * (c * turn - s * lift), decay * (s * turn + c * lift)];
    }
    return tau;
  }

  /** The rise at a constant pace. */
  #paced(node: number, x: number, n: number, stepS: number): number {
    const lastsS = PACED * tauOf(node);
    for (let i = 0; i < n; i++) {
      const since = x + i * stepS;
      const moves = 1 - Math.exp(-since / PROBE_S);
      const over = since - lastsS;
      const stops = over > 0 ? 1 - Math.exp(-over / PROBE_S) : 0;
      this.#h[i] = (since - PROBE_S * moves - (over > 0 ? over - PROBE_S * stops : 0)) / lastsS;
      this.#d[i] = stops - moves;
    }
    return lastsS;
  }

  #weigh(known: number, best: number, before: number, rough: number, now: number): boolean {
    const least = this.#sse[best] ?? 0;
    const size = Math.max(Math.abs(now - before), 1);
    const rms = Math.sqrt(least / Math.max(1, known - 4));
    if (rms > Math.max(MISFIT * size, 2 * Math.sqrt(rough))) return false;
    const floor = Math.max(LEAST_OF_STEP * size, LEAST_OF_LEVEL * Math.abs(now));
    // Neighbours resemble each other: what a fit leaves counts for half.
    const variance = 2 * Math.max(rms * rms, floor * floor);
    let sum = 0;
    for (let node = 0; node < NODES; node++) {
      const more = ((this.#a[node] ?? 0) / (now - before) - 1) / USUAL_MORE;
      const log = (LOG_PRIOR[node] ?? 0) - ((this.#sse[node] ?? 0) - least) / (2 * variance);
      sum += this.#weight[node] = Math.exp(log - 0.5 * more * more);
    }
    // The middle, not the mean: what is possible but unlikely lies all on one side.
    const order = this.#order.sort((p, q) => (this.#a[p] ?? 0) - (this.#a[q] ?? 0));
    let middle = 0;
    let run = 0;
    for (const node of order) {
      run += (this.#weight[node] ?? 0) / sum;
      if (run < 0.5) continue;
      middle = this.#a[node] ?? 0;
      break;
    }
    let logTau = 0;
    for (let node = 0; node < NODES; node++) {
      const w = (this.#weight[node] ?? 0) / sum;
      this.#weight[node] = w;
      logTau += w * Math.log(tauOf(node));
    }
    let spread = 0;
    for (let node = 0; node < NODES; node++) {
      const off = (this.#a[node] ?? 0) - middle;
      spread += (this.#weight[node] ?? 0) * (off * off + (this.#v[node] ?? 0) * variance);
    }
    this.plateau = before + middle;
    this.u95 = 2 * Math.sqrt(spread);
    this.tauS = Math.exp(logTau);
    this.#togo = Math.abs(now - before - middle);
    return this.u95 === this.u95;
  }

  /** In how many seconds it will be within `limit` of its plateau. */
  inS(limit: number): number {
    return this.#togo > limit ? this.tauS * Math.log(this.#togo / limit) : 0;
  }
}
