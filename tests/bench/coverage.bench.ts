/**
 * How often the 95 % interval of a recorded capacity holds the true one, and how wide it is, with and
 * without a side-by-side check. Of visits of which the truth is known: coverage-visits.ts.
 * `--rounds N`: N hundred visits a row instead of ten.
 */
import { CONDITIONS, coverage } from './coverage-visits.ts';

const pct = (share: number): string => `${(100 * share).toFixed(1)} %`;

/** Works it out and prints the table. */
export function print(rounds = 10): void {
  const visits = 100 * rounds;
  const rows = [
    [
      `${visits} visits a row`,
      'check',
      'holds',
      'constant',
      'changing',
      '± median',
      'after ÷ before',
    ],
  ];
  const sets = [
    ...CONDITIONS.map((condition) => ({ name: condition.name, of: [condition] })),
    { name: 'all of these', of: CONDITIONS },
  ];
  for (const { name: label, of } of sets) {
    const before = coverage(of, false, visits);
    const after = coverage(of, true, visits);
    for (const [name, c, ratio] of [
      ['no', before, ''],
      ['yes', after, (after.width / before.width).toFixed(2)],
    ] as const) {
      const shares = [c.share, c.constant, c.changing, c.width].map(pct);
      rows.push([label, name, ...shares, ratio]);
    }
  }
  const width = (column: number): number =>
    Math.max(...rows.map((row) => row[column]?.length ?? 0));
  for (const row of rows) {
    const cells = row.map((c, i) => (i === 0 ? c.padEnd(width(i)) : c.padStart(width(i))));
    console.log(cells.join('  ').trimEnd());
  }
  console.log(
    '\nholds: intervals that hold the truth, aim 93 to 99 %; of these visits half have probes whose' +
      '\nerror is constant, half such whose error changes with what they measure, both within their' +
      '\nlimits. ± median: half-width ÷ capacity; aim after ÷ before ≤ 0.65, where probes dominate.',
  );
}
