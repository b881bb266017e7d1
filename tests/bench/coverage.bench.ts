/**
 * How often the 95 % interval of a recorded capacity holds the true one, and how wide it is: with and
 * without a side-by-side check, where the air is even and where it is not, for one probe and several,
 * and for the sum of several units. Of visits of which the truth is known: coverage-visits.ts.
 * `--rounds N`: N hundred visits a row instead of two.
 */
import { CONDITIONS, coverage, type Making } from './coverage-visits.ts';
import { sumCoverage } from './coverage-sums.ts';
import { aligned } from './harness.ts';

const pct = (share: number): string => `${(100 * share).toFixed(1)} %`;

/** Works it out and prints the tables. */
export function print(rounds = 2): void {
  const visits = 100 * rounds;
  even(visits);
  uneven(visits);
  sums(visits);
}

function even(visits: number): void {
  const rows = [
    ['even air', 'check', 'holds', 'constant', 'changing', '± median', 'after ÷ before'],
  ];
  for (const condition of CONDITIONS) {
    const before = coverage([condition], { checked: false }, visits);
    const after = coverage([condition], { checked: true }, visits);
    for (const [name, c, ratio] of [
      ['no', before, ''],
      ['yes', after, (after.width / before.width).toFixed(2)],
    ] as const) {
      const shares = [c.share, c.constant, c.changing, c.width].map(pct);
      rows.push([condition.name, name, ...shares, ratio]);
    }
  }
  console.log(aligned(rows));
  console.log(
    `\nholds: of ${visits} visits those whose interval holds the truth, aim 93 to 98 %; half have probes` +
      '\nwhose error is constant, half such whose error changes with what they measure, both within their' +
      '\nlimits. The air is even, and a person has said so. ± median: half-width ÷ capacity.\n',
  );
}

/** Who says how uneven it is; the first column. */
const TOLD: readonly (readonly [string, NonNullable<Making['told']>])[] = [
  ['said rightly', 'rightly'],
  ['outlet walked', 'walked'],
  ['nothing said', 'nothing'],
];
const SPOTS_K = [0, 0.5, 1, 1.5];

function uneven(visits: number): void {
  for (const [name, place] of [
    ['cooling', 'supply'],
    ['cooling', 'return'],
    ['heating', 'supply'],
  ] as const) {
    for (const condition of CONDITIONS.filter((each) => each.name === name)) {
      const rows = [[`${condition.name}: uneven ${place}`, 'probes', ...heads()]];
      for (const [says, told] of TOLD) {
        if (place === 'return' && told === 'walked') continue;
        for (const probes of [1, 2, 4]) {
          const cells = SPOTS_K.map((spotK) => {
            const making: Making = { checked: true, told };
            const more =
              place === 'supply'
                ? { supplyProbes: probes, supplySpotK: spotK }
                : { returnProbes: probes, returnSpotK: spotK };
            const c = coverage([condition], { ...making, ...more }, visits);
            return `${pct(c.share)} ± ${pct(c.meanWidth)}`;
          });
          rows.push([says, String(probes), ...cells]);
        }
      }
      console.log(`${aligned(rows)}\n`);
    }
  }
  console.log(
    'Share that holds the truth (aim 93 to 98 %) and mean half-width, by what the air differs by from' +
      '\nspot to spot; probes checked, airflow ± 5 %. Where nothing is said 5 % of the difference between' +
      '\nreturn and supply is assumed in the outlet, 1 % in the intake: no one figure can hold of all columns.\n',
  );
}
const heads = (): string[] => SPOTS_K.map((spotK) => `${spotK} K`);

function sums(visits: number): void {
  const rows = [['sum of heads', 'heads', 'holds', '± median']];
  for (const flow of ['one vane', 'a table each'] as const) {
    for (const heads of [2, 4]) {
      const { share, width } = sumCoverage(heads, flow, visits);
      rows.push([flow, String(heads), pct(share), pct(width)]);
    }
  }
  console.log(aligned(rows));
  console.log(
    '\nOf heads whose airflows (± 10 %) were measured with one vane, of one bias, or read off their' +
      '\ntables, each off by itself; probes of ± 0.3 K and 2 % RH that nobody has checked, one barometer.',
  );
}
