/** The budget of an interval in words: what each part is called, and how much of the interval it is. */
import type { Budget, BudgetLine, ProbeState } from '../protocol.ts';
import { figure, NO_FIGURE, percent } from './figures.ts';
import type { Scale } from './scales.ts';
import { t } from './language.ts';

/** A part below this share of the variance is gathered with the other small ones. */
const SMALL_SHARE = 0.03;
/** No more parts than this are shown one by one. */
const MOST_ROWS = 6;

type Names = Record<string, Pick<ProbeState, 'name'>>;

/** One bar of the picture. */
export interface BudgetRow {
  key: string;
  name: string;
  /** Its part of the variance, 0 to 1: the length of its bar. */
  share: number;
  /** "58 %" */
  percent: string;
  /** "± 0.29 kW": what it alone would leave of the interval. */
  alone: string;
  /** The largest, the others, or many small ones together. */
  tone: 'largest' | 'other' | 'rest';
}

/** What a part is called: by the probe's own name where it is a probe's. */
export function partName({ kind, of }: Pick<BudgetLine, 'kind' | 'of'>, probes: Names): string {
  const probe = of === null ? t`A probe` : (probes[of]?.name ?? of);
  switch (kind) {
    case 'temperature':
      return t`${probe}: temperature`;
    case 'humidity':
      return t`${probe}: humidity`;
    case 'spread':
      return of === 'return' ? t`Uneven air across the intake` : t`Uneven air across the outlet`;
    case 'airflow':
      return of === null ? t`Airflow` : t`Airflow: ${probe} reads one spot only`;
    case 'pressure':
      return t`Barometric pressure`;
    case 'common-temperature':
      return t`Temperature error that return and supply share`;
    case 'common-humidity':
      return t`Humidity error that checked probes share`;
    case 'scatter':
      return t`Scatter of the readings`;
    case 'zero':
      return t`Zero in place: the fan’s watts and the airflow`;
  }
}

/** "58 %", and never "0 %" for what is there. */
const shareText = (share: number): string =>
  share < 0.005 ? t`under 1\u202f%` : percent(share * 100);

/** Parts of one kind and of one probe as one: they are independent, so their shares add up. */
export function alike(items: readonly BudgetLine[]): BudgetLine[] {
  const together = new Map<string, BudgetLine>();
  for (const item of items) {
    if (!(item.share > 0)) continue;
    const key = keyOf(item);
    const share = (together.get(key)?.share ?? 0) + item.share;
    together.set(key, { ...item, share });
  }
  return [...together.values()];
}

const keyOf = ({ kind, of }: BudgetLine): string => `${kind} ${of ?? ''}`;

/**
 * The bars of the picture, largest first, small ones gathered as the last.
 * The parts are independent: their squares add up, so a part of share s leaves √s of the interval.
 */
export function budgetRows(budget: Budget, probes: Names, power: Scale): BudgetRow[] {
  const alone = (share: number): string => {
    const { interval } = figure(0, Math.sqrt(share) * budget.totalU95W, power);
    return `±\u00a0${interval ?? NO_FIGURE}\u202f${power.sign}`;
  };
  const sorted = alike(budget.items).sort((a, b) => b.share - a.share);
  const isLarge = (item: BudgetLine, i: number): boolean =>
    i === 0 || (i < MOST_ROWS && item.share >= SMALL_SHARE);
  const large = sorted.filter(isLarge);
  const small = sorted.slice(large.length);
  // One small part needs no other name than its own.
  const shown = small.length === 1 ? sorted : large;
  const rows = shown.map((item, i): BudgetRow => {
    const { share } = item;
    const tone = i === 0 ? 'largest' : 'other';
    const name = partName(item, probes);
    return {
      key: keyOf(item),
      name,
      share,
      percent: shareText(share),
      alone: alone(share),
      tone,
    };
  });
  if (small.length < 2) return rows;
  const share = small.reduce((sum, item) => sum + item.share, 0);
  const name = t`The rest: ${small.length} small parts`;
  rows.push({
    key: 'rest',
    name,
    share,
    percent: shareText(share),
    alone: alone(share),
    tone: 'rest',
  });
  return rows;
}
