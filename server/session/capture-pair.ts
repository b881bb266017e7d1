/** Before and after: what captures after a setpoint or fan event are compared with. */
import { differenceUncertainty, MeanContributions } from '../measure/difference.ts';
import {
  type Capture,
  captureKey,
  type CapturePhoto,
  type Comparison,
  type EventMessage,
  type Struck,
} from '../protocol.ts';
import { shiftedCapture, shiftedStruck } from './clock-set.ts';
import { PARTS, type SpanMean } from './span-mean.ts';
import { sent } from '../words/sent.ts';

/**
 * Of a capture before an event, this part of its time may lie after it: a tenth, or in the minute that a
 * unit takes to answer four tenths (common practice, no source).
 */
const OVERLAP = 0.1;
const ANSWERS_MS = 60_000;
const OVERLAP_UNANSWERED = 0.4;

/** Photos of one capture. */
export const MOST_PHOTOS_HERE = 4;

/** The newest so many captures of a unit can be struck out, and remarked on. */
const KEPT = 500;
/** Where what a change is compared with is struck, as many earlier ones may take its place. */
const EARLIER = 20;

/** What a person said of a capture. */
type Said = Pick<Capture, 'note' | 'photos' | 'baseline'>;
const NOTHING_SAID: Said = {};

/** A capture with what its mean was made of. */
interface Made {
  capture: Capture;
  struck: Struck | null;
  said: Said;
  /** The change that it is after. */
  pair: Pair | null;
  /** Between which of the times at which everything earlier ceased to compare. */
  era: number;
  mode: SpanMean['mode'];
  errors: MeanContributions;
  /** Half-widths of 95 % by scatter, in the order of `PARTS`. */
  scatter: readonly (number | null)[];
}

interface Change {
  id: string;
  event: Comparison['event'];
}

interface Pair {
  change: Change;
  /** The captures before it: the last one that is not struck is compared with. */
  earlier: readonly Made[];
}

/** Which capture is meant, see `StrikeEvent`. */
export type CaptureOf = Pick<Capture, 'from' | 'by'> & { to?: number | undefined };

export class CapturePair {
  readonly #unit: string;
  /** In the order in which they were made. */
  readonly #made: Made[] = [];
  #era = 0;
  /** The last change, and the captures before it. */
  #pair: Pair | null = null;

  constructor(unit: string) {
    this.#unit = unit;
  }

  /** A setpoint or fan event: captures from here on are after it. */
  changed({ id, t, kind, valueC, boost, speed }: EventMessage): void {
    if (kind !== 'setpoint' && kind !== 'fan') return;
    const event: Comparison['event'] = { t, kind };
    if (valueC !== undefined) event.valueC = valueC;
    if (boost !== undefined) event.boost = boost;
    if (speed !== undefined) event.speed = speed;
    this.#pair = { change: { id, event }, earlier: this.#comparable() };
  }

  /**
   * The event was at another time.
   * @param cut ends the span that this cuts in two: that is a capture before the event
   */
  redate<T>(id: string, t: number, cut: () => T): T | null {
    const pair = this.#pair;
    if (pair?.change.id !== id) return null;
    this.#pair = null;
    const result = cut();
    const change: Change = { id, event: { ...pair.change.event, t } };
    const comparable = this.#comparable();
    const last = lastOf(comparable);
    const before = lastOf(pair.earlier);
    if (liesBefore(last, t) && last !== before) this.#pair = { change, earlier: comparable };
    else this.#pair = { change, earlier: liesBefore(before, t) ? pair.earlier : [] };
    return result;
  }

  /** Probes hang elsewhere, or were checked, or the mode is another: nothing earlier compares. */
  forget(): void {
    this.#era++;
    this.#pair = null;
  }

  /** The clock was set: all of before is told by the new one. */
  clockSet(shiftMs: number): void {
    const changes = new Set<Change>();
    for (const made of this.#made) {
      made.capture = shiftedCapture(made.capture, shiftMs);
      if (made.struck !== null) made.struck = shiftedStruck(made.struck, shiftMs);
      if (made.pair !== null) changes.add(made.pair.change);
    }
    if (this.#pair !== null) changes.add(this.#pair.change);
    for (const { event } of changes) event.t += shiftMs;
  }

  #comparable(): readonly Made[] {
    return this.#made.slice(-EARLIER).filter(({ era }) => era === this.#era);
  }

  /** Adds to a capture what it is compared with, and keeps it as the last one. */
  complete(capture: Capture, mean: SpanMean): Capture {
    const errors = new MeanContributions();
    errors.addAll(mean.errors); // a copy: a span that is open grows on
    const scatter = PARTS.map((name) => mean.part(name).scatterU95W);
    const key = captureKey(capture);
    const at = this.#made.findLastIndex((held) => captureKey(held.capture) === key);
    // One that has grown is as struck as it was, and what was said of it holds.
    const grown = at < 0 ? undefined : this.#made.splice(at, 1)[0];
    const { struck = null, said = NOTHING_SAID } = grown ?? {};
    // With each span until the next change: the first may be a swing that did not last.
    const pair = this.#pair;
    const { mode } = mean;
    const made: Made = { capture, mode, errors, scatter, struck, said, pair, era: this.#era };
    this.#made.push(made);
    if (this.#made.length > KEPT) this.#made.shift();
    return told(made);
  }

  /**
   * Strikes a capture out, or takes that back (null): nothing is compared with one that is struck.
   * @returns it and those that are compared with another one now, or why not, naming the field
   */
  strike(which: CaptureOf, struck: Struck | null): readonly Capture[] | string {
    const made = this.#find(which);
    if (typeof made === 'string') return made;
    const after = this.#made.filter(({ pair }) => pair?.earlier.includes(made));
    const before = after.map(beforeOf);
    made.struck = struck;
    return [made, ...after.filter((each, i) => beforeOf(each) !== before[i])].map(told);
  }

  /** Sets the note of a capture; an empty one takes it away. @returns it, or why not */
  note(which: CaptureOf, text: string): Capture | string {
    return this.#say(which, ({ note: _, ...said }) =>
      text === '' ? said : { ...said, note: text },
    );
  }

  /** Marks a capture as the baseline of later visits, or takes that back. @returns it, or why not */
  baseline(which: CaptureOf, isOne: boolean): Capture | string {
    return this.#say(which, ({ baseline: _, ...said }) =>
      isOne ? { ...said, baseline: true } : said,
    );
  }

  /** The newest capture that is not struck out; null: there is none. */
  get newest(): Capture | null {
    const made = lastOf(this.#made);
    return made === null ? null : told(made);
  }

  /** Puts a photo to a capture. @returns it, or why not */
  photo(which: CaptureOf, photo: CapturePhoto): Capture | string {
    const why = this.whyNoPhoto(which, photo.id);
    if (why !== null) return why;
    return this.#say(which, (said) => ({ ...said, photos: [...(said.photos ?? []), photo] }));
  }

  /** Takes one off again. @returns the capture, or why not */
  photoOff(which: CaptureOf, id: string): Capture | string {
    const made = this.#find(which);
    if (typeof made === 'string') return made;
    const { photos = [] } = made.said;
    const left = photos.filter((photo) => photo.id !== id);
    if (left.length === photos.length) return sent`photo: "${id}" is not on this capture`;
    return this.#say(which, ({ photos: _, ...said }) =>
      left.length === 0 ? said : { ...said, photos: left },
    );
  }

  /** Why a capture takes no photo (of that id), naming the field; null: it does. */
  whyNoPhoto(which: CaptureOf, id?: string): string | null {
    const made = this.#find(which);
    if (typeof made === 'string') return made;
    const { photos = [] } = made.said;
    if (photos.some((photo) => photo.id === id)) {
      return sent`photo: this photo is on this capture already: nothing was added`;
    }
    if (photos.length < MOST_PHOTOS_HERE) return null;
    return sent`photo: it would be one too many: a capture has at most ${MOST_PHOTOS_HERE} photos; take one off first`;
  }

  #say(which: CaptureOf, change: (said: Said) => Said): Capture | string {
    const made = this.#find(which);
    if (typeof made === 'string') return made;
    made.said = change(made.said);
    return told(made);
  }

  #find({ from, to, by }: CaptureOf): Made | string {
    const made = this.#made.findLast(
      ({ capture }) =>
        capture.from === from &&
        capture.by === by &&
        (by === 'itself' || to === undefined || capture.to === to),
    );
    return (
      made ??
      (to === undefined
        ? sent`from: no capture of "${this.#unit}" by ${by} begins at ${from}: name one as it was told (the newest ${KEPT} of a unit can be struck or remarked on)`
        : sent`from: no capture of "${this.#unit}" by ${by} begins at ${from} and ends at ${to}: name one as it was told (the newest ${KEPT} of a unit can be struck or remarked on)`)
    );
  }
}

const lastOf = (made: readonly Made[]): Made | null =>
  made.findLast(({ struck }) => struck === null) ?? null;

/** What a capture is compared with. */
function beforeOf({ pair, struck, mode }: Made): Made | null {
  const before = pair === null || struck !== null ? null : lastOf(pair.earlier);
  return before !== null && before.mode === mode ? before : null;
}

/** A capture as it is told: with what it is compared with, or that it is struck, and what was said of it. */
function told(made: Made): Capture {
  const { capture, struck, said, pair } = made;
  if (struck !== null) return { ...capture, struck, ...said };
  const before = beforeOf(made);
  if (pair === null || before === null) return { ...capture, ...said };
  return { ...capture, before: compare(pair.change, before, made), ...said };
}

function liesBefore(made: Made | null, t: number): boolean {
  if (made === null) return false;
  const { from, to } = made.capture;
  const lasts = to - from;
  return to - t <= Math.max(OVERLAP * lasts, Math.min(ANSWERS_MS, OVERLAP_UNANSWERED * lasts));
}

function compare(change: Change, before: Made, after: Made): Comparison {
  const half = (output: 'totalW' | 'sensibleW' | 'latentW', part: number): number | null => {
    const errors = differenceUncertainty(before.errors, after.errors, output);
    const earlier = before.scatter[part] ?? null;
    const later = after.scatter[part] ?? null;
    if (errors === null || earlier === null || later === null) return null;
    return Math.hypot(errors.u95W, earlier, later);
  };
  const { capture: b } = before;
  const { capture: a } = after;
  const latentW = a.latentW === null || b.latentW === null ? null : a.latentW - b.latentW;
  return {
    event: change.event,
    from: b.from,
    to: b.to,
    totalW: b.totalW,
    totalU95W: b.totalU95W,
    differenceW: a.totalW - b.totalW,
    differenceU95W: half('totalW', 0),
    sensibleDifferenceW: a.sensibleW - b.sensibleW,
    sensibleDifferenceU95W: half('sensibleW', 1),
    latentDifferenceW: latentW,
    latentDifferenceU95W: latentW === null ? null : half('latentW', 2),
  };
}
