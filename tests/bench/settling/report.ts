/** Tables of the figures, for a terminal. */
import { type AtMoment, mean, MOMENTS, quantile, type Tally } from './tally.ts';

const pct = (share: number, digits = 1): string =>
  Number.isNaN(share) ? '–' : `${(100 * share).toFixed(digits)} %`;
const seconds = (s: number): string =>
  Number.isNaN(s) ? '–' : s === Infinity ? 'never' : `${s.toFixed(0)} s`;
const within = ({ within: n, asked }: AtMoment): string => pct(n / asked, 0);
const offered = ({ offered: n, asked }: AtMoment): string => pct(n / asked, 0);
const width = ({ widths }: AtMoment): string => pct(quantile(widths, 0.5), 0);
const neverOf = ({ delaysS }: Tally): number =>
  delaysS.filter((s) => s === Infinity).length / delaysS.length;

type Column = [head: string, cell: (tally: Tally) => string];

const STEADY: Column[] = [
  ['visits', (t) => String(t.visits)],
  ['segments', (t) => String(t.segments)],
  ['wrong', (t) => pct(t.wrongS / t.steadyS, 2)],
  ['median', (t) => seconds(quantile(t.delaysS, 0.5))],
  ['90 %', (t) => seconds(quantile(t.delaysS, 0.9))],
  ['never', (t) => pct(neverOf(t), 0)],
  ['kept', (t) => pct(t.keptS / t.calledS, 1)],
  ['cycling?', (t) => pct(t.falseCyclingS / t.settlingS, 1)],
];
const FORECAST: Column[] = [
  ['asked', (t) => String(t.moments['2'].asked)],
  ['5 % at 1', (t) => within(t.moments['1'])],
  ['at 2', (t) => within(t.moments['2'])],
  ['at 2.5', (t) => within(t.moments['2.5'])],
  ['itself', ({ moments: { '2.5': of } }) => pct(of.there / of.asked, 0)],
  ['offered at 2', (t) => offered(t.moments['2'])],
  ['± at 1', (t) => width(t.moments['1'])],
  ['± at 2', (t) => width(t.moments['2'])],
  ['± at 2.5', (t) => width(t.moments['2.5'])],
  ['holds', (t) => pct(t.heldS / t.offeredS)],
  ['flaps', (t) => (t.flaps.length === 0 ? '–' : mean(t.flaps).toFixed(1))],
  ['moves/s', (t) => pct(quantile(t.moves, 0.5), 2)],
  ['95 %', (t) => pct(quantile(t.moves, 0.95), 2)],
  ['time left', (t) => seconds(quantile(t.timeLeftS.map(Math.abs), 0.5))],
];
const REST: Column[] = [
  ['cycling', (t) => pct(t.cyclingS / t.cyclesS)],
  ['steady', (t) => (t.cyclesS === 0 ? '–' : seconds(t.cycleSteadyS))],
  ['period', (t) => pct(quantile(t.periods, 0.5))],
  ['captures', (t) => String(t.captures)],
  ['hold', (t) => pct(mean(t.holds))],
  ['±', (t) => pct(quantile(t.captureWidths, 0.5))],
  ['defrost in', (t) => pct(t.defrostCapturedS / t.defrostS)],
  ['latent mean', (t) => pct(mean(t.latent))],
  ['95 %', (t) => pct(quantile(t.latent, 0.95))],
  ['|95 %|', (t) => pct(quantile(t.latent.map(Math.abs), 0.95))],
  ['beyond', (t) => pct(t.latentBeyondS / t.latent.length)],
  ['doubted', (t) => pct(t.latentDoubtedS / t.latentBeyondS, 0)],
];

export const TABLES: readonly { title: string; columns: Column[] }[] = [
  { title: 'called steady', columns: STEADY },
  { title: 'forecast', columns: FORECAST },
  { title: 'cycles, captures, latent', columns: REST },
];

const perHalfHour = ({ flatChanges, flatS }: Tally): string =>
  flatS === 0 ? '–' : (flatChanges / (flatS / 1800)).toFixed(1);
const steadyOfFlat = (t: Tally): string => pct(t.flatSteadyS / t.flatS);
const capturesAFlat = (t: Tally): string =>
  t.flats === 0 ? '–' : (t.flatCaptures / t.flats).toFixed(1);

const FLAT: Column[] = [
  ['visits', (t) => String(t.visits)],
  ['steady', steadyOfFlat],
  ['changes/30 min', perHalfHour],
  ['captures', capturesAFlat],
  ['first call', (t) => seconds(quantile(t.firstCallsS, 0.5))],
  ['90 %', (t) => seconds(quantile(t.firstCallsS, 0.9))],
  ['cycling?', (t) => pct(t.calmCyclingVisits / t.calmVisits, 0)],
  ['false', (t) => pct(t.movedS / t.judgedS, 2)],
  ['with hover', (t) => pct(t.movedWithHoverS / t.judgedS, 2)],
  ['hold level', (t) => pct(t.levelHolds / t.levelCaptures)],
  ['±', (t) => pct(quantile(t.captureWidths, 0.5), 2)],
];
const APPROACH: Column[] = [
  ['asked', (t) => String(t.delaysS.length)],
  ['median', (t) => seconds(quantile(t.delaysS, 0.5))],
  ['90 %', (t) => seconds(quantile(t.delaysS, 0.9))],
  ['never', (t) => pct(neverOf(t), 0)],
  ['wrong', (t) => pct(t.wrongS / t.steadyS, 2)],
  ['5 % at 2', (t) => within(t.moments['2'])],
  ['at 2.5', (t) => within(t.moments['2.5'])],
  ['2 with lag', (t) => within(t.moments['2 with lag'])],
  ['2.5 with lag', (t) => within(t.moments['2.5 with lag'])],
  ['± at 2', (t) => width(t.moments['2'])],
  ['holds', (t) => pct(t.heldS / t.offeredS)],
  ['cycles called', (t) => pct(t.cyclingS / t.cyclesS)],
];

/** Of the visits that hover. */
export const HOVER_TABLES: readonly { title: string; columns: Column[] }[] = [
  { title: 'flat stretches', columns: FLAT },
  { title: 'approaches, cycles', columns: APPROACH },
];

/** One table, a row a kind. */
export function tableOf(
  title: string,
  columns: readonly Column[],
  rows: readonly { name: string; tally: Tally }[],
): string {
  return aligned([
    [title, ...columns.map(([head]) => head)],
    ...rows.map(({ name, tally }) => [name, ...columns.map(([, cell]) => cell(tally))]),
  ]);
}

/** The figures that have an aim, and the aim beside them. */
export function aimsOf(sources: readonly { name: string; tally: Tally }[]): string {
  const row = (name: string, aim: string, cell: (tally: Tally) => string): string[] => [
    name,
    aim,
    ...sources.map(({ tally }) => cell(tally)),
  ];
  return aligned([
    ['over all', 'aim', ...sources.map(({ name }) => name)],
    row('steady seconds with the truth off its plateau', '< 0.5 %', (t) =>
      pct(t.wrongS / t.steadyS, 2),
    ),
    row('truly settled to called steady, median', '< 75 s', (t) =>
      seconds(quantile(t.delaysS, 0.5)),
    ),
    row('  90th percentile', '< 150 s', (t) => seconds(quantile(t.delaysS, 0.9))),
    row('segments never called steady', '0', (t) => pct(neverOf(t))),
    row('forecast within 5 % at 2 time constants', '> 60 %', (t) => within(t.moments['2'])),
    row('  at 2.5', '> 85 %', (t) => within(t.moments['2.5'])),
    row('  at 1', '', (t) => within(t.moments['1'])),
    ...MOMENTS.slice(3).map((m) => row(`  at ${m}`, '', (t) => within(t.moments[m]))),
    ...(['2', '2.5'] as const).map((m) =>
      row(`  at ${m}, the measured value itself`, '', ({ moments: { [m]: of } }) =>
        pct(of.there / of.asked, 0),
      ),
    ),
    row('forecast offered at 2', '> 95 %', (t) => offered(t.moments['2'])),
    row('forecast’s interval holds the final value', '> 90 %', (t) => pct(t.heldS / t.offeredS)),
    row('  and while it is called steady', '> 90 %', (t) => pct(t.restsHeldS / t.restsS)),
    row('cycling called after four periods', '> 95 %', (t) => pct(t.cyclingS / t.cyclesS)),
    row('  called steady there', 'never', (t) => seconds(t.cycleSteadyS)),
    row('captures that hold the truth', '93–99 %', (t) => pct(mean(t.holds))),
    row('flat stretch called steady after its third minute', '≥ 95 %', steadyOfFlat),
    row('  changes of state there in 30 min', '≤ 1', perHalfHour),
    row('  captures a stretch', '1', capturesAFlat),
    row('false steady: the level moves on', '≤ 0.5 %', (t) => pct(t.movedS / t.judgedS, 2)),
    row('  with the hover in both means', '', (t) => pct(t.movedWithHoverS / t.judgedS, 2)),
    row('visits called cycling that do not cycle', '0', (t) =>
      pct(t.calmCyclingVisits / t.calmVisits),
    ),
    row('captures that hold the level', '93–98 %', (t) => pct(t.levelHolds / t.levelCaptures)),
    row('defrost (and 5 min) inside a capture', '', (t) => pct(t.defrostCapturedS / t.defrostS)),
    row('false latent heat while settling, 95 % of |it|', '', (t) =>
      pct(quantile(t.latent.map(Math.abs), 0.95)),
    ),
  ]);
}

/** The worst of a kind, the worst first. */
export function worstOf(rows: readonly { name: string; tally: Tally }[], each: number): string {
  const lines = rows.flatMap(({ tally }) =>
    tally.worst
      .toSorted((a, b) => b.weight - a.weight)
      .slice(0, each)
      .map(({ name, what }) => [name, what]),
  );
  return lines.length === 0 ? '' : aligned(lines);
}

function aligned(rows: readonly (readonly string[])[]): string {
  const width = (column: number): number =>
    Math.max(...rows.map((row) => row[column]?.length ?? 0));
  const left = (column: number, row: readonly string[]): boolean =>
    column === 0 || (row.length === 2 && column === 1);
  return rows
    .map((row) =>
      row
        .map((cell, i) => (left(i, row) ? cell.padEnd(width(i)) : cell.padStart(width(i))))
        .join('  ')
        .trimEnd(),
    )
    .join('\n');
}
