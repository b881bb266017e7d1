/** What a chart of one unit shows, and which stretch of it: one model for its plots, live or recorded. */
import { MediaQuery } from 'svelte/reactivity';
import type { History } from '../live/history.ts';
import type { ToldEvent } from '../words/events.ts';
import type { Scales } from '../words/scales.ts';
import type { TimeHost } from './time-keys.ts';
import type { MarkedSpan } from './marks.ts';
import type { OverlayContent } from './overlay.ts';
import { readPalette } from './palette.ts';
import type { PlotArea } from './plot.ts';
import { AIR_LABELS, airSpec, POWER_LABELS, powerSpec, type PlotHost } from './specs.ts';
import { type Held, type Shown, shownAs, viewOf, type Window } from './view.ts';

/** What is drawn; asked for whenever it may have changed. */
export interface ChartSource {
  unitId: string;
  history: History;
  /** Changes with the history, whose columns are not reactive. */
  version: unknown;
  /** How far the axis reaches, ms since the epoch; null: as far as the data. */
  end: number | null;
  events: ToldEvent[];
  spans: MarkedSpan[];
  heading: OverlayContent['heading'];
  /** See `OverlayContent`. */
  mark: string | null;
  scales: Scales;
  /** The axis of the capacity reaches so high at least, W: as that of a chart beside it. */
  leastTopW: number;
}

/** So many have been looked at since the page was opened. */
let times = 0;

/** What of the time is looked at: one for all the plots that stand together. */
export class ChartTime {
  span = $state<Window>('all');
  /** A stretch that stays put; null: the chart goes on with the time. */
  held = $state.raw<Held | null>(null);
  /** The time under the pointer, ms since the epoch. */
  at = $state<number | null>(null);
  /** The pointer is shown on all of these plots, and on no others. */
  readonly together = `time-${++times}`;

  show({ span, held }: Shown): void {
    this.span = span;
    this.held = held;
  }
}

export class ChartModel {
  readonly time: ChartTime;
  /** Where the plot of the capacity lies: the flags stand over it. */
  area = $state.raw<PlotArea | null>(null);

  readonly #source: () => ChartSource;
  readonly #dark = new MediaQuery('(prefers-color-scheme: dark)');
  readonly #wide = new MediaQuery('(min-width: 100rem)');

  readonly palette = $derived.by(() => {
    void this.#dark.current;
    void this.#wide.current;
    return readPalette(document.documentElement);
  });
  readonly view = $derived.by(() => {
    const { history, version, end } = this.#source();
    void version;
    return viewOf(history.t, this.time.span, this.time.held, end);
  });
  readonly bounds = $derived.by((): [number, number] => {
    const { history, version } = this.#source();
    void version;
    return [history.t[0] ?? 0, history.lastT ?? 0];
  });
  /** Same data, other looks. */
  readonly looks = $derived.by(() => {
    const { events, spans, mark, scales, leastTopW } = this.#source();
    return [this.palette, scales, events, spans, mark, leastTopW];
  });
  readonly #power = $derived.by((): OverlayContent => {
    const { spans, heading, mark, scales } = this.#source();
    return { spans, heading, mark, sign: scales.power.sign, labels: POWER_LABELS };
  });
  readonly #air = $derived.by((): OverlayContent => {
    const { spans, scales } = this.#source();
    const sign = scales.temperature.sign;
    return { spans, heading: null, mark: null, sign, labels: AIR_LABELS };
  });

  /** All that can be looked at. */
  readonly whole = $derived.by((): Held => {
    const [from, last] = this.bounds;
    return { from, to: Math.max(last, this.#source().end ?? last) };
  });
  /** What pointers and keys do to the time. */
  readonly host: TimeHost = {
    view: () => (this.view === null ? null : { from: this.view[0], to: this.view[1] }),
    show: (stretch) => this.time.show(shownAs(stretch, this.whole, this.bounds[1])),
    reset: () => this.time.show({ span: 'all', held: null }),
  };
  readonly specs;

  constructor(source: () => ChartSource, time = new ChartTime()) {
    this.#source = source;
    this.time = time;
    const host: PlotHost = {
      palette: () => this.palette,
      scales: () => this.source.scales,
      power: () => this.#power,
      air: () => this.#air,
      onpoint: (at) => (time.at = at),
      together: time.together,
      time: this.host,
      ondrawn: (drawn) => (this.area = drawn),
      leastTopW: () => this.source.leastTopW,
    };
    this.specs = { power: powerSpec(host), air: airSpec(host) };
  }

  get source(): ChartSource {
    return this.#source();
  }
}
