/** Makes captures of a unit: the mean of a steady span, or of whole cycles, with its interval. */
import type { Capture, CaptureSetting, EventMessage } from '../protocol.ts';
import type { Settling, Span } from '../signal/settling.ts';
import { CapturePair } from './capture-pair.ts';
import { CycleMean, Cycles } from './cycle-mean.ts';
import { keepsErrors, RecentSeconds, type Second } from './second.ts';
import { halfWidth, knownW, type SpanMean, SteadyMean } from './span-mean.ts';

/** When captures are made without a touch; the visit's settings, read as they are at the moment. */
export interface Capturing {
  /** By itself once a span has held so long, s, and at its end; null: only by touch. */
  captureAfterS: number | null;
  /** One of each span whatever is set, as for a log that is looked through afterwards. */
  readonly everySpan: boolean;
}

interface OpenSpan {
  kind: Span['kind'];
  mean: SteadyMean | CycleMean;
  /** When it was called steady or cycling, ms. */
  calledT: number;
  /** Up to here its seconds have been looked at, ms. */
  takenT: number;
  /** Whether a capture of it was made by itself: then one at its end replaces that. */
  made: boolean;
  /** When the next one that replaces it is due, ms. */
  nextT: number;
}

/** A capture made by itself grows on with its span: it is told again so often, ms. */
const AGAIN_MS = 60_000;
const NONE: readonly Capture[] = [];

type Settled = Pick<Settling, 'span' | 'cycleEnds'>;

export class CaptureMean {
  readonly #unit: string;
  readonly #capturing: Capturing;
  readonly #setting: (from: number, to: number) => CaptureSetting;
  readonly #recent = new RecentSeconds();
  readonly #cycles = new Cycles();
  readonly #pair: CapturePair;
  #open: OpenSpan | null = null;
  /** The end of the last span: no second is averaged into two of them. */
  #endedT = -Infinity;
  /** The second before. */
  #lastT = -Infinity;
  /** The last second before the last cut, and before the one before that. */
  #cutT = -Infinity;
  #cutBeforeT = -Infinity;
  /** A span was cut and goes on, but none of its seconds since has been judged yet. */
  #justCut = false;
  /** A person has touched meanwhile. */
  #touched = false;

  /** @param setting how the unit is set, and the air around it in a span, ms */
  constructor(
    unit: string,
    capturing: Capturing,
    setting: (from: number, to: number) => CaptureSetting,
    pair = new CapturePair(unit),
  ) {
    this.#unit = unit;
    this.#capturing = capturing;
    this.#setting = setting;
    this.#pair = pair;
  }

  /** The clock was set: an open span is over; what was captured can still be struck, and compared with. */
  clockSet(shiftMs: number): CaptureMean {
    this.#pair.clockSet(shiftMs);
    return new CaptureMean(this.#unit, this.#capturing, this.#setting, this.#pair);
  }

  /**
   * Takes a second that stands for `standsS` of them, up to its own: each counts alike.
   * @returns as `second`
   */
  stretch(second: Second, standsS: number, settling: Settled): readonly Capture[] {
    // Of seconds without a figure the last one is enough.
    let left = second.figures.totalW === null ? 1 : standsS;
    let made = NONE;
    while (--left > 0) {
      const t = second.t - 1000 * left;
      const errors = keepsErrors(t) ? second.errors : null;
      const captures = this.second(
        { ...second, t, errors },
        { span: settling.span, cycleEnds: false },
      );
      if (captures.length > 0) made = [...made, ...captures];
    }
    const last = this.second(second, settling);
    return made.length === 0 ? last : [...made, ...last];
  }

  /** Takes one second; returns captures of a span that has ended, or has held long enough. */
  second(second: Second, { span, cycleEnds }: Settled): readonly Capture[] {
    this.#recent.add(second);
    this.#cycles.add(second, cycleEnds);
    const over = this.#open !== null && !goesOn(this.#open, span);
    const ended = over ? this.end() : null;
    const due = span === null ? null : this.#grow(span, second);
    this.#lastT = second.t;
    const touched = this.#justCut ? this.#sinceCut(span) : null;
    if (ended === null && due === null && touched === null) return NONE;
    return [ended, due, touched].filter((capture) => capture !== null);
  }

  /** What a touch waited for, once a second after the cut has been judged. */
  #sinceCut(span: Span | null): Capture | null {
    const judged = this.#open !== null && !this.#open.mean.empty;
    if (!judged && span !== null) return null;
    this.#justCut = false;
    const made = this.#touched ? this.#written() : null;
    this.#touched = false;
    return made;
  }

  /**
   * The mean of the open span so far, W, half of its interval by scatter alone, and by all that is
   * doubtful about it, and over how many whole cycles it is; null without one.
   */
  get running(): {
    meanW: number;
    u95W: number | null;
    wholeU95W: number | null;
    cycles: number | null;
  } | null {
    if (this.#open === null || this.#open.mean.empty) return null;
    const { mean } = this.#open;
    const part = mean.part('total');
    return {
      meanW: part.meanW,
      u95W: part.scatterU95W,
      wholeU95W: halfWidth(part),
      cycles: mean.cycles,
    };
  }

  /**
   * The mean so far, as a person wants it written down; null where there is no span. Where one was just
   * cut it is made with its `next` seconds.
   */
  touch(): Capture | 'next' | null {
    if (!this.#justCut) return this.#written();
    this.#touched = true;
    return 'next';
  }

  #written(): Capture | null {
    const open = this.#open;
    if (open === null || open.mean.empty) return null;
    return this.#pair.complete(this.#captureOf(open, 'touch'), open.mean);
  }

  /** Ends an open span; returns its capture, where one is to be made without a touch. */
  end(): Capture | null {
    const open = this.#open;
    this.#open = null;
    if (open === null || open.mean.empty) return null;
    this.#endedT = open.mean.to;
    const { captureAfterS, everySpan } = this.#capturing;
    const capture = this.#captureOf(open, 'itself');
    // Without an interval it is no result: a person may want it all the same, nobody else does.
    const wanted = captureAfterS !== null && capture.totalU95W !== null;
    return wanted || everySpan || open.made ? this.#pair.complete(capture, open.mean) : null;
  }

  /**
   * The figure is worked out otherwise from the next second on, though settling may go on: an open span
   * ends, and no mean goes across.
   * @returns the capture of the span that was open, as `end`
   */
  cut(): Capture | null {
    this.#justCut = this.#open !== null;
    const ended = this.end();
    if (this.#lastT > this.#cutT) {
      this.#cutBeforeT = this.#cutT;
      this.#cutT = this.#lastT;
    }
    this.#endedT = Math.max(this.#endedT, this.#cutT);
    this.#cycles.clear();
    return ended;
  }

  /** A setpoint or fan event of the unit: what is captured from here on is after it. */
  changed(event: EventMessage): void {
    this.#pair.changed(event);
  }

  /**
   * That event was at another time.
   * @param restarts whether settling begins anew then: an open span in which that lies ends there
   * @returns the capture of such a span
   */
  redate(id: string, t: number, restarts: boolean): Capture | null {
    return this.#pair.redate(id, t, () => {
      const open = this.#open;
      if (!restarts || open === null || open.mean.empty || t <= open.mean.from) return null;
      if (open.kind === 'steady') open.mean = this.#upTo(open.mean, t);
      return this.end();
    });
  }

  /** The captures that were made, to be struck out or remarked on. */
  get made(): CapturePair {
    return this.#pair;
  }

  /** Nothing captured so far compares with what comes. */
  forget(): void {
    this.#pair.forget();
  }

  /** The same without the seconds from `t` on, where they are all still kept. */
  #upTo(mean: OpenSpan['mean'], t: number): OpenSpan['mean'] {
    const seconds = this.#recent.between(mean.from, t - 1);
    if (seconds[0]?.t !== mean.from) return mean;
    const shorter = new SteadyMean();
    for (const second of seconds) shorter.add(second);
    return shorter;
  }

  #grow(span: Span, second: Second): Capture | null {
    const { t } = second;
    const open = (this.#open ??= this.#begin(span, t));
    if (open.mean instanceof CycleMean) {
      for (const cycle of this.#cycles.take(span)) {
        if (cycle.from > this.#endedT) open.mean.add(cycle);
      }
    } else if (open.takenT === this.#lastT && span.to >= t) {
      // The usual case, written out: one second more.
      open.mean.add(second);
      open.takenT = t;
    } else if (span.to > open.takenT) {
      const from = Math.max(span.from, open.takenT + 1, this.#endedT + 1);
      for (const each of this.#recent.between(from, span.to)) open.mean.add(each);
      open.takenT = Math.min(span.to, t);
    }
    const { captureAfterS } = this.#capturing;
    if (captureAfterS === null || open.mean.empty || t < open.nextT) return null;
    if (t - open.calledT < captureAfterS * 1000) return null;
    open.nextT = t + AGAIN_MS;
    const capture = this.#captureOf(open, 'itself');
    if (capture.totalU95W === null && !open.made) return null;
    open.made = true;
    return this.#pair.complete({ ...capture, open: true }, open.mean);
  }

  #begin(span: Span, calledT: number): OpenSpan {
    const { kind } = span;
    const mean = kind === 'steady' ? new SteadyMean(this.#beforeCut(span)) : new CycleMean();
    return { kind, mean, calledT, takenT: -Infinity, made: false, nextT: -Infinity };
  }

  /** The seconds of a steady span before the last cut, but not before the one before that. */
  #beforeCut({ from }: Span): SteadyMean | null {
    if (from > this.#cutT) return null;
    const before = new SteadyMean();
    const since = Math.max(from, this.#cutBeforeT + 1);
    for (const second of this.#recent.between(since, this.#cutT)) before.add(second);
    return before.empty ? null : before;
  }

  #captureOf({ kind, mean }: OpenSpan, by: Capture['by']): Capture {
    const total = mean.part('total');
    const sensible = mean.part('sensible');
    const latent = mean.part('latent');
    return {
      type: 'capture',
      unit: this.#unit,
      from: mean.from,
      to: mean.to,
      totalW: total.meanW,
      totalU95W: halfWidth(total),
      sensibleW: sensible.meanW,
      sensibleU95W: halfWidth(sensible),
      latentW: knownW(latent.meanW),
      latentU95W: halfWidth(latent),
      state: kind,
      simulated: mean.simulated,
      by,
      ...(mean.cycles === null ? {} : { cycles: mean.cycles }),
      at: this.#setting(mean.from, mean.to),
      errors: mean.errors.known
        ? mean.errors.means.map(({ kind, of, totalW }) => ({ kind, of, totalW }))
        : [],
      scatterU95W: total.scatterU95W,
    };
  }
}

/** Whether a span is the open one, grown: its beginning may move while old cycles are let go. */
function goesOn(
  { kind, mean }: { kind: Span['kind']; mean: SpanMean },
  span: Span | null,
): boolean {
  return span !== null && span.kind === kind && (mean.empty || span.from <= mean.to);
}
