/** What has changed since an earlier visit, in words and as points of a chart. */
import {
  type Change,
  changeSince,
  type Figure,
  type Unlike,
} from '../../server/measure/expectation/change.ts';
import type { Capture, EarlierCaptures, UnitSetup } from '../../server/protocol.ts';
import { NO_FIGURE, written } from './figures.ts';
import { day } from './visits.ts';
import { t } from '../../server/words/language.ts';

type Earlier = EarlierCaptures['captures'][number];

/** What the part of the room says. */
export const SINCE = {
  title: t`Since the baseline`,
  mark: t`Mark this capture as baseline`,
  unmark: t`No baseline any more`,
  isBaseline: t`This capture is a baseline: later visits are compared with it.`,
  none: t`No earlier visit to this site has a capture of this unit. Mark this one as the baseline, and later visits are compared with it.`,
  nothing: t`Capture a steady figure. Later visits are compared with it.`,
  chart: t`Capacity at like conditions over the years, against the baseline`,
  asking: t`Looking for earlier visits.`,
};

const UNLIKE: Record<Unlike, string> = {
  mode: t`one in cooling, one in heating`,
  fan: t`another fan speed`,
  wetness: t`one with a wet coil, one with a dry one`,
  conditions: t`other conditions, and no outdoor temperature to correct by`,
};

/** A capture as it is compared; null where it does not say enough (an older record). */
export function figureOf(capture: Capture): Figure | null {
  const { at, errors, totalW, totalU95W, scatterU95W, latentW } = capture;
  if (at === undefined || errors === undefined || totalU95W === null) return null;
  const { outdoorC, indoorC, indoorWetBulbC, fan, wetness, pressurePa } = at;
  return {
    ...{ totalW, errors, scatterU95W: scatterU95W ?? 0, fan, wetness, pressurePa },
    mode: latentW === null ? 'heating' : 'cooling',
    conditions: { outdoorC, indoorC, indoorWetBulbC },
  };
}

/** One point of the chart: a capture against the baseline. */
export interface SincePoint {
  t: number;
  change: Change | null;
}

export interface Since {
  /** The earlier capture that counts: the newest one that is marked, else the newest. */
  before: Earlier;
  change: Change;
  /** The baseline and all after it that compare with it, in order of time; the last is of now. */
  points: SincePoint[];
}

/** The newest capture of now against earlier visits; null where nothing compares. */
export function sinceBaseline(
  now: Capture,
  earlier: readonly Earlier[],
  setup: UnitSetup | null,
): Since | null {
  const after = figureOf(now);
  if (after === null) return null;
  const same = earlier.filter(({ capture }) => capture.unit === now.unit);
  const like = ({ capture }: Earlier): boolean => {
    const figure = figureOf(capture);
    return figure?.mode === after.mode && figure.fan === after.fan;
  };
  const before =
    same.find((each) => each.capture.baseline === true && like(each)) ??
    same.find((each) => each.capture.baseline === true) ??
    same.find(like);
  const from = before === undefined ? null : figureOf(before.capture);
  if (before === undefined || from === null) return null;
  const published = setup?.published.find(({ mode }) => mode === after.mode) ?? null;
  const since = same
    .filter((each) => each.capture.to > before.capture.to && like(each))
    .toReversed()
    .flatMap(({ capture }): SincePoint[] => {
      const figure = figureOf(capture);
      return figure === null
        ? []
        : [{ t: capture.to, change: changeSince(from, figure, published) }];
    });
  const change = changeSince(from, after, published);
  return {
    ...{ before, change },
    points: [{ t: before.capture.to, change: null }, ...since, { t: now.to, change }],
  };
}

const percent = (part: number): string => written(100 * part, 1);

/** "−12 ± 6 %" */
export function changeText({ part, u95 }: Change): string {
  if (!Number.isFinite(part)) return NO_FIGURE;
  return `${part > 0 ? '+' : ''}${percent(part)}\u00a0±\u00a0${percent(u95)}\u202f%`;
}

/** What has changed, whether it is likely real, and how it was compared. */
export function sinceSentences({ before, change }: Since): string[] {
  const [since, by] = [day(before.capture.to), changeText(change)];
  const list = [
    change.isLikelyReal
      ? t`Since ${since}: ${by}. Likely real.`
      : t`Since ${since}: ${by}. May be noise.`,
  ];
  if (change.carriedBy !== 'nothing' && Math.abs(change.factor - 1) > 0.005) {
    const by = change.carriedBy === 'table' ? t`the published figures` : t`the open curve`;
    list.push(
      t`The earlier figure is carried to today’s conditions by ${by}: times ${written(change.factor, 0.01)}.`,
    );
  }
  if (change.unlike.length > 0) {
    list.push(t`They do not compare well: ${change.unlike.map((u) => UNLIKE[u]).join(', ')}.`);
  }
  if (change.isSameAirflow) {
    list.push(
      t`Both rest on the same airflow figure. Lost airflow does not show here: measure it again.`,
    );
  }
  return list;
}
