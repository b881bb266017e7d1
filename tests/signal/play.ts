/** A figure played to `Settling` second by second, with all that it says. */
import { Settling, type SettlingState, type Span } from '../../server/signal/settling.ts';
import { type Random, randomStream } from '../../simulator/random.ts';

export const T0 = 1_777_885_200_000;

/** What was said in one second. */
export interface Said {
  s: number;
  state: SettlingState;
  since: number | null;
  span: Span | null;
  plateauW: number | null;
  plateauU95W: number | null;
  steadyInS: number | null;
}

export interface Playing {
  /** A reading comes every so many seconds, of both places, and holds until the next. */
  everyS?: number;
  /** The scatter of the figure in one second, W. */
  noiseW?: number;
  /** False: the unit is off, or as good as. */
  delivers?: boolean;
}

export class Play {
  readonly settling = new Settling();
  readonly said: Said[] = [];
  /** Seconds that have been played. */
  s = 0;
  #held: number | null = null;
  readonly #random: Random;

  constructor(seed = 1) {
    this.#random = randomStream(seed, 'figure');
  }

  /** Plays so many seconds of a course; `watts` is given the second since the play began. */
  run(
    seconds: number,
    watts: number | null | ((s: number) => number | null),
    { everyS = 1, noiseW = 6, delivers = true }: Playing = {},
  ): this {
    for (const end = this.s + seconds; this.s < end; this.s++) {
      const heard = this.s % everyS === 0;
      const value = typeof watts === 'function' ? watts(this.s) : watts;
      const noise = noiseW * this.#random.normal();
      if (value === null) this.#held = null;
      else if (heard || this.#held === null) this.#held = value + noise;
      const fresh = heard && this.#held !== null;
      const { settling } = this;
      settling.add(this.t, { watts: this.#held, delivers, ret: fresh, sup: fresh });
      const { state, since, span, forecast } = settling;
      const { plateauW, plateauU95W, steadyInS } = forecast;
      this.said.push({
        ...{ s: this.s, state, since, span: span === null ? null : { ...span } },
        ...{ plateauW, plateauU95W, steadyInS },
      });
    }
    return this;
  }

  /** The time of the second that is played next, ms. */
  get t(): number {
    return T0 + this.s * 1000;
  }

  /** Something is told now, or was told so many seconds ago. */
  tell(agoS = 0): this {
    this.settling.restart(this.t - 1000 * (1 + agoS));
    return this;
  }

  between(fromS: number, toS = Infinity): Said[] {
    return this.said.filter(({ s }) => s >= fromS && s < toS);
  }

  /** The seconds in which it was in this state. */
  in(state: SettlingState, fromS = 0, toS = Infinity): number[] {
    return this.between(fromS, toS).flatMap((said) => (said.state === state ? [said.s] : []));
  }

  /** The first second from `fromS` on in which it was steady; NaN: never. */
  steadyAt(fromS = 0): number {
    return this.in('steady', fromS)[0] ?? NaN;
  }

  /** The spans that were told, each as it was at last, in seconds. */
  get spans(): { from: number; to: number; kind: Span['kind'] }[] {
    const found: { from: number; to: number; kind: Span['kind'] }[] = [];
    let before: Span | null = null;
    for (const { span } of this.said) {
      if (span !== null) {
        const seen = { ...span, from: (span.from - T0) / 1000, to: (span.to - T0) / 1000 };
        if (before !== null && before.kind === span.kind && span.from <= before.to) found.pop();
        found.push(seen);
      }
      before = span;
    }
    return found;
  }
}

export interface Step {
  from: number;
  to: number;
  /** When it is told, how long nothing moves, and how fast it goes then, s. */
  atS?: number;
  deadS?: number;
  tauS: number;
}

/** A level, and an approach to another one. */
export const step =
  ({ from, to, atS = 0, deadS = 0, tauS }: Step) =>
  (s: number): number => {
    const x = s - atS - deadS;
    return x <= 0 ? from : to + (from - to) * Math.exp(-x / tauS);
  };

/** How near is near: 3 %, or 60 W. */
export const near = (watts: number): number => Math.max(60, 0.03 * Math.abs(watts));
